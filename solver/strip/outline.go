package strip

import (
	"fmt"
	"math"
)

// Outline is the mid-line of an unbranched open section as a sharp-cornered line, in metres: its points, the plate's
// thickness, and the radius of the mid-line at the corners.
type Outline struct {
	Points []Point
	T, R   float64
}

// Point is a point in the plane of the cross-section (m).
type Point struct{ X, Y float64 }

// LippedC is a lipped channel with the web on X = 0 and the flanges towards +X: overall depth d, flange b, lip l,
// thickness t, inner corner radius ri (m). The origin is the middle of the web's mid-line.
func LippedC(d, b, l, t, ri float64) Outline {
	h, w, lip := (d-t)/2, b-t, l-t/2
	return Outline{T: t, R: ri + t/2, Points: []Point{
		{w, -h + lip}, {w, -h}, {0, -h}, {0, h}, {w, h}, {w, h - lip},
	}}
}

// LippedZ is a lipped zed with the web on X = 0, the top flange (top wide, overall) towards +X and the bottom flange
// (bottom wide) towards -X; otherwise as LippedC.
func LippedZ(d, top, bottom, l, t, ri float64) Outline {
	h, wt, wb, lip := (d-t)/2, top-t, bottom-t, l-t/2
	return Outline{T: t, R: ri + t/2, Points: []Point{
		{-wb, -h + lip}, {-wb, -h}, {0, -h}, {0, h}, {wt, h}, {wt, h - lip},
	}}
}

// Mesh says how finely an outline is cut: strips per corner, and strips per flat between Least and Most, about one for
// each Width times the widest flat.
type Mesh struct {
	Corner, Least, Most int
	Width               float64
}

// Standard is the mesh for design. Corners need the strips: with 4 of them the local stress of a thin section with wide
// corners (ri/t = 5) is 2 % high, with 10 it is 0.5 %, and for ri/t up to 3.3 0.1 % (see TestStandardMesh). Flats
// converge with their fourth power and need few.
var Standard = Mesh{Corner: 10, Least: 3, Most: 12, Width: 1.0 / 10}

// Refined returns the mesh n times as fine.
func (m Mesh) Refined(n int) Mesh {
	return Mesh{Corner: n * m.Corner, Least: n * m.Least, Most: n * m.Most, Width: m.Width / float64(n)}
}

// Section cuts the outline into strips. It returns an error where a flat between two corners has no length left.
func (o Outline) Section(mesh Mesh, mat Material) (*Section, error) {
	n := len(o.Points)
	if n < 2 {
		return nil, fmt.Errorf("strip: an outline needs at least two points, not %d", n)
	}
	cut, err := o.tangents()
	if err != nil {
		return nil, err
	}
	widest := 0.0
	for i := range n - 1 {
		widest = max(widest, dist(o.Points[i], o.Points[i+1])-cut[i]-cut[i+1])
	}
	var nodes []Node
	var folds []int
	put := func(p Point) { nodes = append(nodes, Node{X: p.X, Y: p.Y}) }
	put(o.Points[0])
	for i := range n - 1 {
		p, q := o.Points[i], o.Points[i+1]
		l := dist(p, q)
		a, b := along(p, q, cut[i]/l), along(p, q, 1-cut[i+1]/l)
		pieces := int(math.Ceil((l - cut[i] - cut[i+1]) / (widest * mesh.Width)))
		pieces = min(max(pieces, mesh.Least), mesh.Most)
		for j := 1; j <= pieces; j++ {
			put(along(a, b, float64(j)/float64(pieces)))
		}
		if i+2 == n {
			break
		}
		folds = append(folds, len(nodes)-1+mesh.Corner/2)
		if cut[i+1] == 0 {
			folds[len(folds)-1] = len(nodes) - 1
			continue
		}
		for _, c := range o.corner(i+1, cut[i+1], mesh.Corner) {
			put(c)
		}
	}
	strips := make([]Strip, len(nodes)-1)
	for i := range strips {
		strips[i] = Strip{I: i, J: i + 1, T: o.T}
	}
	s, err := New(nodes, strips, mat)
	if err != nil {
		return nil, err
	}
	s.folds, s.outline = folds, o
	return s, nil
}

// tangents returns how much each corner takes from its sides (m); 0 at the ends and at sharp corners.
func (o Outline) tangents() ([]float64, error) {
	n := len(o.Points)
	cut := make([]float64, n)
	for i := 1; i < n-1; i++ {
		cut[i] = o.R * math.Tan(math.Abs(o.turn(i))/2)
	}
	for i := range n - 1 {
		l := dist(o.Points[i], o.Points[i+1])
		if !(l-cut[i]-cut[i+1] > 0) {
			return nil, fmt.Errorf("strip: side %d is %.1f mm long, but its corners of mid-line radius %.1f mm take %.1f mm; lengthen it or reduce the radius",
				i+1, 1e3*l, 1e3*o.R, 1e3*(cut[i]+cut[i+1]))
		}
	}
	return cut, nil
}

// turn is the angle by which the line turns at point i (rad, positive from X to Y).
func (o Outline) turn(i int) float64 {
	p, q, r := o.Points[i-1], o.Points[i], o.Points[i+1]
	ax, ay, bx, by := q.X-p.X, q.Y-p.Y, r.X-q.X, r.Y-q.Y
	return math.Atan2(ax*by-ay*bx, ax*bx+ay*by)
}

// corner returns the nodes of the arc at point i after its first tangent point, up to and with the second.

func (o Outline) corner(i int, cut float64, pieces int) []Point {
	p, q := o.Points[i-1], o.Points[i]
	l := dist(p, q)
	start := along(p, q, 1-cut/l)
	angle := o.turn(i)
	ux, uy := (q.X-p.X)/l, (q.Y-p.Y)/l
	side := math.Copysign(1, angle)
	cx, cy := start.X-side*uy*o.R, start.Y+side*ux*o.R
	out := make([]Point, pieces)
	for j := range out {
		th := angle * float64(j+1) / float64(pieces)
		dx, dy := start.X-cx, start.Y-cy
		out[j] = Point{cx + dx*math.Cos(th) - dy*math.Sin(th), cy + dx*math.Sin(th) + dy*math.Cos(th)}
	}
	return out
}

// dist is the distance of two points, along the point at share r of the way from p to q.
func dist(p, q Point) float64 { return math.Hypot(q.X-p.X, q.Y-p.Y) }

func along(p, q Point, r float64) Point { return Point{p.X + r*(q.X-p.X), p.Y + r*(q.Y-p.Y)} }
