package as4100_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"leanbay/catalog"
	"leanbay/solver"
	"leanbay/solver/checks"
	"leanbay/solver/checks/as4100"
)

// load is one piece of a test diagram: length, transverse loads varying linearly (N/m along local y and z), axial load.
type load struct {
	l                float64
	q1, q2, z1, z2   float64
	axial, pointY, t float64
}

// diagram integrates pieces from the forces at the member's start: dN/dx = -axial, dVy/dx = -q, dMz/dx = -Vy,
// dMy/dx = +Vz (signs of solver.Forces); pointY jumps Vy at the piece's start.
func diagram(start solver.Forces, loads []load) *solver.Diagram {
	d := &solver.Diagram{}
	f, x := start, 0.0
	for _, p := range loads {
		f[solver.Vy] -= p.pointY
		piece := solver.Piece{X: x, L: p.l, T: p.t}
		piece.N = [3]float64{f[solver.N], -p.axial * p.l, 0}
		piece.Vy = [3]float64{f[solver.Vy], -p.q1 * p.l, -(p.q2 - p.q1) * p.l / 2}
		piece.Vz = [3]float64{f[solver.Vz], -p.z1 * p.l, -(p.z2 - p.z1) * p.l / 2}
		piece.Mz.Len, piece.My.Len = 4, 4
		piece.Mz.C[0], piece.My.C[0] = f[solver.Mz], f[solver.My]
		for k := range 3 {
			piece.Mz.C[k+1] = -piece.Vy[k] * p.l / float64(k+1)
			piece.My.C[k+1] = piece.Vz[k] * p.l / float64(k+1)
		}
		d.Pieces = append(d.Pieces, piece)
		f = piece.Forces(1)
		x += p.l
	}
	d.Length = x
	return d
}

// reversed is the same state of the same steel, with the member's start at its other end and the same y.
func reversed(d *solver.Diagram) *solver.Diagram {
	out := &solver.Diagram{Length: d.Length}
	for i := len(d.Pieces) - 1; i >= 0; i-- {
		p := d.Pieces[i]
		q := solver.Piece{X: d.Length - p.X - p.L, L: p.L, T: p.T}
		// ξ -> 1 - ξ; z turns round, so that Vz and My keep their sense on the other side: Vy and My change sign.
		flip := func(c []float64, sign float64) (r [4]float64) {
			var a [4]float64
			copy(a[:], c)
			r[0] = sign * (a[0] + a[1] + a[2] + a[3])
			r[1] = -sign * (a[1] + 2*a[2] + 3*a[3])
			r[2] = sign * (a[2] + 3*a[3])
			r[3] = -sign * a[3]
			return r
		}
		n, vy, vz := flip(p.N[:], 1), flip(p.Vy[:], -1), flip(p.Vz[:], 1)
		copy(q.N[:], n[:3])
		copy(q.Vy[:], vy[:3])
		copy(q.Vz[:], vz[:3])
		mz, my := flip(p.Mz.C[:4], 1), flip(p.My.C[:4], -1)
		q.Mz.Len, q.My.Len = 4, 4
		copy(q.Mz.C[:], mz[:])
		copy(q.My.C[:], my[:])
		out.Pieces = append(out.Pieces, q)
	}
	return out
}

// scaled multiplies every force by s.
func scaled(d *solver.Diagram, s float64) *solver.Diagram {
	out := &solver.Diagram{Length: d.Length, Pieces: append([]solver.Piece(nil), d.Pieces...)}
	for i := range out.Pieces {
		p := &out.Pieces[i]
		for k := range 3 {
			p.N[k] *= s
			p.Vy[k] *= s
			p.Vz[k] *= s
		}
		p.T *= s
		for k := range p.Mz.C {
			p.Mz.C[k] *= s
			p.My.C[k] *= s
		}
	}
	return out
}

// randomMember draws a member with restraints and effective lengths.
func randomMember(t testing.TB, r *rand.Rand) *solver.Member {
	names := [][2]string{{"360UB44.7", "300"}, {"250UB37.3", "300"}, {"180UB16.1", "300"}, {"200x100x4.0RHS", "C350L0"}, {"150x150x9.0SHS", "C450L0"},
		{"150x50x2.0RHS", "C450L0"}, {"168.3x4.8CHS", "C350L0"}, {"250PFC35.5", "300"}, {"100x100x8EA", "300"}, {"200UB29.8", "300"}}
	n := names[r.IntN(len(names))]
	c := find(t, n[0], n[1])
	m := &solver.Member{ID: "rafter/3/A-ridge", Section: c.Section, Grade: c.Grade, Length: 2 + 8*r.Float64()}
	if r.IntN(2) == 0 {
		m.TopLoads = 0.5 + 2*r.Float64()
	}
	if r.IntN(3) == 0 {
		m.EndEccentricity = 0.1 * r.Float64()
	}
	end := solver.RestraintKind("FP"[r.IntN(2)])
	m.Restraints = append(m.Restraints, solver.Restraint{Station: 0, Flange: solver.BothFlanges, Kind: end, Source: "knee"},
		solver.Restraint{Station: m.Length, Flange: solver.BothFlanges, Kind: solver.RestraintF, Source: "ridge"})
	for x := 1.2; x < m.Length-0.3; x += 1.2 {
		m.Restraints = append(m.Restraints, solver.Restraint{Station: x, Flange: solver.TopFlange, Kind: solver.RestraintKind("LP"[r.IntN(2)]), Source: "purlin"})
		if r.IntN(3) == 0 {
			m.Restraints = append(m.Restraints, solver.Restraint{Station: x, Flange: solver.BottomFlange, Kind: solver.RestraintL, Source: "fly brace"})
		}
	}
	switch r.IntN(3) {
	case 0:
		m.EffectiveX = solver.EffectiveLength{Length: 2.3 * m.Length, Sway: true, Source: "elastic buckling"}
	case 1:
		m.EffectiveX = solver.EffectiveLength{Length: 0.85 * m.Length, Source: "given"}
	}
	return m
}

// randomDiagram draws loads and start forces that suit the member's capacities.
func randomDiagram(c *as4100.Checker, r *rand.Rand) *solver.Diagram {
	k, l := c.Cap, c.Member.Length
	ms := k.Section.Props.Zx * k.Fy
	msy := k.Section.Props.Zy * k.Fy
	s := func() float64 { return 2*r.Float64() - 1 }
	start := solver.Forces{solver.N: 0.5 * s() * k.Ns, solver.Vy: 2 * s() * ms / l, solver.Mz: 0.6 * s() * ms, solver.My: 0.3 * s() * msy, solver.Vz: 0.4 * s() * msy / l}
	if r.IntN(3) == 0 {
		start[solver.My], start[solver.Vz] = 0, 0
	}
	var loads []load
	n := 1 + r.IntN(4)
	for range n {
		p := load{l: l / float64(n), t: 0.01 * s() * ms, axial: 0.05 * s() * k.Ns / l}
		if r.IntN(4) > 0 {
			p.q1, p.q2, p.pointY = 4*s()*ms/(l*l), 4*s()*ms/(l*l), s()*ms/l
			if start[solver.Vz] != 0 {
				p.z1 = s() * msy / (l * l)
			}
		}
		loads = append(loads, p)
	}
	return diagram(start, loads)
}

// TestWorkingEqualsFastValue: over random members and combinations, the screened envelope equals the worst of unscreened
// checks with working, kind by kind and bit by bit, and the last line of the working of each kind is the result.
func TestWorkingEqualsFastValue(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 1))
	compared := 0
	for range 150 {
		c, err := code.NewChecker(randomMember(t, r), as4100.Options{Toes: as4100.Toes(r.IntN(3))})
		if err != nil {
			t.Fatal(err)
		}
		var fast, slow as4100.Envelope
		for comb := range 12 {
			d := randomDiagram(c, r)
			c.Check(d, comb, &fast, nil)
			w := &checks.Working{}
			var one as4100.Envelope
			c.Check(d, comb, &one, w)
			for k := range one.Results {
				if one.Results[k].Utilisation > slow.Results[k].Utilisation {
					slow.Results[k] = one.Results[k]
				}
				if one.Results[k].Utilisation > 0 && !recorded(w, one.Results[k].Utilisation) {
					t.Fatalf("%s: %s: utilisation %g is not in the working", c.Cap.Section.Name, one.Results[k].Name, one.Results[k].Utilisation)
				}
			}
		}
		for k := range fast.Results {
			if fast.Results[k].Utilisation != slow.Results[k].Utilisation || fast.Results[k].Combination != slow.Results[k].Combination {
				t.Fatalf("%s, %s: fast %+v\nworking %+v", c.Cap.Section.Name, as4100.Checks()[k].Name, fast.Results[k], slow.Results[k])
			}
			compared++
		}
	}
	t.Logf("%d results compared", compared)
}

// recorded reports whether some step has the value v.
func recorded(w *checks.Working, v float64) bool {
	for _, s := range w.Steps {
		if s.Value == v {
			return true
		}
	}
	return false
}

// widen takes forces into greatest actions.
func widen(x *as4100.Maxima, f *solver.Forces) {
	x.Tension, x.Compression = max(x.Tension, f[solver.N]), max(x.Compression, -f[solver.N])
	x.Vy, x.Vz, x.T = max(x.Vy, math.Abs(f[solver.Vy])), max(x.Vz, math.Abs(f[solver.Vz])), max(x.T, math.Abs(f[solver.T]))
	x.Mx[0], x.Mx[1] = max(x.Mx[0], f[solver.Mz]), max(x.Mx[1], -f[solver.Mz])
	x.My[0], x.My[1] = max(x.My[0], f[solver.My]), max(x.My[1], -f[solver.My])
}

// TestWorst: the worst result of a diagram is what governs its envelope, bit by bit, above any floor; nothing is at its own.
func TestWorst(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 13))
	for range 300 {
		c, err := code.NewChecker(randomMember(t, r), as4100.Options{})
		if err != nil {
			t.Fatal(err)
		}
		d := randomDiagram(c, r)
		var env as4100.Envelope
		c.Check(d, 7, &env, nil)
		want := env.Governing()
		for _, floor := range []float64{0, 0.5 * want.Utilisation, 0.999 * want.Utilisation} {
			got := c.Worst(d, 7, floor)
			if fmt.Sprint(got) != fmt.Sprint(want) { // a place may be none, which equals nothing
				t.Fatalf("%s: above %g %+v, governing %+v", c.Cap.Section.Name, floor, got, want)
			}
		}
		if got := c.Worst(d, 7, want.Utilisation); got.Name != "" {
			t.Fatalf("%s: %+v is not above %g", c.Cap.Section.Name, got, want.Utilisation)
		}
	}
}

// TestBound: the bound from greatest actions is never below the governing utilisation, and is that of all checks in the list.
func TestBound(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 2))
	for range 300 {
		c, err := code.NewChecker(randomMember(t, r), as4100.Options{})
		if err != nil {
			t.Fatal(err)
		}
		d := randomDiagram(c, r)
		var x as4100.Maxima
		for i := range d.Pieces {
			for k := range 401 {
				f := d.Pieces[i].Forces(float64(k) / 400)
				widen(&x, &f)
			}
		}
		var env as4100.Envelope
		c.Check(d, 0, &env, nil)
		if b, u := c.Bound(x), env.Governing().Utilisation; b < u*(1-1e-4) {
			t.Fatalf("%s: bound %g below utilisation %g", c.Cap.Section.Name, b, u)
		} else if all := c.BoundOfList(); all != b {
			t.Fatalf("%s: bound %g, of the list %g", c.Cap.Section.Name, b, all)
		}
	}
}

// TestBoundGrows: a bound of greater actions is no smaller, so that the greatest of several combinations bound them all. Actions may be
// none, for which some kinds have nothing to say.
func TestBoundGrows(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 14))
	some := func(size float64) float64 { return max(0, r.Float64()-0.3) * size }
	for range 2000 {
		m := randomMember(t, r)
		c, err := code.NewChecker(m, as4100.Options{})
		if err != nil {
			t.Fatal(err)
		}
		ns, ms, my := c.Cap.Ns, c.Cap.Msx, c.Cap.Msy()
		draw := func() as4100.Maxima {
			return as4100.Maxima{Tension: some(ns), Compression: some(ns), Vy: some(ns), Vz: some(ns), T: some(my),
				Mx: [2]float64{some(ms), some(ms)}, My: [2]float64{some(my), some(my)}}
		}
		a, b := draw(), draw()
		both := as4100.Maxima{Tension: max(a.Tension, b.Tension), Compression: max(a.Compression, b.Compression), Vy: max(a.Vy, b.Vy), Vz: max(a.Vz, b.Vz), T: max(a.T, b.T)}
		for i := range both.Mx {
			both.Mx[i], both.My[i] = max(a.Mx[i], b.Mx[i]), max(a.My[i], b.My[i])
		}
		if all := c.Bound(both); all < c.Bound(a)*(1-1e-12) || all < c.Bound(b)*(1-1e-12) {
			t.Fatalf("%s: %g and %g apart, %g together: %+v, %+v", m.Section.Name, c.Bound(a), c.Bound(b), all, a, b)
		}
	}
}

// TestPrepareServes: a checker that was prepared for another member, or for this one before something about it changed, says what a new one
// says, in all results and bounds.
func TestPrepareServes(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 16))
	var c as4100.Checker
	changes := []func(m *solver.Member){
		func(m *solver.Member) {},
		func(m *solver.Member) { m.Length += 0.05 },
		func(m *solver.Member) { m.TopLoads += 3 },
		func(m *solver.Member) { m.EndEccentricity += 0.02 },
		func(m *solver.Member) { m.EffectiveX = solver.EffectiveLength{Length: 3 * m.Length, Sway: true} },
		func(m *solver.Member) { m.EffectiveY = solver.EffectiveLength{Length: 2 * m.Length, Sway: true} },
		func(m *solver.Member) { m.Role = solver.RoleStrut },
		func(m *solver.Member) { m.Restraints[len(m.Restraints)/2].Station += 0.1 },
		func(m *solver.Member) { m.Restraints[0].Kind = solver.RestraintP },
		func(m *solver.Member) { m.Restraints[1].Flange = solver.BottomFlange },
		func(m *solver.Member) { m.Restraints = m.Restraints[:len(m.Restraints)-1] },
	}
	for range 40 {
		m := randomMember(t, r)
		for _, change := range changes {
			change(m)
			fresh, err := code.NewChecker(m, as4100.Options{})
			if err != nil {
				continue // the end that is left without restraint
			}
			for _, opt := range []as4100.Options{{}, {EndsHeld: 2}} {
				if opt.EndsHeld > 0 {
					if fresh, err = code.NewChecker(m, opt); err != nil {
						t.Fatal(err)
					}
				}
				if err := c.Prepare(fresh.Cap, m, opt); err != nil {
					t.Fatal(err)
				}
				d := randomDiagram(fresh, r)
				x := as4100.Maxima{Tension: 1e5, Compression: 2e5, Vy: 3e4, Mx: [2]float64{3e4, 2e4}, My: [2]float64{0, 2e3}}
				if got, want := fmt.Sprint(c.Worst(d, 3, 0), c.Bound(x), c.Reach()), fmt.Sprint(fresh.Worst(d, 3, 0), fresh.Bound(x), fresh.Reach()); got != want {
					t.Fatalf("%s: %s, a new checker %s", m.Section.Name, got, want)
				}
			}
		}
	}
}

// TestBoundNear: with the moments near the ends as well the bound is never below the governing utilisation nor above the bound without them,
// and closer for some members that end in a short free segment; these random ones bend as much there as elsewhere.
func TestBoundNear(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 15))
	closer, free := 0, 0
	for range 400 {
		m := randomMember(t, r)
		for i := range m.Restraints {
			if e := &m.Restraints[i]; e.Station == 0 && r.IntN(2) == 0 || e.Station == m.Length {
				*e = solver.Restraint{Station: math.Abs(e.Station - 0.1*r.Float64()), Flange: solver.BothFlanges, Kind: solver.RestraintP, Source: "purlin with fly brace"}
			}
		}
		c, err := code.NewChecker(m, as4100.Options{})
		if err != nil {
			t.Fatal(err)
		}
		d, reach := randomDiagram(c, r), c.Reach()
		var x, none as4100.Maxima
		ends := [2]as4100.Maxima{}
		for i := range d.Pieces {
			p := &d.Pieces[i]
			for k := range 401 {
				f, at := p.Forces(float64(k)/400), p.X+float64(k)/400*p.L
				widen(&x, &f)
				if at <= reach[0] {
					widen(&ends[0], &f)
				}
				if at >= m.Length-reach[1] {
					widen(&ends[1], &f)
				}
			}
		}
		for end, l := range [2]float64{reach[0], m.Length - reach[1]} { // where the reach ends between two of these
			if f := d.At(l); reach[end] > 0 {
				widen(&ends[end], &f)
			}
		}
		var env as4100.Envelope
		c.Check(d, 0, &env, nil)
		wide, b, u := c.Bound(x), c.BoundNear(x, [2][2]float64{ends[0].Mx, ends[1].Mx}), env.Governing().Utilisation
		if b < u*(1-1e-4) || b > wide*(1+1e-9) {
			t.Fatalf("%s: bounds %g and %g of utilisation %g", m.Section.Name, b, wide, u)
		}
		if c.BoundNear(none, [2][2]float64{}) != 0 {
			t.Fatalf("%s: a bound of nothing", m.Section.Name)
		}
		if reach != [2]float64{} {
			free++
			if b < 0.95*wide {
				closer++
			}
		}
	}
	t.Logf("of %d members with short free segments at their ends %d are bounded closer by a twentieth and more", free, closer)
	if free < 100 || 20*closer < free {
		t.Errorf("of %d members with short free segments at their ends %d are bounded closer", free, closer)
	}
}

// TestBoundAlong: the bound from greatest actions and moments along the member is never below the governing utilisation nor above
// the bound from greatest actions alone, and mostly closer where lateral buckling governs.
func TestBoundAlong(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 12))
	closer, lateral := 0, 0
	for range 400 {
		c, err := code.NewChecker(randomMember(t, r), as4100.Options{})
		if err != nil {
			t.Fatal(err)
		}
		d := randomDiagram(c, r)
		var x as4100.Maxima
		var along []solver.Moment
		for i := range d.Pieces {
			p := &d.Pieces[i]
			bend := 0.0
			for k := range 401 {
				f := p.Forces(float64(k) / 400)
				widen(&x, &f)
				if k%100 == 0 {
					along = append(along, solver.Moment{X: p.X + float64(k)/400*p.L, Mz: f[solver.Mz]})
				}
			}
			for k := 2; k < p.Mz.Len; k++ { // |M''|h²/8 with h a quarter of the piece
				bend += float64(k*(k-1)) * math.Abs(p.Mz.C[k])
			}
			for k := len(along) - 5; k < len(along); k++ {
				along[k].Off = bend/128 + 1e-9*math.Abs(x.Mx[0]+x.Mx[1])
			}
		}
		var env as4100.Envelope
		c.Check(d, 0, &env, nil)
		wide, b, u := c.Bound(x), c.BoundAlong(x, along), env.Governing()
		if b < u.Utilisation*(1-1e-4) || b > wide*(1+1e-3) {
			t.Fatalf("%s: bounds %g and %g of utilisation %g", c.Cap.Section.Name, b, wide, u.Utilisation)
		}
		x.Mx[0], x.Mx[1] = 1.5*x.Mx[0], 2*x.Mx[1] // of which moments along the member tell that they are less
		if far := c.BoundAlong(x, along); far < u.Utilisation*(1-1e-4) || far > c.Bound(x)*(1+1e-9) {
			t.Fatalf("%s: bounds %g and %g of utilisation %g with greater moments", c.Cap.Section.Name, far, c.Bound(x), u.Utilisation)
		}
		if u.Name == as4100.Checks()[as4100.OutOfPlane].Name || u.Name == as4100.Checks()[as4100.Biaxial].Name {
			lateral++
			if b < 0.95*wide {
				closer++
			}
		}
	}
	t.Logf("of %d members that lateral buckling governs, %d are bounded closer by a twentieth and more", lateral, closer)
	if lateral < 50 || 3*closer < lateral {
		t.Errorf("of %d members that lateral buckling governs, %d are bounded closer", lateral, closer)
	}
}

// TestGoverningStationIsExact compares the section check with dense sampling of the diagram.
func TestGoverningStationIsExact(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 3))
	worst := 0.0
	for range 200 {
		m := randomMember(t, r)
		if m.Section.Family == "EA" {
			continue
		}
		c, err := code.NewChecker(m, as4100.Options{})
		if err != nil {
			t.Fatal(err)
		}
		d := randomDiagram(c, r)
		var env as4100.Envelope
		c.Check(d, 0, &env, nil)
		k := as4100.Interaction{C: c.Cap, Nt: c.Cap.Tension(code.DefaultKt(m.Section.Family), nil), Msy: c.Cap.Msy()}
		dense := 0.0
		for i := range d.Pieces {
			for j := range 501 {
				f := d.Pieces[i].Forces(float64(j) / 500)
				dense = max(dense, k.Section(as4100.Actions{N: -f[solver.N], Mx: math.Abs(f[solver.Mz]), My: math.Abs(f[solver.My])}, nil).Radial)
			}
		}
		got := env.Results[as4100.SectionCombined].Utilisation
		if got < dense*(1-1e-7) || got > dense*1.002 {
			t.Fatalf("%s: found %.9g, dense sampling %.9g", m.Section.Name, got, dense)
		}
		worst = max(worst, got/dense-1)
	}
	t.Logf("at most %.2g above sampling at 500 points a piece", worst)
}

// TestSecondOrderCurves: with many terms (a beam-column's M = M0 cos kx + c sin kx under N and a weak sideways moment) the
// worst station agrees with dense sampling, in both forms of 8.3.4.
func TestSecondOrderCurves(t *testing.T) {
	for _, name := range [][2]string{{"310UB40.4", "300"}, {"200x100x4.0RHS", "C350L0"}} {
		m := member(t, name[0], name[1], 5, held(0, solver.BothFlanges, 'F'), held(5, solver.BothFlanges, 'F'))
		c := checker(t, m, as4100.Options{})
		ms, msy := c.Cap.Msx, c.Cap.Msy()
		d := &solver.Diagram{Length: 5, Pieces: []solver.Piece{{L: 5, N: [3]float64{-0.2 * c.Cap.Ns, 0.1 * c.Cap.Ns, 0}}}}
		p := &d.Pieces[0]
		fill := func(curve *solver.Curve, k, m0, c0 float64) { // series of m0 cos kξ + c0 sin kξ
			curve.Len = 24
			term := 1.0
			for i := range curve.Len {
				if i > 0 {
					term *= k / float64(i)
				}
				sign := [4]float64{1, 1, -1, -1}[i%4]
				if i%2 == 0 {
					curve.C[i] = sign * m0 * term
				} else {
					curve.C[i] = sign * c0 * term
				}
			}
		}
		fill(&p.Mz, 1.9, 0.3*ms, 0.35*ms)
		fill(&p.My, 2.4, 0.1*msy, -0.2*msy)
		k := as4100.Interaction{C: c.Cap, Nt: c.Cap.Nt, Msy: msy}
		dense, at := 0.0, 0.0
		for i := range 20001 {
			f := p.Forces(float64(i) / 20000)
			if u := k.Section(as4100.Actions{N: -f[solver.N], Mx: math.Abs(f[solver.Mz]), My: math.Abs(f[solver.My])}, nil).Radial; u > dense {
				dense, at = u, float64(i)/4000
			}
		}
		got := of(c, d, as4100.SectionCombined)
		if math.Abs(got.Utilisation/dense-1) > 1e-7 || math.Abs(got.Station-at) > 0.01 {
			t.Errorf("%s: %.9g at %.4f m, dense sampling %.9g at %.4f m", name[0], got.Utilisation, got.Station, dense, at)
		}
	}
}

// TestReversedMember: the direction in which a member is drawn does not matter.
func TestReversedMember(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 4))
	for range 200 {
		m := randomMember(t, r)
		opt := as4100.Options{Toes: as4100.Toes(r.IntN(3))}
		c, err := code.NewChecker(m, opt)
		if err != nil {
			t.Fatal(err)
		}
		back := *m
		back.Restraints = nil
		for _, x := range m.Restraints {
			x.Station = m.Length - x.Station
			back.Restraints = append(back.Restraints, x)
		}
		opt.Toes = []as4100.Toes{as4100.ToesUnstated, as4100.ToesMinusZ, as4100.ToesPlusZ}[opt.Toes]
		b, err := code.NewChecker(&back, opt)
		if err != nil {
			t.Fatal(err)
		}
		d := randomDiagram(c, r)
		var e1, e2 as4100.Envelope
		c.Check(d, 0, &e1, nil)
		b.Check(reversed(d), 0, &e2, nil)
		for k := range e1.Results {
			u, v := e1.Results[k].Utilisation, e2.Results[k].Utilisation
			if math.Abs(u-v) > 1e-7*(u+v) {
				t.Fatalf("%s %s: %.12g, reversed %.12g", m.Section.Name, as4100.Checks()[k].Name, u, v)
			}
		}
	}
}

// TestScaledToTheLimit: dividing all actions by a check's utilisation brings that check to 1.
func TestScaledToTheLimit(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 5))
	for range 200 {
		c, err := code.NewChecker(randomMember(t, r), as4100.Options{})
		if err != nil {
			t.Fatal(err)
		}
		d := randomDiagram(c, r)
		var env as4100.Envelope
		c.Check(d, 0, &env, nil)
		for k, x := range env.Results {
			if x.Utilisation == 0 {
				continue
			}
			var on as4100.Envelope
			c.Check(scaled(d, 1/x.Utilisation), 0, &on, nil)
			if got := on.Results[k].Utilisation; math.Abs(got-1) > 1e-6 {
				t.Fatalf("%s %s: at the limit %.9g", c.Cap.Section.Name, x.Name, got)
			}
		}
	}
}

// TestHingesHaveNoRatio: moments at the hinges of a strut that are next to nothing have no ratio: whether they bend it in single or reverse
// curvature does not show in what it is used to. They count where they are moments: beta_m is 1 in reverse curvature (AS 4100 8.4.2.2).
func TestHingesHaveNoRatio(t *testing.T) {
	r := rand.New(rand.NewPCG(71, 72))
	shows := 0
	for range 400 {
		m := randomMember(t, r)
		if m.Section.Family != catalog.SHS { // the shape of moments matters to lateral buckling too
			continue
		}
		m.EndEccentricity, m.TopLoads = 0, 0
		c, err := code.NewChecker(m, as4100.Options{})
		if err != nil {
			t.Fatal(err)
		}
		squash := -0.6 * c.Cap.Ns * r.Float64()
		use := func(atI, atJ float64) float64 {
			d := diagram(solver.Forces{solver.N: squash, solver.Mz: atI, solver.Vy: (atI - atJ) / m.Length}, []load{{l: m.Length}})
			var env as4100.Envelope
			c.Check(d, 0, &env, nil)
			return env.Governing().Utilisation
		}
		least := 1e-7 * c.Cap.Msx
		if single, reverse := use(least, least), use(least, -least); math.Abs(single-reverse) > 1e-9*single {
			t.Errorf("%s of %.2f m under %.0f N: %.12g in single curvature, %.12g in reverse, with moments of %g N·m at its hinges", m.Section.Name, m.Length, squash, single, reverse, least)
		}
		if use(1e6*least, 1e6*least) > use(1e6*least, -1e6*least)*(1+1e-3) {
			shows++
		}
	}
	if shows < 10 {
		t.Errorf("only %d members are used less in reverse curvature: the test shows little", shows)
	}
}

// TestCheckAllocatesNothing holds the inner loop to no allocation, once the diagram and the checker have grown.
func TestCheckAllocatesNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	for range 20 {
		m := randomMember(t, r)
		c, err := code.NewChecker(m, as4100.Options{})
		if err != nil {
			t.Fatal(err)
		}
		d := randomDiagram(c, r)
		var env as4100.Envelope
		c.Check(d, 0, &env, nil)
		if n := testing.AllocsPerRun(20, func() {
			env.Reset()
			c.Check(d, 0, &env, nil)
		}); n != 0 {
			t.Errorf("%s: Check allocates %g times", m.Section.Name, n)
		}
		k := c.Cap
		if n := testing.AllocsPerRun(20, func() {
			if err := c.Prepare(k, m, as4100.Options{}); err != nil {
				t.Fatal(err)
			}
		}); n != 0 {
			t.Errorf("%s: Prepare allocates %g times", m.Section.Name, n)
		}
	}
}

// BenchmarkCheck times a full check of one diagram, and one that the envelope screens out.
func BenchmarkCheck(b *testing.B) {
	r := rand.New(rand.NewPCG(6, 7))
	m := randomMember(b, r)
	c, err := code.NewChecker(m, as4100.Options{})
	if err != nil {
		b.Fatal(err)
	}
	d := randomDiagram(c, r)
	var env as4100.Envelope
	b.Run("full", func(b *testing.B) {
		for b.Loop() {
			env.Reset()
			c.Check(d, 0, &env, nil)
		}
	})
	small := scaled(d, 0.2)
	b.Run("screened", func(b *testing.B) {
		for b.Loop() {
			c.Check(small, 0, &env, nil)
		}
	})
	b.Run("prepare", func(b *testing.B) {
		for b.Loop() {
			_ = c.Prepare(c.Cap, m, as4100.Options{})
		}
	})
	b.Run("capacity", func(b *testing.B) {
		for b.Loop() {
			if _, err := code.New(m.Section, m.Grade); err != nil {
				b.Fatal(err)
			}
		}
	})
	_ = fmt.Sprint(env.Governing().Utilisation)
}
