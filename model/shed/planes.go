package shed

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/actions"
	"leanbay/model/bracing"
	"leanbay/model/brief"
	"leanbay/solver"
)

// The planes of walls that bracing can lie in, by number: the long walls, then the gables. Along a long wall u is X, along a
// gable Y; v is the height.
const (
	southWall = iota
	northWall
	westGable
	eastGable
	planes
)

// PlaneNames are the planes as sentences name them.
var PlaneNames = [planes]string{"south wall", "north wall", "west gable", "east gable"}

// wallNames are the planes in members' ids and in nodes' names.
var wallNames = [planes]string{"south", "north", "west", "east"}

// faceOf is the face of a plane.
func faceOf(side int) actions.Face { return actions.SouthWall + actions.Face(side) }

// isGable says whether a plane is that of a gable.
func isGable(side int) bool { return side >= westGable }

// gableFrame is the frame (0-based) in a gable's plane.
func (s *Shed) gableFrame(side int) int { return (side - westGable) * (len(s.Frames) - 1) }

// Uprights are the positions along a plane of what stands in it: columns, and in a gable mullions.
func (s *Shed) Uprights(side int) []float64 {
	if !isGable(side) {
		return s.Frames
	}
	return append(append([]float64{0}, s.Mullions[side-westGable]...), s.Span)
}

// Top is the height of a plane's top at u: the eaves, or in a gable the end rafter.
func (s *Shed) Top(side int, u float64) float64 {
	if isGable(side) {
		return s.RoofZ(u)
	}
	_, eaves := s.wallFace(side)
	return eaves
}

// inSpace is a point of a plane in the shed's axes.
func (s *Shed) inSpace(side int, pt bracing.Point) r3.Vec {
	if isGable(side) {
		return r3.Vec{X: s.Frames[s.gableFrame(side)], Y: pt.U, Z: pt.V}
	}
	return r3.Vec{X: pt.U, Y: float64(side) * s.Span, Z: pt.V}
}

// panels are the bays of a plane from the floor to its top.
func (s *Shed) panels(side int) []bracing.Panel {
	us := s.Uprights(side)
	var out []bracing.Panel
	for bay := range len(us) - 1 {
		out = append(out, s.panel(side, bay, us))
	}
	return out
}

// panel is one bay (0-based) of a plane with the uprights us.
func (s *Shed) panel(side, bay int, us []float64) bracing.Panel {
	u0, u1 := us[bay], us[bay+1]
	p := bracing.Panel{Rect: bracing.Rect{U0: u0, U1: u1, V1: s.Top(side, u0)}, Bay: bay + 1, Gable: isGable(side)}
	if p.Gable {
		p.Rise = [2]float64{s.RoofZ((u0+u1)/2) - p.V1, s.RoofZ(u1) - p.V1}
	}
	return p
}

// column is the nodes up the upright at place k of a plane.
func (b *builder) column(side, k int) []spot {
	if !isGable(side) {
		return b.frames[k].column[side]
	}
	f, last := b.Shed.gableFrame(side), len(b.Shed.Mullions[side-westGable])+1
	switch k {
	case 0:
		return b.frames[f].column[0]
	case last:
		return b.frames[f].column[1]
	}
	return b.mullionSpots[side-westGable][k-1]
}

// upright is the member at place k of a plane.
func (b *builder) upright(side, k int) int {
	if !isGable(side) {
		return b.Columns[k][side]
	}
	f, last := b.Shed.gableFrame(side), len(b.Shed.Mullions[side-westGable])+1
	switch k {
	case 0:
		return b.Columns[f][0]
	case last:
		return b.Columns[f][1]
	}
	return b.Mullions[side-westGable][k-1]
}

// mullions adds the gable columns; local y points out of the gable. Their heads slip unless the brief says that they carry
// the rafter, or bracing in the gable ends on them.
func (b *builder) mullions() {
	s := b.Shed
	for gable, f := range []int{0, len(s.Frames) - 1} {
		side := westGable + gable
		for _, y := range s.Mullions[gable] {
			foot := b.node(r3.Vec{X: s.Frames[f], Y: y}, func() string { return fmt.Sprintf("base %d/mullion Y %.2f", f+1, y) })
			b.foot(foot, s.brief.Proposal.Bases.Mullions)
			head := at(b.frames[f].rafter, y)
			spots := []spot{{0, foot}}
			for _, z := range distinct(b.wallCuts(nil, y, side)) {
				// On the line from foot to head: the ridge may take the place of a head that is a few millimetres off it.
				top := b.Structure.Nodes[head].Pos
				pos := r3.Add(r3.Vec{X: s.Frames[f], Y: y}, r3.Scale(z/top.Z, r3.Vec{Y: top.Y - y, Z: top.Z}))
				spots = append(spots, spot{z, b.node(pos, func() string { return fmt.Sprintf("mullion %d/Y %.2f at %.2f", f+1, y, z) })})
			}
			spots = append(spots, spot{s.RoofZ(y), head})
			b.mullionSpots[gable] = append(b.mullionSpots[gable], spots)
			e := ends{pinJ: true, slipJ: !s.CarryMullions && !s.carries(b.parts[side], y)}
			name := func() string { return fmt.Sprintf("mullion/%s/Y%.2f", wallNames[side], y) }
			m := b.member(name, brief.GroupMullion, solver.RoleMullion, r3.Vec{X: float64(2*gable - 1)},
				nodesOf(spots, 0, s.RoofZ(y)), e)
			b.Mullions[gable] = append(b.Mullions[gable], m)
			b.Bases = append(b.Bases, Foot{foot, m})
		}
	}
}
