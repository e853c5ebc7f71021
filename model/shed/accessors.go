package shed

import "gonum.org/v1/gonum/spatial/r3"

// ClearZone is a part of the plan that steel may not enter below a height (m).
type ClearZone struct {
	Name           string
	X0, X1, Y0, Y1 float64
	Height         float64
	Lane           bool // vehicles pass
}

// ClearZones lists the zones that the architecture keeps free, in the brief's order.
func (s *Shed) ClearZones() []ClearZone {
	var out []ClearZone
	for _, z := range s.brief.Clear {
		out = append(out, ClearZone{
			Name: z.Name, X0: float64(z.X[0]), X1: float64(z.X[1]), Y0: float64(z.Y[0]), Y1: float64(z.Y[1]), Height: float64(z.Height), Lane: z.Lane,
		})
	}
	return out
}

// Title is the brief's title with the number of the drawing that was read, where it has them.
func (s *Shed) Title() string {
	if s.brief.Drawing == "" {
		return s.brief.Title
	}
	if s.brief.Title == "" {
		return "drawing " + s.brief.Drawing
	}
	return s.brief.Title + ", drawing " + s.brief.Drawing
}

// PurlinPositions are the Y of the purlin lines at a spacing (m), from the south eaves to the north eaves.
func (s *Shed) PurlinPositions(spacing float64) []float64 {
	var out []float64
	for _, l := range s.purlinLines(spacing) {
		out = append(out, l.v)
	}
	return out
}

// BraceClearance is how far a brace line keeps from openings and floor edges (m).
func (s *Shed) BraceClearance() float64 { return float64(s.brief.Freedoms.Bracing.Clearance) }

// FloorEdge is the depth below a floor's top that its edge beam and joists take in a wall's plane (m).
const FloorEdge = floorEdge

// JoistBeam is a mezzanine beam that carries joists, and their spacing (m).
type JoistBeam struct {
	Member  int
	Spacing float64
}

// JoistBeams are the mezzanine beams that carry joists. The list is the model's: it is only read.
func (m *Model) JoistBeams() []JoistBeam { return m.joists }

// ElementLength is an element's length (m) between its ends, rigid arms left out.
func (m *Model) ElementLength(e int) float64 {
	st := &m.Structure
	el := &st.Elements[e]
	p, q := r3.Add(st.Nodes[el.I].Pos, el.OffsetI), r3.Add(st.Nodes[el.J].Pos, el.OffsetJ)
	return r3.Norm(r3.Sub(q, p))
}
