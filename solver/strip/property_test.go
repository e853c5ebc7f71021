package strip

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// TestTurning: turning and moving the cross-section changes no factor; doubling the stress halves it; a section twice as
// large in every way has the same factors at twice the half-wavelength.
func TestTurning(t *testing.T) {
	o := LippedC(0.152, 0.064, 0.0155, 0.0015, 0.005)
	s := section(t, o, Standard)
	stress := s.Stress(BendTop)
	want, _ := s.Solver(stress).Lowest(0.3)

	turned := o
	turned.Points = nil
	c, sn := math.Cos(0.7), math.Sin(0.7)
	for _, p := range o.Points {
		turned.Points = append(turned.Points, Point{1 + c*p.X - sn*p.Y, -2 + sn*p.X + c*p.Y})
	}
	if got, _ := section(t, turned, Standard).Solver(stress).Lowest(0.3); math.Abs(got/want-1) > 1e-6 {
		t.Errorf("turned: %.9g, want %.9g", got, want)
	}

	double := make([]float64, len(stress))
	for i, q := range stress {
		double[i] = 2 * q
	}
	if got, _ := s.Solver(double).Lowest(0.3); math.Abs(2*got/want-1) > 1e-6 {
		t.Errorf("double stress: %.9g, want half of %.9g", got, want)
	}

	large := Outline{T: 2 * o.T, R: 2 * o.R}
	for _, p := range o.Points {
		large.Points = append(large.Points, Point{2 * p.X, 2 * p.Y})
	}
	if got, _ := section(t, large, Standard).Solver(stress).Lowest(0.6); math.Abs(got/want-1) > 1e-6 {
		t.Errorf("twice as large: %.9g, want %.9g", got, want)
	}
}

// TestStartDoesNotMatter: the factor at a length does not depend on the lengths asked for before, to the enclosure.
func TestStartDoesNotMatter(t *testing.T) {
	s := section(t, LippedZ(0.203, 0.079, 0.074, 0.0185, 0.0019, 0.005), Standard)
	stress := s.Stress(BendBottom)
	warm := s.Solver(stress)
	r := rand.New(rand.NewPCG(7, 11))
	for range 30 {
		a := math.Exp(math.Log(0.03) + r.Float64()*math.Log(200))
		got, _ := warm.Lowest(a)
		want, _ := s.Solver(stress).Lowest(a)
		if math.Abs(got/want-1) > 2*bracketTol {
			t.Errorf("a %.4f m: %.9g after other lengths, %.9g alone", a, got, want)
		}
	}
}

// TestThickerIsStronger: at equal mid-lines a thicker plate never buckles at a lower stress (bending stiffness goes with
// t³, everything else with t).
func TestThickerIsStronger(t *testing.T) {
	thin := section(t, LippedC(0.152, 0.064, 0.0155, 0.0015, 0.005), Standard)
	thick := section(t, LippedC(0.1523, 0.0643, 0.01565, 0.0018, 0.00485), Standard) // same mid-line
	a, b := thin.Solver(thin.Stress(Compression)), thick.Solver(thick.Stress(Compression))
	for _, l := range Lengths(0.05, 5, 20) {
		p, _ := a.Lowest(l)
		q, _ := b.Lowest(l)
		if q < p*(1-1e-6) {
			t.Errorf("a %.3f m: %.4g at 1.5 mm, %.4g at 1.8 mm", l, p, q)
		}
	}
}

// TestTension: a section all in tension has no factor.
func TestTension(t *testing.T) {
	s := section(t, LippedC(0.152, 0.064, 0.0155, 0.0015, 0.005), Standard)
	stress := s.Stress(Compression)
	for i := range stress {
		stress[i] = -1
	}
	if f, mode := s.Solver(stress).Lowest(0.3); !math.IsInf(f, 1) || mode != nil {
		t.Errorf("tension: factor %g, want +Inf", f)
	}
	if m := s.Signature(stress, Lengths(0.05, 1, 5)).Minima(); len(m) != 0 {
		t.Errorf("tension: %d minima", len(m))
	}
}

// TestWrongInput: each mistake is named.
func TestWrongInput(t *testing.T) {
	at := func(x, y float64) Node { return Node{X: x, Y: y} }
	for _, c := range []struct {
		name   string
		nodes  []Node
		strips []Strip
		m      Material
		want   string
	}{
		{"no strips", []Node{at(0, 0)}, nil, Steel, "at least one strip"},
		{"no such node", []Node{at(0, 0), at(1, 0)}, []Strip{{0, 2, 0.001}}, Steel, "nodes 0 to 1"},
		{"no width", []Node{at(0, 0), at(0, 0)}, []Strip{{0, 1, 0.001}}, Steel, "must be positive"},
		{"no thickness", []Node{at(0, 0), at(1, 0)}, []Strip{{0, 1, 0}}, Steel, "must be positive"},
		{"loose node", []Node{at(0, 0), at(1, 0), at(2, 0)}, []Strip{{0, 1, 0.001}}, Steel, "node 2"},
		{"no material", []Node{at(0, 0), at(1, 0)}, []Strip{{0, 1, 0.001}}, Material{}, "elastic solid"},
	} {
		if _, err := New(c.nodes, c.strips, c.m); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want %q", c.name, err, c.want)
		}
	}
	if _, err := LippedC(0.1, 0.05, 0.006, 0.002, 0.005).Section(Standard, Steel); err == nil || !strings.Contains(err.Error(), "side 1") {
		t.Errorf("lip shorter than its corner: %v", err)
	}
}

// FuzzOutline: any lipped channel or zed gives a section or an error, and a section gives finite factors and minima that
// lie on the curve.
func FuzzOutline(f *testing.F) {
	f.Add(0.152, 0.064, 0.064, 0.0155, 0.0015, 0.005, false)
	f.Add(0.203, 0.079, 0.074, 0.0185, 0.0019, 0.005, true)
	f.Add(0.1, 0.05, 0.05, 0.005, 0.002, 0.005, false)
	f.Add(0.3, 0.02, 0.02, 0.3, 0.0001, 0.0, true)
	f.Fuzz(func(t *testing.T, d, b, n, l, thick, ri float64, zed bool) {
		for _, v := range []float64{d, b, n, l} {
			if !(v > 1e-3 && v < 2) {
				return
			}
		}
		if !(thick > 1e-4 && thick < 0.02 && ri >= 0 && ri < 0.2) {
			return
		}
		o := LippedC(d, b, l, thick, ri)
		if zed {
			o = LippedZ(d, b, n, l, thick, ri)
		}
		s, err := o.Section(Mesh{Corner: 2, Least: 2, Most: 4, Width: 0.25}, Steel)
		if err != nil {
			return
		}
		from, to := s.Span()
		c := s.Signature(s.Stress(Compression), Lengths(from, to, 12))
		for i, q := range c.Factors {
			if !(q > 0) || math.IsInf(q, 0) {
				t.Fatalf("factor %g at %g m", q, c.Lengths[i])
			}
		}
		for _, m := range c.Minima() {
			if !(m.HalfWave >= from && m.HalfWave <= to && m.Factor > 0) {
				t.Fatalf("minimum %g at %g m outside %g to %g", m.Factor, m.HalfWave, from, to)
			}
		}
	})
}

func BenchmarkSignature(b *testing.B) {
	s := section(b, LippedC(0.203, 0.076, 0.019, 0.0019, 0.005), Standard)
	stress := s.Stress(BendTop)
	from, to := s.Span()
	lengths := Lengths(from, to, scanPoints)
	for b.Loop() {
		s.Signature(stress, lengths)
	}
}

// BenchmarkCritical is all that the direct strength method asks of one channel: compression, bending about x, and
// bending about y both ways.
func BenchmarkCritical(b *testing.B) {
	for b.Loop() {
		s := section(b, LippedC(0.203, 0.076, 0.019, 0.0019, 0.005), Standard)
		for _, k := range []Loading{Compression, BendTop, BendRight, BendLeft} {
			if _, err := s.Critical(k); err != nil {
				b.Fatal(err)
			}
		}
	}
}

func BenchmarkLowest(b *testing.B) {
	s := section(b, LippedC(0.203, 0.076, 0.019, 0.0019, 0.005), Standard)
	v := s.Solver(s.Stress(BendTop))
	for b.Loop() {
		v.Lowest(0.2)
	}
}
