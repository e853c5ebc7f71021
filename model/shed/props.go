package shed

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/brief"
	"leanbay/solver"
)

// Standing is what a prop stands on.
type Standing int

// A prop may stand nowhere, on the ground, on the ground in place of a mezzanine's post, which it then carries on up to the
// rafter, or on a mezzanine's beam.
const (
	Nowhere Standing = iota
	OnGround
	OnPost
	OnBeam
)

// String names the footing.
func (s Standing) String() string {
	return [...]string{"nowhere", "on the ground", "in place of a post", "on a beam"}[s]
}

// beamEndRoom is the least distance of a prop on a beam from the beam's ends (m): room for both connections.
const beamEndRoom = 0.5

// PropStands says what a prop at frame f (0-based) and y would stand on: nothing inside clear zones and doorways; within a
// floor's edges and their clearance only what the brief allows there.
func (s *Shed) PropStands(f int, y float64) Standing {
	for _, z := range s.propZones[f] {
		if y > z.from && y < z.to {
			return Nowhere
		}
	}
	x := s.Frames[f]
	for i := range s.Mezzanines {
		m := &s.Mezzanines[i]
		if x <= m.X0-propClearance || x >= m.X1+propClearance || y <= m.Y0-propClearance || y >= m.Y1+propClearance {
			continue
		}
		return s.standsAtFloor(m, x, y)
	}
	return OnGround
}

// standsAtFloor is what a prop within a floor's clearance may stand on.
func (s *Shed) standsAtFloor(m *Mezzanine, x, y float64) Standing {
	within := x > m.X0-1e-3 && x < m.X1+1e-3
	edge := near(y, m.Y0) || near(y, m.Y1)
	inWall := near(y, 0) || near(y, s.Span)
	switch {
	case within && edge && !inWall && m.ShareProps && !s.blockedBelow(m, x, y):
		return OnPost
	case within && y > m.Y0+beamEndRoom && y < m.Y1-beamEndRoom && m.PropsOnBeams:
		return OnBeam
	}
	return Nowhere
}

// blockedBelow says whether another floor takes the place below.
func (s *Shed) blockedBelow(m *Mezzanine, x, y float64) bool {
	for i := range s.Mezzanines {
		o := &s.Mezzanines[i]
		if o != m && x > o.X0-propClearance && x < o.X1+propClearance && y > o.Y0-propClearance && y < o.Y1+propClearance {
			return true
		}
	}
	return false
}

// PropAllowed reports whether a prop may stand at frame f (0-based) and y.
func (s *Shed) PropAllowed(f int, y float64) bool { return s.PropStands(f, y) != Nowhere }

// SharedLines are the Y of the posts whose place a prop may share.
func (s *Shed) SharedLines() []float64 {
	var out []float64
	for i := range s.Mezzanines {
		m := &s.Mezzanines[i]
		for _, y := range []float64{m.Y0, m.Y1} {
			if m.ShareProps && !near(y, 0) && !near(y, s.Span) {
				out = append(out, y)
			}
		}
	}
	return distinct(out)
}

// hasProp says whether the design has a prop at frame f and y.
func (d *Design) hasProp(f int, y float64) bool {
	for _, line := range d.Props {
		if !near(line.Y, y) {
			continue
		}
		for _, pf := range line.Frames {
			if pf == f {
				return true
			}
		}
	}
	return false
}

// props adds the inner columns that stand on the ground, pinned at both ends; their webs lie in the frame's plane. Those
// that share a post's place or stand on a beam come with the floor.
func (b *builder) props() {
	for _, line := range b.Design.Props {
		for _, f := range line.Frames {
			if at := b.Shed.PropStands(f, line.Y); at == OnPost || at == OnBeam {
				continue
			}
			foot := b.propFoot(f, line.Y)
			b.prop(f, line.Y, []int{foot}, ends{pinJ: true})
			b.Bases = append(b.Bases, Foot{foot, b.Props[len(b.Props)-1]})
		}
	}
}

func (b *builder) propFoot(f int, y float64) int {
	foot := b.node(r3.Vec{X: b.Shed.Frames[f], Y: y}, func() string { return fmt.Sprintf("base %d/prop Y %.2f", f+1, y) })
	b.foot(foot, b.Shed.brief.Proposal.Bases.Props)
	return foot
}

// prop adds a prop through the given nodes up to the rafter.
func (b *builder) prop(f int, y float64, below []int, e ends) {
	nodes := append(below, at(b.frames[f].rafter, y))
	b.Props = append(b.Props, b.member(func() string { return fmt.Sprintf("prop/%d/Y%.2f", f+1, y) }, brief.GroupProp, solver.RoleProp, r3.Vec{Y: 1}, nodes, e))
}

// sharedProp adds a prop in place of a post: one piece from the ground through the floor to the rafter. It returns the node
// at the floor.
func (b *builder) sharedProp(f int, m *Mezzanine, y float64) int {
	foot := b.propFoot(f, y)
	head := b.node(r3.Vec{X: b.Shed.Frames[f], Y: y, Z: m.Level}, func() string { return fmt.Sprintf("prop %d/Y %.2f at level %.2f", f+1, y, m.Level) })
	b.prop(f, y, []int{foot, head}, ends{pinJ: true})
	b.Bases = append(b.Bases, Foot{foot, b.Props[len(b.Props)-1]})
	return head
}

// propsOnBeam lays the nodes of props that stand on the beam across at x, in order of Y, and adds the props on them.
func (b *builder) propsOnBeam(m *Mezzanine, x float64) []int {
	var out []int
	for f, fx := range b.Shed.Frames {
		if !near(fx, x) {
			continue
		}
		for _, line := range b.Design.Props {
			if line.Y > m.Y0 && line.Y < m.Y1 && b.Design.hasProp(f, line.Y) && b.Shed.PropStands(f, line.Y) == OnBeam {
				foot := b.node(r3.Vec{X: x, Y: line.Y, Z: m.Level}, func() string { return fmt.Sprintf("prop %d/Y %.2f on the beam", f+1, line.Y) })
				b.prop(f, line.Y, []int{foot}, ends{pinI: true, pinJ: true})
				out = append(out, foot)
			}
		}
	}
	return out
}
