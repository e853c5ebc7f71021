package shed

import (
	"fmt"
	"slices"
	"strings"

	"leanbay/model/actions"
	"leanbay/model/bracing"
	"leanbay/model/brief"
)

// Finding is something that a geometric reading of the design shows, before any analysis.
type Finding struct {
	// Missing says that a link of the load path along the building is not there: the design cannot comply.
	Missing bool
	Where   string // "north wall", "roof"
	Text    string // in words that an engineer would send to the fabricator
}

// readLoadPath follows the wind on the gables and every frame's lean along the building to the ground: gable, roof plane,
// struts, wall bracing, feet. What is missing is a finding, in the order in which an engineer would raise it.
func (s *Shed) readLoadPath(d *Design) []Finding {
	var out []Finding
	braced := [2]bool{len(d.Walls[0]) > 0, len(d.Walls[1]) > 0}
	switch {
	case !braced[0] && !braced[1]:
		out = append(out, Finding{true, "both long walls", "the shed can sway along the building: neither long wall has a brace or a rigid frame, so nothing carries wind on the gables, or the lean of the frames, to the ground"})
	case !braced[0] || !braced[1]:
		w := 0
		if braced[0] {
			w = 1
		}
		text := fmt.Sprintf("the %s wall has no longitudinal line: no brace and no rigid frame in its plane; its share of the force along the building goes round through the roof to the %s wall, and the shed twists under it", wallNames[w], wallNames[1-w])
		out = append(out, Finding{false, wallNames[w] + " wall", text + s.whatIsFree(w)})
	}
	out = append(out, s.readWalls(d)...)
	out = append(out, s.readGables(d)...)
	out = append(out, s.readRoof(d)...)
	return append(out, s.readFloors(d)...)
}

// readTrace adds what only the traced chain shows, where the reading found no link missing: eaves that no unbroken chain of
// struts and braces ties to a foot.
func (b *builder) readTrace(fs []Finding, held []bool) []Finding {
	if slices.ContainsFunc(fs, func(f Finding) bool { return f.Missing }) {
		return fs
	}
	var loose []string
	for f := range b.Eaves {
		for side, n := range b.Eaves[f] {
			if !held[n] {
				loose = append(loose, fmt.Sprintf("%d/%s", f+1, columnLetter(side)))
			}
		}
	}
	if len(loose) == 0 {
		return fs
	}
	return append(fs, Finding{true, "eaves", fmt.Sprintf("no unbroken line of struts and braces runs from the eaves of frames %s to a foot: they can lean along the building", strings.Join(loose, ", "))})
}

// whatIsFree says which panels of a wall could take a brace: whole panels first; where there are none, what fits in part of
// one, and what blocks the rest.
func (s *Shed) whatIsFree(side int) string {
	s.known.freeOnce[side].Do(func() { s.known.free[side] = s.readFree(side) })
	return s.known.free[side]
}

func (s *Shed) readFree(side int) string {
	var whole, part, blocked []string
	for _, c := range s.Candidates(side) {
		b := Brace{Bay: c.Panel.Bay - 1, Pattern: c.Pattern, Place: c.Place}
		full := c.Place == (bracing.Place{})
		switch {
		case c.Free() && full && c.Pattern.Kind() != bracing.Portals:
			whole = append(whole, b.String())
		case c.Free():
			part = append(part, b.String())
		case full && c.Pattern == bracing.CrossedRods:
			blocked = append(blocked, c.Reason())
		}
	}
	switch {
	case len(whole) > 0:
		return "; free of openings: " + strings.Join(whole, ", ")
	case len(blocked) > 0:
		text := "; no full panel is free: " + strings.Join(blocked, "; ")
		if len(part) > 0 {
			text += "; free in part: " + strings.Join(part[:min(len(part), 4)], "; ")
		}
		return text
	}
	return ""
}

// readWalls notes which braces send their force on through bending of the frames' columns, and which eaves lack the strut
// that a brace ends on.
func (s *Shed) readWalls(d *Design) []Finding {
	var out []Finding
	for side, wall := range d.Walls {
		for _, b := range wall {
			where := fmt.Sprintf("%s, bay %d", PlaneNames[side], b.Bay+1)
			if zone := s.zoneOf(side, b); zone != "" {
				out = append(out, Finding{false, where, fmt.Sprintf("%s, which the brief keeps free, has %s in it: the opening there is given up, or the bracing has to go elsewhere", zone, b)})
			}
			switch {
			case isGable(side):
			case b.Pattern == bracing.PortalBay:
				out = append(out, Finding{false, where, "the bay is a rigid frame in the wall's plane: its beam bends the frames' columns about their minor axis; the joint needs end plates on the columns' sides"})
			case b.Pattern == bracing.KneeBraces:
				out = append(out, Finding{false, where, "the knees bend the frames' columns about their minor axis and the beam at the eaves in its plane"})
			case b.From > 0 && !s.bracedBelow(wall, b):
				out = append(out, Finding{false, where, fmt.Sprintf("nothing braces the bay below %.2f m: the frames' columns carry the force from there to their feet by bending about their minor axis", b.From)})
			case b.To > 0 && !s.bracedAbove(wall, b):
				out = append(out, Finding{false, where, fmt.Sprintf("nothing braces the bay above %.2f m: the frames' columns carry the force from the eaves down to there by bending about their minor axis", b.To)})
			}
			switch {
			case d.Struts.Eaves || isGable(side):
			case b.Pattern == bracing.InvertedV:
				out = append(out, Finding{true, where, "the inverted V meets at the middle of the eaves, where no strut is drawn: nothing holds its point"})
			case b.Pattern == bracing.DoorPortal:
				out = append(out, Finding{true, where, "the portal's columns end at the eaves, where no strut is drawn: nothing brings them the wall's force"})
			}
		}
	}
	return out
}

// readGables notes what the bracing of a gable does to the shed: a stiff end that draws sway to itself, and mullions that carry.
func (s *Shed) readGables(d *Design) []Finding {
	var out []Finding
	for side := westGable; side < planes; side++ {
		if len(d.Walls[side]) == 0 {
			continue
		}
		where := PlaneNames[side]
		alone := "each inner frame is judged alone too, and does not rely on it"
		if s.brief.Limits.InnerFrames == brief.WholeShed {
			alone = "the brief judges the inner frames in the whole shed only, so they rely on it"
		}
		out = append(out, Finding{false, where, "bracing makes this end stiff: it draws the sway of the other frames to itself through the roof bracing, which is checked for that with the gable's own; " + alone})
		var loaded []string
		for _, y := range s.Mullions[side-westGable] {
			if s.carries(d, side, y) {
				loaded = append(loaded, fmt.Sprintf("%.2f", y))
			}
		}
		if len(loaded) > 0 && !s.CarryMullions {
			out = append(out, Finding{false, where, fmt.Sprintf("bracing ends on the mullion heads at Y %s: they are joined to the rafter without slip there, carry it, and press and pull on their footings", strings.Join(loaded, ", "))})
		}
		for _, b := range d.Walls[side] {
			if b.From > 0 && !s.bracedBelow(d.Walls[side], b) || b.To > 0 && !s.bracedAbove(d.Walls[side], b) {
				out = append(out, Finding{false, fmt.Sprintf("%s, bay %d", where, b.Bay+1), fmt.Sprintf("the braced panel (%s) does not fill the bay's height: columns and mullions beside it carry the force on by bending", b.Place.In(true))})
			}
		}
	}
	return out
}

// zoneOf names the clear zone that a brace of an open wall crosses, if it does: one that was drawn, since the search offers none.
func (s *Shed) zoneOf(side int, b Brace) string {
	if !s.faceOpen(faceOf(side)) {
		return ""
	}
	panel := s.panel(side, b.Bay, s.Uprights(side))
	for _, o := range s.zonesIn(side) {
		for _, part := range bracing.Parts(b.Pattern, panel, b.Place) {
			if o.U0 < panel.U1 && o.U1 > panel.U0 && part.Crosses(o.Rect) {
				return o.Name
			}
		}
	}
	return ""
}

// bracedBelow says whether another panel of the bay carries on where b ends below.
func (s *Shed) bracedBelow(wall []Brace, b Brace) bool {
	return slices.ContainsFunc(wall, func(o Brace) bool { return o.Bay == b.Bay && near(o.To, b.From) })
}

func (s *Shed) bracedAbove(wall []Brace, b Brace) bool {
	return slices.ContainsFunc(wall, func(o Brace) bool { return o.Bay == b.Bay && near(o.From, b.To) })
}

// readRoof looks for roof bracing and the struts that make it a truss.
func (s *Shed) readRoof(d *Design) []Finding {
	var out []Finding
	hasGables := !s.OpenGable[0] || !s.OpenGable[1]
	if len(d.Roof) == 0 && hasGables {
		out = append(out, Finding{true, "roof", "no roof bracing: the heads of the gable columns have no path to the eaves"})
	}
	if !d.Struts.Eaves && s.bays() > 1 {
		out = append(out, Finding{true, "eaves", "no struts at the eaves: frames away from the braced bay are not tied to it"})
	}
	if len(d.Roof) == 0 {
		return out
	}
	if !d.Struts.Ridge && !d.roofDiagonals() && s.Shape == actions.Gable {
		out = append(out, Finding{true, "roof", fmt.Sprintf("the roof bracing has no strut at the ridge (bays %s): crossed rods pull but cannot push, so the truss lacks its post there", bayList(d.Roof))})
	}
	return append(out, s.readMullions(d)...)
}

// readMullions looks for a strut from the head of every mullion to the roof bracing that serves its gable.
func (s *Shed) readMullions(d *Design) []Finding {
	var out []Finding
	lines := s.strutLines(d)
	for gable, name := range []string{"west", "east"} {
		f := gable * (len(s.Frames) - 1)
		var loose []string
		for _, y := range s.Mullions[gable] {
			held := slices.ContainsFunc(lines, func(l strutLine) bool { return near(l.y, y) && f >= l.from && f <= l.to })
			if !held && !s.diagonalEnds(d, f, y) {
				loose = append(loose, fmt.Sprintf("%.2f", y))
			}
		}
		if len(s.Mullions[gable]) == 0 && !s.OpenGable[gable] && s.Span > widestGirt {
			out = append(out, Finding{false, name + " gable", fmt.Sprintf("no mullion is drawn: its girts span the whole %.2f m between the columns", s.Span)})
		}
		if len(loose) > 0 {
			out = append(out, Finding{true, name + " gable", fmt.Sprintf("the mullion heads at Y %s have no strut to the roof bracing: their wind pushes on the end rafter, which must carry it sideways", strings.Join(loose, ", "))})
		}
	}
	return out
}

// widestGirt is about as far as girts of the usual stock span (m, site practice).
const widestGirt = 7.0

// diagonalEnds says whether a roof diagonal, which pushes as well as it pulls, ends at y on frame f.
func (s *Shed) diagonalEnds(d *Design, f int, y float64) bool {
	if !d.roofDiagonals() {
		return false
	}
	for _, bay := range d.Roof {
		points := s.PanelPoints(bay, d)
		for k := 0; k+1 < len(points); k++ {
			low, high := points[k], points[k+1] // where it starts on frame bay, and ends on the next
			if !s.climbs(d.RoofPattern, k, points) {
				low, high = high, low
			}
			if f == bay && near(low, y) || f == bay+1 && near(high, y) {
				return true
			}
		}
	}
	return false
}

// bayList numbers bays as drawings do.
func bayList(bays []int) string {
	var out []string
	for _, b := range bays {
		out = append(out, fmt.Sprint(b+1))
	}
	return strings.Join(out, ", ")
}

// readFloors asks of every floor what keeps it from swaying: a floor's edge that stands on pinned posts leans along the building
// unless a diaphragm ties it to the frames or a prop shares the place of one of the posts; a floor that meets no wall leans
// with or without a diaphragm.
func (s *Shed) readFloors(d *Design) []Finding {
	var out []Finding
	if s.brief.Proposal.Bases.Posts.Kind != brief.PinnedBase {
		return nil // posts that are held at their feet hold the floor
	}
	for i := range s.Mezzanines {
		m := &s.Mezzanines[i]
		walls, loose := 0, []string(nil)
		for _, y := range []float64{m.Y0, m.Y1} {
			switch {
			case near(y, 0) || near(y, s.Span):
				walls++
			case !s.propOnEdge(d, m, y):
				loose = append(loose, fmt.Sprintf("%.2f", y))
			}
		}
		switch {
		case len(loose) == 0:
		case walls == 0 && len(loose) == 2:
			out = append(out, Finding{true, m.Name, m.Name + " stands on pinned posts and meets no frame column: nothing keeps it from swaying; it needs bracing of its own, fixed feet, or an edge on columns"})
		case !m.Diaphragm:
			out = append(out, Finding{true, m.Name, fmt.Sprintf("%s is not called a diaphragm, and its posts at Y %s are pinned: nothing keeps that edge from leaning along the building; fix or brace the posts, or have the floor made a diaphragm and say so (diaphragm: true)", m.Name, strings.Join(loose, ", "))})
		}
	}
	return out
}

// propOnEdge says whether a prop that goes on up to the rafter stands in the place of a post of a floor's edge.
func (s *Shed) propOnEdge(d *Design, m *Mezzanine, y float64) bool {
	for f := range s.Frames {
		if d.hasProp(f, y) && s.PropStands(f, y) == OnPost && s.Frames[f] > m.X0-1e-3 && s.Frames[f] < m.X1+1e-3 {
			return true
		}
	}
	return false
}
