package asnzs4600

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"

	"leanbay/catalog"
	"leanbay/solver/checks"
)

// TestPurlinByHand: a C20015 over 6 m, one bridging row, 1.2 m spacing, 1.0 kPa of suction and 0.9 of its own weight.
//
// Source: by hand with published properties and buckling stresses (Ag 555.2 mm², Ix 3.525e6, Iy 0.3963e6 mm4, J 416 mm4,
// Iw 3.07e9 mm6, x0 51.6 mm, Zx 34.73e3 mm³, fol 293, fod 234 MPa): segment 3 m, Cb 12.5/9.625 = 1.2987, Mo 10.178,
// My 15.629, Mbe 9.958, Mbl 8.525, Mbd 9.482; q = 1.2 - 0.9·4.36·9.81/1000 = 1.1615 kN/m, M* = q·36/8 = 5.227 kN·m,
// utilisation 5.227/(0.9·8.525) = 0.681; service 0.6 kPa: 5qL⁴/384EI = 17.23 mm against 40 mm.
func TestPurlinByHand(t *testing.T) {
	n := Need{Role: "purlin", Span: 6, Spacing: 1.2, Bridging: 1, Outward: 1000, ServiceOut: 600, Deflect: 150}
	run, err := n.Run()
	if err != nil {
		t.Fatal(err)
	}
	out, err := New().CheckRun(run, resist(t, "C20015"), nil)
	if err != nil {
		t.Fatal(err)
	}
	near1(t, "utilisation", out.Utilisation, 0.681, 0.01)
	if out.Governing.Name != "bending and axial force" || out.Mark != FiniteStrip {
		t.Errorf("governing %q, mark %q", out.Governing.Name, out.Mark)
	}
	near1(t, "station", out.Governing.Station, 3, 1e-6)
	near1(t, "demand", out.Governing.Demand, 5226.8, 0.002)
	for _, q := range out.Results {
		if q.Name == "deflection" {
			near1(t, "deflection", math.Abs(q.Demand), 0.01723, 0.002)
			near1(t, "deflection utilisation", q.Utilisation, 0.4309, 0.002)
		}
	}
	near1(t, "reaction", out.Reactions[1][0], -1161.5*3, 0.002)
	near1(t, "mass", out.Mass, 6*4.36, 0.002)
}

// TestLapEnd: in a lapped run the section beyond the lap takes moment and shear alone; just inside, half. The check of
// bending with shear must find the lap's end.
func TestLapEnd(t *testing.T) {
	n := Need{Role: "purlin", Span: 8, Spans: 3, Continuous: true, Lap: 1.2, Spacing: 1.2, Bridging: 2, Inward: 1800, SheetHolds: true}
	run, err := n.Run()
	if err != nil {
		t.Fatal(err)
	}
	c := New()
	r := resist(t, "Z20019")
	out, err := c.CheckRun(run, r, nil)
	if err != nil {
		t.Fatal(err)
	}
	var shear checks.Result
	for _, q := range out.Results {
		if q.Name == "bending and shear" {
			shear = q
		}
	}
	// The same by the beam alone, at the ends of the laps.
	b := &Beam{Spans: []float64{8, 8, 8}, Lap: 1.2, EI: 200e9 * r.Section.Props.Ix}
	resp, err := b.Solve([]LineLoad{{0, 24, 1800*1.2 + 1.2*Gravity*r.Section.Props.Mass}})
	if err != nil {
		t.Fatal(err)
	}
	want, at := 0.0, false
	for _, x := range []float64{7.4, 8.6, 15.4, 16.6} {
		want = max(want, math.Hypot(resp.Moment(x)/(0.9*min(r.Msl[Top], r.Msl[Bottom])), resp.Shear(x)/(0.9*r.Vv)))
		at = at || math.Abs(shear.Station-x) < 1e-6
	}
	if !at {
		t.Errorf("bending with shear governs at %g m, want a lap's end (7.4, 8.6, 15.4 or 16.6)", shear.Station)
	}
	near1(t, "bending and shear at the lap's end", shear.Utilisation, want, 1e-6)
}

// TestRunDirections: more bridging, a held flange and laps never make a run worse; R replaces the lateral analysis only
// where its conditions hold.
func TestRunDirections(t *testing.T) {
	c := New()
	u := func(n Need, change func(*Run)) float64 {
		t.Helper()
		run, err := n.Run()
		if err != nil {
			t.Fatal(err)
		}
		if change != nil {
			change(run)
		}
		out, err := c.CheckRun(run, resist(t, "C20019"), nil)
		if err != nil {
			t.Fatal(err)
		}
		return out.Utilisation
	}
	base := Need{Role: "purlin", Span: 7, Spacing: 1.2, Inward: 800, Outward: 1200}
	bare := u(base, nil)
	one, two := base, base
	one.Bridging, two.Bridging = 1, 2
	if a, b := u(one, nil), u(two, nil); !(bare > a && a > b) {
		t.Errorf("utilisation with 0, 1, 2 bridging rows: %.3f, %.3f, %.3f", bare, a, b)
	}
	held := base
	held.SheetHolds, held.Outward = true, 0
	free := base
	free.Outward = 0
	if a, b := u(held, nil), u(free, nil); !(a < b) {
		t.Errorf("held flange %.3f, free %.3f", a, b)
	}
	strut := one
	strut.Strut = 15e3
	if a, b := u(strut, nil), u(one, nil); !(a > b) {
		t.Errorf("with axial force %.3f, without %.3f", a, b)
	}
	r := &Sheeting{ScrewFastened: true, PanSpacing: 0.19, Thickness: 0.48e-3, Spans: 1, Bridging: 1, SpanRatio: 1}
	uplift := one
	uplift.Inward = 0
	run := func(x *Run) { x.Sheeting = r }
	with := u(uplift, run)
	m := c.at(PhiBending) * 0.85 * resist(t, "C20019").Ms[Bottom]
	q := 1.2*1200 - 0.9*Gravity*find(t, "C20019").Props.Mass
	near1(t, "R 0.85 of the section's moment", with, q*49/8/m, 1e-6)
	zed := resist(t, "Z20019")
	turned := *r
	turned.Spans = 1
	x, _ := uplift.Run()
	x.Sheeting = &turned
	out, err := c.CheckRun(x, zed, nil)
	if err != nil {
		t.Fatal(err)
	}
	m = c.at(PhiBending) * 0.85 * min(zed.Ms[Top], zed.Ms[Bottom])
	q = 1.2*1200 - 0.9*Gravity*zed.Section.Props.Mass
	near1(t, "R 0.85 of a zed's weaker flange", out.Utilisation, q*49/8/m, 1e-6)
}

// TestStrutKeepsItsOwnRule: with axial force the R-factor changes nothing, and a refused R is an error.
func TestStrutKeepsItsOwnRule(t *testing.T) {
	c := New()
	n := Need{Role: "purlin", Span: 6, Spacing: 1.2, Outward: 900, Strut: 10e3}
	run, _ := n.Run()
	run.Cases = run.Cases[2:] // the strut cases
	a, err := c.CheckRun(run, resist(t, "C20019"), nil)
	if err != nil {
		t.Fatal(err)
	}
	run.Sheeting = &Sheeting{ScrewFastened: true, PanSpacing: 0.19, Thickness: 0.48e-3, Spans: 1, SpanRatio: 1}
	b, err := c.CheckRun(run, resist(t, "C20019"), nil)
	if err != nil || a.Utilisation != b.Utilisation {
		t.Errorf("strut with R %.4f, without %.4f, %v", b.Utilisation, a.Utilisation, err)
	}
	n.Strut = 0
	run, _ = n.Run()
	run.Sheeting = &Sheeting{ClipFixed: true, Spans: 1}
	if _, err := c.CheckRun(run, resist(t, "C20019"), nil); err == nil || !strings.Contains(err.Error(), "refused") {
		t.Errorf("clip-fixed: %v", err)
	}
}

// TestWorkingChangesNothing: with a recorder every figure is the same, and the governing check's steps are there.
func TestWorkingChangesNothing(t *testing.T) {
	c := New()
	rng := rand.New(rand.NewPCG(1, 2))
	for _, name := range []string{"C15015", "Z20019"} {
		for range 20 {
			n := randomNeed(rng)
			run, err := n.Run()
			if err != nil {
				t.Fatal(err)
			}
			a, err := c.CheckRun(run, resist(t, name), nil)
			if err != nil {
				t.Fatal(err)
			}
			var w checks.Working
			b, err := c.CheckRun(run, resist(t, name), &w)
			if err != nil || a.Utilisation != b.Utilisation || a.Governing != b.Governing || len(w.Steps) == 0 {
				t.Errorf("%s: %.6f without working, %.6f with, %v", name, a.Utilisation, b.Utilisation, err)
			}
		}
	}
	var w checks.Working
	s := find(t, "Z20019")
	b, _ := stock.Get(s)
	if r := c.Resist(b, s.Grades[0], &w); r.Ns != resist(t, "Z20019").Ns || len(w.Steps) < 20 {
		t.Errorf("working of section capacities: %d steps", len(w.Steps))
	}
}

// randomNeed draws a plausible need.
func randomNeed(rng *rand.Rand) Need {
	return Need{Role: "purlin", Span: 3 + 6*rng.Float64(), Spans: 1 + rng.IntN(4), Continuous: rng.IntN(2) == 0, Lap: 0.9 * rng.Float64(),
		Spacing: 0.9 + 0.6*rng.Float64(), Bridging: rng.IntN(3), SheetHolds: rng.IntN(2) == 0, Slope: 0.3 * rng.Float64(),
		Inward: 1500 * rng.Float64(), Outward: 2000 * rng.Float64(), EdgeOutward: 3000 * rng.Float64(), Edge: 2 * rng.Float64(), Along: 100 * rng.Float64(),
		Strut: 20e3 * float64(rng.IntN(2)) * rng.Float64(), Tie: 20e3 * float64(rng.IntN(2)) * rng.Float64(),
		ServiceIn: 700 * rng.Float64(), ServiceOut: 900 * rng.Float64(), ServiceOwn: 1, Deflect: 150}
}

// sizes are the embedded lipped channels and zeds.
func sizes() []*catalog.Section {
	l := catalog.Default()
	return append(l.ByFamily(catalog.C), l.ByFamily(catalog.Z)...)
}

// TestLightest: the answer complies and no lighter section of the list does; more load never gives a lighter one; a need
// that nothing passes is said so; many goroutines get the same answers as one.
func TestLightest(t *testing.T) {
	c := New()
	table := NewTable(c, stock, sizes())
	rng := rand.New(rand.NewPCG(8, 8))
	var needs []Need
	for range 25 {
		needs = append(needs, randomNeed(rng))
	}
	for _, n := range needs {
		out, err := table.Lightest(n)
		if err != nil {
			if !errors.Is(err, ErrNonePasses) || out == nil || out.Complies() {
				t.Fatal(err)
			}
			continue
		}
		run, _ := n.Run()
		for _, s := range table.list {
			if s == out.Section {
				break
			}
			other, err := c.CheckRun(run, resist(t, s.Name), nil)
			if err != nil || other.Complies() {
				t.Errorf("%s is lighter than %s and passes too (%v)", s.Name, out.Section.Name, err)
			}
		}
		more := n
		more.Outward, more.Inward, more.EdgeOutward = 1.3*n.Outward, 1.3*n.Inward, 1.3*n.EdgeOutward
		if heavier, err := table.Lightest(more); err == nil && heavier.Section.Props.Mass < out.Section.Props.Mass {
			t.Errorf("30 %% more pressure: %s instead of %s", heavier.Section.Name, out.Section.Name)
		}
	}
	again := NewTable(c, stock, sizes())
	var wg sync.WaitGroup
	for i := range 4 {
		wg.Go(func() {
			for j := range needs {
				n := needs[(j*7+i*5)%len(needs)]
				a, errA := again.Lightest(n)
				b, errB := table.Lightest(n)
				if (errA == nil) != (errB == nil) || a.Section != b.Section || a.Utilisation != b.Utilisation {
					t.Errorf("%+v: %s and %s", n, a.Section.Name, b.Section.Name)
				}
			}
		})
	}
	wg.Wait()
	if _, err := table.Lightest(Need{Role: "purlin", Span: 12, Spacing: 3, Outward: 5000}); !errors.Is(err, ErrNonePasses) {
		t.Errorf("12 m at 15 kN/m: %v", err)
	}
	if _, err := table.Lightest(Need{Role: "purlin", Span: -1, Spacing: 3}); err == nil || errors.Is(err, ErrNonePasses) {
		t.Errorf("negative span: %v", err)
	}
}

// TestAnalyseRefuses: hollow and hot-rolled sections have no buckling curve here, and the message says so.
func TestAnalyseRefuses(t *testing.T) {
	if _, err := Analyse(find(t, "200x100x5.0RHS")); err == nil || !strings.Contains(err.Error(), "not a cold-formed lipped") {
		t.Errorf("hollow section: %v", err)
	}
}

// FuzzNeed: any need gives a run that is checked with finite figures, or an error.
func FuzzNeed(f *testing.F) {
	f.Add(6.0, 3, true, 0.9, 1.2, 1, 0.2, 800.0, 1200.0, 1800.0, 1.5, 10e3, 150.0)
	f.Add(4.9, 1, false, 0.0, 1.5, 0, 1.5707963, 900.0, 900.0, 0.0, 0.0, 0.0, 150.0)
	f.Add(0.0, -1, true, -1.0, math.Inf(1), -3, math.NaN(), math.NaN(), -1.0, 1.0, -1.0, 1.0, 0.0)
	c := New()
	f.Fuzz(func(t *testing.T, span float64, spans int, continuous bool, lap, spacing float64, bridging int, slope, in, out, edgeOut, edge, strut, deflect float64) {
		if spans > 12 || bridging > 12 {
			return
		}
		n := Need{Role: "purlin", Span: span, Spans: spans, Continuous: continuous, Lap: lap, Spacing: spacing, Bridging: bridging, Slope: slope,
			Inward: in, Outward: out, EdgeOutward: edgeOut, Edge: edge, Strut: strut, ServiceIn: in / 2, ServiceOut: out / 2, Deflect: deflect}
		run, err := n.Run()
		if err != nil {
			return
		}
		o, err := c.CheckRun(run, resist(t, "C15015"), nil)
		if err != nil {
			return
		}
		if math.IsNaN(o.Utilisation) || o.Utilisation < 0 {
			t.Fatalf("utilisation %g of %+v", o.Utilisation, n)
		}
	})
}

func BenchmarkCheckRun(b *testing.B) {
	n := Need{Role: "purlin", Span: 5.2, Spans: 5, Continuous: true, Lap: 0.8, Spacing: 1.2, Bridging: 1, Slope: 0.2, Inward: 700, Outward: 1300, EdgeOutward: 2000,
		Edge: 1.6, Along: 60, Strut: 8e3, ServiceIn: 300, ServiceOut: 700, ServiceOwn: 1, Deflect: 150}
	run, err := n.Run()
	if err != nil {
		b.Fatal(err)
	}
	r := resist(b, "Z15015")
	c := New()
	for b.Loop() {
		if _, err := c.CheckRun(run, r, nil); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkStock analyses every embedded channel and zed: the start of every brief's table.
func BenchmarkStock(b *testing.B) {
	for b.Loop() {
		k := NewStock()
		for _, s := range sizes() {
			if _, err := k.Get(s); err != nil {
				b.Fatal(err)
			}
		}
	}
}
