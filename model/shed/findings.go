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

// reading gathers findings; without words only what they are, for a search that asks of many layouts whether links are missing.
type reading struct {
	*Shed
	d     *Design
	words bool
	out   []Finding
}

// note adds a finding, and asks for its words if they are wanted.
func (r *reading) note(missing bool, words func() (where, text string)) {
	f := Finding{Missing: missing}
	if r.words {
		f.Where, f.Text = words()
	}
	r.out = append(r.out, f)
}

// missing says whether a link is missing so far.
func (r *reading) missing() bool {
	return slices.ContainsFunc(r.out, func(f Finding) bool { return f.Missing })
}

// LinkMissing says whether a reading of the design shows that a link of its load path is missing. What only the traced chain of a
// model shows (Model.Findings) it does not say.
func (s *Shed) LinkMissing(d *Design) bool {
	r := reading{Shed: s, d: d}
	r.loadPath()
	return r.missing()
}

// loadPath follows the wind on the gables and every frame's lean along the building to the ground: gable, roof plane,
// struts, wall bracing, feet. What is missing is a finding, in the order in which an engineer would raise it.
func (r *reading) loadPath() {
	braced := [2]bool{len(r.d.Walls[0]) > 0, len(r.d.Walls[1]) > 0}
	switch {
	case !braced[0] && !braced[1]:
		r.note(true, func() (string, string) {
			return "both long walls", "the shed can sway along the building: neither long wall has a brace or a rigid frame, so nothing carries wind on the gables, or the lean of the frames, to the ground"
		})
	case !braced[0] || !braced[1]:
		w := 0
		if braced[0] {
			w = 1
		}
		r.note(false, func() (string, string) {
			text := fmt.Sprintf("the %s wall has no longitudinal line: no brace and no rigid frame in its plane; its share of the force along the building goes round through the roof to the %s wall, and the shed twists under it", wallNames[w], wallNames[1-w])
			return wallNames[w] + " wall", text + r.whatIsFree(w)
		})
	}
	r.walls()
	r.gables()
	r.roof()
	r.floors()
}

// trace adds what only the traced chain shows, where the reading found no link missing: eaves that no unbroken chain of
// struts and braces ties to a foot.
func (r *reading) trace(m *Model, held []bool) {
	if r.missing() {
		return
	}
	var loose [][2]int // frames and sides
	for f := range m.Eaves {
		for side, n := range m.Eaves[f] {
			if !held[n] {
				loose = append(loose, [2]int{f, side})
			}
		}
	}
	if len(loose) == 0 {
		return
	}
	r.note(true, func() (string, string) {
		var names []string
		for _, at := range loose {
			names = append(names, fmt.Sprintf("%d/%s", at[0]+1, columnLetter(at[1])))
		}
		return "eaves", fmt.Sprintf("no unbroken line of struts and braces runs from the eaves of frames %s to a foot: they can lean along the building", strings.Join(names, ", "))
	})
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

// walls notes which braces send their force on through bending of the frames' columns, and which eaves lack the strut
// that a brace ends on.
func (r *reading) walls() {
	for side, wall := range r.d.Walls {
		for _, b := range wall {
			note := func(missing bool, text func() string) {
				r.note(missing, func() (string, string) { return fmt.Sprintf("%s, bay %d", PlaneNames[side], b.Bay+1), text() })
			}
			if zone := r.zoneOf(side, b); zone != "" {
				note(false, func() string {
					return fmt.Sprintf("%s, which the brief keeps free, has %s in it: the opening there is given up, or the bracing has to go elsewhere", zone, b)
				})
			}
			switch {
			case isGable(side):
			case b.Pattern == bracing.PortalBay:
				note(false, func() string {
					return "the bay is a rigid frame in the wall's plane: its beam bends the frames' columns about their minor axis; the joint needs end plates on the columns' sides"
				})
			case b.Pattern == bracing.KneeBraces:
				note(false, func() string {
					return "the knees bend the frames' columns about their minor axis and the beam at the eaves in its plane"
				})
			case b.From > 0 && !r.bracedBelow(wall, b):
				note(false, func() string {
					return fmt.Sprintf("nothing braces the bay below %.2f m: the frames' columns carry the force from there to their feet by bending about their minor axis", b.From)
				})
			case b.To > 0 && !r.bracedAbove(wall, b):
				note(false, func() string {
					return fmt.Sprintf("nothing braces the bay above %.2f m: the frames' columns carry the force from the eaves down to there by bending about their minor axis", b.To)
				})
			}
			switch {
			case r.d.Struts.Eaves || isGable(side):
			case b.Pattern == bracing.InvertedV:
				note(true, func() string {
					return "the inverted V meets at the middle of the eaves, where no strut is drawn: nothing holds its point"
				})
			case b.Pattern == bracing.DoorPortal:
				note(true, func() string {
					return "the portal's columns end at the eaves, where no strut is drawn: nothing brings them the wall's force"
				})
			}
		}
	}
}

// gables notes what the bracing of a gable does to the shed: a stiff end that draws sway to itself, and mullions that carry.
func (r *reading) gables() {
	for side := westGable; side < planes; side++ {
		wall := r.d.Walls[side]
		if len(wall) == 0 {
			continue
		}
		where := PlaneNames[side]
		r.note(false, func() (string, string) {
			alone := "each inner frame is judged alone too, and does not rely on it"
			if r.brief.Limits.InnerFrames == brief.WholeShed {
				alone = "the brief judges the inner frames in the whole shed only, so they rely on it"
			}
			return where, "bracing makes this end stiff: it draws the sway of the other frames to itself through the roof bracing, which is checked for that with the gable's own; " + alone
		})
		var loaded []float64
		parts := r.wallParts(r.d, side)
		for _, y := range r.Mullions[side-westGable] {
			if r.carries(parts, y) {
				loaded = append(loaded, y)
			}
		}
		if len(loaded) > 0 && !r.CarryMullions {
			r.note(false, func() (string, string) {
				return where, fmt.Sprintf("bracing ends on the mullion heads at Y %s: they are joined to the rafter without slip there, carry it, and press and pull on their footings", listOf(loaded))
			})
		}
		for _, b := range wall {
			if b.From > 0 && !r.bracedBelow(wall, b) || b.To > 0 && !r.bracedAbove(wall, b) {
				r.note(false, func() (string, string) {
					return fmt.Sprintf("%s, bay %d", where, b.Bay+1), fmt.Sprintf("the braced panel (%s) does not fill the bay's height: columns and mullions beside it carry the force on by bending", b.Place.In(true))
				})
			}
		}
	}
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

// roof looks for roof bracing and the struts that make it a truss.
func (r *reading) roof() {
	d := r.d
	hasGables := !r.OpenGable[0] || !r.OpenGable[1]
	if len(d.Roof) == 0 && hasGables {
		r.note(true, func() (string, string) {
			return "roof", "no roof bracing: the heads of the gable columns have no path to the eaves"
		})
	}
	if !d.Struts.Eaves && r.bays() > 1 {
		r.note(true, func() (string, string) {
			return "eaves", "no struts at the eaves: frames away from the braced bay are not tied to it"
		})
	}
	if len(d.Roof) == 0 {
		return
	}
	if !d.Struts.Ridge && !d.roofDiagonals() && r.Shape == actions.Gable {
		r.note(true, func() (string, string) {
			return "roof", fmt.Sprintf("the roof bracing has no strut at the ridge (bays %s): crossed rods pull but cannot push, so the truss lacks its post there", bayList(d.Roof))
		})
	}
	r.mullions()
}

// mullions looks for a strut from the head of every mullion to the roof bracing that serves its gable.
func (r *reading) mullions() {
	lines := r.strutLines(r.d)
	for gable, name := range []string{"west gable", "east gable"} {
		f := gable * (len(r.Frames) - 1)
		var loose []float64
		for _, y := range r.Mullions[gable] {
			held := slices.ContainsFunc(lines, func(l strutLine) bool { return near(l.y, y) && f >= l.from && f <= l.to })
			if !held && !r.diagonalEnds(r.d, f, y) {
				loose = append(loose, y)
			}
		}
		if len(r.Mullions[gable]) == 0 && !r.OpenGable[gable] && r.Span > widestGirt {
			r.note(false, func() (string, string) {
				return name, fmt.Sprintf("no mullion is drawn: its girts span the whole %.2f m between the columns", r.Span)
			})
		}
		if len(loose) > 0 {
			r.note(true, func() (string, string) {
				return name, fmt.Sprintf("the mullion heads at Y %s have no strut to the roof bracing: their wind pushes on the end rafter, which must carry it sideways", listOf(loose))
			})
		}
	}
}

// listOf writes positions with centimetres.
func listOf(ys []float64) string {
	var out []string
	for _, y := range ys {
		out = append(out, fmt.Sprintf("%.2f", y))
	}
	return strings.Join(out, ", ")
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

// floors asks of every floor what keeps it from swaying: a floor's edge that stands on pinned posts leans along the building
// unless a diaphragm ties it to the frames or a prop shares the place of one of the posts; a floor that meets no wall leans
// with or without a diaphragm.
func (r *reading) floors() {
	if r.brief.Proposal.Bases.Posts.Kind != brief.PinnedBase {
		return // posts that are held at their feet hold the floor
	}
	for i := range r.Mezzanines {
		m := &r.Mezzanines[i]
		walls, loose := 0, []float64(nil)
		for _, y := range []float64{m.Y0, m.Y1} {
			switch {
			case near(y, 0) || near(y, r.Span):
				walls++
			case !r.propOnEdge(r.d, m, y):
				loose = append(loose, y)
			}
		}
		switch {
		case len(loose) == 0:
		case walls == 0 && len(loose) == 2:
			r.note(true, func() (string, string) {
				return m.Name, m.Name + " stands on pinned posts and meets no frame column: nothing keeps it from swaying; it needs bracing of its own, fixed feet, or an edge on columns"
			})
		case !m.Diaphragm:
			r.note(true, func() (string, string) {
				return m.Name, fmt.Sprintf("%s is not called a diaphragm, and its posts at Y %s are pinned: nothing keeps that edge from leaning along the building; fix or brace the posts, or have the floor made a diaphragm and say so (diaphragm: true)", m.Name, listOf(loose))
			})
		}
	}
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
