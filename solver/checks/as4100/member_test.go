package as4100_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"leanbay/solver"
	"leanbay/solver/checks"
	"leanbay/solver/checks/as4100"
)

// held is a restraint of a test member.
func held(x float64, f solver.Flange, k solver.RestraintKind) solver.Restraint {
	return solver.Restraint{Station: x, Flange: f, Kind: k, Source: "test"}
}

// member makes a test member of length l.
func member(t testing.TB, name, grade string, l float64, restraints ...solver.Restraint) *solver.Member {
	t.Helper()
	c := find(t, name, grade)
	return &solver.Member{ID: "beam/1", Section: c.Section, Grade: c.Grade, Length: l, Restraints: restraints}
}

// checker prepares a checker, which must succeed.
func checker(t testing.TB, m *solver.Member, opt as4100.Options) *as4100.Checker {
	t.Helper()
	c, err := code.NewChecker(m, opt)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// uniformLoad is a simply supported span under w (N/m, positive down) with axial force n (tension positive).
func uniformLoad(l, w, n float64) *solver.Diagram {
	return diagram(solver.Forces{solver.N: n, solver.Vy: -w * l / 2}, []load{{l: l, q1: -w, q2: -w}})
}

// of checks one diagram and returns the result of a kind.
func of(c *as4100.Checker, d *solver.Diagram, k as4100.Kind) checks.Result {
	var env as4100.Envelope
	c.Check(d, 3, &env, nil)
	return env.Results[k]
}

// near fails unless got is within tol (relative) of want.
func near(t *testing.T, what string, got, want, tol float64, source string) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s: got %.5g, want %.5g (%s)", what, got, want, source)
	}
}

// TestRafterByHand: 310UB40.4 grade 300, 6 m, M* 60 kN·m from a uniform load.
//
// Held at its ends only: Iy 7.646e6, J 157.1e3, Iw 165e9: pi² E Iy/L² = 419.2 kN, GJ + pi² E Iw/L² = 21.61e9 N·mm², Mo =
// 95.19 kN·m; Ms = 320 x 632.7e3 = 202.5; Ms/Mo 2.127, alpha_s 0.3697; alpha_m = 1.7/sqrt(0.75² + 1 + 0.75²) = 1.166; phi
// Mb = 0.9 x 1.166 x 0.3697 x 202.5 = 78.6; u = 0.763.
//
// With purlins on top every 1.5 m the middle segments have Le 1.5 m: Mo 1027 kN·m, alpha_s 0.9277, quarter points
// 0.8594, 0.9375, 0.9844: alpha_m 1.057, phi Mb 178.7, u = 0.3357. Under uplift the purlins hold the wrong flange.
func TestRafterByHand(t *testing.T) {
	ends := []solver.Restraint{held(0, solver.BothFlanges, 'F'), held(6, solver.BothFlanges, 'F')}
	purlins := append([]solver.Restraint{held(1.5, solver.TopFlange, 'L'), held(3, solver.TopFlange, 'L'), held(4.5, solver.TopFlange, 'L')}, ends...)
	const w = 60e3 * 8 / 36
	bare := checker(t, member(t, "310UB40.4", "300", 6, ends...), as4100.Options{})
	near(t, "bare, down", of(bare, uniformLoad(6, w, 0), as4100.OutOfPlane).Utilisation, 0.763, 0.003, "by hand above")
	roof := checker(t, member(t, "310UB40.4", "300", 6, purlins...), as4100.Options{})
	near(t, "purlins, down", of(roof, uniformLoad(6, w, 0), as4100.OutOfPlane).Utilisation, 0.3357, 0.003, "by hand above")
	near(t, "purlins, uplift", of(roof, uniformLoad(6, -w, 0), as4100.OutOfPlane).Utilisation, 0.763, 0.003, "by hand above")
	near(t, "section", of(roof, uniformLoad(6, w, 0), as4100.SectionCombined).Utilisation, 60/(0.9*202.46), 0.002, "60/(phi Ms)")
	if x := of(roof, uniformLoad(6, w, 0), as4100.SectionCombined).Station; math.Abs(x-3) > 1e-6 {
		t.Errorf("worst section at %g m, by symmetry 3", x)
	}
	near(t, "shear", of(roof, uniformLoad(6, w, 0), as4100.ShearX).Utilisation, 0.2429, 0.001,
		"by hand: V*/(phi Vv) + 1.6 M*/(phi Ms) turns at x/L = 0.4408: (0.0148 + 1.6 x 0.3247)/2.2")
	if r := of(roof, uniformLoad(6, w, 0), as4100.OutOfPlane); r.Combination != 3 {
		t.Errorf("combination %d, given 3", r.Combination)
	}
}

// TestLoadOnTop: kl 1.4 while the top is in compression, 1.0 under uplift (correction 21 of the engineering decisions).
func TestLoadOnTop(t *testing.T) {
	m := member(t, "310UB40.4", "300", 6, held(0, solver.BothFlanges, 'F'), held(6, solver.BothFlanges, 'F'))
	m.TopLoads = 0.5
	c := checker(t, m, as4100.Options{})
	near(t, "Le, top", c.Segments(solver.TopFlange)[0].Le, 8.4, 1e-12, "1.4 x 6")
	near(t, "Le, bottom", c.Segments(solver.BottomFlange)[0].Le, 6, 1e-12, "1.0 x 6")
}

// TestSegments derives segments and classes from restraints.
func TestSegments(t *testing.T) {
	m := member(t, "310UB40.4", "300", 9,
		held(0, solver.BothFlanges, 'F'), held(1.5, solver.TopFlange, 'L'), held(3, solver.TopFlange, 'P'), held(4.5, solver.TopFlange, 'L'),
		held(4.5, solver.BottomFlange, 'L'), held(6, solver.TopFlange, 'F'), held(7.5, solver.TopFlange, 'U'), held(9, solver.BothFlanges, 'P'))
	c := checker(t, m, as4100.Options{})
	text := func(f solver.Flange) string {
		var b strings.Builder
		for _, s := range c.Segments(f) {
			fmt.Fprintf(&b, "%.3g%c%c%.3g ", s.From, s.Ends.I, s.Ends.J, s.To)
		}
		return b.String()
	}
	if got, want := text(solver.TopFlange), "0FL1.5 1.5LP3 3PF4.5 4.5FF6 6FP9 "; got != want {
		t.Errorf("top: %q, by the rules %q", got, want)
	}
	// Bottom: laterals on top count for nothing, P stays P, F of the top counts as P, both flanges held are F.
	if got, want := text(solver.BottomFlange), "0FP3 3PF4.5 4.5FP6 6PP9 "; got != want {
		t.Errorf("bottom: %q, by the rules %q", got, want)
	}
	d1, tf, tw := 304-2*10.2, 10.2, 6.1
	near(t, "kt PP", c.Segments(solver.BottomFlange)[3].Kt, 1+2*(d1/3000)*math.Pow(tf/(2*tw), 3), 1e-9, "Table 5.6.3(1) by hand")
}

// TestTwoRestraintsAtOneSection: two on one flange are no more than the better of them; one on each flange stop twist.
func TestTwoRestraintsAtOneSection(t *testing.T) {
	ends := []solver.Restraint{held(0, solver.BothFlanges, 'F'), held(6, solver.BothFlanges, 'F')}
	for _, c := range []struct {
		a, b solver.Restraint
		want byte // class for the top flange
	}{
		{held(3, solver.TopFlange, 'L'), held(3, solver.TopFlange, 'P'), 'P'},
		{held(3, solver.TopFlange, 'P'), held(3, solver.TopFlange, 'L'), 'P'},
		{held(3, solver.TopFlange, 'L'), held(3.0005, solver.BottomFlange, 'L'), 'F'},
		{held(3, solver.TopFlange, 'P'), held(3, solver.BottomFlange, 'L'), 'F'},
		{held(3, solver.BothFlanges, 'L'), held(3, solver.TopFlange, 'L'), 'L'},
	} {
		m := member(t, "310UB40.4", "300", 6, append([]solver.Restraint{c.a, c.b}, ends...)...)
		if got := checker(t, m, as4100.Options{}).Segments(solver.TopFlange)[0].Ends.J; got != c.want {
			t.Errorf("%v with %v: class %c, by 5.4.2 %c", c.a, c.b, got, c.want)
		}
	}
}

// TestCantilever by hand: 200UB25.4, 2 m, tip load 10 kN down, held F at the root: M* 20, alpha_m 1.25; Iy 3.063e6, J
// 62.73e3, Iw 29.18e9: pi² E Iy/L² = 1511.6 kN, GJ + pi² E Iw/L² = 5.018e9 + 14.40e9, Mo = 171.3; Ms = 320 x 258.8e3 =
// 82.8; Ms/Mo 0.4834, alpha_s 0.789; alpha_m alpha_s = 0.986, phi Mb = 73.5, u = 0.272.
func TestCantilever(t *testing.T) {
	m := member(t, "200UB25.4", "300", 2, held(0, solver.BothFlanges, 'F'))
	d := diagram(solver.Forces{solver.Mz: -20e3, solver.Vy: -10e3}, []load{{l: 2}})
	c := checker(t, m, as4100.Options{})
	near(t, "tip load", of(c, d, as4100.OutOfPlane).Utilisation, 0.272, 0.005, "by hand above")
	loaded := *m
	loaded.TopLoads = 0.1
	top := checker(t, &loaded, as4100.Options{})
	for _, s := range top.Segments(solver.BottomFlange) {
		if s.Critical != solver.TopFlange || s.Le != 4 {
			t.Errorf("free segment: critical flange %d, Le %g; by 5.5.3 the tension flange, by Table 5.6.3(2) 2.0 x 2", s.Critical, s.Le)
		}
	}
}

// TestSwayLength: N* is held against the sway length, the interaction uses the member's own (decision 18).
func TestSwayLength(t *testing.T) {
	m := member(t, "150x150x9.0SHS", "C450L0", 4, held(0, solver.BothFlanges, 'F'), held(4, solver.BothFlanges, 'F'))
	m.EffectiveX = solver.EffectiveLength{Length: 10, Sway: true, Source: "elastic buckling"}
	c := checker(t, m, as4100.Options{})
	n := 200e3
	d := uniformLoad(4, 0, -n)
	near(t, "compression", of(c, d, as4100.Compression).Utilisation, n/(0.9*c.Cap.Nc(as4100.X, 10, nil)), 1e-12, "6.1 with the sway length")
	near(t, "in plane", of(c, d, as4100.InPlane).Utilisation, n/(0.9*c.Cap.Nc(as4100.X, 4, nil)), 1e-12, "8.4.2.2 with ke = 1.0")
	w := &checks.Working{}
	var env as4100.Envelope
	c.Check(d, 0, &env, w)
	var b strings.Builder
	if err := w.WriteText(&b); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"sway length: elastic buckling = 10000 mm", "ke = 1.0, for the interaction = 4000 mm"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("the working lacks %q:\n%s", want, b.String())
		}
	}
}

// TestReverseCurvature by hand: a compact section with kf = 1 in full reverse curvature (beta_m = 1) has Mi = 1.18 Ms
// sqrt(1 - N*/(phi Nc)) <= Mr = 1.18 Ms (1 - n).
func TestReverseCurvature(t *testing.T) {
	m := member(t, "150x150x9.0SHS", "C450L0", 6, held(0, solver.BothFlanges, 'F'), held(6, solver.BothFlanges, 'F'))
	c := checker(t, m, as4100.Options{})
	if c.Cap.Kf != 1 || c.Cap.ClassX != as4100.Compact {
		t.Fatal("the example needs a compact section with kf = 1")
	}
	nc, ms := 0.9*c.Cap.Nc(as4100.X, 6, nil), 0.9*c.Cap.Msx
	// On the surface at v = N/(phi Nc) = 0.5.
	moment := ms * min(1.18*math.Sqrt(0.5), 1.18*(1-0.5*nc/(0.9*c.Cap.Ns)), 1)
	d := diagram(solver.Forces{solver.N: -0.5 * nc, solver.Mz: moment, solver.Vy: 2 * moment / 6}, []load{{l: 6}})
	got := of(c, scaled(d, 1.7), as4100.InPlane)
	near(t, "reverse curvature", got.Utilisation, 1.7, 1e-9, "8.4.2.2, second form")
	single := diagram(solver.Forces{solver.N: -0.5 * nc, solver.Mz: moment}, []load{{l: 6}})
	near(t, "uniform moment", of(c, single, as4100.InPlane).Utilisation, 0.5+moment/ms, 1e-9, "8.4.2.2, first form: v + M*/(phi Ms)")
}

// TestChannelSides: the moment about y that presses the back of the web takes that side's modulus once the toes are
// stated, and the lesser one until then.
func TestChannelSides(t *testing.T) {
	m := member(t, "380PFC55.2", "300", 3, held(0, solver.BothFlanges, 'F'), held(3, solver.BothFlanges, 'F'))
	// By hand: web 345/10 sqrt(280/250) = 36.5 between 30 and 45, Ze = 89.39 + (134.1 - 89.39)(45 - 36.5)/15 = 114.7e3.
	c := find(t, "380PFC55.2", "300")
	near(t, "Zey, web in compression", c.ZeyWeb, 114.7e-6, 0.003, "by hand, 5.2.4")
	d := diagram(solver.Forces{solver.My: 10e3}, []load{{l: 3}}) // +z in tension, -z pressed
	toesPlus := of(checker(t, m, as4100.Options{Toes: as4100.ToesPlusZ}), d, as4100.SectionCombined).Utilisation
	toesMinus := of(checker(t, m, as4100.Options{Toes: as4100.ToesMinusZ}), d, as4100.SectionCombined).Utilisation
	near(t, "web pressed", toesPlus, 10e3/(0.9*280e6*c.ZeyWeb), 1e-9, "5.2.1")
	near(t, "toes pressed", toesMinus, 10e3/(0.9*280e6*c.ZeyToes), 1e-9, "5.2.1")
	near(t, "unstated", of(checker(t, m, as4100.Options{}), d, as4100.SectionCombined).Utilisation, toesPlus, 1e-12, "the lesser")
}

// TestRodsAndAngles: kt at the end, member capacity, own weight.
func TestRodsAndAngles(t *testing.T) {
	rod := checker(t, member(t, "R20", "300", 6), as4100.Options{})
	near(t, "rod", of(rod, uniformLoad(6, 0, 40e3), as4100.Tension).Utilisation, 40/82.47, 0.003, "0.9 x 0.85 x 245 x 440")
	if r := of(rod, uniformLoad(6, 0, 0), as4100.Tension); r.Utilisation != 0 {
		t.Errorf("a slack rod has utilisation %g", r.Utilisation)
	}
	m := member(t, "100x100x8EA", "300", 2)
	angle := checker(t, m, as4100.Options{})
	near(t, "angle by one leg", of(angle, uniformLoad(2, 0, 100e3), as4100.Tension).Utilisation, 100/(0.9*0.85*0.85*1502*0.44), 0.002, "0.85 kt An fu, kt 0.85")
	near(t, "angle in compression", of(angle, uniformLoad(2, 0, -50e3), as4100.Compression).Utilisation, 50e3/(0.9*angle.Cap.Nc(as4100.Y, 2, nil)), 1e-12, "principal minor axis")
	with, without := of(angle, uniformLoad(2, 300, -50e3), as4100.SectionCombined), of(angle, uniformLoad(2, 0, -50e3), as4100.SectionCombined)
	if !(with.Utilisation > without.Utilisation) {
		t.Errorf("own weight must count: %+v, %+v", with, without)
	}
}

// TestTorsion adds the shear stresses of a hollow section.
func TestTorsion(t *testing.T) {
	m := member(t, "200x100x5.0RHS", "C350L0", 3, held(0, solver.BothFlanges, 'F'), held(3, solver.BothFlanges, 'F'))
	c := checker(t, m, as4100.Options{})
	d := diagram(solver.Forces{solver.Vy: -50e3}, []load{{l: 3, t: 5e3}})
	near(t, "torsion with shear", of(c, d, as4100.Torsion).Utilisation, 5e3/(0.9*c.Cap.Mz)+50e3/(0.9*c.Cap.Vvx), 1e-12, "sum of shares")
}

// TestBadMembers: what cannot be checked is an error that says what to do; NaN in a diagram is the caller's mistake.
func TestBadMembers(t *testing.T) {
	good := func() *solver.Member {
		return member(t, "310UB40.4", "300", 6, held(0, solver.BothFlanges, 'F'), held(6, solver.BothFlanges, 'F'))
	}
	for name, c := range map[string]struct {
		spoil func(*solver.Member)
		opt   as4100.Options
		want  string
	}{
		"no section":     {func(m *solver.Member) { m.Section = nil }, as4100.Options{}, "no section"},
		"no length":      {func(m *solver.Member) { m.Length = 0 }, as4100.Options{}, "length 0"},
		"off the member": {func(m *solver.Member) { m.Restraints[1].Station = 7 }, as4100.Options{}, "off the member"},
		"unknown class":  {func(m *solver.Member) { m.Restraints[1].Kind = 'X' }, as4100.Options{}, "classes are F, P, L, U"},
		"nothing holds":  {func(m *solver.Member) { m.Restraints[0].Kind, m.Restraints[1].Kind = 'U', 'L' }, as4100.Options{}, "give the ends their restraint"},
		"three ends":     {func(*solver.Member) {}, as4100.Options{EndsHeld: 3}, "a segment has two"},
		"no grade":       {func(m *solver.Member) { m.Grade.Fy = 0 }, as4100.Options{}, "no yield"},
	} {
		m := good()
		c.spoil(m)
		if _, err := code.NewChecker(m, c.opt); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one with %q", name, err, c.want)
		}
	}
	defer func() {
		if p := recover(); p == nil || !strings.Contains(p.(string), "NaN") {
			t.Errorf("NaN in the diagram: %v", p)
		}
	}()
	var env as4100.Envelope
	checker(t, good(), as4100.Options{}).Check(uniformLoad(6, math.NaN(), 0), 0, &env, nil)
}

// TestMomentFactorBounds: alpha_m stays between its bounds for any moments.
func TestMomentFactorBounds(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 2000 {
		v := func() float64 { return 2*r.Float64() - 1 }
		if a := as4100.AlphaMQuarter(v(), v(), v(), v()); a < 1 || a > 2.5 {
			t.Fatalf("alpha_m %g", a)
		}
		if a := code.AlphaMCantilever(v(), v(), v()); a < 0.25-1e-12 || a > 2.25+1e-12 {
			t.Fatalf("cantilever alpha_m %g", a)
		}
		if a := as4100.AlphaMLinear(v()); a < 0.99 || a > 2.5 {
			t.Fatalf("linear alpha_m %g", a)
		}
	}
}

// TestMoreCompressionNeverHelps: the member checks grow with compression.
func TestMoreCompressionNeverHelps(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 4))
	for range 150 {
		c := checker(t, randomMember(t, r), as4100.Options{})
		d := randomDiagram(c, r)
		more := scaled(d, 1)
		for i := range more.Pieces {
			more.Pieces[i].N[0] -= 0.05 * c.Cap.Ns
		}
		for _, k := range []as4100.Kind{as4100.Compression, as4100.InPlane} {
			if u, v := of(c, d, k).Utilisation, of(c, more, k).Utilisation; v < u-1e-12 {
				t.Fatalf("%s kind %d: %.9g falls to %.9g", c.Cap.Section.Name, k, u, v)
			}
		}
	}
}

// TestLengthsFromRestraints: a channel held sideways at 2 and 5 m of 9 (top flange only, L) and against twist at 5 m: Ley
// is 4 m (5 to 9), the torsional length 5 m (0 to 5), Lex the member's 9 m; being braced about the minor axis it is also
// held to flexural-torsional buckling.
func TestLengthsFromRestraints(t *testing.T) {
	m := member(t, "250PFC35.5", "300", 9, held(0, solver.BothFlanges, 'F'), held(2, solver.TopFlange, 'L'), held(5, solver.BottomFlange, 'P'), held(9, solver.BothFlanges, 'F'))
	c := checker(t, m, as4100.Options{})
	k := c.Cap
	least := min(k.Nc(as4100.X, 9, nil), k.Nc(as4100.Y, 5, nil), k.NcTorsional(9, 5, nil)) // one flange alone does not hold a channel's centroid
	near(t, "three lengths", of(c, uniformLoad(9, 0, -100e3), as4100.Compression).Utilisation, 100e3/(0.9*least), 1e-12, "6.3.3 and its note")
	// Held only at its ends the channel buckles about y, and the note does not apply.
	bare := checker(t, member(t, "250PFC35.5", "300", 3, held(0, solver.BothFlanges, 'F'), held(3, solver.BothFlanges, 'F')), as4100.Options{})
	near(t, "ends only", of(bare, uniformLoad(3, 0, -100e3), as4100.Compression).Utilisation, 100e3/(0.9*k.Nc(as4100.Y, 3, nil)), 1e-12, "6.3.3")
	// Short, with y held closely: flexural-torsional buckling governs, below both flexural capacities.
	close := member(t, "250PFC35.5", "300", 4, held(0, solver.BothFlanges, 'F'), held(1, solver.BothFlanges, 'L'), held(2, solver.BothFlanges, 'L'), held(3, solver.BothFlanges, 'L'), held(4, solver.BothFlanges, 'F'))
	near(t, "torsion governs", of(checker(t, close, as4100.Options{}), uniformLoad(4, 0, -100e3), as4100.Compression).Utilisation, 100e3/(0.9*k.NcTorsional(4, 4, nil)), 1e-12, "6.3.3 note")
	if !(k.NcTorsional(4, 4, nil) < min(k.Nc(as4100.X, 4, nil), k.Nc(as4100.Y, 1, nil))) {
		t.Error("the example no longer shows what it says")
	}
}

// TestTubeTorsion: in a tube the shears of both directions meet at one point: resultant of 30 and 40 kN.
func TestTubeTorsion(t *testing.T) {
	m := member(t, "168.3x4.8CHS", "C350L0", 3)
	c := checker(t, m, as4100.Options{})
	d := diagram(solver.Forces{solver.Vy: 30e3, solver.Vz: 40e3}, []load{{l: 3, t: 2e3}})
	near(t, "tube", of(c, d, as4100.Torsion).Utilisation, 2e3/(0.9*c.Cap.Mz)+50e3/(0.9*0.36*350e6*c.Cap.Section.Props.A), 1e-9, "by hand")
}

// TestSecondFormOutOfPlane by hand, 8.4.4.1, 200UB29.8 (compact, kf 1; fy 320, Ag 3820, Ix 29.1e6, Iy 3.86e6, J 105e3, Iw
// 37.6e9, Sx 316e3), 3 m, held F at both ends only, N* 200 kN, moment at one end (beta_m 0): phi Ncy 549 (lambda_n 106.7,
// alpha_c 0.499), Noz = (8.40e9 + 8.25e9)/8628 = 1929, Mo 118.7, Ms 101.1, alpha_s 0.647, Mbxo 65.4. 1/alpha_bc = 0.5 +
// 0.125 (0.4 - 0.23 x 0.364) = 0.5395; Mox = 1.8535 x 65.4 sqrt(0.6357 x 0.8848) = 90.9 kN·m, against 101.1 x 0.6357 =
// 64.3 by the first form: phi Mox 81.8.
func TestSecondFormOutOfPlane(t *testing.T) {
	m := member(t, "200UB29.8", "300", 3, held(0, solver.BothFlanges, 'F'), held(3, solver.BothFlanges, 'F'))
	c := checker(t, m, as4100.Options{})
	d := func(moment float64) *solver.Diagram {
		return diagram(solver.Forces{solver.N: -200e3, solver.Mz: moment, solver.Vy: moment / 3}, []load{{l: 3}})
	}
	r := of(c, d(81.8e3), as4100.OutOfPlane)
	near(t, "on the limit", r.Utilisation, 1, 0.006, "by hand above")
	// A load across the member closes the form: moment and axial force add.
	across := diagram(solver.Forces{solver.N: -200e3, solver.Mz: 81.8e3, solver.Vy: 81.8e3 / 3}, []load{{l: 3, q1: -1, q2: -1}})
	if with := of(c, across, as4100.OutOfPlane).Utilisation; with < 1.2 {
		t.Errorf("with a load across: %g, by the first form N*/(phi Ncy) + M*/(phi Mbx) = 1.26", with)
	}
	// Uniform moment: alpha_bc is 1, and the root of the product is above either factor.
	even := diagram(solver.Forces{solver.N: -200e3, solver.Mz: 40e3}, []load{{l: 3}})
	u := of(c, even, as4100.OutOfPlane).Utilisation
	k := c.Cap
	on := math.Sqrt((1-200e3/u/(0.9*k.Nc(as4100.Y, 3, nil)))*(1-200e3/u/(0.9*k.Noz(3)))) * 0.9 * k.Mb(3, 1, nil)
	near(t, "uniform moment, radial", 40e3/u, on, 1e-6, "8.4.4.1, second form, at the actions divided by u")
}

// TestOneFlangeHeld: a 310UB40.4 of 8 m whose top flange alone is held every 2 m. Elastic loads by hand: flexure between
// restraints pi² 200e3 x 7.65e6/2000² = 3775 kN; torsion about the axis at 152 mm: (80e3 x 157e3 + pi² 200e3 (165e9 +
// 7.65e6 x 152²)/8000²)/(129² + 38.3² + 152²) = (12.56e9 + 10.54e9)/41212 = 560 kN, above pi² E Iy/8000² = 236.
func TestOneFlangeHeld(t *testing.T) {
	ends := []solver.Restraint{held(0, solver.BothFlanges, 'F'), held(8, solver.BothFlanges, 'F')}
	m := member(t, "310UB40.4", "300", 8, append(ends, held(2, solver.TopFlange, 'L'), held(4, solver.TopFlange, 'L'), held(6, solver.TopFlange, 'L'))...)
	c := checker(t, m, as4100.Options{})
	ln := 90 * math.Sqrt(c.Cap.Ns/560e3)
	got := of(c, uniformLoad(8, 0, -100e3), as4100.Compression).Utilisation
	near(t, "torsion about the flange", got, 100e3/(0.9*as4100.AlphaC(ln, 0)*c.Cap.Ns), 0.01, "by hand above")
	bare := of(checker(t, member(t, "310UB40.4", "300", 8, ends...), as4100.Options{}), uniformLoad(8, 0, -100e3), as4100.Compression).Utilisation
	m.Restraints = append(m.Restraints, held(2, solver.BottomFlange, 'L'), held(4, solver.BottomFlange, 'L'), held(6, solver.BottomFlange, 'L'))
	both := of(checker(t, m, as4100.Options{}), uniformLoad(8, 0, -100e3), as4100.Compression).Utilisation
	if !(both < got && got < bare) {
		t.Errorf("held at both flanges %g, at one %g, at none %g: each is to be above the one before", both, got, bare)
	}
}
