package brief

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// validator checks what single values cannot show: that the parts of the brief agree with each other.
type validator struct {
	b    *Brief
	bad  badPaths
	errs Errors
	// The plan, and with it the heights of the envelope, could be read: what needs them can be checked.
	plan, shape bool
}

// fault records a mistake at the place of path.
func (v *validator) fault(path, format string, args ...any) {
	v.errs = append(v.errs, v.b.Fault(path, format, args...))
}

// good says whether the values at all paths could be read, so that no mistake is reported twice under other names.
func (v *validator) good(paths ...string) bool {
	for _, p := range paths {
		if v.bad.touches(p) {
			return false
		}
	}
	return true
}

// line refers to the place of path in a message: " (line 9)", or nothing where the file does not state it.
func (v *validator) line(path string) string {
	if !v.b.Stated(path) {
		return ""
	}
	return fmt.Sprintf(" (line %d)", v.b.Where(path).Line)
}

// all runs every check.
func (v *validator) all() {
	v.head()
	v.site()
	if v.good("building") {
		v.frameLines()
		v.roof()
		v.openSides()
	}
	v.spacings("building.secondary.purlins", v.b.Building.Secondary.Purlins)
	v.spacings("building.secondary.girts", v.b.Building.Secondary.Girts)
	v.plan = v.good("building.frame_lines", "building.span")
	v.shape = v.plan && v.good("building.roof", "building.high_side", "building.eaves", "building.rise")
	v.openings()
	if v.plan {
		v.mezzanines()
		v.clearZones()
		v.props()
		v.mullions()
		v.wallBracing()
		v.roofBracing()
		v.propFreedom()
	}
	v.sections()
	v.bases()
	v.details()
	v.stock()
	v.bracingFreedom()
	v.choices()
}

// fileName is what may be part of a file's name on every system.
var fileName = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$`)

// head checks the name.
func (v *validator) head() {
	if v.good("name") && !fileName.MatchString(v.b.Name) {
		v.fault("name", "name %q goes into file names; use up to 64 letters, digits, dots, hyphens and underscores", v.b.Name)
	}
}

// site checks what depends on the region, and that the hill is given once.
func (v *validator) site() {
	s := v.b.Site
	nz := strings.HasPrefix(string(s.Region), "NZ")
	if nz && v.good("site.regional_speed") && len(s.RegionalSpeed) == 0 {
		v.fault("site.region", "region %s has no speeds in the tables; give site.regional_speed by recurrence, such as {25: 37, 500: 45}", s.Region)
	}
	if nz && v.good("site.direction") && s.Direction == (Rose{}) {
		v.fault("site.region", "region %s has no direction multipliers in the tables; give site.direction, 1.0 if in doubt", s.Region)
	}
	if s.State != "" && v.good("site.region") && nz != (s.State == "NZ") {
		v.fault("site.state", "state %s does not lie in region %s; correct one of them", s.State, s.Region)
	}
	if s.Hill != nil && s.Topography != (Rose{}) {
		v.fault("site.topography", "topography and hill%s both state the hill; keep one", v.line("site.hill"))
	}
}

// frameLines checks that the lines ascend from 0.
func (v *validator) frameLines() {
	if !v.good("building.frame_lines") {
		return
	}
	lines := v.b.Building.FrameLines
	if len(lines) < 2 {
		v.bad.add("building.frame_lines")
		v.fault("building.frame_lines", "%d frame line makes no bay; give at least two, such as [0, 4.5, 9]", len(lines))
		return
	}
	if lines[0] != 0 {
		v.bad.add("building.frame_lines")
		v.fault("building.frame_lines[0]", "the first frame line is at X %s; measure from it, so that it is 0", metres(lines[0]))
	}
	for i := 1; i < len(lines); i++ {
		if lines[i]-lines[i-1] < leastBay {
			v.bad.add("building.frame_lines")
			v.fault(fmt.Sprintf("building.frame_lines[%d]", i), "frame line %d at X %s is not at least %s beyond line %d at X %s; list them ascending",
				i+1, metres(lines[i]), metres(leastBay), i, metres(lines[i-1]))
		}
	}
}

// leastBay is the least distance between frames that is taken for meant (our choice: closer frames would touch).
const leastBay Length = 0.5

// roof checks the high side against the form.
func (v *validator) roof() {
	b := v.b.Building
	if !v.good("building.roof", "building.high_side") {
		return
	}
	switch {
	case b.Roof == MonoPitch && !b.HighSide.Long():
		v.bad.add("building.high_side")
		v.fault("building.roof", "a mono-pitch roof needs building.high_side: south or north")
	case b.Roof == Gable && b.HighSide != "":
		v.fault("building.high_side", "a gable has no high side; take the key out, or make the roof a mono-pitch")
	}
	if b.Roof == Gable && v.good("building.rise") && b.Rise == 0 {
		v.fault("building.rise", "a gable without rise is flat; give the height from eaves to ridge, or make the roof a mono-pitch")
	}
}

// openSides checks that each is named once.
func (v *validator) openSides() {
	sides := v.b.Building.OpenSides
	for i, w := range sides {
		if slices.Contains(sides[:i], w) {
			v.fault(fmt.Sprintf("building.open_sides[%d]", i), "the %s is listed twice; once is enough", wallName(w))
		}
	}
	if len(sides) == 0 && v.b.Building.Blocked > 0 {
		v.fault("building.blocked", "blocked belongs to a roof with open_sides; take it out, or list the open sides")
	}
}

// spacings checks that there is a choice and that it ascends.
func (v *validator) spacings(path string, l Lines) {
	path += ".spacings"
	if !v.good(path) {
		return
	}
	if len(l.Spacings) == 0 {
		v.fault(path, "no spacing is allowed; give at least one, such as [1.2]")
	}
	for i := 1; i < len(l.Spacings); i++ {
		if l.Spacings[i] <= l.Spacings[i-1] {
			v.fault(fmt.Sprintf("%s[%d]", path, i), "spacing %s is not above the one before, %s; list them ascending", metres(l.Spacings[i]), metres(l.Spacings[i-1]))
		}
	}
}

// choices checks limits, objectives, what-ifs and combinations.
func (v *validator) choices() {
	l := v.b.Limits
	if v.good("limits.lambda_refuse", "limits.lambda_warn") && l.LambdaRefuse > l.LambdaWarn {
		v.fault("limits.lambda_refuse", "lambda_refuse %s is above lambda_warn, %s%s; a warning comes before a refusal", show(l.LambdaRefuse), show(l.LambdaWarn), v.line("limits.lambda_warn"))
	}
	use := v.b.Objectives.Use
	if v.good("objectives.use") && (len(use) < 2 || len(use) > 3) {
		v.fault("objectives.use", "a front needs two or three objectives, not %d", len(use))
	}
	for i, o := range use {
		if o != "" && slices.Contains(use[:i], o) {
			v.fault(fmt.Sprintf("objectives.use[%d]", i), "objective %q is listed twice; name another", o)
		}
	}
	w := v.b.WhatIfs.Use
	if len(w) > 1 && (slices.Contains(w, NoWhatIfs) || slices.Contains(w, AllWhatIfs)) {
		v.fault("what_ifs.use", "none and all stand alone; list the changes by name, or write one of the two words")
	}
	v.combinations()
}

// combinations checks the brief's own.
func (v *validator) combinations() {
	a := v.b.Actions
	if a.ReplaceCombinations && len(a.Combinations) == 0 {
		v.fault("actions.replace_combinations", "the code's combinations would be replaced by none; give actions.combinations")
	}
	for i, c := range a.Combinations {
		path := fmt.Sprintf("actions.combinations[%d]", i)
		if !v.good(path) {
			continue
		}
		if len(c.Terms) == 0 {
			v.fault(path+".terms", "combination %q has no terms; give factors, such as {G: 1.2, Wu: 1.0}", c.Name)
		}
		for j := range i {
			if a.Combinations[j].Name == c.Name {
				v.fault(path+".name", "combination %q is given already%s; name it otherwise", c.Name, v.line(fmt.Sprintf("actions.combinations[%d].name", j)))
			}
		}
	}
}
