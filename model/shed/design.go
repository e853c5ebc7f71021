package shed

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"leanbay/catalog"
	"leanbay/model/actions"
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

// Brace is one layout of bracing in one bay of a wall; a gable's bays are the stretches between columns and mullions.
type Brace struct {
	Bay     int // 0-based
	Pattern bracing.Pattern
	bracing.Place
}

// String says what and where in words: "crossed rods in bay 2, from 2.60 m to the eaves".
func (b Brace) String() string {
	text := fmt.Sprintf("%s in bay %d", b.Pattern, b.Bay+1)
	if at := b.Place.String(); at != "" {
		text += ", " + at
	}
	return text
}

// InPlane is String for a brace of a wall numbered as for Candidates.
func (b Brace) InPlane(side int) string {
	text := fmt.Sprintf("%s in bay %d", b.Pattern, b.Bay+1)
	if at := b.Place.In(isGable(side)); at != "" {
		text += ", " + at
	}
	return text
}

// bends says whether the frames' columns of the bay work as the legs of the brace.
func (b Brace) bends() bool { return b.Place.Bends(b.Pattern) }

// PropLine is a line of props along the building, at one Y.
type PropLine struct {
	Y      float64
	Frames []int // 0-based, ascending
}

// Design is one choice of everything that may vary.
type Design struct {
	Steel                      map[brief.Group]Steel
	Props                      []PropLine
	Walls                      [planes][]Brace // south, north, west gable, east gable
	Roof                       []int           // braced bays, 0-based, ascending
	RoofPattern                bracing.Pattern // of every braced bay; empty is crossed rods
	Struts                     brief.Struts
	PurlinSpacing, GirtSpacing float64
	RoofNodes                  []float64 // Y of roof bracing nodes that were drawn; nil lets the mullions decide
	FlyBraces                  int       // at every n-th purlin; 0 is none
	DrawnSecondaries           bool      // purlins, girts and joists stay as drawn instead of the lightest that pass
	SecondaryWind              float64   // factor on the site wind speed that purlins, girts, jambs and lintels are sized for; 0 is the site's own
	Accident                   Accident  // what happens to it, in a what-if
}

// fallbacks name the group whose section a group takes when it has none of its own.
var fallbacks = map[brief.Group]brief.Group{
	brief.GroupEndColumn: brief.GroupColumn, brief.GroupEndRafter: brief.GroupRafter,
	brief.GroupRidgeStrut: brief.GroupEavesStrut, brief.GroupNodeStrut: brief.GroupEavesStrut,
	brief.GroupPortalBeam: brief.GroupEavesStrut,
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
	b := make([]byte, 0, 512)
	text := func(parts ...string) {
		for _, p := range parts {
			b = append(b, p...)
		}
	}
	metres := func(v float64) { b = strconv.AppendFloat(b, v, 'f', 3, 64) }
	whole := func(n int) { b = strconv.AppendInt(b, int64(n), 10) }
	list := func(values []int) {
		text("[")
		for i, n := range values {
			if i > 0 {
				text(" ")
			}
			whole(n)
		}
		text("]")
	}
	for _, g := range used {
		text(SteelKey(g, d.Of(g)))
	}
	for _, p := range d.Props {
		text("prop@")
		metres(p.Y)
		list(p.Frames)
		text(";")
	}
	for side, name := range wallNames {
		for i := range d.Walls[side] {
			w := &d.Walls[side][i]
			text(name, " ")
			whole(w.Bay + 1)
			text("=", string(w.Pattern))
			if w.Place != (bracing.Place{}) {
				for k, v := range [4]float64{w.From, w.To, w.Mid, w.Reach} {
					text([4]string{"@", "-", "/", "/"}[k])
					metres(v)
				}
			}
			text(";")
		}
	}
	text(d.Accident.key())
	if d.DrawnSecondaries {
		text("secondaries as drawn;")
	}
	if d.SecondaryWind != 0 {
		text("secondaries ", SecondaryWindText(d.SecondaryWind), ";")
	}
	if d.RoofPattern != "" {
		text("roof pattern=", string(d.RoofPattern), ";")
	}
	if len(d.RoofNodes) > 0 {
		text(fmt.Sprintf("roof nodes=%.3f;", d.RoofNodes))
	}
	text("roof=")
	list(d.Roof)
	text(";struts=", strconv.FormatBool(d.Struts.Eaves), strconv.FormatBool(d.Struts.Ridge), strconv.FormatBool(d.Struts.Nodes), ";purlins=")
	metres(d.PurlinSpacing)
	text(";girts=")
	metres(d.GirtSpacing)
	text(";fly=")
	whole(d.FlyBraces)
	return string(b)
}

// SteelKey is a group's part of Key; nothing for no section.
func SteelKey(g brief.Group, s Steel) string {
	if s.Section == nil {
		return ""
	}
	return string(g) + "=" + s.Section.Name + "/" + s.Grade.Name + ";"
}

// SecondaryWindText says which wind secondaries are sized for, by the factor that a design has.
func SecondaryWindText(factor float64) string {
	if factor == 0 {
		return "for the site wind"
	}
	return fmt.Sprintf("for %.2f times the site wind", factor)
}

// UsedGroups lists, in the order of brief.Groups, the groups that the design puts into the shed. Secondaries are left
// out: they follow from the rest.
func (s *Shed) UsedGroups(d *Design) []brief.Group {
	var room [8]brief.Group
	braced := room[:0]
	for _, wall := range d.Walls {
		for i := range wall {
			braced = append(braced, wall[i].groups()...)
		}
	}
	out := make([]brief.Group, 0, len(brief.Groups))
	for i := range brief.Groups {
		if g := brief.Groups[i].Name; s.uses(d, g) || slices.Contains(braced, g) {
			out = append(out, g)
		}
	}
	return out
}

// uses says whether the design puts a group into the shed, but for the parts of its walls' bracing.
func (s *Shed) uses(d *Design, g brief.Group) bool {
	switch g {
	case brief.GroupColumn, brief.GroupRafter:
		return true
	case brief.GroupEndColumn, brief.GroupEndRafter:
		_, own := d.Steel[g]
		return own
	case brief.GroupMullion:
		return len(s.Mullions[0])+len(s.Mullions[1]) > 0
	case brief.GroupProp:
		return len(d.Props) > 0
	case brief.GroupBeam, brief.GroupPost:
		return len(s.Mezzanines) > 0
	case brief.GroupEavesStrut:
		return d.Struts.Eaves
	case brief.GroupRidgeStrut:
		return d.Struts.Ridge && s.HasRidge()
	case brief.GroupNodeStrut:
		return d.Struts.Nodes && len(d.Roof) > 0
	case brief.GroupRoofDiagonal:
		return d.roofDiagonals() && len(d.Roof) > 0
	case brief.GroupRoofRod:
		return !d.roofDiagonals() && len(d.Roof) > 0
	}
	return false
}

// layout is what the groups of a brace's parts follow from.
type layout struct {
	bracing.Pattern
	bracing.Place
}

// partGroups keeps the groups that were found, by layout: a shed has some hundred, and each is asked for again and again.
var partGroups = struct {
	sync.RWMutex
	of map[layout][]brief.Group
}{of: map[layout][]brief.Group{}}

// mostLayouts bounds the memory.
const mostLayouts = 10_000

// groups are those that the brace's parts belong to. The list is shared: it is only read.
func (b *Brace) groups() []brief.Group {
	at := layout{b.Pattern, b.Place}
	partGroups.RLock()
	out, ok := partGroups.of[at]
	partGroups.RUnlock()
	if ok {
		return out
	}
	for _, p := range bracing.Parts(b.Pattern, bracing.Panel{Rect: bracing.Rect{U1: 1, V1: 1}}, b.Place) {
		if g := partGroup(b.Pattern, p.Kind); !slices.Contains(out, g) {
			out = append(out, g)
		}
	}
	partGroups.Lock()
	defer partGroups.Unlock()
	if len(partGroups.of) >= mostLayouts {
		clear(partGroups.of)
	}
	partGroups.of[at] = out
	return out
}

// Uses says whether the brace has members of a group.
func (b Brace) Uses(g brief.Group) bool { return slices.Contains(b.groups(), g) }

// partGroup is the group of a part of a layout.
func partGroup(p bracing.Pattern, k bracing.PartKind) brief.Group {
	switch k {
	case bracing.Strut:
		return brief.GroupNodeStrut
	case bracing.Knee:
		return brief.GroupKneeBrace
	case bracing.Beam:
		return brief.GroupPortalBeam
	case bracing.Leg:
		return brief.GroupPortalColumn
	}
	if p.Rods() {
		return brief.GroupWallRod
	}
	return brief.GroupWallDiagonal
}

// roofDiagonals says whether the roof is braced by single diagonals instead of rods.
func (d *Design) roofDiagonals() bool {
	return d.RoofPattern == bracing.SingleDiagonal || d.RoofPattern == bracing.ZigZag
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
		if w.Pattern == brief.NoBracing {
			continue
		}
		side := int(faces[w.Wall] - actions.SouthWall)
		d.Walls[side] = append(d.Walls[side], s.drawnBrace(side, w))
	}
	if err := d.readRoof(s.brief.Proposal.RoofBracing); err != nil {
		return err
	}
	for side := range d.Walls {
		slices.SortStableFunc(d.Walls[side], func(a, b Brace) int { return cmp.Or(cmp.Compare(a.Bay, b.Bay), cmp.Compare(a.From, b.From)) })
	}
	return nil
}

// readRoof reads the drawn roof bracing: one pattern for all braced bays.
func (d *Design) readRoof(drawn []brief.RoofPanel) error {
	words := map[brief.Pattern]bracing.Pattern{brief.CrossedRods: "", brief.SingleStrut: bracing.SingleDiagonal, brief.ZigZag: bracing.ZigZag}
	for _, r := range drawn {
		p, ok := words[r.Pattern]
		if !ok {
			continue
		}
		if len(d.Roof) > 0 && p != d.RoofPattern {
			return fmt.Errorf("roof bay %d: the roof is braced in two ways; draw one pattern in all braced bays", r.Bay)
		}
		d.Roof, d.RoofPattern = append(d.Roof, r.Bay-1), p
	}
	slices.Sort(d.Roof)
	return nil
}

// wallWords are the brief's words for each pattern of a wall; one word may stand for several.
var wallWords = map[bracing.Pattern]brief.Pattern{
	bracing.CrossedRods: brief.CrossedRods, bracing.RisingStrut: brief.SingleStrut, bracing.FallingStrut: brief.SingleStrut,
	bracing.TwoTierRods: brief.TwoTier, bracing.TwoTierWest: brief.TwoTier, bracing.TwoTierEast: brief.TwoTier,
	bracing.VStruts: brief.VBrace, bracing.InvertedV: brief.InvertedV, bracing.KneeBraces: brief.KneeBrace,
	bracing.PortalBay: brief.PortalisedBay, bracing.PortalFrame: brief.PortalisedBay,
	bracing.DoorPortal: brief.PortalisedBay,
}

// WordOf is the brief's word for a pattern of a wall.
func WordOf(p bracing.Pattern) brief.Pattern { return wallWords[p] }

// drawnBrace reads a drawn wall panel. Two tiers meet half-way; a portalised bay has columns of its own, and they and knees
// take the place that the geometry offers.
func (s *Shed) drawnBrace(side int, w brief.WallPanel) Brace {
	panel := s.panel(side, w.Bay-1, s.Uprights(side))
	b := Brace{Bay: w.Bay - 1, Place: bracing.Place{From: float64(w.From)}}
	top := min(panel.V1, panel.V1+panel.Rise[1])
	to := float64(w.To)
	if to == 0 {
		to = top
	}
	if !near(to, top) {
		b.To = to
	}
	switch w.Pattern {
	case brief.CrossedRods:
		b.Pattern = bracing.CrossedRods
	case brief.SingleStrut:
		b.Pattern = bracing.RisingStrut
		if w.Rises == brief.West || w.Rises == brief.South {
			b.Pattern = bracing.FallingStrut
		}
	case brief.TwoTier:
		b.Pattern, b.Mid = bracing.TwoTierRods, (b.From+to)/2
	case brief.VBrace:
		b.Pattern = bracing.VStruts
	case brief.InvertedV:
		b.Pattern = bracing.InvertedV
	case brief.KneeBrace:
		b.Pattern, b.Place = bracing.KneeBraces, s.offered(side, b.Bay, bracing.KneeBraces)
	case brief.PortalisedBay:
		b.Pattern, b.Place = bracing.PortalFrame, s.offered(side, b.Bay, bracing.PortalFrame)
	}
	return b
}

// offered is the place that the candidates give a pattern in a bay.
func (s *Shed) offered(side, bay int, p bracing.Pattern) bracing.Place {
	for _, c := range s.Candidates(side) {
		if c.Panel.Bay-1 == bay && c.Pattern == p {
			return c.Place
		}
	}
	return bracing.Place{}
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
