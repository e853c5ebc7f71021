package frame

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// post is a cantilever column of one element along Z with P down and H along Y at its top; Y is the direction of EIz.
func post(P, H float64) *build {
	var b build
	i, j := b.node(0, 0, 0, all), b.node(0, 0, 4, "")
	b.beam(i, j, ey).Iy = 1e-3 // strong the other way
	b.force(j, r3.Vec{Y: H, Z: -P}, r3.Vec{})
	return &b
}

// TestColumnUnderThrust: tip deflection H/P·(tan(kL)/k - L) and base moment H·tan(kL)/k of a cantilever under thrust; with
// tanh under pull (Timoshenko and Gere, Theory of Elastic Stability, 1.3-1.6).
func TestColumnUnderThrust(t *testing.T) {
	const L, H = 4.0, 1000.0
	const EI = testE * 2e-5
	pe := math.Pi * math.Pi * EI / (4 * L * L)
	for _, share := range []float64{0.01, 0.3, 0.6, 0.9, 0.99, -0.5, -3, -200} {
		P := share * pe
		r := run(t, &post(P, H).s, SecondOrder)
		k := math.Sqrt(math.Abs(P) / EI)
		f := math.Tan(k*L) / k
		if P < 0 {
			f = math.Tanh(k*L) / k
		}
		name := fmt.Sprintf("P/Pe %g", share)
		tol := 1e-6 / min(1, 1-share) // balance is relative to P, the tip moment is not
		if share < -100 {
			tol = 1e-5
		}
		near(t, name+" tip", r.U[7], H/P*(f-L), tol)
		near(t, name+" base", r.Reactions[3], H*f, tol)
		d := diagram(r, 0)
		near(t, name+" M", math.Abs(d.At(0)[solver.Mz]), H*f, tol)
		near(t, name+" M top", d.At(L)[solver.Mz], 0, 1e-5*H*L)
		_, uy, _ := d.Deflection(L)
		near(t, name+" closure", uy, r.U[7], 1e-6)
	}
}

// TestColumnWithShear: Engesser: the tip of a shear-flexible cantilever under thrust. With n = 1 - P/GA (here 1 + N g):
// EI v⁗·n + P v″ = 0 gives k² = P/(EI n) and tip H/P·(tan(kL)/k - L): the base is clamped in the section's rotation,
// v' = V g/n there. (Timoshenko and Gere, 2.17, with the boundary condition of the rotation.)
func TestColumnWithShear(t *testing.T) {
	const L, H, as = 4.0, 1000.0, 2e-4
	const EI = testE * 2e-5
	b := post(0, H)
	b.s.Elements[0].Asy = as
	g := 1 / (testG * as)
	pe := math.Pi * math.Pi * EI / (4 * L * L)
	pcr := pe / (1 + pe*g)
	for _, share := range []float64{0.2, 0.6, 0.95} {
		P := share * pcr
		b.s.Cases[0].Nodal[0].F.Z = -P
		r := run(t, &b.s, SecondOrder)
		n := 1 - P*g
		k := math.Sqrt(P / (EI * n))
		// θ″ = -k²θ - H/(EI n), θ(0) = 0, θ'(L) = 0 with H pushing; v' = (θ + Hg)/n, integrated.
		tip := (H/P*(math.Tan(k*L)/k-L) + H*g*L) / n
		near(t, "tip", r.U[7], tip, 1e-6/(1-share))
	}
	b.s.Cases[0].Nodal[0].F.Z = -1.01 * pcr
	if r := runAny(t, &b.s, SecondOrder); r.Stable {
		t.Error("stable beyond the critical load")
	}
}

// TestBeamColumn: a pinned strut with uniform load: midspan moment wL²/8·2(sec u - 1)/u², deflection 5wL⁴/384EI·
// 12(2 sec u - 2 - u²)/(5u⁴), u = kL/2; with a central load PL/4·tan u/u. One element. (Timoshenko and Gere, 1.3, 1.5.)
func TestBeamColumn(t *testing.T) {
	const L, w, Q = 6.0, 3000.0, 7000.0
	const EI = testE * 2e-5
	pe := math.Pi * math.Pi * EI / (L * L)
	for _, share := range []float64{0.1, 0.6, 0.95} {
		P := share * pe
		u := math.Pi / 2 * math.Sqrt(share)
		strut := func() *build {
			var b build
			i, j := b.node(0, 0, 0, "xyzX"), b.node(L, 0, 0, "yz")
			b.beam(i, j, ez).Iy = 1e-3
			b.force(j, r3.Vec{X: -P}, r3.Vec{})
			return &b
		}
		b := strut()
		b.line(0, 0, L, r3.Vec{Z: -w}, r3.Vec{Z: -w}, solver.GlobalAxes)
		d := diagram(run(t, &b.s, SecondOrder), 0)
		m, x := d.MaxAbs(solver.Mz)
		near(t, "uniform M", m, w*L*L/8*2*(1/math.Cos(u)-1)/(u*u), 1e-7)
		near(t, "at", x, L/2, 1e-7)
		_, uy, _ := d.Deflection(L / 2)
		near(t, "uniform v", -uy, 5*w*L*L*L*L/(384*EI)*12*(2/math.Cos(u)-2-u*u)/(5*u*u*u*u), 1e-6)
		b = strut()
		b.point(0, L/2, r3.Vec{Z: -Q}, r3.Vec{}, solver.GlobalAxes)
		m, _ = diagram(run(t, &b.s, SecondOrder), 0).MaxAbs(solver.Mz)
		near(t, "central M", m, Q*L/4*math.Tan(u)/u, 1e-7)
	}
}

// TestTieStiffening: a pinned tie under uniform load: midspan moment w/k²·(1 - sech(kL/2)), up to a tie so slender that it
// hangs like a string (kL = 90), drawn without loss.
func TestTieStiffening(t *testing.T) {
	const L, w = 6.0, 300.0
	const EI = testE * 2e-5
	for _, kL := range []float64{0.5, 3, 20, 90} {
		k := kL / L
		var b build
		i, j := b.node(0, 0, 0, "xyzX"), b.node(L, 0, 0, "yz")
		b.beam(i, j, ez)
		b.force(j, r3.Vec{X: k * k * EI}, r3.Vec{})
		b.line(0, 0, L, r3.Vec{Z: -w}, r3.Vec{Z: -w}, solver.GlobalAxes)
		d := diagram(run(t, &b.s, SecondOrder), 0)
		near(t, fmt.Sprintf("kL %g", kL), d.At(L / 2)[solver.Mz], w/(k*k)*(1-1/math.Cosh(kL/2)), 1e-7)
	}
}

// TestHeavyColumn: a cantilever under its own weight q and a side load H at the tip, one element: the power series of
// EI θ″ = -q(L-x)θ - H, integrated here by Runge-Kutta with shooting, up to 0.6 of the critical 7.837EI/L³.
func TestHeavyColumn(t *testing.T) {
	const L, H = 8.0, 500.0
	const EI = testE * 2e-5
	for _, share := range []float64{0.2, 0.6, 0.9} {
		q := share * 7.837347 * EI / (L * L * L)
		var b build
		i, j := b.node(0, 0, 0, all), b.node(0, 0, L, "")
		b.beam(i, j, ey).Iy = 1e-3
		b.line(0, 0, L, r3.Vec{Z: -q}, r3.Vec{Z: -q}, solver.GlobalAxes)
		b.force(j, r3.Vec{Y: H}, r3.Vec{})
		r := run(t, &b.s, SecondOrder)
		near(t, fmt.Sprint("share ", share), r.U[7], heavyTip(L, EI, q, H), 1e-6)
	}
}

// heavyTip integrates y = (v, θ, θ') along the column for two trial curvatures at the base and combines them so that the
// tip is free of moment.
func heavyTip(L, EI, q, H float64) float64 {
	shoot := func(k0, H float64) (v, curve float64) {
		y := [3]float64{0, 0, k0}
		const n = 4000
		h := L / n
		f := func(x float64, y [3]float64) [3]float64 {
			return [3]float64{y[1], y[2], -(q*(L-x)*y[1] + H) / EI}
		}
		for i := range n {
			x := float64(i) * h
			add := func(a [3]float64, s float64, b [3]float64) [3]float64 {
				return [3]float64{a[0] + s*b[0], a[1] + s*b[1], a[2] + s*b[2]}
			}
			k1 := f(x, y)
			k2 := f(x+h/2, add(y, h/2, k1))
			k3 := f(x+h/2, add(y, h/2, k2))
			k4 := f(x+h, add(y, h, k3))
			y = add(add(add(add(y, h/6, k1), h/3, k2), h/3, k3), h/6, k4)
		}
		return y[0], y[2]
	}
	v0, c0 := shoot(0, H)
	v1, c1 := shoot(1, 0)
	k := -c0 / c1
	return v0 + k*v1
}

// TestLeaningColumn: a pin-ended column that carries load beside a cantilever that holds it: the sway is that of the
// cantilever under H + P_lean·Δ/h. One element each; Le Messurier's problem in closed form.
func TestLeaningColumn(t *testing.T) {
	const L, H, P = 4.0, 800.0, 60000.0
	const EI = testE * 2e-5
	for _, bar := range []bool{false, true} {
		var b build
		a, c := b.node(0, 0, 0, all), b.node(0, 5, 0, "xyzXYZ")
		p, q := b.node(0, 0, L, "xYZ"), b.node(0, 5, L, "xYZ")
		b.beam(a, p, ey)
		e := b.beam(c, q, ey)
		e.ReleaseI[solver.Mz], e.ReleaseJ[solver.Mz] = true, true
		if bar {
			e.Bar, e.ReleaseI, e.ReleaseJ = true, [6]bool{}, [6]bool{}
		}
		tie := b.beam(p, q, ez)
		tie.ReleaseI[solver.Mz], tie.ReleaseJ[solver.Mz], tie.A = true, true, 1e2
		if !bar {
			b.s.Nodes[q].Held[3] = true // all members at q are hinged
		}
		b.force(p, r3.Vec{Y: H}, r3.Vec{})
		b.force(q, r3.Vec{Z: -P}, r3.Vec{})
		r := run(t, &b.s, SecondOrder)
		// The cantilever has no thrust of its own: Δ = L³/3EI·(H + PΔ/L).
		c3 := L * L * L / (3 * EI)
		near(t, "sway", r.U[6*p+1], c3*H/(1-c3*P/L), 1e-6)
	}
}

// TestBeyondCritical: loads past each Euler case of one element are refused, loads just below are answered.
func TestBeyondCritical(t *testing.T) {
	const L = 5.0
	const EI = testE * 1e-5 // minor
	pe := math.Pi * math.Pi * EI / (L * L)
	for _, c := range []struct {
		name   string
		i, j   string
		factor float64
	}{
		{"pinned", "xyzX", "yz", 1},
		{"fixed", all, "yzXYZ", 4},
		{"cantilever", all, "", 0.25},
		{"propped", all, "yz", 2.045748},
		{"guided", all, "YZ", 1},
	} {
		for _, over := range []float64{0.999, 1.001, 3.5, 40} {
			var b build
			i, j := b.node(0, 0, 0, c.i), b.node(L, 0, 0, c.j)
			b.beam(i, j, ez)
			b.force(j, r3.Vec{X: -over * c.factor * pe}, r3.Vec{})
			if r := runAny(t, &b.s, SecondOrder); r.Stable != (over < 1) {
				t.Errorf("%s at %g of critical: stable %v %v", c.name, over, r.Stable, r.Notes)
			}
		}
	}
}

// TestSecondOrderWithRods: the braced bay sways under H and gravity P a column: the rod's force is magnified by
// 1/(1 - ΣP·δ/(H·h)), the bay having no other stiffness. Small H, so that second order in the rod's own geometry vanishes.
func TestSecondOrderWithRods(t *testing.T) {
	const H, P, h, w = 100.0, 2e5, 3.0, 4.0
	b := bay()
	for e := range 3 {
		b.s.Elements[e].A = 1e5 // columns and beam do not shorten
	}
	b.force(2, r3.Vec{X: H, Z: -P}, r3.Vec{})
	b.force(3, r3.Vec{Z: -P}, r3.Vec{})
	r := run(t, &b.s, TensionOnlySecondOrder)
	if r.Slack[3] || !r.Slack[4] {
		t.Fatalf("slack %v", r.Slack)
	}
	k := testE * 2e-4 / 5 * 16 / 25 // sway stiffness of the rod
	sway := H / (k - 2*P/h)
	near(t, "sway", r.U[6*2], sway, 1e-4)
	near(t, "rod", r.Ends[3][6], k*sway*5/4, 1e-4)
}

// TestUprightOnSlackRods: under gravity alone the bay stands upright on rods that are ready to act, in second order too; and
// so heavy that even the rods could not hold it, it does not.
func TestUprightOnSlackRods(t *testing.T) {
	b := bay()
	b.force(2, r3.Vec{Z: -50000}, r3.Vec{})
	b.force(3, r3.Vec{Z: -50000}, r3.Vec{})
	r := run(t, &b.s, TensionOnlySecondOrder)
	if !r.Slack[3] || !r.Slack[4] || !r.Touching[3] || !r.Touching[4] || len(r.Notes) == 0 {
		t.Errorf("slack %v touching %v notes %v", r.Slack, r.Touching, r.Notes)
	}
	near(t, "column", r.Ends[0][6], -50000, exact)
	near(t, "ux", r.U[6*2], 0, 1e-12)
	// A little wind tips it onto one rod.
	b.force(2, r3.Vec{X: 40}, r3.Vec{})
	r = run(t, &b.s, TensionOnlySecondOrder)
	if r.Slack[3] || !r.Slack[4] {
		t.Errorf("with wind: slack %v %v", r.Slack, r.Notes)
	}
	b = bay()
	b.force(2, r3.Vec{Z: -9e7}, r3.Vec{})
	b.force(3, r3.Vec{Z: -9e7}, r3.Vec{})
	if r := runAny(t, &b.s, TensionOnlySecondOrder); r.Stable {
		t.Error("stands under 90 MN a column")
	}
}

// TestTendsToLinear: with loads scaled down a thousandfold second order is first order, to a share as small.
func TestTendsToLinear(t *testing.T) {
	b := randomFrame(3)
	w := workspace(t, &b.s)
	small := solver.Combination{Terms: []solver.Term{{Case: 0, Factor: 1e-4}}}
	var lin, sec Result
	if err := w.Analyse(&small, Linear, &lin); err != nil {
		t.Fatal(err)
	}
	if err := w.Analyse(&small, SecondOrder, &sec); err != nil || !sec.Stable {
		t.Fatal(err, sec.Notes)
	}
	worst, size := 0.0, 0.0
	for i := range lin.U {
		worst = max(worst, math.Abs(lin.U[i]-sec.U[i]))
		size = max(size, math.Abs(lin.U[i]))
	}
	if worst > 1e-4*size || worst == 0 {
		t.Errorf("difference %g of %g", worst, size)
	}
}

// randomFrame is a three-storey space frame of rigid joints with random loads, releases, springs and offsets.
func randomFrame(seed int) *build {
	b := randomTower(seed)
	els := b.s.Elements[:0]
	for _, e := range b.s.Elements {
		if !e.Bar {
			els = append(els, e)
		}
	}
	b.s.Elements = els
	b.s.Members = b.s.Members[:len(els)]
	for i := range els {
		els[i].Member = i
		b.s.Members[i].Elements[0] = i
		b.s.Members[i].Length = 0
	}
	els[1].ReleaseJ[solver.Mz] = true
	els[3].SpringI[solver.My], els[3].SpringJ[solver.Mz] = 2e6, 3e6
	els[5].OffsetI, els[5].OffsetJ = r3.Vec{Z: 0.1, X: 0.05}, r3.Vec{Z: 0.1}
	els[7].Asy, els[7].Asz = 0.004, 0.005
	b.line(5, 0.5, 2, r3.Vec{Z: -9000}, r3.Vec{Z: -2000, X: 900}, solver.GlobalAxes)
	b.point(7, 1.3, r3.Vec{X: 700, Z: -4000}, r3.Vec{Y: 500, Z: 100}, solver.GlobalAxes)
	b.line(2, 0, 3, r3.Vec{X: -2000, Y: 500}, r3.Vec{X: -1000, Y: 800, Z: 300}, solver.LocalAxes)
	return b
}

// TestRigidArmUnderThrust: a column of length L with a rigid piece a on top that carries P and H: v″ + k²v = k²δ + H(L+a-x)/EI
// with δ = v(L) + a·v'(L), v(0) = v'(0) = 0. The critical load is at tan(kL) = 1/(ak).
func TestRigidArmUnderThrust(t *testing.T) {
	const L, a, H = 4.0, 0.8, 1000.0
	const EI = testE * 2e-5
	make := func(P, H float64) *build {
		var b build
		i, j := b.node(0, 0, 0, all), b.node(0, 0, L+a, "")
		e := b.beam(i, j, ey)
		e.Iy, e.OffsetJ = 1e-3, r3.Vec{Z: -a}
		b.force(j, r3.Vec{Y: H, Z: -P}, r3.Vec{})
		return &b
	}
	kc := solveFor(func(k float64) float64 { return math.Tan(k*L)*a*k - 1 }, 0.01, math.Pi/2/L-1e-9)
	for _, share := range []float64{0.1, 0.6, 0.95} {
		P := share * kc * kc * EI
		k := math.Sqrt(P / EI)
		s, c := math.Sincos(k * L)
		B := H / (P * k)
		A := -B * (s + a*k*c) / (c - a*k*s)
		r := run(t, &make(P, H).s, SecondOrder)
		near(t, "tip", r.U[7], -A-H*(L+a)/P, 1e-6/(1-share))
	}
	modes, _ := buckle(t, &make(1e4, 0).s, Linear, 1)
	near(t, "critical", modes[0].Factor*1e4, kc*kc*EI, 1e-7)
	if r := runAny(t, &make(1.002*kc*kc*EI, H).s, SecondOrder); r.Stable {
		t.Error("stable beyond the critical load")
	}
}

// TestStiffLink: a link a million times stiffer than its neighbours is answered, not refused.
func TestStiffLink(t *testing.T) {
	for _, f := range []float64{1, 1e3, 1e6} {
		var b build
		n := []int{b.node(0, 0, 0, all), b.node(0, 0, 3, ""), b.node(0.2, 0, 3, ""), b.node(5, 0, 3, ""), b.node(5, 0, 0, all)}
		b.beam(n[0], n[1], ey)
		e := b.beam(n[1], n[2], ey)
		e.A, e.Iz, e.Iy, e.It = f*e.A, f*e.Iz, f*e.Iy, f*e.It
		b.beam(n[2], n[3], ey)
		b.beam(n[3], n[4], ey)
		b.force(n[2], r3.Vec{Z: -1000, X: 500}, r3.Vec{})
		r := runAny(t, &b.s, SecondOrder)
		if !r.Stable || r.Residual > 1e-5 {
			t.Errorf("factor %g: stable %v, residual %g, %v", f, r.Stable, r.Residual, r.Notes)
		}
	}
}

// TestLeansUntilRodsBite: in first order a whiff of wind sways the bay less than its rods are slack (their gap is 3/4 of the
// columns' shortening), and the feet's springs hold it. In second order the thrust is beyond what they can hold: it leans on
// until a rod bites, and that rod holds the rest: T·4/5 + 2k·u/h² = H + 2P·u/h. Columns bend (hinged heads), so their own
// bowing adds a little to that.
func TestLeansUntilRodsBite(t *testing.T) {
	const P, h, H, k = 50000.0, 3.0, 0.1, 2e4
	b := bay()
	for e := range 2 {
		el := &b.s.Elements[e]
		el.Bar, el.ReleaseJ[4], el.ReleaseJ[5] = false, true, true
		b.s.Nodes[e].Held[3], b.s.Nodes[e].Held[5] = true, true
		b.s.Nodes[e].Spring[solver.RY] = k
	}
	b.force(2, r3.Vec{Z: -P, X: H}, r3.Vec{})
	b.force(3, r3.Vec{Z: -P}, r3.Vec{})
	lin := run(t, &b.s, TensionOnly)
	if !lin.Slack[3] || !lin.Slack[4] {
		t.Fatalf("first order: slack %v, sway %g", lin.Slack, lin.U[12])
	}
	r := run(t, &b.s, TensionOnlySecondOrder)
	if r.Slack[3] || !r.Slack[4] {
		t.Fatalf("slack %v, notes %v", r.Slack, r.Notes)
	}
	gap := 0.75 * P * h / (testE * 0.01)
	u := r.U[12]
	if u < gap || u > 1.2*gap {
		t.Errorf("sway %g, gap of the rods %g", u, gap)
	}
	near(t, "rod", r.Ends[3][6]*4/5, H+2*P*u/h-2*k*u/(h*h), 0.02)
}
