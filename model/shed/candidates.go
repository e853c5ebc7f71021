package shed

import (
	"fmt"

	"leanbay/model/actions"
	"leanbay/model/bracing"
)

// floorEdge is the depth below a floor's top that its edge beam and joists take in the wall plane (m).
const floorEdge = 0.30

// Candidates returns every layout of bracing of a long wall (0 south, 1 north), bay by bay, with what blocks it. Obstacles
// are the wall's openings and the edges of floors that meet it. A clear zone ends at the inside face of a clad wall and
// leaves its plane free; through a wall without cladding it runs on.
func (s *Shed) Candidates(side int) []bracing.Candidate {
	return bracing.Candidates(s.panels(side), s.obstacles(side), s.BraceClearance())
}

// Explain says bay by bay what bracing a long wall can take and what is in the way.
func (s *Shed) Explain(side int) []string {
	return bracing.Explain(wallNames[side], s.Candidates(side))
}

// panels are the bays of a long wall from floor to eaves.
func (s *Shed) panels(side int) []bracing.Panel {
	_, eaves := s.wallFace(side)
	var out []bracing.Panel
	for b := range s.bays() {
		out = append(out, bracing.Panel{Rect: bracing.Rect{U0: s.Frames[b], U1: s.Frames[b+1], V1: eaves}, Bay: b + 1})
	}
	return out
}

// obstacles are what no brace in the plane of a long wall may cross.
func (s *Shed) obstacles(side int) []bracing.Obstacle {
	face, _ := s.wallFace(side)
	var out []bracing.Obstacle
	for _, o := range s.Building.Openings {
		if o.Face == face {
			out = append(out, bracing.Obstacle{Rect: bracing.Rect{U0: o.U0, U1: o.U1, V0: o.V0, V1: o.V1}, Name: openingTitle(o)})
		}
	}
	wallY := float64(side) * s.Span
	for _, m := range s.Mezzanines {
		if near(m.Y0, wallY) || near(m.Y1, wallY) {
			out = append(out, bracing.Obstacle{
				Rect: bracing.Rect{U0: m.X0, U1: m.X1, V0: m.Level - floorEdge, V1: m.Level},
				Name: fmt.Sprintf("the edge of %s at level %.2f", m.Name, m.Level),
			})
		}
	}
	if !s.faceOpen(face) {
		return out
	}
	for _, z := range s.ClearZones() {
		if near(z.Y0, wallY) || near(z.Y1, wallY) {
			out = append(out, bracing.Obstacle{Rect: bracing.Rect{U0: z.X0, U1: z.X1, V1: z.Height}, Name: "the clear zone " + z.Name})
		}
	}
	return out
}

// LineClear says whether a line in bay f (0-based) of a long wall crosses no obstacle nor its clearance.
func (s *Shed) LineClear(side, f int, l bracing.Line) bool {
	panel := bracing.Rect{U0: s.Frames[f], U1: s.Frames[f+1]}
	return bracing.Clear(l, panel, s.obstacles(side), s.BraceClearance())
}

// openingTitle names an opening with where it is: "the office window at X 5.8-8.9".
func openingTitle(o actions.Opening) string {
	return fmt.Sprintf("the %s at X %.1f-%.1f", o.Name, o.U0, o.U1)
}

// near says whether two positions are the same to a millimetre, under any fabrication tolerance.
func near(a, b float64) bool { return a-b < 1e-3 && b-a < 1e-3 }
