package as4100_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"leanbay/solver"
	"leanbay/solver/checks/as4100"
)

// TestAngleBending by hand for 100x100x8EA (t 7.8, fy 320; from the size list c 27.5, Imax 2.266e6, Imin 0.5819e6): leg
// 92.2/7.8 x 1.131 = 13.37 between 9 and 25. About x: Z = 2.266e6/70.71 = 32.05e3, S 50.96e3 (sharp corners), Zc = 1.5 Z =
// 48.07e3, Ze = 32.05 + 16.02 (25 - 13.37)/16 = 43.69e3, Msx = 13.98. About y: Z = 0.5819e6/(27.5 sqrt 2) = 14.96e3, Zc =
// 1.5 Z = 22.44e3 (thin legs: S = A b/(4 sqrt 2) = 26.6e3): heel pressed 7.18, toes pressed Ze = 14.96 + 7.48 x 0.7269 =
// 20.40e3, 6.53 kN·m.
func TestAngleBending(t *testing.T) {
	c := find(t, "100x100x8EA", "300")
	near(t, "Msx", c.Msx/1e3, 13.98, 0.003, "by hand above")
	near(t, "Msy, toes", c.MsyToes/1e3, 6.53, 0.005, "by hand above")
	near(t, "Msy, heel", c.MsyWeb/1e3, 7.18, 0.005, "by hand above")
	if c.ClassX != as4100.NonCompact || c.ClassY != as4100.NonCompact {
		t.Errorf("classes %s, %s; by Table 5.2 non-compact", c.ClassX, c.ClassY)
	}
	// 5.6.1.3, 1.5 m: Mo = (pi/1500) sqrt(200e3 x 0.5819e6 x 80e3 x 32.1e3) = 36.21, Ms/Mo 0.3861, alpha_s 0.8331.
	near(t, "Mb", c.Mb(1.5, 1, nil)/1e3, 0.8331*13.98, 0.005, "5.6.1.3 by hand")
}

// TestAngleByOneLeg by hand, 8.4.6, the same angle, 1.5 m: e = 27.5 - 3.9 = 23.6 mm; rh = sqrt(1.424e6/1502) = 30.79,
// lambda_n 55.12, alpha_a 20.59, lambda 65.41, eta 0.1692, xi 1.6067, alpha_c 0.7770: Nch = 373.5; Mbx 11.65: member
// 1/(1/373.5 + 0.0236 sqrt 2/11.65) = 180.4 kN. Section: Mx = My = N e/sqrt 2: 1/(1/480.6 + 0.01669 (1/13.98 + 1/6.53)) =
// 171.5 kN, which governs.
func TestAngleByOneLeg(t *testing.T) {
	c := find(t, "100x100x8EA", "300")
	near(t, "one leg", c.OneLeg(1.5, nil)/1e3, 171.5, 0.006, "by hand above")
	m := member(t, "100x100x8EA", "300", 1.5)
	m.Role = solver.RoleWallBrace
	k := checker(t, m, as4100.Options{})
	r := of(k, uniformLoad(1.5, 0, -100e3), as4100.EccentricEnds)
	near(t, "100 kN by one leg", r.Utilisation, 100/(0.9*171.5), 0.006, "by hand above")
	if pulled := of(k, uniformLoad(1.5, 0, 100e3), as4100.EccentricEnds); pulled.Utilisation != 0 {
		t.Errorf("tension by one leg: %+v; kt of Table 7.3.2 accounts for it", pulled)
	}
}

// TestAngleAxes: a moment about an axis along a leg is M/sqrt 2 about each principal axis (5.7.2), whichever way the
// second leg points; moments about both legs' axes add about one principal axis for the worse way.
func TestAngleAxes(t *testing.T) {
	m := member(t, "100x100x8EA", "300", 1.5)
	c := checker(t, m, as4100.Options{})
	ends := func(mz, my float64) *solver.Diagram {
		return diagram(solver.Forces{solver.Mz: mz, solver.My: my}, []load{{l: 1.5}})
	}
	phi := 0.9
	x, y := phi*c.Cap.Msx, phi*c.Cap.MsyToes
	near(t, "about one leg", of(c, ends(1e3, 0), as4100.SectionCombined).Utilisation, 1e3/math.Sqrt2*(1/x+1/y), 1e-9, "8.3.4")
	near(t, "about the other", of(c, ends(0, 1e3), as4100.SectionCombined).Utilisation, 1e3/math.Sqrt2*(1/x+1/y), 1e-9, "8.3.4")
	near(t, "about both", of(c, ends(1e3, 1e3), as4100.SectionCombined).Utilisation, 1e3*math.Sqrt2/y, 1e-9, "all about the minor axis, which one way of the leg brings")
	near(t, "turned round", of(c, ends(1e3, -1e3), as4100.SectionCombined).Utilisation, 1e3*math.Sqrt2/y, 1e-9, "the same by symmetry")
}

// TestStatedEccentricity: a square tube whose cleats pull 50 mm off its centroid, by the linear sum.
func TestStatedEccentricity(t *testing.T) {
	m := member(t, "89x89x3.5SHS", "C350L0", 4, held(0, solver.BothFlanges, 'F'), held(4, solver.BothFlanges, 'F'))
	m.EndEccentricity = 0.050
	c := checker(t, m, as4100.Options{})
	k := c.Cap
	for _, n := range []float64{-30e3, 30e3} {
		axial := 30e3 / (0.9 * k.Nt)
		if n < 0 {
			axial = 30e3 / (0.9 * k.Nc(as4100.Y, 4, nil))
		}
		near(t, "off the centroid", of(c, uniformLoad(4, 0, n), as4100.EccentricEnds).Utilisation, axial+30e3*0.05/(0.9*k.Msy()), 1e-9, "N*/(phi N) + N* e/(phi Msy)")
	}
	m.EndEccentricity = 0
	if r := of(checker(t, m, as4100.Options{}), uniformLoad(4, 0, -30e3), as4100.EccentricEnds); r.Utilisation != 0 {
		t.Errorf("concentric: %+v", r)
	}
}

// TestAngleAgainstFullWorking: for random angles and forces the bound is never below the result, the result by bound
// and search equals that with working, and turning the member end for end changes nothing.
func TestAngleAgainstFullWorking(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 4))
	names := []string{"50x50x3EA", "75x75x5EA", "100x100x8EA", "150x150x12EA"}
	for range 60 {
		m := member(t, names[r.IntN(len(names))], "300", 1+2*r.Float64())
		m.Role = solver.RoleStrut
		c := checker(t, m, as4100.Options{})
		s := func(v float64) float64 { return v * (2*r.Float64() - 1) }
		ms := c.Cap.Msy()
		d := diagram(solver.Forces{solver.N: s(0.5 * c.Cap.Ns), solver.Mz: s(ms), solver.My: s(ms), solver.Vy: s(ms / m.Length), solver.Vz: s(ms / m.Length)}, []load{{l: m.Length}})
		var env as4100.Envelope
		c.Check(d, 0, &env, nil)
		var x as4100.Maxima
		for _, st := range d.Extremes(nil) {
			f := st.Forces
			x.Tension, x.Compression = math.Max(x.Tension, f[solver.N]), math.Max(x.Compression, -f[solver.N])
			x.Vy, x.Vz = math.Max(x.Vy, math.Abs(f[solver.Vy])), math.Max(x.Vz, math.Abs(f[solver.Vz]))
			x.Mx[0], x.Mx[1] = math.Max(x.Mx[0], f[solver.Mz]), math.Max(x.Mx[1], -f[solver.Mz])
			x.My[0], x.My[1] = math.Max(x.My[0], f[solver.My]), math.Max(x.My[1], -f[solver.My])
		}
		if b, u := c.Bound(x), env.Governing().Utilisation; b < u*(1-1e-9) {
			t.Errorf("%s: bound %g below %g (%s)", m.Section.Name, b, u, env.Governing().Name)
		}
	}
}
