package shed

import (
	"fmt"

	"leanbay/model/bracing"
)

// floorEdge is the depth below a floor's top that its edge beam and joists take in the wall plane (m).
const floorEdge = 0.30

// Candidates returns every full-panel pattern of a long wall (0 south, 1 north), bay by bay, with what blocks it.
// Obstacles are the wall's openings and the edges of floors that meet it. A clear zone ends at the inside face and leaves
// the wall plane free.
func (s *Shed) Candidates(side int) []bracing.Candidate {
	face, eaves := s.wallFace(side)
	if s.faceOpen(face) {
		return nil
	}
	var panels []bracing.Panel
	for b := range s.bays() {
		panels = append(panels, bracing.Panel{Rect: bracing.Rect{U0: s.Frames[b], U1: s.Frames[b+1], V1: eaves}, Bay: b + 1})
	}
	var obstacles []bracing.Obstacle
	for _, o := range s.Building.Openings {
		if o.Face == face {
			obstacles = append(obstacles, bracing.Obstacle{Rect: bracing.Rect{U0: o.U0, U1: o.U1, V0: o.V0, V1: o.V1}, Name: "the " + o.Name})
		}
	}
	wallY := float64(side) * s.Span
	for _, m := range s.Mezzanines {
		if near(m.Y0, wallY) || near(m.Y1, wallY) {
			obstacles = append(obstacles, bracing.Obstacle{
				Rect: bracing.Rect{U0: m.X0, U1: m.X1, V0: m.Level - floorEdge, V1: m.Level},
				Name: fmt.Sprintf("the edge of %s at level %.2f", m.Name, m.Level),
			})
		}
	}
	return bracing.Candidates(panels, obstacles, float64(s.brief.Freedoms.Bracing.Clearance))
}

// near says whether two positions are the same to a millimetre, under any fabrication tolerance.
func near(a, b float64) bool { return a-b < 1e-3 && b-a < 1e-3 }
