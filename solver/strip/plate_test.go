package strip

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// edge is how a long edge of a plate is held.
type edge int

const (
	free edge = iota
	simple
	clamped
)

// plate is a flat plate of width b and thickness t in n strips, its membrane freedoms held: pure plate bending.
func plate(t testing.TB, b, thick float64, n int, left, right edge) *Section {
	t.Helper()
	nodes := make([]Node, n+1)
	strips := make([]Strip, n)
	for i := range nodes {
		nodes[i] = Node{X: b * float64(i) / float64(n), Held: [4]bool{true, false, true, false}}
	}
	for i := range strips {
		strips[i] = Strip{I: i, J: i + 1, T: thick}
	}
	for _, e := range []struct {
		at int
		as edge
	}{{0, left}, {n, right}} {
		nodes[e.at].Held[dofY] = e.as != free
		nodes[e.at].Held[dofTurn] = e.as == clamped
	}
	s, err := New(nodes, strips, Steel)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// coefficient turns a stress into k = sigma·12(1-nu²)(b/t)²/(pi²E).
func coefficient(sigma, b, thick float64) float64 {
	return sigma * 12 * (1 - Steel.Nu*Steel.Nu) * (b / thick) * (b / thick) / (math.Pi * math.Pi * Steel.E)
}

// linear is a stress from 1 Pa at X = 0 to end at X = b.
func linear(s *Section, end float64) []float64 {
	b := s.nodes[len(s.nodes)-1].X
	out := make([]float64, len(s.nodes))
	for i, n := range s.nodes {
		out[i] = 1 + (end-1)*n.X/b
	}
	return out
}

// TestPlateCoefficients compares the least coefficient over half-wavelengths with the handbooks'.
func TestPlateCoefficients(t *testing.T) {
	const b, thick = 0.100, 0.001
	cases := []struct {
		name        string
		left, right edge
		end         float64 // stress at the far edge
		want, tol   float64
		source      string
	}{
		{"simple, simple", simple, simple, 1, 4.00, 0.001, "Bryan 1891: k = (b/a + a/b)², least 4"},
		{"clamped, clamped", clamped, clamped, 1, 6.97, 0.005, "Timoshenko and Gere, Theory of elastic stability, 9.4 (Bleich, Table 11)"},
		{"simple, clamped", simple, clamped, 1, 5.42, 0.005, "Bleich, Buckling strength of metal structures, Table 11"},
		{"clamped, free", clamped, free, 1, 1.277, 0.005, "Bleich, Table 11 (1.277)"},
		{"pure bending", simple, simple, -1, 23.9, 0.005, "Timoshenko and Gere, Table 9-6, 23.9 at a/b = 2/3"},
		{"triangular", simple, simple, 0, 7.81, 0.005, "Timoshenko and Gere, Table 9-6, alpha = 1: 7.8"},
		{"pure bending, clamped", clamped, clamped, -1, 39.6, 0.005, "Bleich, Table 11: 39.6"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := plate(t, b, thick, 16, c.left, c.right)
			minima := s.Signature(linear(s, c.end), Lengths(0.3*b, 4*b, 40)).Minima()
			if len(minima) != 1 {
				t.Fatalf("%d minima, want 1", len(minima))
			}
			if got := coefficient(minima[0].Factor, b, thick); math.Abs(got/c.want-1) > c.tol {
				t.Errorf("k = %.4f at a/b %.3f, want %.3f (%s)", got, minima[0].HalfWave/b, c.want, c.source)
			}
		})
	}
}

// TestOutstand compares the plate with one free edge with the long-plate formula k = 0.425 + (b/a)².
func TestOutstand(t *testing.T) {
	const b, thick = 0.100, 0.001
	s := plate(t, b, thick, 16, simple, free)
	v := s.Solver(linear(s, 1))
	for _, ratio := range []float64{4, 6, 10, 20, 40} {
		f, _ := v.Lowest(ratio * b)
		got, want := coefficient(f, b, thick), 0.425+1/(ratio*ratio)
		// Source: Timoshenko and Gere, 9.4, for long plates; the constant is 6(1-nu)/pi² = 0.4255 at nu = 0.3.
		if math.Abs(got/want-1) > 0.005 {
			t.Errorf("a/b %g: k = %.4f, want %.4f", ratio, got, want)
		}
	}
}

// levy is the exact coefficient at half-wavelength a by Levy's solution: w = f(x)·sin(pi·y/a) with
// f = A·cosh(px) + B·sinh(px) + C·cos(qx) + D·sin(qx), p² = k(sqrt(N/D)+k), q² = k(sqrt(N/D)-k), and the determinant of
// the four edge conditions zero (Timoshenko and Gere, 9.4). Valid where N/D > k².
func levy(a, b float64, left, right edge) float64 {
	k := math.Pi / a
	det := func(nd float64) float64 {
		r := math.Sqrt(nd)
		p, q := math.Sqrt(k*(r+k)), math.Sqrt(k*(r-k))
		m := mat.NewDense(4, 4, nil)
		row := 0
		for _, e := range []struct {
			x  float64
			as edge
		}{{0, left}, {b, right}} {
			ch, sh, c, s := math.Cosh(p*e.x), math.Sinh(p*e.x), math.Cos(q*e.x), math.Sin(q*e.x)
			w := []float64{ch, sh, c, s}
			d1 := []float64{p * sh, p * ch, -q * s, q * c}
			d2 := []float64{p * p * ch, p * p * sh, -q * q * c, -q * q * s}
			d3 := []float64{p * p * p * sh, p * p * p * ch, q * q * q * s, -q * q * q * c}
			var one, two []float64
			switch e.as {
			case clamped:
				one, two = w, d1
			case simple:
				one, two = w, d2
			case free:
				one, two = make([]float64, 4), make([]float64, 4)
				for i := range w {
					one[i] = d2[i] - Steel.Nu*k*k*w[i]
					two[i] = d3[i] - (2-Steel.Nu)*k*k*d1[i]
				}
			}
			for i := range 4 {
				m.Set(row, i, one[i])
				m.Set(row+1, i, two[i])
			}
			row += 2
		}
		return mat.Det(m)
	}
	lo := k * k * (1 + 1e-9)
	step := 0.05 / (b * b)
	f0 := det(lo)
	for x := lo + step; ; x += step {
		f1 := det(x)
		if f0*f1 <= 0 {
			l, h := x-step, x
			for range 80 {
				m := (l + h) / 2
				if det(m)*f0 > 0 {
					l = m
				} else {
					h = m
				}
			}
			return l * b * b / (math.Pi * math.Pi)
		}
		f0 = f1
	}
}

// TestLevy compares finite half-wavelengths with Levy's exact solution for every pair of supported edges.
func TestLevy(t *testing.T) {
	const b, thick = 0.100, 0.002
	for _, e := range []struct{ l, r edge }{{simple, simple}, {simple, clamped}, {clamped, clamped}, {simple, free}, {clamped, free}} {
		s := plate(t, b, thick, 12, e.l, e.r)
		v := s.Solver(linear(s, 1))
		for _, ratio := range []float64{0.5, 0.8, 1, 1.6, 3, 8} {
			f, _ := v.Lowest(ratio * b)
			got, want := coefficient(f, b, thick), levy(ratio*b, b, e.l, e.r)
			if math.Abs(got/want-1) > 0.001 {
				t.Errorf("edges %d %d, a/b %g: k = %.5f, Levy %.5f", e.l, e.r, ratio, got, want)
			}
		}
	}
}

// TestPlateConverges shows the order of convergence: the error against Levy falls by about 16 as strips are halved.
func TestPlateConverges(t *testing.T) {
	const b, thick = 0.100, 0.002
	want := levy(b, b, clamped, clamped)
	last := 0.0
	for _, n := range []int{2, 4, 8} {
		s := plate(t, b, thick, n, clamped, clamped)
		f, _ := s.Solver(linear(s, 1)).Lowest(b)
		err := coefficient(f, b, thick)/want - 1
		if err <= 0 {
			t.Errorf("%d strips: error %g; a conforming strip must be stiff", n, err)
		}
		if last != 0 && last/err < 10 {
			t.Errorf("%d strips: error %g, only %.1f times less than with half as many", n, err, last/err)
		}
		last = err
	}
}

// TestInPlane is a deep strip alone: a wide plate free to move, bent in its plane by uniform compression at a long
// half-wavelength, buckles out of plane as a wide column: sigma = E·pi²t²/12L² (between that and its 1/(1-nu²)).
func TestInPlane(t *testing.T) {
	const b, thick, l = 0.05, 0.002, 1.0
	s := plate(t, b, thick, 8, free, free)
	f, _ := s.Solver(linear(s, 1)).Lowest(l)
	want := Steel.E * math.Pi * math.Pi * thick * thick / (12 * l * l)
	if math.Abs(f/want-1) > 0.005 {
		t.Errorf("narrow plate as a column: %.4g Pa, Euler %.4g", f, want)
	}
}

func ExampleSection_Signature() {
	o := LippedC(0.152, 0.064, 0.0155, 0.0015, 0.005)
	s, err := o.Section(Standard, Steel)
	if err != nil {
		fmt.Println(err)
		return
	}
	from, to := s.Span()
	for _, m := range s.Signature(s.Stress(BendTop), Lengths(from, to, 40)).Minima() {
		fmt.Printf("%s at %.0f cm: %.0f MPa\n", m.Kind, 1e2*m.HalfWave, m.Factor/1e6)
	}
	// Output:
	// local at 8 cm: 477 MPa
	// distortional at 51 cm: 353 MPa
}
