package shedspace

import (
	"math"
	"testing"

	"leanbay/catalog"
	"leanbay/model/bracing"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver/checks/as4100"
	"leanbay/solver/checks/asnzs4600"
)

// TestFramingOfKit by hand, girts at 1.2 m at most: south wall (3.0 m) at 0.15, 1.05, 1.95, 2.85; north wall (3.8 m) at 0.15,
// 1.317, 2.483, 3.65. Roller door at 4.4-7.4 (frames at 4 and 8): jambs 3.8 m carry 1.5 + 0.2 and 1.5 + 0.3 m; its lintel
// the wall from 3.0 to half-way to 3.65. Personnel door 0.8-1.72: jambs to 2.85 m carry 0.46 + 0.4 and 0.46 + 1.14; lintel 1.05
// below its head (half the door) and 0.375 above. Window 8.8-11.2, 1.1-2.0: jambs from 1.05 to 2.85 carry 1.2 + 0.4; lintel
// 0.45 + 0.425, sill 0.45 + 0.025.
func TestFramingOfKit(t *testing.T) {
	p := example(t, "kit")
	f, err := p.framings(p.bench, 1.2, 0)
	if err != nil {
		t.Fatal(err)
	}
	jambs := [][3]float64{{3.8, 1.7, 2}, {3.8, 1.8, 2}, {2.85, 0.86, 2}, {2.85, 1.60, 2}, {1.8, 1.6, 1}, {1.8, 1.6, 1}}
	if len(f.jambs) != len(jambs) {
		t.Fatalf("%d jambs, by the drawing %d", len(f.jambs), len(jambs))
	}
	for i, want := range jambs {
		n := f.jambs[i].need
		if math.Abs(n.Span-want[0]) > 1e-6 || math.Abs(n.Spacing-want[1]) > 1e-6 || n.Bridging != int(want[2]) {
			t.Errorf("%s: %g m, carries %g m, %d rows; by hand %v", f.jambs[i].name, n.Span, n.Spacing, n.Bridging, want)
		}
		if !(n.Inward > 0 && n.Outward > 0 && n.ServiceIn > 0) {
			t.Errorf("%s has no wind: %+v", f.jambs[i].name, n)
		}
	}
	lintels := [][2]float64{{3.0, 0.325}, {0.92, 1.425}, {2.4, 0.875}, {2.4, 0.475}}
	if len(f.lintels) != len(lintels) {
		t.Fatalf("%d lintels and sills, by the drawing %d", len(f.lintels), len(lintels))
	}
	for i, want := range lintels {
		n := f.lintels[i].need
		if math.Abs(n.Span-want[0]) > 1e-6 || math.Abs(n.Spacing-want[1]) > 1e-6 {
			t.Errorf("%s: %g m, carries %g m; by hand %v", f.lintels[i].name, n.Span, n.Spacing, want)
		}
	}
	kg := f.lengths(f.jambs, true) * p.bench.drawn.secondaries.Sections.Jamb.Props.Mass
	if p.bench.drawn.secondaries.Sections.JambMass < kg {
		t.Errorf("all jambs weigh %g kg, those of the roller door alone %g", p.bench.drawn.secondaries.Sections.JambMass, kg)
	}
}

// lengths is the length of the trimmers of wide doors, or of others.
func (f *framing) lengths(list []trimmer, wide bool) float64 {
	sum := 0.0
	for _, t := range list {
		if t.wide == wide {
			sum += t.need.Span
		}
	}
	return sum
}

// TestLockPull: a jamb bends in the wall's plane under the lock's pull, 5 kN/m: it needs more than without.
func TestLockPull(t *testing.T) {
	p := example(t, "kit")
	o := &p.Shed.Building.Openings[0]
	o.LockPull = 5e3
	defer func() { o.LockPull = 0 }()
	f, err := p.framings(p.bench, 1.2, 0)
	if err != nil {
		t.Fatal(err)
	}
	if got := f.jambs[0].need.Along * f.jambs[0].need.Spacing; math.Abs(got-5e3) > 1e-6 {
		t.Errorf("the jamb feels %g N/m along the wall", got)
	}
	if got := f.lintels[0].need.Strut; math.Abs(got-5e3*3.0/2) > 1e-6 {
		t.Errorf("the lintel is pressed by %g N, by hand 5 kN/m x 3.0 m/2", got)
	}
	var with Secondaries
	if err := p.chooseFraming(p.bench, spacings{girt: 1.2}, false, &with); err != nil {
		t.Fatal(err)
	}
	if with.Sections.JambMass <= p.bench.drawn.secondaries.Sections.JambMass {
		t.Errorf("jambs weigh %g kg with lock pull, %g kg without", with.Sections.JambMass, p.bench.drawn.secondaries.Sections.JambMass)
	}
}

// TestTrimmersPass: what the table chose passes every need by itself, and the next lighter of the stock does not pass all.
func TestTrimmersPass(t *testing.T) {
	p := example(t, "packhouse")
	f, err := p.framings(p.bench, p.Drawn.GirtSpacing, 0)
	if err != nil {
		t.Fatal(err)
	}
	c, err := p.lightestTrimmer(p.bench, "jamb", f.jambs, false)
	if err != nil || c.result.Utilisation > 1 {
		t.Fatalf("%v, %g", err, c.result.Utilisation)
	}
	for _, s := range p.trimmerStock("jamb") {
		if s.Section == c.steel.Section {
			break
		}
		if r, err := p.bench.trimmed(p.Brief, "jamb", s, 1, f.jambs); err != nil || r.result.Utilisation <= 1 {
			t.Errorf("%s is lighter and passes (%v)", s.Section.Name, err)
		}
	}
}

// TestHotTrimmer by hand: 100x50x4.0RHS, 3 m, 2 rows: q = 1.2 kPa x 1.5 m = 1.8 kN/m: M 2.025 kN·m; along 1 kN/m over 1 m:
// 0.125 kN·m; service 0.6 kPa: 5 x 0.9 x 3⁴/(384 EI).
func TestHotTrimmer(t *testing.T) {
	s, err := catalog.Find("100x50x4.0RHS")
	if err != nil {
		t.Fatal(err)
	}
	c, err := (*as4100.Rules)(nil).New(s, s.Grades[0])
	if err != nil {
		t.Fatal(err)
	}
	n := asnzs4600.Need{Span: 3, Spacing: 1.5, Bridging: 2, Inward: 1200, Along: 1000 / 1.5, ServiceIn: 600, Deflect: 10}
	r := hotTrimmer(c, n)
	want := 2.025e3/(0.9*c.Mb(1, 1, nil)) + 0.125e3/(0.9*c.Msy())
	if r.Name != "bending and axial force" || math.Abs(r.Utilisation-want) > 1e-9 {
		t.Errorf("%+v, by hand %g", r, want)
	}
	n.Deflect = 1000
	bow := 5 * 900 * 81 / (384 * 200e9 * s.Props.Ix)
	if r = hotTrimmer(c, n); r.Name != "deflection" || math.Abs(r.Utilisation-bow/0.003) > 1e-9*r.Utilisation {
		t.Errorf("%+v, by hand %g", r, bow/0.003)
	}
}

// TestRodSlip by hand: crossed rods in a bay of 4 m under eaves of 3 m are 5 m long: 8 mm of slack rack the panel by 8 x 5/4 =
// 10 mm; in two tiers of 1.5 m, rods of 4.272 m: 2 x 8 x 4.272/4 = 17.09 mm. The other wall has none.
func TestRodSlip(t *testing.T) {
	p := example(t, "kit")
	for _, tt := range []struct {
		name string
		wall []shed.Brace
		want float64
	}{
		{"one panel", []shed.Brace{{Bay: 1, Pattern: bracing.CrossedRods}}, 0.010},
		{"two tiers", []shed.Brace{{Bay: 1, Pattern: bracing.CrossedRods, Place: bracing.Place{To: 1.5}}, {Bay: 1, Pattern: bracing.CrossedRods, Place: bracing.Place{From: 1.5}}}, 0.01709},
	} {
		d := *p.Drawn
		d.Steel = map[brief.Group]shed.Steel{}
		for g, s := range p.Drawn.Steel {
			d.Steel[g] = s
		}
		for _, g := range []brief.Group{brief.GroupWallRod, brief.GroupEavesStrut} {
			d.Steel[g] = p.Drawn.Of(brief.GroupRoofRod)
		}
		d.Struts.Eaves = true
		d.Walls[0] = tt.wall
		slip := rodSlip(p.Shed.Build(&d), 0.008)
		if math.Abs(slip[0]-tt.want) > 1e-5 || slip[1] != 0 {
			t.Errorf("%s: slip %v, by hand %g and 0", tt.name, slip, tt.want)
		}
	}
	if math.Abs(further(-0.003, 0.01)+0.013) > 1e-12 || math.Abs(further(0.003, 0.01)-0.013) > 1e-12 {
		t.Error("slip does not add to the movement")
	}
}
