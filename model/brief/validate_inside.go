package brief

import (
	"fmt"
	"slices"
)

// doorPath is how far inside a door no prop or post may stand (our choice: a door's leaf and a person passing).
const doorPath Length = 1.5

// rect is a rectangle in plan.
type rect struct{ x, y Range }

// holds says whether a point lies inside the rectangle; its edge is outside.
func (r rect) holds(x, y Length) bool { return r.x.Holds(x) && r.y.Holds(y) }

// overlaps says whether two rectangles share more than an edge.
func (r rect) overlaps(s rect) bool { return r.x.Overlaps(s.x) && r.y.Overlaps(s.y) }

// inPlan checks that a rectangle lies in the building.
func (v *validator) inPlan(path, what string, r rect) bool {
	b := &v.b.Building
	ok := true
	if r.x[1] > b.Length()+snap {
		v.fault(path+".x", "%s reaches to X %s, beyond the east gable at %s; shorten it", what, metres(r.x[1]), metres(b.Length()))
		ok = false
	}
	if r.y[1] > b.Span+snap {
		v.fault(path+".y", "%s reaches to Y %s, beyond the north wall at %s; shorten it", what, metres(r.y[1]), metres(b.Span))
		ok = false
	}
	return ok
}

// lowestRoof returns the least height of the roof over a stretch of Y, and where; the roof is concave.
func (b *Building) lowestRoof(y Range) (z, at Length) {
	if b.RoofZ(y[1]) < b.RoofZ(y[0]) {
		return b.RoofZ(y[1]), y[1]
	}
	return b.RoofZ(y[0]), y[0]
}

// title gives the floor in words.
func (m Mezzanine) title() string {
	if m.Name != "" {
		return "mezzanine " + m.Name
	}
	return "the mezzanine"
}

// mezzanines checks each floor and each pair.
func (v *validator) mezzanines() {
	for i, m := range v.b.Mezzanines {
		path := fmt.Sprintf("mezzanines[%d]", i)
		if !v.good(path) || !v.inPlan(path, m.title(), rect{m.X, m.Y}) {
			continue
		}
		if z, y := v.b.Building.lowestRoof(m.Y); v.shape && m.Level >= z {
			v.fault(path+".level", "level %s is not below the roof at Y %s, %s; lower the floor", metres(m.Level), metres(y), metres(z))
		}
		v.floorUse(path, m)
		v.floorAtOpenings(path, m)
		v.floorInZones(path, m)
		v.posts(path, m)
		for j, p := range v.b.Mezzanines[:i] {
			if (rect{m.X, m.Y}).overlaps(rect{p.X, p.Y}) && max(m.Level-p.Level, p.Level-m.Level) < leastStorey {
				v.fault(path, "%s overlaps mezzanine %d%s less than %s above or below; move one of them", m.title(), j+1, v.line(fmt.Sprintf("mezzanines[%d]", j)), metres(leastStorey))
			}
		}
	}
}

// leastStorey is the least height between two floors over each other (our choice: a person stands).
const leastStorey Length = 1.8

// floorUse checks that the load is known and that a stored height has goods.
func (v *validator) floorUse(path string, m Mezzanine) {
	if m.StoredHeight > 0 && m.Use != Storage {
		v.fault(path+".stored_height", "stored_height belongs to storage, and the use is %s%s; take it out or change the use", m.Use, v.line(path+".use"))
	}
	if m.Use == Storage && m.Imposed == 0 && m.StoredHeight == 0 {
		v.fault(path+".use", "a storage floor needs its imposed load, in kPa, or its stored_height, in m")
	}
}

// floorAtOpenings checks that the floor does not meet a wall where a door or window is.
func (v *validator) floorAtOpenings(path string, m Mezzanine) {
	b := &v.b.Building
	for i, o := range v.b.Openings {
		along, meets := m.X, false
		switch o.Wall {
		case South:
			meets = m.Y[0] < doorPath
		case North:
			meets = m.Y[1] > b.Span-doorPath
		case West:
			along, meets = m.Y, m.X[0] < doorPath
		case East:
			along, meets = m.Y, m.X[1] > b.Length()-doorPath
		}
		other := fmt.Sprintf("openings[%d]", i)
		if meets && v.good(other) && along.Overlaps(o.Extent()) && o.Sill < m.Level && m.Level < o.Head {
			v.fault(path+".level", "%s at %s runs through %s%s, %s to %s high; move the floor or the opening", m.title(), metres(m.Level), o.Title(), v.line(other), metres(o.Sill), metres(o.Head))
		}
	}
}

// floorInZones checks that the floor leaves clear zones clear.
func (v *validator) floorInZones(path string, m Mezzanine) {
	for i, z := range v.b.Clear {
		zone := fmt.Sprintf("clear[%d]", i)
		if v.good(zone) && (rect{m.X, m.Y}).overlaps(rect{z.X, z.Y}) && m.Level <= z.Height {
			v.fault(path, "%s at %s is in clear zone %s%s, clear to %s; shorten one of them", m.title(), metres(m.Level), z.Name, v.line(zone), metres(z.Height))
		}
	}
}

// posts checks the posts' places on the edges of the floor that no wall carries.
func (v *validator) posts(path string, m Mezzanine) {
	b := &v.b.Building
	xs, at := m.PostsX, path+".posts_x"
	if len(xs) == 0 {
		at = path
		for _, x := range b.FrameLines {
			if m.X[0] <= x+snap && x-snap <= m.X[1] {
				xs = append(xs, x)
			}
		}
	}
	for _, x := range xs {
		if x < m.X[0]-snap || x > m.X[1]+snap {
			v.fault(at, "the post at X %s is off %s, X %s to %s; move it", metres(x), m.title(), metres(m.X[0]), metres(m.X[1]))
			continue
		}
		for _, y := range m.Y {
			if y > snap && y < b.Span-snap {
				v.standing(at, "the post", x, y)
			}
		}
	}
}

// standing checks that what stands at (x, y) is clear of zones and door paths.
func (v *validator) standing(path, what string, x, y Length) {
	for i, z := range v.b.Clear {
		zone := fmt.Sprintf("clear[%d]", i)
		if v.good(zone) && (rect{z.X, z.Y}).holds(x, y) {
			v.fault(path, "%s at X %s, Y %s stands in clear zone %s%s; move it out of X %s to %s, Y %s to %s",
				what, metres(x), metres(y), z.Name, v.line(zone), metres(z.X[0]), metres(z.X[1]), metres(z.Y[0]), metres(z.Y[1]))
		}
	}
	for i, o := range v.b.Openings {
		door := fmt.Sprintf("openings[%d]", i)
		if o.Door() && v.good(door) && v.pathOf(o).holds(x, y) {
			v.fault(path, "%s at X %s, Y %s stands within %s of %s%s; move it out of the door's path",
				what, metres(x), metres(y), metres(doorPath), o.Title(), v.line(door))
		}
	}
}

// pathOf returns the plan inside a door that is kept free.
func (v *validator) pathOf(o Opening) rect {
	b := &v.b.Building
	switch o.Wall {
	case South:
		return rect{o.Extent(), Range{-snap, doorPath}}
	case North:
		return rect{o.Extent(), Range{b.Span - doorPath, b.Span + snap}}
	case West:
		return rect{Range{-snap, doorPath}, o.Extent()}
	}
	return rect{Range{b.Length() - doorPath, b.Length() + snap}, o.Extent()}
}

// clearZones checks that each zone lies in the building and under its roof.
func (v *validator) clearZones() {
	for i, z := range v.b.Clear {
		path := fmt.Sprintf("clear[%d]", i)
		if !v.good(path) || !v.inPlan(path, "clear zone "+z.Name, rect{z.X, z.Y}) {
			continue
		}
		if roof, y := v.b.Building.lowestRoof(z.Y); v.shape && z.Height >= roof {
			v.fault(path+".height", "clear zone %s is %s high, but the roof at Y %s is at %s; lower the zone or raise the eaves%s",
				z.Name, metres(z.Height), metres(y), metres(roof), v.line("building.eaves"))
		}
	}
}

// props checks each prop's frame line and place.
func (v *validator) props() {
	seen := map[Prop]string{}
	for i := range v.b.Proposal.Props {
		path := fmt.Sprintf("proposal.props[%d]", i)
		if !v.good(path) || !v.propLine(path, &v.b.Proposal.Props[i]) {
			continue
		}
		p := v.b.Proposal.Props[i]
		if p.Y <= snap || p.Y >= v.b.Building.Span-snap {
			v.fault(path+".y", "the prop at Y %s is not between the column lines, 0 and %s; move it inside", metres(p.Y), metres(v.b.Building.Span))
			continue
		}
		if first, twice := seen[p]; twice {
			v.fault(path, "a prop stands on frame line %d at Y %s already%s; take one out", p.Line, metres(p.Y), v.line(first))
			continue
		}
		seen[p] = path
		v.standing(path, "the prop", p.X, p.Y)
		v.propAtFloor(path, p)
	}
}

// propLine completes line and x, and says whether the prop is on an inner frame.
func (v *validator) propLine(path string, p *Prop) bool {
	b := &v.b.Building
	byLine, byX := v.b.Stated(path+".line"), v.b.Stated(path+".x")
	switch {
	case byLine == byX:
		v.fault(path, "a prop needs its frame line, by number (line) or by position (x); give one of the two")
		return false
	case byX:
		p.Line = b.LineAt(p.X)
		if p.Line == 0 {
			v.fault(path+".x", "no frame line is at X %s; the nearest is line %d at %s", metres(p.X), b.nearestLine(p.X), metres(b.FrameLines[b.nearestLine(p.X)-1]))
			return false
		}
		p.X = b.FrameLines[p.Line-1]
	case p.Line > len(b.FrameLines):
		v.fault(path+".line", "there is no frame line %d; the last is %d", p.Line, len(b.FrameLines))
		return false
	default:
		p.X = b.FrameLines[p.Line-1]
	}
	if p.Line == 1 || p.Line == len(b.FrameLines) {
		v.fault(path, "frame line %d is an end frame; its inner columns are mullions, list them under proposal.mullions", p.Line)
		return false
	}
	return true
}

// nearestLine returns the number of the frame line nearest to x.
func (b *Building) nearestLine(x Length) int {
	best := 0
	for i, l := range b.FrameLines {
		if max(l-x, x-l) < max(b.FrameLines[best]-x, x-b.FrameLines[best]) {
			best = i
		}
	}
	return best + 1
}

// propAtFloor checks a prop inside a mezzanine's plan.
func (v *validator) propAtFloor(path string, p Prop) {
	onAny := false
	for i, m := range v.b.Mezzanines {
		floor := fmt.Sprintf("mezzanines[%d]", i)
		inside := m.X[0]-snap <= p.X && p.X <= m.X[1]+snap && m.Y[0]-snap <= p.Y && p.Y <= m.Y[1]+snap
		if !v.good(floor) || !inside {
			continue
		}
		onAny = true
		switch {
		case p.OnBeam && !m.PropsOnBeams:
			v.fault(path+".on_beam", "%s%s does not allow props on its beams; set props_on_beams there, or take on_beam out", m.title(), v.line(floor))
		case !p.OnBeam && !m.ShareProps:
			v.fault(path, "the prop at X %s, Y %s runs through %s%s; set share_props there, or move the prop", metres(p.X), metres(p.Y), m.title(), v.line(floor))
		}
	}
	if p.OnBeam && !onAny {
		v.fault(path+".on_beam", "the prop at X %s, Y %s is on no mezzanine; take on_beam out, or move the prop", metres(p.X), metres(p.Y))
	}
}

// propFreedom checks windows and lines of the freedoms.
func (v *validator) propFreedom() {
	f, b := v.b.Freedoms.Props, &v.b.Building
	for i, w := range f.Windows {
		path := fmt.Sprintf("freedoms.props.windows[%d]", i)
		if v.good(path) && w[1] > b.Span+snap {
			v.fault(path, "the window for props reaches to Y %s, beyond the north wall at %s; shorten it", metres(w[1]), metres(b.Span))
		}
	}
	for i, l := range f.Lines {
		path := fmt.Sprintf("freedoms.props.lines[%d]", i)
		switch {
		case !v.good(path):
		case l <= 1 || l >= len(b.FrameLines):
			v.fault(path, "frame line %d is no inner frame; props stand on lines 2 to %d", l, len(b.FrameLines)-1)
		case slices.Contains(f.Lines[:i], l):
			v.fault(path, "frame line %d is listed twice; once is enough", l)
		}
	}
}
