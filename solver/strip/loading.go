package strip

import "math"

// Line holds the mid-line's properties: area (m²), centroid (m), second moments about axes through the centroid
// parallel to X and Y (m⁴), and the greatest distances of the mid-line from those axes (m).
type Line struct {
	A, Xc, Yc, Ix, Iy, Ixy float64
	FarX, FarY             float64
}

// Line computes the properties of the strips as thin plates.
func (s *Section) Line() Line {
	var l Line
	for e, st := range s.strips {
		g := s.geometry(e)
		p, q := s.nodes[st.I], s.nodes[st.J]
		a := g.b * g.t
		l.A += a
		l.Xc += a * (p.X + q.X) / 2
		l.Yc += a * (p.Y + q.Y) / 2
	}
	l.Xc, l.Yc = l.Xc/l.A, l.Yc/l.A
	for _, n := range s.nodes {
		l.FarX, l.FarY = max(l.FarX, math.Abs(n.X-l.Xc)), max(l.FarY, math.Abs(n.Y-l.Yc))
	}
	for e, st := range s.strips {
		g := s.geometry(e)
		a := g.b * g.t
		x1, x2 := s.nodes[st.I].X-l.Xc, s.nodes[st.J].X-l.Xc
		y1, y2 := s.nodes[st.I].Y-l.Yc, s.nodes[st.J].Y-l.Yc
		l.Ix += a * (y1*y1 + y1*y2 + y2*y2) / 3
		l.Iy += a * (x1*x1 + x1*x2 + x2*x2) / 3
		l.Ixy += a * (2*x1*y1 + x1*y2 + x2*y1 + 2*x2*y2) / 6
	}
	return l
}

// Loading names a distribution of longitudinal stress.
type Loading string

// The distributions that codes of practice ask for. Bending is about an axis parallel to X or Y through the centroid
// with the stress linear in the other coordinate only: for a zed this is bending with the section held from going
// sideways, as trade tables have it.
const (
	Compression Loading = "compression"
	BendTop     Loading = "bending about x, top in compression"
	BendBottom  Loading = "bending about x, bottom in compression"
	BendRight   Loading = "bending about y, right in compression"
	BendLeft    Loading = "bending about y, left in compression"
)

// Stress returns the node stresses of that loading, scaled to 1 Pa at the mid-line's most stressed fibre, on whichever
// side that is: a factor is then the stress there in Pa, and over the yield stress it is the factor on first yield. It
// panics on an unknown loading.
func (s *Section) Stress(kind Loading) []float64 {
	l := s.Line()
	out := make([]float64, len(s.nodes))
	for i, n := range s.nodes {
		switch kind {
		case Compression:
			out[i] = 1
		case BendTop:
			out[i] = (n.Y - l.Yc) / l.FarY
		case BendBottom:
			out[i] = (l.Yc - n.Y) / l.FarY
		case BendRight:
			out[i] = (n.X - l.Xc) / l.FarX
		case BendLeft:
			out[i] = (l.Xc - n.X) / l.FarX
		default:
			panic("strip: unknown loading " + string(kind))
		}
	}
	return out
}
