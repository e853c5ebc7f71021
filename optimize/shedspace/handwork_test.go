package shedspace

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"leanbay/model/brief"
	"leanbay/model/joints"
	"leanbay/solver"
	"leanbay/solver/frame"
)

// by compares with a figure worked by hand, of three or four digits.
func by(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s: got %.5g, by hand %.5g", what, got, want)
	}
}

// atResult gives the analysed forces of a member of the braced packhouse at a result's station and combination.
func atResult(t *testing.T, p *Problem, id, combination string, station float64) solver.Forces {
	t.Helper()
	d, _, err := p.Braced()
	if err != nil {
		t.Fatal(err)
	}
	j := newJudge(p)
	m := p.Shed.Build(d)
	setEffectiveLengths(m)
	set := p.setupOf(d)
	m.Load(set.loads, set.joistMass)
	if err := j.whole.load(&m.Structure, false); err != nil {
		t.Fatal(err)
	}
	if err := j.analyse(&j.whole, m.Structure.Combinations, p.bench.strength, frame.TensionOnlySecondOrder, &Assessment{}); err != nil {
		t.Fatal(err)
	}
	at, err := findMember(m, id)
	if err != nil {
		t.Fatal(err)
	}
	for k := range j.combos {
		if j.combos[k].ID == combination {
			j.res[k].Diagram(at, &j.curve)
			return j.curve.At(station)
		}
	}
	t.Fatalf("no combination %q", combination)
	return solver.Forces{}
}

// TestRafterUnderUplift works a rafter of packhouse by hand from the drawing, 350x250x6.0RHS C450L0 (fy 450, fu 500, corner
// radii 15 and 9 mm):
//
//	Ag = 12 (350 + 250 - 12) - 0.8584 (15² - 9²) = 7056 - 123.6 = 6932 mm²; phi Nt = 0.9 min(3120, 0.85 x 6932 x 0.5) = 2652 kN
//	Ix = (250 x 350³ - 238 x 338³)/12 - 4 x 48.3 x 171.6² + 4 x 17.4 x 167.0² = 127.38 - 5.69 + 1.94 = 123.6e6 mm⁴
//	wall across: 238/6 sqrt(1.8) = 53.2 > 40: 238 - 178.9 = 59.1 mm do not count, 354.7 mm² at 172 mm: the axis moves
//	354.7 x 172/6577.7 = 9.28 mm, I = 123.6 - 10.49 - 0.57 = 112.6e6, Ze = 112.6e6/184.3 = 610.8e3; phi Msx = 247.4 kN·m
//	Iy = 74.10e6; walls along: 159.1 mm do not count, 954.6 mm² at 122 mm, shift 19.48 mm, I = 74.10 - 14.21 - 2.27 = 57.6e6,
//	Ze = 57.6e6/144.5 = 398.8e3; phi Msy = 161.5 kN·m; not compact, so that 8.3.4's linear form holds
//
// The section where uplift bends it most is held to N*/2652 + Mx*/247.4 + My*/161.5.
func TestRafterUnderUplift(t *testing.T) {
	p := example(t, "packhouse")
	d, _, err := p.Braced()
	if err != nil {
		t.Fatal(err)
	}
	const id = "rafter/5/B-ridge"
	page, err := p.MemberPage(d, id)
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range page.Results {
		if r.Name != "section, combined" {
			continue
		}
		if !strings.Contains(page.Names[i], "0.9G+Wu") {
			t.Fatalf("%s is governed by %s: the example no longer shows uplift", id, page.Names[i])
		}
		f := atResult(t, p, id, page.Names[i], r.Station)
		hand := math.Abs(f[solver.N])/2652e3 + math.Abs(f[solver.Mz])/247.4e3 + math.Abs(f[solver.My])/161.5e3
		if f[solver.N] < 0 {
			t.Fatal("under uplift the rafter is to be pulled")
		}
		by(t, "rafter under uplift", r.Utilisation, hand, 2e-3)
		return
	}
	t.Fatal("no combined section check")
}

// TestPostByHand works a mezzanine post of packhouse, 89x89x3.5SHS C450L0 (radii 8.75 and 5.25), 2.75 m, pinned:
//
//	Ag = 7 x 171 - 0.8584 (76.6 - 27.6) = 1155 mm²; I = (89⁴ - 82⁴)/12 - 0.119e6 + 0.038e6 = 1.379e6, r 34.56 mm
//	wall 82/3.5 sqrt(1.8) = 31.4 <= 40, kf 1: Ns = 519.7; lambda_n = 2750/34.56 sqrt(1.8) = 106.8, alpha_a 16.57, lambda 98.5,
//	eta 0.277, xi 1.033, alpha_c 0.551: phi Nc = 257.7 kN
//	Z = 31.0e3, S = 36.5e3, Ze = 31.0 + 5.55 (40 - 31.4)/10 = 35.75e3: phi Ms = 14.48 kN·m
//
// Beams rest on its cap from both sides: half the force at the face, e = 44.5/2 mm: u = N*/257.7 + N* x 0.02225/14.48.
func TestPostByHand(t *testing.T) {
	p := example(t, "packhouse")
	d, _, err := p.Braced()
	if err != nil {
		t.Fatal(err)
	}
	const id = "post/X4.90/Y4.40"
	page, err := p.MemberPage(d, id)
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for i, r := range page.Results {
		n := -atResult(t, p, id, page.Names[i], r.Station)[solver.N]
		switch r.Name {
		case "compression":
			seen++
			by(t, "post in compression", r.Utilisation, n/257.7e3, 2e-3)
			// The floor itself: 1.2 (0.7 kPa + joists and beams, some 0.25) + 1.5 x 3.0 kPa over 4.9 x 2.2 m is 61 kN.
			by(t, "force in the post", n, (1.2*(0.7+0.25)+1.5*3.0)*1e3*4.9*2.2, 0.02)
		case "eccentric ends":
			seen++
			by(t, "post with eccentric beams", r.Utilisation, n/257.7e3+n*0.02225/14.48e3, 3e-3)
		}
	}
	if seen != 2 {
		t.Errorf("%d of two checks found", seen)
	}
}

// TestPurlinOfThePackhouseByHand works the purlin of packhouse, Z20015 at 1.2 m: five spans taken as 5.6 m with laps of 0.84 m,
// 2.10 kPa net outwards, 2.57 within 4.6 m of the gable, own weight 43 N/m. By three-moment equations with the doubled
// stiffness of the laps, integrated numerically apart from this code, the first span's greatest moment is 7.312 kN·m at
// 2.191 m and Cb of the middle third 1.091.
//
//	Mo = 1.091 pi² 200e3 x 203 x 310.3e3/(2 x 1867²) = 19.47; My = 34.3e3 x 450 = 15.43; Mbe = (10/9) 15.43 (1 - 154.3/700.9) = 13.37
//	Mol 9.86, Mod 7.59 by finite strips: Mbl = (1 - 0.15 x 0.8855) 0.8855 x 13.37 = 10.27; Mbd = (1 - 0.22 x 0.7013) 0.7013 x
//	15.43 = 9.15: phi Mb = 8.24; down the slope (0.148 kPa x 1.2 + own 7 N/m) 1.867²/8 = 0.0806 kN·m of phi Mby 2.09
//	u = 7.312/8.24 + 0.0806/2.09 = 0.926
func TestPurlinOfThePackhouseByHand(t *testing.T) {
	p := example(t, "packhouse")
	page, err := p.MemberPage(p.Drawn, "purlin")
	if err != nil {
		t.Fatal(err)
	}
	need := page.Combination
	for _, want := range []string{"outwards 2.1 kPa", "edge 2.57", "4.6 m of the start"} {
		if !strings.Contains(need, want) {
			t.Fatalf("the loads have changed (%s): the hand calculation does not hold", need)
		}
	}
	for _, r := range page.Results {
		if strings.HasPrefix(r.Name, "bending and axial") {
			by(t, "purlin", r.Utilisation, 0.926, 4e-3)
			by(t, "moment", r.Demand, 7.312e3, 3e-3)
			by(t, "where", r.Station, 2.191, 3e-3)
		}
	}
}

// TestBaseByHand works a stated base of packhouse: column 350x250, plate 500 x 300 x 20 of fy 250, four M24 4.6/S at 430 by
// 180 mm (40 mm outside the column), 6 mm fillet, pad 2.4 x 2.4 x 0.7 m of 25 MPa.
//
//	uplift: half of N* at 40 mm over a strip of 2 x 40 + 80 = 160 mm: phi Ms = 0.9 x 250 x 160 x 20²/4 = 3.60 kN·m: u = N* x 0.020/3.60
//	bearing: phi fb = 0.6 x min(0.9 x 25 sqrt(5.76/0.15), 45) = 27 MPa over 0.15 m²: u = N*/4050 kN
//	plate: overhang (500 - 0.95 x 350)/2 = 83.75 mm, phi Ms = 0.9 x 250 x 20²/4 = 22.5 kN·m/m: u = N*/0.15 x 0.08375²/2/22.5
//	pad: 2.4² x 0.7 x 2400 kg = 9677 kg, 0.9 x 94.9 = 85.4 kN: u = N*/85.4
func TestBaseByHand(t *testing.T) {
	text, err := os.ReadFile("../../experiments/briefs/packhouse.yaml")
	if err != nil {
		t.Fatal(err)
	}
	const before = "  bases: {columns: pinned"
	detail := `  details:
    column_base:
      kind: base plate
      plate: {thickness: 20, width: 300, depth: 500}
      bolts: {diameter: 24, class: 4.6/S, rows: 2, per_row: 2, pitch: 430, gauge: 180, edge: 35}
      weld: {leg: 6}
      pad: {length: 2.4, width: 2.4, depth: 0.7, strength: 25}
`
	if !strings.Contains(string(text), before) {
		t.Fatal("the brief has changed")
	}
	file := filepath.Join(t.TempDir(), "packhouse.yaml")
	if err := os.WriteFile(file, []byte(strings.Replace(string(text), before, detail+before, 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	b, err := brief.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	p, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	a, _, err := p.AssessBraced()
	if err != nil {
		t.Fatal(err)
	}
	j, err := a.JointPage(string(joints.ColumnBase))
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, c := range j.Checks {
		hand := map[string]float64{
			"plate in bending, uplift": c.Demand * 0.020 / 3.60e3, "concrete bearing": c.Demand / 4050e3, "plate in bending, bearing": c.Demand / 0.15 * 0.08375 * 0.08375 / 2 / 22.5e3,
		}[c.Name]
		if hand > 0 {
			seen++
			by(t, c.Name, c.Utilisation, hand, 1e-3)
		}
		if c.Name == "plate in bending, uplift" {
			by(t, "uplift of the plate and of the base's reactions", c.Demand, j.Demand.Tension.Value, 1e-9)
		}
	}
	if seen != 3 {
		t.Errorf("%d of three checks of the plate found", seen)
	}
	for _, f := range a.Footings {
		for _, c := range f.Checks {
			if c.Name == "uplift held by the pad" {
				seen++
				by(t, "pad of "+f.Name, c.Utilisation, c.Demand/85.4e3, 1e-3)
			}
		}
	}
	if seen < 10 {
		t.Errorf("only %d pads in uplift", seen-3)
	}
}
