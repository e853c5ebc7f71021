package shed

import (
	"fmt"

	"leanbay/model/actions"
	"leanbay/model/bracing"
)

// floorEdge is the depth below a floor's top that its edge beam and joists take in the wall plane (m).
const floorEdge = 0.30

// Candidates returns every layout of bracing of a wall (0 south, 1 north, 2 west gable, 3 east gable), bay by bay, with what
// blocks it. Obstacles are the wall's openings and the edges of floors that meet it. A clear zone ends at the inside face of
// a clad wall and leaves its plane free; through a wall without cladding it runs on.
func (s *Shed) Candidates(side int) []bracing.Candidate {
	return bracing.Candidates(s.panels(side), s.obstacles(side), s.BraceClearance())
}

// Explain says bay by bay what bracing a wall (numbered as for Candidates) can take and what is in the way.
func (s *Shed) Explain(side int) []string {
	name := wallNames[side]
	if isGable(side) {
		name = PlaneNames[side]
	}
	return bracing.Explain(name, s.Candidates(side))
}

// obstacles are what no brace in a plane may cross.
func (s *Shed) obstacles(side int) []bracing.Obstacle {
	face := faceOf(side)
	var out []bracing.Obstacle
	for _, o := range s.Building.Openings {
		if o.Face == face {
			out = append(out, bracing.Obstacle{Rect: bracing.Rect{U0: o.U0, U1: o.U1, V0: o.V0, V1: o.V1}, Name: openingTitle(o)})
		}
	}
	for i := range s.Mezzanines {
		m := &s.Mezzanines[i]
		if u, meets := s.meets(side, [4]float64{m.X0, m.X1, m.Y0, m.Y1}); meets {
			out = append(out, bracing.Obstacle{
				Rect: bracing.Rect{U0: u[0], U1: u[1], V0: m.Level - floorEdge, V1: m.Level},
				Name: fmt.Sprintf("the edge of %s at level %.2f", m.Name, m.Level),
			})
		}
	}
	return append(out, s.zonesIn(side)...)
}

// zonesIn are the clear zones that run on through a wall without cladding.
func (s *Shed) zonesIn(side int) []bracing.Obstacle {
	if !s.faceOpen(faceOf(side)) {
		return nil
	}
	var out []bracing.Obstacle
	for _, z := range s.ClearZones() {
		if u, meets := s.meets(side, [4]float64{z.X0, z.X1, z.Y0, z.Y1}); meets {
			out = append(out, bracing.Obstacle{Rect: bracing.Rect{U0: u[0], U1: u[1], V1: z.Height}, Name: "the clear zone " + z.Name})
		}
	}
	return out
}

// meets says whether a plan rectangle (X0, X1, Y0, Y1) has an edge in a plane, and where along it.
func (s *Shed) meets(side int, r [4]float64) (u [2]float64, meets bool) {
	if isGable(side) {
		x := s.Frames[s.gableFrame(side)]
		return [2]float64{r[2], r[3]}, near(r[0], x) || near(r[1], x)
	}
	y := float64(side) * s.Span
	return [2]float64{r[0], r[1]}, near(r[2], y) || near(r[3], y)
}

// LineClear says whether a line in bay f (0-based) of a wall crosses no obstacle nor its clearance.
func (s *Shed) LineClear(side, f int, l bracing.Line) bool {
	us := s.Uprights(side)
	panel := bracing.Rect{U0: us[f], U1: us[f+1]}
	return bracing.Clear(l, panel, s.obstacles(side), s.BraceClearance())
}

// openingTitle names an opening with where it is: "the office window at X 5.8-8.9".
func openingTitle(o actions.Opening) string {
	axis := "X"
	if o.Face == actions.WestGable || o.Face == actions.EastGable {
		axis = "Y"
	}
	return fmt.Sprintf("the %s at %s %.1f-%.1f", o.Name, axis, o.U0, o.U1)
}

// near says whether two positions are the same to a millimetre, under any fabrication tolerance.
func near(a, b float64) bool { return a-b < 1e-3 && b-a < 1e-3 }
