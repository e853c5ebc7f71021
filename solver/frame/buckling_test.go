package frame

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// buckle analyses linearly and returns the n lowest modes.
func buckle(t testing.TB, s *solver.Structure, a Analysis, n int) ([]BucklingMode, *Result) {
	t.Helper()
	r := run(t, s, a)
	modes, err := r.w.Buckling(r, n)
	if err != nil {
		t.Fatal(err)
	}
	return modes, r
}

// solveFor finds the root of f between a and b by bisection.
func solveFor(f func(float64) float64, a, b float64) float64 {
	fa := f(a)
	for range 200 {
		m := 0.5 * (a + b)
		if (f(m) < 0) == (fa < 0) {
			a = m
		} else {
			b = m
		}
	}
	return a
}

// TestEulerCases: one element; kL = π, 2π, π/2, the root of tan x = x, π. Minor and major axis alternate as they should.
func TestEulerCases(t *testing.T) {
	const L, P = 5.0, 1e4
	propped := solveFor(func(x float64) float64 { return math.Tan(x) - x }, 4.4, 4.6)
	for _, c := range []struct {
		name string
		i, j string
		kL   []float64 // of successive modes in one plane
	}{
		{"pinned", "xyzX", "yz", []float64{math.Pi, 2 * math.Pi}},
		{"fixed", all, "yzXYZ", []float64{2 * math.Pi, 2 * solveFor(func(x float64) float64 { return math.Tan(x) - x }, 4.4, 4.6)}},
		{"cantilever", all, "", []float64{math.Pi / 2, 3 * math.Pi / 2}},
		{"propped", all, "yz", []float64{propped, solveFor(func(x float64) float64 { return math.Tan(x) - x }, 7.6, 7.8)}},
		{"guided", all, "YZ", []float64{math.Pi, 2 * math.Pi}},
	} {
		var b build
		i, j := b.node(0, 0, 0, c.i), b.node(L, 0, 0, c.j)
		b.beam(i, j, ez)
		b.force(j, r3.Vec{X: -P}, r3.Vec{})
		modes, _ := buckle(t, &b.s, Linear, 4)
		want := []float64{}
		for _, x := range c.kL {
			want = append(want, x*x*testE*1e-5/(L*L*P), x*x*testE*2e-5/(L*L*P))
		}
		// major I is twice minor: sort
		for a := range want {
			for b := a + 1; b < len(want); b++ {
				if want[b] < want[a] {
					want[a], want[b] = want[b], want[a]
				}
			}
		}
		if len(modes) != 4 {
			t.Fatalf("%s: %d modes", c.name, len(modes))
		}
		for k := range 3 {
			near(t, c.name, modes[k].Factor, want[k], 1e-6)
		}
	}
}

// TestHeavyColumnBuckles: a cantilever under its own weight: 7.837347 EI/L³ (Greenhill, from the first zero of J_{-1/3}).
func TestHeavyColumnBuckles(t *testing.T) {
	const L, q = 9.0, 800.0
	var b build
	i, j := b.node(0, 0, 0, all), b.node(0, 0, L, "")
	b.beam(i, j, ey).Iy = 1e-3
	b.line(0, 0, L, r3.Vec{Z: -q}, r3.Vec{Z: -q}, solver.GlobalAxes)
	modes, _ := buckle(t, &b.s, Linear, 1)
	near(t, "factor", modes[0].Factor, 7.837347*testE*2e-5/(L*L*L*q), 1e-6)
}

// TestPortalBuckles: a single-bay portal, columns and beam alike (h = l), load on both columns. Sway: fixed base
// x/tan x = -6 (G = 1), pinned base x·tan x = 6; braced, pinned base: x cot-type equation with 2EI/l restraint.
// The beam is inextensible in effect. One element a member.
func TestPortalBuckles(t *testing.T) {
	const h, P = 4.0, 1e4
	const EI = testE * 2e-5
	frame := func(base, eaves string) *build {
		var b build
		a, d := b.node(0, 0, 0, base), b.node(0, h, 0, base)
		p, q := b.node(0, 0, h, eaves), b.node(0, h, h, eaves)
		b.beam(a, p, ey)
		b.beam(p, q, ez)
		b.beam(d, q, ey)
		for i := range b.s.Elements {
			b.s.Elements[i].A, b.s.Elements[i].Iy = 10, 1e-2
		}
		b.force(p, r3.Vec{Z: -P}, r3.Vec{})
		b.force(q, r3.Vec{Z: -P}, r3.Vec{})
		return &b
	}
	for _, c := range []struct {
		name, base, eaves string
		kh                float64
	}{
		{"fixed sway", all, "xYZ", solveFor(func(x float64) float64 { return x/math.Tan(x) + 6 }, 2, 3.1)},
		{"pinned sway", "xyzYZ", "xYZ", solveFor(func(x float64) float64 { return x*math.Tan(x) - 6 }, 0.5, 1.5)},
		// symmetric mode, beam in single curvature 2EI/l; pinned column: x²·tan x/(tan x - x)... M = EI/h·x²/(1 - x cot x)·θ
		{"pinned braced", "xyzYZ", "xyYZ", solveFor(func(x float64) float64 { return x*x/(1-x/math.Tan(x)) + 2 }, 3.2, 4.4)},
	} {
		b := frame(c.base, c.eaves)
		modes, _ := buckle(t, &b.s, Linear, 2)
		near(t, c.name, modes[0].Factor, c.kh*c.kh*EI/(h*h*P), 1e-5)
	}
}

// TestShearBuckling: Engesser's load of a pinned strut Pe/(1 + Pe/GA).
func TestShearBuckling(t *testing.T) {
	const L, P, as = 3.0, 1e4, 3e-4
	var b build
	i, j := b.node(0, 0, 0, "xyzX"), b.node(L, 0, 0, "yz")
	e := b.beam(i, j, ez)
	e.Iy, e.Asy = 1e-3, as
	b.force(j, r3.Vec{X: -P}, r3.Vec{})
	modes, _ := buckle(t, &b.s, Linear, 1)
	pe := math.Pi * math.Pi * testE * 2e-5 / (L * L)
	near(t, "factor", modes[0].Factor, pe/(1+pe/(testG*as))/P, 1e-7)
}

// TestNoBucklingInTension: nothing pressed, no factor.
func TestNoBucklingInTension(t *testing.T) {
	var b build
	i, j := b.node(0, 0, 0, all), b.node(0, 0, 4, "")
	b.beam(i, j, ey)
	b.force(j, r3.Vec{Z: 1e6, Y: 100}, r3.Vec{})
	if modes, _ := buckle(t, &b.s, Linear, 4); len(modes) != 0 {
		t.Errorf("%v", modes)
	}
}

// TestDoubleRoot: a square strut buckles both ways at one load: two modes with independent shapes.
func TestDoubleRoot(t *testing.T) {
	const L, P = 5.0, 1e4
	var b build
	i, j := b.node(0, 0, 0, all), b.node(L, 0, 0, "")
	b.beam(i, j, ez).Iy = 2e-5
	b.force(j, r3.Vec{X: -P}, r3.Vec{})
	modes, _ := buckle(t, &b.s, Linear, 2)
	want := math.Pi * math.Pi * testE * 2e-5 / (4 * L * L * P)
	near(t, "first", modes[0].Factor, want, 1e-7)
	near(t, "second", modes[1].Factor, want, 1e-7)
	a, c := modes[0].Shape[6:9], modes[1].Shape[6:9]
	if cross := a[1]*c[2] - a[2]*c[1]; math.Abs(cross) < 0.1 {
		t.Errorf("shapes %v and %v are one", a, c)
	}
}

// TestSecondOrderAgreesWithBuckling: just below the load factor the frame stands, just above it does not (first-order
// thrust equals second-order thrust here, the loads being vertical and symmetric).
func TestSecondOrderAgreesWithBuckling(t *testing.T) {
	for seed := range 5 {
		b := randomFrame(seed)
		b.s.Cases[0] = solver.Case{ID: "1"}
		for i := range 12 {
			b.force(4+i, r3.Vec{Z: -1e5}, r3.Vec{})
		}
		modes, r := buckle(t, &b.s, Linear, 1)
		for _, over := range []float64{0.97, 1.03} {
			c := solver.Combination{Terms: []solver.Term{{Case: 0, Factor: over * modes[0].Factor}}}
			var s Result
			if err := r.w.Analyse(&c, SecondOrder, &s); err != nil {
				t.Fatal(err)
			}
			if s.Stable != (over < 1) {
				t.Errorf("seed %d at %g of %g: stable %v %v", seed, over, modes[0].Factor, s.Stable, s.Notes)
			}
		}
	}
}

// TestEffectiveLengths: the fixed-base sway portal's columns by their own closed form, and a cantilever's 2L.
func TestEffectiveLengths(t *testing.T) {
	b := post(1e4, 0)
	modes, r := buckle(t, &b.s, Linear, 1)
	ls, err := r.w.EffectiveLengths(modes, r)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "2L", ls[0].Major, 8, 1e-6)
	near(t, "share", ls[0].ShareMajor, 1, 1e-6)
	if ls[0].Minor != 0 {
		t.Errorf("minor %g in a mode about the major axis", ls[0].Minor)
	}

	var p build // pinned portal, sway: x·tan x = 6, Le = πh/x
	const h = 4.0
	n := []int{p.node(0, 0, 0, "xyzYZ"), p.node(0, 0, h, "xYZ"), p.node(0, h, h, "xYZ"), p.node(0, h, 0, "xyzYZ")}
	p.beam(n[0], n[1], ey)
	p.beam(n[1], n[2], ez)
	p.beam(n[3], n[2], ey)
	for i := range p.s.Elements {
		p.s.Elements[i].A, p.s.Elements[i].Iy = 10, 1e-2
	}
	p.force(n[1], r3.Vec{Z: -1e4}, r3.Vec{})
	p.force(n[2], r3.Vec{Z: -1e4}, r3.Vec{})
	modes, r = buckle(t, &p.s, Linear, 1)
	if ls, err = r.w.EffectiveLengths(modes, r); err != nil {
		t.Fatal(err)
	}
	x := solveFor(func(x float64) float64 { return x*math.Tan(x) - 6 }, 0.5, 1.5)
	near(t, "left column", ls[0].Major, math.Pi*h/x, 1e-5)
	near(t, "right column", ls[2].Major, math.Pi*h/x, 1e-5)
	near(t, "energy", ls[0].ShareMajor, ls[2].ShareMajor, 1e-5)
}

// TestBucklingOnSlackRods: the bay under gravity, all rods slack. With its columns' feet a little stiff it stands by itself
// and has the low factor of the sway when rods are left out as found; a mode that would stretch them whichever way it goes
// cannot grow, and then the columns' own Euler load is what is left.
func TestBucklingOnSlackRods(t *testing.T) {
	const P, h = 50000.0, 3.0
	b := bay()
	for e := range 2 { // columns that bend, hinged at the top
		el := &b.s.Elements[e]
		el.Bar, el.ReleaseJ[4], el.ReleaseJ[5] = false, true, true
		b.s.Nodes[e].Held[3], b.s.Nodes[e].Held[5] = true, true
		b.s.Nodes[e].Spring[solver.RY] = 2e4
	}
	b.force(2, r3.Vec{Z: -P}, r3.Vec{})
	b.force(3, r3.Vec{Z: -P}, r3.Vec{})
	r := run(t, &b.s, TensionOnly)
	r.w.RodsAsFound = true
	modes, err := r.w.Buckling(r, 1)
	if err != nil {
		t.Fatal(err)
	}
	// Foot spring k, hinged top free to sway: x·tan x = k h/EI. Y is along local y (Iz... minor 1e-5 bends in X).
	const EI = testE * 1e-5
	x := solveFor(func(x float64) float64 { return x*math.Tan(x) - 2e4*h/EI }, 1e-3, 1.5)
	near(t, "as found", modes[0].Factor, x*x*EI/(h*h*P), 1e-6)
	r.w.RodsAsFound = false
	modes, err = r.w.Buckling(r, 1)
	if err != nil {
		t.Fatal(err)
	}
	if !r.Touching[3] || !r.Touching[4] || modes[0].Factor < 5*x*x*EI/(h*h*P) {
		t.Errorf("touching %v, factor %g", r.Touching, modes[0].Factor)
	}
}
