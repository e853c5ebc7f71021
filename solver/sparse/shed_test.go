package sparse

import (
	"math"
)

// shed is a generated matrix of the kind that this package is for: portal frames in a row, tied by struts, braced in the
// first and last bay, six freedoms a joint.
type shed struct {
	pattern *Pattern
	val     []float64
	joints  [][3]float64
	dof     [][6]int32 // -1 is restrained
	bars    [][2]int
}

// jointsAFrame is the number of joints of a generated frame: 0 and 16 are bases, 3 and 13 knees, 8 the ridge.
const jointsAFrame = 17

// newShed builds frames portal frames. Bases are pinned with twist held, so that two rotations remain there:
// 12 frames have 204 joints and 12*(15*6+2*2) = 1,128 unknowns.
func newShed(frames int) *shed {
	s := &shed{}
	n := int32(0)
	for f := range frames {
		for k := range jointsAFrame {
			s.joints = append(s.joints, jointAt(f, k))
			var d [6]int32
			for c := range d {
				if (k == 0 || k == jointsAFrame-1) && (c < 3 || c == 5) {
					d[c] = -1
					continue
				}
				d[c] = n
				n++
			}
			s.dof = append(s.dof, d)
		}
	}
	for f := range frames {
		s.addFrame(f, frames)
	}
	s.assemble(int(n))
	return s
}

func jointAt(f, k int) [3]float64 {
	x := 7.5 * float64(f)
	switch {
	case k <= 3:
		return [3]float64{x, 0, 2 * float64(k)}
	case k >= 13:
		return [3]float64{x, 24, 2 * float64(16-k)}
	}
	y := 2.4 * float64(k-3)
	return [3]float64{x, y, 6 + 0.15*min(y, 24-y)}
}

func (s *shed) addFrame(f, frames int) {
	at := func(f, k int) int { return f*jointsAFrame + k }
	for k := range jointsAFrame - 1 {
		s.bars = append(s.bars, [2]int{at(f, k), at(f, k+1)})
	}
	if f == frames-1 {
		return
	}
	for _, k := range []int{3, 8, 13} {
		s.bars = append(s.bars, [2]int{at(f, k), at(f+1, k)})
	}
	if f > 0 && f < frames-2 {
		return
	}
	for _, c := range [][2]int{{0, 3}, {16, 13}, {3, 6}, {6, 8}, {8, 10}, {10, 13}} {
		s.bars = append(s.bars, [2]int{at(f, c[0]), at(f+1, c[1])}, [2]int{at(f, c[1]), at(f+1, c[0])})
	}
}

func (s *shed) assemble(n int) {
	var cliques [][]int32
	for _, b := range s.bars {
		cliques = append(cliques, append(append([]int32{}, s.dof[b[0]][:]...), s.dof[b[1]][:]...))
	}
	s.pattern = NewPatternFromCliques(n, cliques)
	s.val = make([]float64, s.pattern.NNZ())
	for e, b := range s.bars {
		k := barStiffness(s.joints[b[0]], s.joints[b[1]], 200e9, 80e9, 4e-3, 8e-5, 6e-6, 3e-7)
		addDense(s.pattern, s.val, cliques[e], k[:], 1)
	}
}

// addDense adds times a dense 12x12 matrix to the values of the freedoms in dof.
func addDense(p *Pattern, val []float64, dof []int32, k []float64, times float64) {
	n := len(dof)
	for a, i := range dof {
		for b, j := range dof {
			if i >= 0 && j >= 0 && i >= j {
				val[p.Index(int(i), int(j))] += times * k[a*n+b]
			}
		}
	}
}

// barStiffness is the textbook stiffness of a prismatic bar in space (12x12, freedoms X Y Z and rotations at a, then at b)
// without shear deformation; its z axis is as near vertical as it can be.
func barStiffness(a, b [3]float64, e, g, area, iy, iz, j float64) [144]float64 {
	var k [144]float64
	l := dist(a, b)
	set := func(r, c int, v float64) { k[r*12+c], k[c*12+r] = v, v }
	for _, q := range [][2]float64{{0, e * area / l}, {3, g * j / l}} {
		i := int(q[0])
		set(i, i, q[1])
		set(i+6, i+6, q[1])
		set(i, i+6, -q[1])
	}
	// Bending in the local x-y plane (v, rotation z) and the x-z plane (w, rotation y, which has the other sign).
	for _, q := range []struct {
		t, r int
		ei   float64
		sign float64
	}{{1, 5, e * iz, 1}, {2, 4, e * iy, -1}} {
		set(q.t, q.t, 12*q.ei/(l*l*l))
		set(q.t+6, q.t+6, 12*q.ei/(l*l*l))
		set(q.t, q.t+6, -12*q.ei/(l*l*l))
		set(q.t, q.r, q.sign*6*q.ei/(l*l))
		set(q.t, q.r+6, q.sign*6*q.ei/(l*l))
		set(q.t+6, q.r, -q.sign*6*q.ei/(l*l))
		set(q.t+6, q.r+6, -q.sign*6*q.ei/(l*l))
		set(q.r, q.r, 4*q.ei/l)
		set(q.r+6, q.r+6, 4*q.ei/l)
		set(q.r, q.r+6, 2*q.ei/l)
	}
	return rotate(k, axes(a, b))
}

// rotate returns Tᵀ k T for the four 3x3 blocks r of T.
func rotate(k [144]float64, r [3][3]float64) [144]float64 {
	var kt, out [144]float64
	for i := range 12 {
		for j := range 12 {
			for m := range 3 {
				kt[i*12+j] += k[i*12+j/3*3+m] * r[m][j%3]
			}
		}
	}
	for i := range 12 {
		for j := range 12 {
			for m := range 3 {
				out[i*12+j] += r[m][i%3] * kt[(i/3*3+m)*12+j]
			}
		}
	}
	return out
}

func axes(a, b [3]float64) [3][3]float64 {
	l := dist(a, b)
	x := [3]float64{(b[0] - a[0]) / l, (b[1] - a[1]) / l, (b[2] - a[2]) / l}
	up := [3]float64{0, 0, 1}
	if math.Abs(x[2]) > 0.99 {
		up = [3]float64{1, 0, 0}
	}
	y := cross(up, x)
	n := math.Sqrt(y[0]*y[0] + y[1]*y[1] + y[2]*y[2])
	for c := range y {
		y[c] /= n
	}
	return [3][3]float64{x, y, cross(x, y)}
}

func cross(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func dist(a, b [3]float64) float64 {
	return math.Sqrt((b[0]-a[0])*(b[0]-a[0]) + (b[1]-a[1])*(b[1]-a[1]) + (b[2]-a[2])*(b[2]-a[2]))
}
