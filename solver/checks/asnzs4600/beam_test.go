package asnzs4600

import (
	"math"
	"math/rand/v2"
	"testing"
)

func near1(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.Abs(got-want) > tol*math.Max(math.Abs(want), 1e-12) {
		t.Errorf("%s: %.8g, want %.8g", what, got, want)
	}
}

// TestBeamClosedForms compares with the handbook values of uniformly loaded beams (AISC Manual, Table 3-23; Roark).
func TestBeamClosedForms(t *testing.T) {
	const l, q, ei = 6.0, 1500.0, 4e5
	solve := func(n int, lap float64) *Response {
		b := &Beam{EI: ei, Lap: lap}
		for range n {
			b.Spans = append(b.Spans, l)
		}
		r, err := b.Solve([]LineLoad{{0, 1e9, q}})
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	r := solve(1, 0)
	near1(t, "one span, middle moment qL²/8", r.Moment(l/2), q*l*l/8, 1e-9)
	near1(t, "one span, end shear qL/2", r.Shear(0), q*l/2, 1e-9)
	d, x := r.Most(0, l)
	near1(t, "one span, 5qL⁴/384EI", d, 5*q*l*l*l*l/(384*ei), 1e-9)
	near1(t, "one span, at the middle", x, l/2, 1e-6)

	r = solve(2, 0)
	near1(t, "two spans, support moment -qL²/8", r.Moment(l), -q*l*l/8, 1e-9)
	near1(t, "two spans, end reaction 3qL/8", r.Reactions[0], 0.375*q*l, 1e-9)
	near1(t, "two spans, middle reaction 10qL/8", r.Reactions[1], 1.25*q*l, 1e-9)
	d, x = r.Most(0, l)
	near1(t, "two spans, qL⁴/185EI (Roark: 0.0054 qL⁴/EI)", d, q*l*l*l*l/(184.6*ei), 1e-3)
	near1(t, "two spans, at 0.4215 L", x, 0.4215*l, 1e-3)

	r = solve(3, 0)
	near1(t, "three spans, support moment -0.1 qL²", r.Moment(l), -0.1*q*l*l, 1e-9)
	near1(t, "three spans, end reaction 0.4 qL", r.Reactions[0], 0.4*q*l, 1e-9)
	near1(t, "three spans, middle moment 0.025 qL²", r.Moment(1.5*l), 0.025*q*l*l, 1e-9)
}

// TestBeamLap compares a lapped two-span run with the force method by hand: release the support moment X, with flexibility
// integrals over the span in which the lap's half has twice the stiffness.
func TestBeamLap(t *testing.T) {
	const l, q, ei, lap = 7.0, 1200.0, 5e5, 1.4
	b := &Beam{Spans: []float64{l, l}, Lap: lap, EI: ei}
	r, err := b.Solve([]LineLoad{{0, 2 * l, q}})
	if err != nil {
		t.Fatal(err)
	}
	// Per span: f11 = ∫(x/L)²/EI, f10 = ∫(x/L)(qx(L-x)/2)/EI with EI doubled for x > c = L - lap/2.
	c := l - lap/2
	one := func(a, b float64) float64 { return (b*b*b - a*a*a) / (3 * l * l) }
	two := func(a, b float64) float64 {
		p := func(x float64) float64 { return q / (2 * l) * (l*x*x*x/3 - x*x*x*x/4) }
		return p(b) - p(a)
	}
	f11, f10 := one(0, c)+one(c, l)/2, two(0, c)+two(c, l)/2
	near1(t, "support moment of a lapped run", r.Moment(l), -f10/f11, 1e-9)
}

// TestBeamProperties: equilibrium, mirror symmetry and superposition over random runs and loads.
func TestBeamProperties(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	for range 100 {
		b := &Beam{EI: 1e5 * (0.5 + rng.Float64()), Lap: rng.Float64() * 0.9}
		for range 1 + rng.IntN(5) {
			b.Spans = append(b.Spans, 1+6*rng.Float64())
		}
		l := b.Length()
		var one, two, mirror []LineLoad
		total := 0.0
		for i := range 3 {
			from := l * rng.Float64()
			to := from + (l-from)*rng.Float64()
			q := LineLoad{from, to, 2000 * (rng.Float64() - 0.5)}
			if i == 0 {
				one = append(one, q)
			} else {
				two = append(two, q)
			}
			mirror = append(mirror, LineLoad{l - to, l - from, q.Q})
			total += q.Q * (to - from)
		}
		ra, err := b.Solve(one)
		if err != nil {
			t.Fatal(err)
		}
		rb, _ := b.Solve(two)
		all, _ := b.Solve(append(one, two...))
		m := &Beam{EI: b.EI, Lap: b.Lap}
		for i := range b.Spans {
			m.Spans = append(m.Spans, b.Spans[len(b.Spans)-1-i])
		}
		rm, _ := m.Solve(mirror)
		sum := 0.0
		for _, f := range all.Reactions {
			sum += f
		}
		if math.Abs(sum-total) > 1e-6*(1+math.Abs(total)) {
			t.Errorf("reactions %g, loads %g", sum, total)
		}
		for range 10 {
			x := l * rng.Float64()
			if d := all.Moment(x) - ra.Moment(x) - rb.Moment(x); math.Abs(d) > 1e-6*(1+math.Abs(all.Moment(x))) {
				t.Errorf("superposition at %g: %g off", x, d)
			}
			if d := all.Moment(x) - rm.Moment(l-x); math.Abs(d) > 1e-6*(1+math.Abs(all.Moment(x))) {
				t.Errorf("mirror at %g: %g off", x, d)
			}
			if d := all.Deflection(x) - rm.Deflection(l-x); math.Abs(d) > 1e-9 {
				t.Errorf("mirrored deflection at %g: %g off", x, d)
			}
		}
		if e := math.Abs(all.Moment(l)); e > 1e-6*(1+math.Abs(total)*l) {
			t.Errorf("moment %g at a pinned end", e)
		}
	}
}

func TestBeamWrongInput(t *testing.T) {
	for _, b := range []*Beam{{EI: 1}, {Spans: []float64{5}}, {Spans: []float64{-1}, EI: 1}, {Spans: []float64{3, 3}, Lap: 3, EI: 1}, {Spans: []float64{3, 3}, Lap: -1, EI: 1}} {
		if _, err := b.Solve(nil); err == nil {
			t.Errorf("%+v: no error", b)
		}
	}
}
