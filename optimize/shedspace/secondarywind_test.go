package shedspace

import (
	"context"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"leanbay/model/actions"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/optimize"
	"leanbay/solver/checks/asnzs4600"
)

// windSpace is an example whose secondaries may be sized for some factors on the site wind speed.
func windSpace(t *testing.T, name string, factors []float64, objectives ...string) *Problem {
	t.Helper()
	b := *example(t, name).Brief
	b.Freedoms.SecondaryWind = factors
	p, err := New(&b, objectives...)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestSecondaryWindOnlyWhenAsked: the decision is there where the brief names factors or wind reserve is an objective, and
// nowhere else; the site's own wind is its first option and leaves the key of a design as it is without the decision.
func TestSecondaryWindOnlyWhenAsked(t *testing.T) {
	for _, x := range []struct {
		factors    []float64
		objectives []string
		want       []string
	}{
		{nil, nil, nil},
		{[]float64{1}, []string{"mass", "wind reserve"}, nil},
		{[]float64{1.1, 1}, nil, []string{"for the site wind", "for 1.10 times the site wind"}},
		{nil, []string{"mass", "wind reserve"}, []string{"for the site wind", "for 1.05 times the site wind", "for 1.10 times the site wind",
			"for 1.15 times the site wind", "for 1.20 times the site wind"}},
	} {
		p := windSpace(t, "kit", x.factors, x.objectives...)
		var got []string
		for i := range p.genes {
			if p.genes[i].Name == "secondaries sized" {
				got = p.genes[i].Options
			}
		}
		if !slices.Equal(got, x.want) {
			t.Errorf("factors %v, objectives %v: options %q, want %q", x.factors, x.objectives, got, x.want)
		}
		plain := example(t, "kit")
		at, _ := plain.Encode(plain.Drawn)
		d, _ := plain.Decode(at)
		here, _ := p.Encode(p.Drawn)
		e, _ := p.Decode(here)
		if plain.Key(d) != p.Key(e) || strings.Contains(p.Key(e), "site wind") {
			t.Errorf("factors %v: key %q, without the decision %q", x.factors, p.Key(e), plain.Key(d))
		}
		if e.SecondaryWind = 1.1; !strings.Contains(p.Key(e), ";secondaries for 1.10 times the site wind;") {
			t.Errorf("key %q", p.Key(e))
		}
	}
}

// TestSecondariesByWind: purlins, girts, jambs and lintels do not get lighter as the wind that they are sized for grows, what was
// chosen for 1.10 times the wind passes in a shed whose site has that wind, and some of what was chosen for the site's own
// does not.
func TestSecondariesByWind(t *testing.T) {
	const factor = 1.1
	p := windSpace(t, "kit", []float64{1.05, factor, 1.15, 1.2})
	d := *p.Drawn
	r := p.NewReviewer()
	windy := func(wind float64) (worst float64, where string) {
		d.SecondaryWind = wind
		q, e, err := r.under("windy", p.Brief, func(s *actions.Site) { blowHarder(s, factor) }, &d)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range q.setupOf(e).secondaries.Results {
			if s.Utilisation > worst {
				worst, where = s.Utilisation, s.Member
			}
		}
		return worst, where
	}
	spans := map[spacings]bool{}
	for _, sp := range p.allSpacings() {
		spans[spacings{purlin: sp.purlin, girt: sp.girt}] = true
	}
	heavier := false
	for sp := range spans {
		d.PurlinSpacing, d.GirtSpacing = sp.purlin, sp.girt
		if u, where := windy(factor); u > 1 {
			t.Errorf("%v: sized for %.2f times the wind, %s is used %.4f in it", sp, factor, where, u)
		}
		if u, _ := windy(0); u <= 1 {
			t.Errorf("%v: what is sized for the site's wind passes at %.2f times it", sp, factor)
		}
		last := 0.0
		for _, w := range p.secondaryWinds() {
			d.SecondaryWind = w
			sec := &p.setupOf(&d).secondaries
			kg := p.Shed.Build(&d).Mass(sec.Sections)
			mass := kg.Secondary + kg.Openings
			if mass < last {
				t.Errorf("%v: secondaries %s weigh %.1f kg, for less wind %.1f kg", sp, shed.SecondaryWindText(w), mass, last)
			}
			heavier = heavier || last > 0 && mass > last
			last = mass
			for _, s := range sec.Results {
				if strings.HasSuffix(s.Member, shed.SecondaryWindText(w)) != (w > 0) || s.Utilisation > 1 {
					t.Errorf("%v: %s is used %.3f", sp, s.Member, s.Utilisation)
				}
			}
		}
	}
	if !heavier {
		t.Error("no spacing takes heavier secondaries for more wind")
	}
}

// TestSecondaryWindPressures: pressures go with the square of the speed (AS/NZS 1170.2:2021, 2.4.1), so every wind on a girt
// and on a jamb grows by 1.21 for 1.10 times the speed, in strength and in service.
func TestSecondaryWindPressures(t *testing.T) {
	p := windSpace(t, "kit", []float64{1.1})
	grown := func(what string, a, b asnzs4600.Need) {
		for _, x := range [][2]float64{{a.Inward, b.Inward}, {a.Outward, b.Outward}, {a.ServiceIn, b.ServiceIn}, {a.ServiceOut, b.ServiceOut}} {
			if x[0] <= 0 || math.Abs(x[1]/x[0]-1.21) > 1e-9 {
				t.Errorf("%s: %.4f Pa at the site, %.4f Pa for 1.10 times its wind", what, x[0], x[1])
			}
		}
	}
	const girt = 1.2
	var walls [2]envelope
	var frames [2]framing
	for i, w := range []float64{0, 1.1} {
		var err error
		if walls[i], err = p.windOn(p.bench, p.Shed.GirtSpans(girt), w); err != nil {
			t.Fatal(err)
		}
		if frames[i], err = p.framings(p.bench, girt, w); err != nil {
			t.Fatal(err)
		}
	}
	grown("girt", p.girtNeed(walls[0], girt), p.girtNeed(walls[1], girt))
	for i := range frames[0].jambs {
		grown(frames[0].jambs[i].name, frames[0].jambs[i].need, frames[1].jambs[i].need)
	}
}

// TestSecondaryWindBounds holds the space with the decision to what the engine is promised, bounds of points and of branches with
// the wind left open among it.
func TestSecondaryWindBounds(t *testing.T) {
	b := *kitSpace(t).Brief
	b.Freedoms.SecondaryWind = []float64{1.1, 1.2}
	p, err := New(&b)
	if err != nil {
		t.Fatal(err)
	}
	if err := optimize.Verify(context.Background(), p, 1, 12); err != nil {
		t.Error(err)
	}
	at := slices.IndexFunc(p.genes, func(g gene) bool { return g.Name == "secondaries sized" })
	if at != 2 {
		t.Fatalf("the wind of secondaries is decision %d", at)
	}
	ctx, e, ranked := context.Background(), p.NewEvaluator(), 0
	for _, d := range randomDesigns(p, 24) {
		pt, _ := p.Encode(d)
		s, err := e.Evaluate(ctx, pt, p.Key(d))
		if err != nil {
			t.Fatal(err)
		}
		if s.Class != ClassRanked { // bounds are of designs that can be on a front
			continue
		}
		ranked++
		kg := s.Objectives[0]
		for fixed := range len(pt) + 1 {
			if got := p.BoundPartial(pt, fixed).Objectives[0]; !math.IsInf(got, 1) && got > kg {
				t.Errorf("first %d genes of %v bound %.3f kg, the design has %.3f kg", fixed, pt, got, kg)
			}
		}
	}
	if ranked == 0 {
		t.Error("no design was ranked")
	}
	all, err := optimize.Enumerate(ctx, p, optimize.Enumeration{NoBounds: true, Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	bounded, err := optimize.Enumerate(ctx, p, optimize.Enumeration{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(keysOf(all.Front), keysOf(bounded.Front)) || !bounded.Proven || bounded.Evaluated >= all.Evaluated {
		t.Errorf("front %v with bounds (%d evaluated), %v without (%d)", keysOf(bounded.Front), bounded.Evaluated, keysOf(all.Front), all.Evaluated)
	}
}

// TestSecondaryReserve: the reserve that secondaries leave is the last of the factors tried at which they pass in a shed of that
// wind, as a reviewer judges them; it is no less than what they are sized for, and bounds the reserve of a design.
func TestSecondaryReserve(t *testing.T) {
	p, err := New(kitSpace(t).Brief, "mass", "wind reserve")
	if err != nil {
		t.Fatal(err)
	}
	d, _ := p.Decode(heaviestPoint(t, p))
	r := p.NewReviewer()
	passes := func(factor float64) bool {
		q, e, err := r.under(strconv.FormatFloat(factor, 'g', -1, 64), p.Brief, func(s *actions.Site) { blowHarder(s, factor) }, d)
		if err != nil {
			t.Fatal(err)
		}
		return !slices.ContainsFunc(q.setupOf(e).secondaries.Results, func(s SecondaryResult) bool { return s.Utilisation > 1 })
	}
	for _, w := range p.secondaryWinds() {
		d.SecondaryWind = w
		most := p.setupOf(d).reserve
		if most < math.Max(1, w)-reserveStep || !passes(most) || most < mostReserve && passes(most+reserveStep) {
			t.Errorf("secondaries %s leave a reserve of %v", shed.SecondaryWindText(w), most)
		}
		if w != 0 && w != 1.2 {
			continue
		}
		own, err := r.WindReserve(d)
		if err != nil {
			t.Fatal(err)
		}
		if own.Factor > most || own.Factor < 1 {
			t.Errorf("secondaries %s: reserve %v, at most %v was to be", shed.SecondaryWindText(w), own, most)
		}
	}
}

// TestSecondaryWindDeparts: a design says in words what its secondaries are sized for, and its drawn sections count by themselves.
func TestSecondaryWindDeparts(t *testing.T) {
	p := windSpace(t, "kit", []float64{1.1}, string(brief.ObjMass), string(brief.ObjDepartures))
	d := *p.Drawn
	d.SecondaryWind, d.DrawnSecondaries = 1.1, false
	found := false
	for _, x := range p.Departures(&d) {
		if x.Text == "secondaries for 1.10 times the site wind instead of for the site wind" {
			found = true
			if x.Weight != 0 {
				t.Errorf("it weighs %v", x.Weight)
			}
		}
	}
	if !found {
		t.Errorf("not said: %v", p.Departures(&d))
	}
}
