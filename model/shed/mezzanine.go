package shed

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/brief"
	"leanbay/solver"
)

// diaphragmArea is the section of the bars that stand for a floor that the brief calls a diaphragm: 2000 mm² each way,
// in the range of a fixed sheet floor's in-plane stiffness and far stiffer than the frames it ties. They have no mass
// and are not checked.
const diaphragmArea = 2000e-6

// gridX are the X lines on which a floor's beams across the span stand: its ends, the frame lines in it, and posts that
// the brief places.
func (s *Shed) gridX(m *Mezzanine) []float64 {
	xs := []float64{m.X0, m.X1}
	for _, x := range s.Frames {
		if x > m.X0 && x < m.X1 {
			xs = append(xs, x)
		}
	}
	return distinct(append(xs, m.PostsX...))
}

// mezzanines adds beams on both sets of grid lines, posts where no column stands, and diaphragms where stated.
func (b *builder) mezzanines() {
	for i := range b.Shed.Mezzanines {
		m := &b.Shed.Mezzanines[i]
		xs, ys := b.Shed.gridX(m), []float64{m.Y0, m.Y1}
		grid := make([][2]int, len(xs))
		for k, x := range xs {
			for j, y := range ys {
				grid[k][j] = b.support(m, x, y)
			}
		}
		b.beamsAcross(i, m, xs, grid)
		b.beamsAlong(i, m, xs, grid)
		if m.Diaphragm {
			b.floorPanels(m, grid)
		}
	}
}

// support is the column node at (x, y), or the head of a new post.
func (b *builder) support(m *Mezzanine, x, y float64) int {
	s := b.Shed
	f := slices.IndexFunc(s.Frames, func(v float64) bool { return near(v, x) })
	for side, wall := range []float64{0, s.Span} {
		if f >= 0 && near(y, wall) {
			return at(b.frames[f].column[side], m.Level)
		}
	}
	if f >= 0 && b.Design.hasProp(f, y) && s.PropStands(f, y) == OnPost {
		return b.sharedProp(f, m, y)
	}
	name := func() string { return fmt.Sprintf("post/X%.2f/Y%.2f", x, y) }
	foot := b.node(r3.Vec{X: x, Y: y}, func() string { return "base of " + name() })
	b.foot(foot, s.brief.Proposal.Bases.Posts)
	head := b.node(r3.Vec{X: x, Y: y, Z: m.Level}, func() string { return "head of " + name() })
	p := b.member(name, brief.GroupPost, solver.RolePost, r3.Vec{Y: 1}, []int{foot, head}, ends{})
	b.Posts = append(b.Posts, p)
	b.Bases = append(b.Bases, Foot{foot, p})
	return head
}

// beamsAcross adds the beams along Y on each X line; they carry joists that span along X.
func (b *builder) beamsAcross(i int, m *Mezzanine, xs []float64, grid [][2]int) {
	for k, x := range xs {
		line := beamLine{mezzanine: i, primary: m.JoistsAlongX, x0: x, x1: x, y0: m.Y0, y1: m.Y1}
		if k > 0 {
			line.x0 = (xs[k-1] + x) / 2
		}
		if k+1 < len(xs) {
			line.x1 = (x + xs[k+1]) / 2
		}
		line.member, line.seats = b.beam(func() string { return fmt.Sprintf("beam/%s/X%.2f", m.Name, x) }, grid[k][0], grid[k][1], true, b.propsOnBeam(m, x)...)
		b.Beams = append(b.Beams, line)
	}
}

// beamsAlong adds the beams along X on both edges; they carry joists that span along Y.
func (b *builder) beamsAlong(i int, m *Mezzanine, xs []float64, grid [][2]int) {
	mid := (m.Y0 + m.Y1) / 2
	for j, y := range []float64{m.Y0, m.Y1} {
		for k := 0; k+1 < len(xs); k++ {
			line := beamLine{mezzanine: i, primary: !m.JoistsAlongX, x0: xs[k], x1: xs[k+1], y0: min(y, mid), y1: max(y, mid)}
			line.member, line.seats = b.beam(func() string { return fmt.Sprintf("beam/%s/Y%.2f/X%.2f-%.2f", m.Name, y, xs[k], xs[k+1]) }, grid[k][j], grid[k+1][j], false)
			b.Beams = append(b.Beams, line)
		}
	}
}

// beam adds one pinned beam, along the columns' webs or across them. Its ends stand off columns, see seatBeam; on posts, where beams
// meet from both sides, it runs to the centre. Props may stand at nodes in between.
func (b *builder) beam(name func() string, i, j int, along bool, between ...int) (member int, seats [2]Seat) {
	for end, n := range [2]int{i, j} {
		if c := b.columnAt(n); c >= 0 {
			seats[end] = Seat{brief.Group(b.Structure.Members[c].Group), along}
		}
	}
	return b.member(name, brief.GroupBeam, solver.RoleBeam, r3.Vec{Z: 1}, slices.Concat([]int{i}, between, []int{j}), ends{pinI: true, pinJ: true}), seats
}

// columnAt is the column that passes through node n, or -1.
func (b *builder) columnAt(n int) int {
	for f, fn := range b.frames {
		for side := range 2 {
			for _, sp := range fn.column[side] {
				if sp.node == n {
					return b.Columns[f][side]
				}
			}
		}
	}
	return -1
}

// floorPanels ties the corners of each floor panel by bars both ways, as the diaphragm that the brief calls the floor.
func (b *builder) floorPanels(m *Mezzanine, grid [][2]int) {
	st := &b.Structure
	for k := 0; k+1 < len(grid); k++ {
		for d, n := range [][2]int{{grid[k][0], grid[k+1][1]}, {grid[k][1], grid[k+1][0]}} {
			id := b.named(func() string { return fmt.Sprintf("floor/%s/panel %d/%d", m.Name, k+1, d+1) })
			length := r3.Norm(r3.Sub(st.Nodes[n[1]].Pos, st.Nodes[n[0]].Pos))
			st.Elements = append(st.Elements, solver.Element{
				ID: id, I: n[0], J: n[1], Member: len(st.Members), E: youngs, G: shearG, A: diaphragmArea, YAxis: r3.Vec{Z: 1}, Bar: true,
			})
			st.Members = append(st.Members, solver.Member{ID: id, Group: "floor diaphragm", Role: solver.RoleOther, Elements: []int{len(st.Elements) - 1}, Length: length})
		}
	}
}

// JoistSpan is the longest span of a floor's joists: between the beams across on neighbouring grid lines, or between its
// two edge beams.
func (s *Shed) JoistSpan(m *Mezzanine) float64 {
	if !m.JoistsAlongX {
		return m.Y1 - m.Y0
	}
	span := 0.0
	xs := s.gridX(m)
	for i := 1; i < len(xs); i++ {
		span = max(span, xs[i]-xs[i-1])
	}
	return span
}
