package shed

import (
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/actions"
	"leanbay/model/brief"
	"leanbay/solver"
)

// Edge distances of the first and last purlin from eaves and ridge, and of girts from floor and eaves (m).
const (
	purlinEdge = 0.100
	girtEdge   = 0.150
)

// support is where a purlin or girt line meets a member.
type support struct {
	u       float64 // along the line
	member  int
	station float64
}

// line is one purlin or girt, with the strip of its face that it carries.
type line struct {
	face       actions.Face
	v          float64 // where it runs: Z on walls, Y on roofs
	v0, v1     float64 // its strip
	supports   []support
	continuous bool
}

// columnIndex, rafterIndex and mullionIndex give the places of the members that Build always makes first, in this order.
func (s *Shed) columnIndex(f, side int) int { return 2*f + side }

func (s *Shed) rafterIndex(f, slope int) int {
	return 2*len(s.Frames) + f*len(s.slopes()) + slope
}

func (s *Shed) mullionIndex(gable, k int) int {
	return (2+len(s.slopes()))*len(s.Frames) + gable*len(s.Mullions[0]) + k
}

// strips cuts a length into the strips of its lines at v, each up to half-way to the next line.
func strips(lines []line, from, to float64) {
	for i := range lines {
		lines[i].v0, lines[i].v1 = from, to
		if i > 0 {
			lines[i].v0 = (lines[i-1].v + lines[i].v) / 2
		}
		if i+1 < len(lines) {
			lines[i].v1 = (lines[i].v + lines[i+1].v) / 2
		}
	}
}

// lineSets are lines by their spacing, found once. They are only read.
type lineSets struct {
	adding sync.Mutex
	sets   atomic.Pointer[[]*lineSet] // replaced by a longer list
}

// lineSet is the lines of one spacing, with the length of all between their first and last support.
type lineSet struct {
	spacing, length float64
	lines           []line
}

func (l *lineSets) by(spacing float64, find func(float64) []line) *lineSet {
	if s := l.known(spacing); s != nil {
		return s
	}
	l.adding.Lock()
	defer l.adding.Unlock()
	if s := l.known(spacing); s != nil {
		return s
	}
	s := &lineSet{spacing: spacing, lines: find(spacing)}
	s.length = lineLength(s.lines)
	var list []*lineSet
	if old := l.sets.Load(); old != nil {
		list = slices.Clone(*old)
	}
	list = append(list, s)
	l.sets.Store(&list)
	return s
}

func (l *lineSets) known(spacing float64) *lineSet {
	if list := l.sets.Load(); list != nil {
		for _, s := range *list {
			if s.spacing == spacing {
				return s
			}
		}
	}
	return nil
}

// purlins and girts find the lines of a spacing with their length.
func (s *Shed) purlins(spacing float64) *lineSet { return s.known.purlins.by(spacing, s.layPurlins) }
func (s *Shed) girts(spacing float64) *lineSet   { return s.known.girts.by(spacing, s.layGirts) }

// purlinLines are the purlins of both slopes. They are continuous where they are lapped.
func (s *Shed) purlinLines(spacing float64) []line { return s.purlins(spacing).lines }

func (s *Shed) layPurlins(spacing float64) []line {
	lapped := s.brief.Building.Secondary.Purlins.Lap > 0
	var out []line
	for k, sl := range s.slopes() {
		length := s.slopeLength(sl.from, sl.to)
		var lines []line
		for _, off := range stations(length, purlinEdge, spacing) {
			l := line{face: actions.SouthRoof + actions.Face(k), v: sl.from + off*(sl.to-sl.from)/length, continuous: lapped}
			station := off
			if k == 1 {
				station = length - off // the north rafter starts at eaves B
			}
			for f, x := range s.Frames {
				l.supports = append(l.supports, support{x, s.rafterIndex(f, k), station})
			}
			lines = append(lines, l)
		}
		strips(lines, sl.from, sl.to)
		out = append(out, lines...)
	}
	return out
}

// girtLines are the girts of the clad walls and gables. Doors and windows cut them, so they are simple spans from member
// to member; what a door gives to its jambs is taken to reach the same columns at the same height.
func (s *Shed) girtLines(spacing float64) []line { return s.girts(spacing).lines }

func (s *Shed) layGirts(spacing float64) []line {
	var out []line
	for side := range 2 {
		face, eaves := s.wallFace(side)
		if s.faceOpen(face) {
			continue
		}
		var lines []line
		for _, z := range stations(eaves, girtEdge, spacing) {
			l := line{face: face, v: z}
			for f, x := range s.Frames {
				l.supports = append(l.supports, support{x, s.columnIndex(f, side), z})
			}
			lines = append(lines, l)
		}
		strips(lines, 0, eaves)
		out = append(out, lines...)
	}
	for gable := range 2 {
		if !s.OpenGable[gable] {
			out = append(out, s.gableLines(gable, spacing)...)
		}
	}
	return out
}

// gableLines are the girts of one gable; above the eaves they end on the end rafter.
func (s *Shed) gableLines(gable int, spacing float64) []line {
	f := gable * (len(s.Frames) - 1)
	var lines []line
	for _, z := range stations(s.Ridge, girtEdge, spacing) {
		l := line{face: actions.WestGable + actions.Face(gable), v: z}
		l.supports = append(l.supports, s.gableEnd(f, 0, z))
		for k, y := range s.Mullions[gable] {
			if s.RoofZ(y) > z {
				l.supports = append(l.supports, support{y, s.mullionIndex(gable, k), z})
			}
		}
		l.supports = append(l.supports, s.gableEnd(f, 1, z))
		lines = append(lines, l)
	}
	strips(lines, 0, s.Ridge)
	return lines
}

// gableEnd is where a gable girt at height z ends: on the corner column, or above the eaves on the end rafter.
func (s *Shed) gableEnd(f, side int, z float64) support {
	wall, eaves := float64(side)*s.Span, s.EavesA
	if side == 1 {
		eaves = s.EavesB
	}
	if z <= eaves || s.Ridge <= eaves {
		return support{wall, s.columnIndex(f, side), min(z, eaves)}
	}
	y := wall + (s.RidgeY-wall)*(z-eaves)/(s.Ridge-eaves)
	if len(s.slopes()) == 1 {
		return support{y, s.rafterIndex(f, 0), s.slopeLength(0, y)}
	}
	return support{y, s.rafterIndex(f, side), s.slopeLength(min(wall, y), max(wall, y))}
}

// Loads are the actions of every case on the members that all designs share, for one choice of purlin and girt spacing.
type Loads struct {
	Source       []actions.Case
	Cases        []solver.Case // point loads at purlins and girts; Build adds floors, self weight and shares of weight
	Combinations []solver.Combination
	purlins      []line
	girts        []line
	table        *solver.PointTable // the point loads of Cases, a column each
}

// SecondaryMass is the mass of purlins and girts per metre of line (kg/m); it rests on the frames.
type SecondaryMass struct{ Purlin, Girt float64 }

// NewLoads resolves the cases of a pack to the members at purlin and girt lines.
func (s *Shed) NewLoads(cases []actions.Case, combinations []solver.Combination, purlinSpacing, girtSpacing float64, m SecondaryMass) *Loads {
	l := &Loads{Source: cases, Combinations: combinations, purlins: s.purlinLines(purlinSpacing), girts: s.girtLines(girtSpacing)}
	var places []solver.PointPlace
	var forces []float64 // of the places, in the table's rows
	for i := range cases {
		c := &cases[i]
		sc := solver.Case{ID: c.ID, Kind: c.Kind, Title: c.Title}
		if c.SelfWeight {
			sc.SelfWeight = r3.Vec{Z: -1}
		}
		place := 0
		for _, set := range []struct {
			lines []line
			mass  float64
		}{{l.purlins, m.Purlin}, {l.girts, m.Girt}} {
			for j := range set.lines {
				ln := &set.lines[j]
				for k, f := range s.lineForces(c, ln, set.mass) {
					sup := &ln.supports[k]
					if i == 0 {
						places = append(places, solver.PointPlace{Member: sup.member, At: sup.station})
						forces = append(forces, make([]float64, 3*len(cases))...)
					}
					if f != (r3.Vec{}) {
						sc.Point = append(sc.Point, solver.PointLoad{Member: sup.member, At: sup.station, F: f})
						for axis, v := range [3]float64{f.X, f.Y, f.Z} {
							forces[(3*place+axis)*len(cases)+i] = v
						}
					}
					place++
				}
			}
		}
		l.Cases = append(l.Cases, sc)
	}
	l.table = solver.NewPointTable(places, len(cases), forces)
	return l
}

// lineForces are the reactions of one line at its supports under one case (N).
func (s *Shed) lineForces(c *actions.Case, l *line, mass float64) []r3.Vec {
	var normal, weight []stretch
	var along [3][]stretch // tractions by global direction
	for i := range c.Patches {
		p := &c.Patches[i]
		if p.Face != l.face {
			continue
		}
		for _, st := range s.covered(p, l) {
			stretchTrue := st
			stretchTrue.q *= s.stretchOf(l.face)
			if p.Pressure != 0 {
				normal = append(normal, scaled(stretchTrue, p.Pressure))
			}
			t := stretchTrue
			if p.PlanArea {
				t = st
			}
			for k, v := range []float64{p.Traction.X, p.Traction.Y, p.Traction.Z} {
				if v != 0 {
					along[k] = append(along[k], scaled(t, v))
				}
			}
		}
	}
	if c.SelfWeight && mass > 0 {
		first, last := l.supports[0].u, l.supports[len(l.supports)-1].u
		weight = append(weight, stretch{first, last, mass * brief.Gravity})
	}
	inward := r3.Scale(-1, s.Building.FaceNormal(l.face))
	force := make([]r3.Vec, len(l.supports))
	addReactions(force, l, normal, inward)
	for k, axis := range []r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		addReactions(force, l, along[k], axis)
	}
	addReactions(force, l, weight, r3.Vec{Z: -1})
	return force
}

// addReactions adds the line's support forces under loads along dir.
func addReactions(force []r3.Vec, l *line, loads []stretch, dir r3.Vec) {
	if len(loads) == 0 {
		return
	}
	us := make([]float64, len(l.supports))
	for i, sup := range l.supports {
		us[i] = sup.u
	}
	for i, r := range reactions(us, loads, l.continuous) {
		force[i] = r3.Add(force[i], r3.Scale(r, dir))
	}
}

func scaled(s stretch, f float64) stretch { return stretch{s.from, s.to, s.q * f} }

// stretchOf is true area over area in the face's (u, v).
func (s *Shed) stretchOf(f actions.Face) float64 { return s.Building.Stretch(f) }

// covered returns how much of the line's strip a patch covers along the line: q is the covered height in v (m). Under a
// sloping gable edge the height is linear between breaks; each such piece is cut in eight, whose mean heights keep the
// area exact.
func (s *Shed) covered(p *actions.Patch, l *line) []stretch {
	a, b := max(p.V0, l.v0), min(p.V1, l.v1)
	if a >= b {
		return nil
	}
	if l.face != actions.WestGable && l.face != actions.EastGable {
		return []stretch{{p.U0, p.U1, b - a}}
	}
	u0, u1 := max(p.U0, 0), min(p.U1, s.Span)
	breaks := []float64{u0, u1}
	for _, u := range s.edgeCrossings(a, b) {
		if u > u0 && u < u1 {
			breaks = append(breaks, u)
		}
	}
	slices.Sort(breaks)
	height := func(u float64) float64 { return min(max(s.RoofZ(u)-a, 0), b-a) }
	var out []stretch
	for i := 0; i+1 < len(breaks); i++ {
		from, to := breaks[i], breaks[i+1]
		n := 1
		if math.Abs(height(from)-height(to)) > 1e-9 {
			n = 8
		}
		step := (to - from) / float64(n)
		for k := range n {
			u := from + step*float64(k)
			if h := height(u + step/2); h > 0 {
				out = append(out, stretch{u, u + step, h})
			}
		}
	}
	return out
}

// edgeCrossings are the Y where the roof edge is at height a or b, and the ridge.
func (s *Shed) edgeCrossings(a, b float64) []float64 {
	out := []float64{s.RidgeY}
	for _, sl := range s.slopes() {
		z0, z1 := s.RoofZ(sl.from), s.RoofZ(sl.to)
		for _, z := range []float64{a, b} {
			if z1 != z0 {
				if t := (z - z0) / (z1 - z0); t > 0 && t < 1 {
					out = append(out, sl.from+t*(sl.to-sl.from))
				}
			}
		}
	}
	return out
}

// SecondarySpan is one span of a purlin or girt: where it runs, and the width of the strip that it carries (m; up the
// slope on roofs).
type SecondarySpan struct {
	Face          actions.Face
	V, U0, U1     float64
	Width, Length float64
}

// PurlinSpans lists every span of every purlin line.
func (s *Shed) PurlinSpans(spacing float64) []SecondarySpan { return s.spans(s.purlinLines(spacing)) }

// GirtSpans lists every span of every girt line of the clad walls and gables.
func (s *Shed) GirtSpans(spacing float64) []SecondarySpan { return s.spans(s.girtLines(spacing)) }

func (s *Shed) spans(lines []line) []SecondarySpan {
	var out []SecondarySpan
	for i := range lines {
		l := &lines[i]
		width := (l.v1 - l.v0) * s.stretchOf(l.face)
		for k := 0; k+1 < len(l.supports); k++ {
			u0, u1 := l.supports[k].u, l.supports[k+1].u
			if u1-u0 > 0.05 {
				out = append(out, SecondarySpan{l.face, l.v, u0, u1, width, u1 - u0})
			}
		}
	}
	return out
}
