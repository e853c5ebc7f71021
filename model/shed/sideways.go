package shed

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/actions"
	"leanbay/model/brief"
	"leanbay/solver"
)

// weight is one vertical load as a weight at a place: a point load (from == to) or a uniform line load.
type weight struct {
	member   int
	from, to float64 // stations, m
	force    float64 // N, downwards
	at       r3.Vec  // its middle, where that is asked for
	place    int     // of the structure's table; -1 for another
	share    float64 // of the whole sideways force
}

// LoadRoom is what Load keeps its cases in: storage that serves again for the next model, whose cases then take the place of those
// before. The zero value is empty.
type LoadRoom struct {
	Tabled  bool // leave the point loads of purlins and girts in the structure's table
	cases   []solver.Case
	nodal   [][]solver.NodalLoad // per case
	line    [][]solver.LineLoad
	point   [][]solver.PointLoad
	push    [][]solver.Push
	weighed []weighing
	now     int       // how many of them are of the model in hand
	shifted []float64 // shares
}

// weighing is the weights that notional or earthquake cases name: the cases of both directions name the same.
type weighing struct {
	shares  []actions.Share
	power   float64
	located bool // the weights' places are known
	weights []weight
	total   float64 // N, of all weights
}

// begin makes room for the cases of l.
func (r *LoadRoom) begin(l *Loads) {
	r.cases = append(r.cases[:0], l.Cases...)
	for len(r.point) < len(r.cases) {
		r.nodal, r.line, r.point, r.push = append(r.nodal, nil), append(r.line, nil), append(r.point, nil), append(r.push, nil)
	}
	for i := range r.cases { // shared loads are not to be written on
		c := &r.cases[i]
		c.Nodal, c.Line, c.Point = append(r.nodal[i][:0], c.Nodal...), append(r.line[i][:0], c.Line...), slices.Clip(c.Point)
		if r.Tabled {
			c.Point, c.Column = nil, i+1
		}
	}
	r.now = 0
}

// end keeps the storage of the cases' own loads.
func (r *LoadRoom) end() {
	for i := range r.cases {
		r.nodal[i], r.line[i] = r.cases[i].Nodal, r.cases[i].Line
	}
}

// sideways fills a notional or earthquake case: its fraction of the weight that it names acts along its direction, each
// part where it is, spread over the height and shifted by the accidental eccentricity as the case asks.
func (m *Model) sideways(i int, src *actions.Case, room *LoadRoom) {
	on := m.weighingOf(src, room)
	if on.total == 0 {
		return
	}
	ws := on.weights
	room.shifted = room.shifted[:0]
	for k := range ws {
		room.shifted = append(room.shifted, ws[k].share)
	}
	if src.Offset != 0 {
		shift(ws, room.shifted, src.Direction, src.Offset*m.breadth(src.Direction))
	}
	c := &m.Structure.Cases[i]
	c.Point, c.Column, c.Line, c.SelfWeight = room.point[i][:0], 0, c.Line[:0], r3.Vec{}
	c.Pushes, c.Along = room.push[i][:0], src.Direction
	for k := range ws {
		w := &ws[k]
		force := src.Fraction * on.total * room.shifted[k]
		f := r3.Scale(force, src.Direction)
		if w.place >= 0 {
			c.Pushes = append(c.Pushes, solver.Push{Place: w.place, Force: force})
		} else if w.from == w.to {
			c.Point = append(c.Point, solver.PointLoad{Member: w.member, At: w.from, F: f})
		} else {
			q := r3.Scale(1/(w.to-w.from), f)
			c.Line = append(c.Line, solver.LineLoad{Member: w.member, From: w.from, To: w.to, Q1: q, Q2: q})
		}
	}
	room.point[i], room.push[i] = c.Point, c.Pushes
}

// weighingOf is what a case names, weighed for the first case of the model in hand that names it.
func (m *Model) weighingOf(src *actions.Case, room *LoadRoom) *weighing {
	located := src.HeightPower != 0 || src.Offset != 0
	for i := range room.weighed[:room.now] {
		w := &room.weighed[i]
		if w.power == src.HeightPower && (w.located || !located) && slices.Equal(w.shares, src.Shares) {
			return w
		}
	}
	if room.now == len(room.weighed) {
		room.weighed = append(room.weighed, weighing{})
	}
	w := &room.weighed[room.now]
	room.now++
	w.shares, w.power, w.located = src.Shares, src.HeightPower, located
	m.weigh(w)
	return w
}

// weigh collects the vertical loads of cases by name, times their factors, and spreads them over the height. Upward loads count
// against them.
func (m *Model) weigh(on *weighing) {
	st := &m.Structure
	out := on.weights[:0]
	add := func(member int, from, to, force float64, place int) {
		if force != 0 {
			w := weight{member: member, from: from, to: to, force: force, place: place}
			if on.located {
				w.at = m.place(member, (from+to)/2)
			}
			out = append(out, w)
		}
	}
	for _, sh := range on.shares {
		for i := range st.Cases {
			w := &st.Cases[i]
			if w.ID != sh.Case {
				continue
			}
			if w.Column > 0 {
				for k, p := range st.Table.Places() {
					add(p.Member, p.At, p.At, -sh.Factor*st.Table.Row(k, 2)[w.Column-1], k)
				}
			}
			for k := range w.Point {
				p := &w.Point[k]
				add(p.Member, p.At, p.At, -sh.Factor*p.F.Z, -1)
			}
			for k := range w.Line {
				l := &w.Line[k]
				add(l.Member, l.From, l.To, -sh.Factor*(l.Q1.Z+l.Q2.Z)/2*(l.To-l.From), -1)
			}
			if w.SelfWeight.Z != 0 {
				for k := range st.Members {
					add(k, 0, st.Members[k].Length, -sh.Factor*w.SelfWeight.Z*m.memberWeight(k), -1)
				}
			}
		}
	}
	on.weights, on.total = out, 0
	for i := range out {
		on.total += out[i].force
	}
	if on.total != 0 {
		spread(out, on.power)
	}
}

// memberWeight is a member's own weight (N).
func (m *Model) memberWeight(k int) float64 {
	mem := &m.Structure.Members[k]
	if mem.Role == solver.RoleOther || m.Structure.Elements[mem.Elements[0]].Bar {
		return 0 // bars take load at their ends only; rods weigh little
	}
	e := &m.Structure.Elements[mem.Elements[0]]
	return e.Density * e.A * mem.Length * brief.Gravity
}

// place is the global position of a station of a member.
func (m *Model) place(member int, station float64) r3.Vec {
	st := &m.Structure
	mem := &st.Members[member]
	first, last := &st.Elements[mem.Elements[0]], &st.Elements[mem.Elements[len(mem.Elements)-1]]
	a := r3.Add(st.Nodes[first.I].Pos, first.OffsetI)
	b := r3.Add(st.Nodes[last.J].Pos, last.OffsetJ)
	return r3.Add(a, r3.Scale(station/mem.Length, r3.Sub(b, a)))
}

// spread sets each weight's share of the sideways force: W·h^k/ΣW·h^k with h above the base (AS 1170.4, 6.3); k = 0 is
// in proportion to the weights.
func spread(ws []weight, k float64) {
	sum := 0.0
	for i := range ws {
		ws[i].share = ws[i].force
		if k != 0 {
			ws[i].share *= math.Pow(max(ws[i].at.Z, 0), k)
		}
		sum += ws[i].share
	}
	for i := range ws {
		ws[i].share /= sum
	}
}

// breadth is the plan width of the building square to a horizontal direction.
func (m *Model) breadth(dir r3.Vec) float64 {
	if math.Abs(dir.X) > math.Abs(dir.Y) {
		return m.Shed.Span
	}
	return m.Shed.length()
}

// shift moves the resultant of the shares by e (m) square to dir, to the left of it, by making them linear across the
// plan: share·(1 + e·(p - mean)/variance) keeps the sum and moves the mean of p by e.
func shift(ws []weight, shares []float64, dir r3.Vec, e float64) {
	across := func(w *weight) float64 { return -dir.Y*w.at.X + dir.X*w.at.Y }
	mean, variance := 0.0, 0.0
	for i := range ws {
		mean += shares[i] * across(&ws[i])
	}
	for i := range ws {
		d := across(&ws[i]) - mean
		variance += shares[i] * d * d
	}
	if variance == 0 {
		return
	}
	for i := range ws {
		shares[i] *= 1 + e*(across(&ws[i])-mean)/variance
	}
}
