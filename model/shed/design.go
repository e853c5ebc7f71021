package shed

import (
	"fmt"
	"slices"
	"strings"

	"leanbay/catalog"
	"leanbay/model/bracing"
	"leanbay/model/brief"
)

// Steel is a section in a grade; the zero value is "none chosen".
type Steel struct {
	Section *catalog.Section
	Grade   catalog.Grade
}

// String gives designation and grade.
func (c Steel) String() string {
	if c.Section == nil {
		return "none"
	}
	return c.Section.Name + " " + c.Grade.Name
}

// Brace is the bracing of one bay of a long wall.
type Brace struct {
	Bay     int // 0-based
	Pattern bracing.Pattern
}

// PropLine is a line of props along the building, at one Y.
type PropLine struct {
	Y      float64
	Frames []int // 0-based, ascending
}

// Design is one choice of everything that may vary.
type Design struct {
	Steel                      map[brief.Group]Steel
	Props                      []PropLine
	Walls                      [2][]Brace // south, north
	Roof                       []int      // braced bays, 0-based, ascending
	Struts                     brief.Struts
	PurlinSpacing, GirtSpacing float64
	RoofNodes                  []float64 // Y of roof bracing nodes that were drawn; nil lets the mullions decide
	FlyBraces                  int       // at every n-th purlin; 0 is none
}

// fallbacks name the group whose section a group takes when it has none of its own.
var fallbacks = map[brief.Group]brief.Group{
	brief.GroupEndColumn: brief.GroupColumn, brief.GroupEndRafter: brief.GroupRafter,
	brief.GroupRidgeStrut: brief.GroupEavesStrut, brief.GroupNodeStrut: brief.GroupEavesStrut,
}

// Of returns the section of a group, or that of the group it follows.
func (d *Design) Of(g brief.Group) Steel {
	for {
		if c, ok := d.Steel[g]; ok && c.Section != nil {
			return c
		}
		next, ok := fallbacks[g]
		if !ok {
			return Steel{}
		}
		g = next
	}
}

// Key is the canonical name of the design: what is built, by designation, so that a longer stock list does not change
// it. Only groups that the design uses appear.
func (d *Design) Key(used []brief.Group) string {
	var b strings.Builder
	for _, g := range used {
		if c := d.Of(g); c.Section != nil {
			fmt.Fprintf(&b, "%s=%s/%s;", g, c.Section.Name, c.Grade.Name)
		}
	}
	for _, p := range d.Props {
		fmt.Fprintf(&b, "prop@%.3f%v;", p.Y, p.Frames)
	}
	for side, name := range []string{"south", "north"} {
		for _, w := range d.Walls[side] {
			fmt.Fprintf(&b, "%s %d=%s;", name, w.Bay+1, w.Pattern)
		}
	}
	if len(d.RoofNodes) > 0 {
		fmt.Fprintf(&b, "roof nodes=%.3f;", d.RoofNodes)
	}
	fmt.Fprintf(&b, "roof=%v;struts=%v%v%v;purlins=%.3f;girts=%.3f;fly=%d", d.Roof, d.Struts.Eaves, d.Struts.Ridge, d.Struts.Nodes, d.PurlinSpacing, d.GirtSpacing, d.FlyBraces)
	return b.String()
}

// UsedGroups lists, in the order of brief.Groups, the groups that the design puts into the shed. Secondaries are left
// out: they follow from the rest.
func (s *Shed) UsedGroups(d *Design) []brief.Group {
	uses := map[brief.Group]bool{brief.GroupColumn: true, brief.GroupRafter: true}
	_, endColumn := d.Steel[brief.GroupEndColumn]
	_, endRafter := d.Steel[brief.GroupEndRafter]
	uses[brief.GroupEndColumn], uses[brief.GroupEndRafter] = endColumn, endRafter
	uses[brief.GroupMullion] = len(s.Mullions[0])+len(s.Mullions[1]) > 0
	uses[brief.GroupProp] = len(d.Props) > 0
	uses[brief.GroupBeam] = len(s.Mezzanines) > 0
	uses[brief.GroupPost] = len(s.Mezzanines) > 0
	uses[brief.GroupEavesStrut] = d.Struts.Eaves
	uses[brief.GroupRidgeStrut] = d.Struts.Ridge && s.HasRidge()
	uses[brief.GroupNodeStrut] = d.Struts.Nodes && len(d.Roof) > 0
	uses[brief.GroupRoofRod] = len(d.Roof) > 0
	for _, wall := range d.Walls {
		for _, b := range wall {
			if b.Pattern.Rods() {
				uses[brief.GroupWallRod] = true
			} else {
				uses[brief.GroupWallDiagonal] = true
			}
		}
	}
	var out []brief.Group
	for _, g := range brief.Groups {
		if uses[g.Name] {
			out = append(out, g.Name)
		}
	}
	return out
}

// Proposal reads what was drawn as a design. find resolves designations.
func (s *Shed) Proposal(find func(string) (*catalog.Section, error)) (*Design, error) {
	p := &s.brief.Proposal
	d := &Design{Steel: map[brief.Group]Steel{}, Struts: p.Struts, FlyBraces: p.FlyBraces, RoofNodes: metres(p.RoofNodes)}
	for _, g := range brief.Groups {
		given, ok := p.Sections[g.Name]
		if !ok {
			continue
		}
		c, err := pick(given, find)
		if err != nil {
			return nil, fmt.Errorf("proposal, %s: %w", g.Name, err)
		}
		d.Steel[g.Name] = c
	}
	d.PurlinSpacing = spacing(p.PurlinSpacing, s.brief.Building.Secondary.Purlins)
	d.GirtSpacing = spacing(p.GirtSpacing, s.brief.Building.Secondary.Girts)
	for _, prop := range p.Props {
		line := prop.Line
		if line == 0 {
			line = s.brief.Building.LineAt(prop.X)
		}
		d.AddProp(line-1, float64(prop.Y))
	}
	if err := s.proposedBracing(d); err != nil {
		return nil, err
	}
	return d, s.missingSteel(d)
}

// pick resolves a designation and grade.
func pick(given brief.Steel, find func(string) (*catalog.Section, error)) (Steel, error) {
	sec, err := find(given.Section)
	if err != nil {
		return Steel{}, err
	}
	grade := sec.Grades[0]
	if given.Grade != "" {
		if grade, err = sec.Grade(given.Grade); err != nil {
			return Steel{}, err
		}
	}
	return Steel{sec, grade}, nil
}

// spacing is what was drawn, or the first that the brief allows.
func spacing(given brief.Length, l brief.Lines) float64 {
	if given > 0 {
		return float64(given)
	}
	return float64(l.Spacings[0])
}

// AddProp puts a prop at frame f on the line at y, keeping lines and frames in order.
func (d *Design) AddProp(f int, y float64) {
	for i := range d.Props {
		if near(d.Props[i].Y, y) {
			if !slices.Contains(d.Props[i].Frames, f) {
				d.Props[i].Frames = append(d.Props[i].Frames, f)
				slices.Sort(d.Props[i].Frames)
			}
			return
		}
	}
	d.Props = append(d.Props, PropLine{Y: y, Frames: []int{f}})
	slices.SortFunc(d.Props, func(a, b PropLine) int {
		if a.Y < b.Y {
			return -1
		}
		return 1
	})
}

// proposedBracing reads the drawn wall and roof bracing.
func (s *Shed) proposedBracing(d *Design) error {
	for _, w := range s.brief.Proposal.WallBracing {
		if !w.Wall.Long() || w.Pattern == brief.NoBracing {
			continue // a gable's own bracing is not in the load path of a portal frame
		}
		p, err := patternOf(w)
		if err != nil {
			return err
		}
		side := 0
		if w.Wall == brief.North {
			side = 1
		}
		d.Walls[side] = append(d.Walls[side], Brace{Bay: w.Bay - 1, Pattern: p})
	}
	for _, r := range s.brief.Proposal.RoofBracing {
		switch r.Pattern {
		case brief.NoBracing:
		case brief.CrossedRods:
			d.Roof = append(d.Roof, r.Bay-1)
		default:
			return fmt.Errorf("roof bay %d: pattern %q is not analysed yet; use %q", r.Bay, r.Pattern, brief.CrossedRods)
		}
	}
	for side := range d.Walls {
		slices.SortFunc(d.Walls[side], func(a, b Brace) int { return a.Bay - b.Bay })
	}
	slices.Sort(d.Roof)
	return nil
}

// patternOf turns a drawn wall panel into a full-panel pattern.
func patternOf(w brief.WallPanel) (bracing.Pattern, error) {
	switch {
	case w.Pattern == brief.CrossedRods:
		return bracing.CrossedRods, nil
	case w.Pattern == brief.SingleStrut && w.Rises == brief.West:
		return bracing.FallingStrut, nil
	case w.Pattern == brief.SingleStrut:
		return bracing.RisingStrut, nil
	}
	return "", fmt.Errorf("%s wall bay %d: pattern %q is not analysed yet; use %q or %q", w.Wall, w.Bay, w.Pattern, brief.CrossedRods, brief.SingleStrut)
}

// missingSteel reports groups that the design needs and has no section for.
func (s *Shed) missingSteel(d *Design) error {
	var missing []string
	for _, g := range s.UsedGroups(d) {
		if d.Of(g).Section == nil {
			missing = append(missing, string(g))
		}
	}
	if len(missing) > 0 {
		return fmt.Errorf("the proposal draws members of groups without a section: %s; give each one under proposal.sections", strings.Join(missing, ", "))
	}
	return nil
}
