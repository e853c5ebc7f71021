package asnzs4600

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"leanbay/catalog"
	"leanbay/solver/checks"
	"leanbay/solver/strip"
)

// stock is shared by the tests, so that each section is analysed once.
var stock = NewStock()

func find(t testing.TB, name string) *catalog.Section {
	t.Helper()
	s, err := catalog.Default().Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func resist(t testing.TB, name string) *Resistance {
	t.Helper()
	s := find(t, name)
	b, err := stock.Get(s)
	if err != nil {
		t.Fatal(err)
	}
	return New().Resist(b, s.Grades[0], nil)
}

// TestColumnCurve: values worked apart from the code with the formulas of 7.2.1, loads in kN.
func TestColumnCurve(t *testing.T) {
	c := New()
	for _, k := range []struct {
		ny, nol, nod, noc float64
		nce, ncl, ncd     float64
		source            string
	}{
		{200, 100, 150, 120, 99.557, 84.747, 132.890, "by hand: lambda_c 1.2910, lambda_l 0.9978, lambda_d 1.1547"},
		{200, 1000, 1000, 60, 52.62, 52.62, 200, "by hand: lambda_c 1.8257, 0.877 x 60; others below their limits"},
		{200, 50, 1000, math.Inf(1), 200, 104.974, 200, "by hand: section capacity, lambda_l 2.0"},
	} {
		r := c.Column(k.ny, k.nol, k.nod, k.noc, nil)
		for _, v := range [][2]float64{{r.Nce, k.nce}, {r.Ncl, k.ncl}, {r.Ncd, k.ncd}, {r.Nc, min(k.nce, k.ncl, k.ncd)}} {
			near1(t, k.source, v[0], v[1], 1e-5)
		}
	}
}

// TestBeamCurve: values worked apart from the code with the formulas of 7.2.2, moments in kN·m.
func TestBeamCurve(t *testing.T) {
	c := New()
	for _, k := range []struct {
		my, mol, mod, mo float64
		mbe, mbl, mbd    float64
		source           string
	}{
		{10, 12, 8, 9, 7.68176, 7.53587, 7.18427, "by hand: (100/9)(1 - 100/324), lambda_l 0.8001, lambda_d 1.1180"},
		{10, 5, 20, math.Inf(1), 10, 6.71706, 9.74214, "by hand: lambda_l 1.4142, lambda_d 0.7071"},
		{10, 50, 50, 4, 4, 4, 10, "by hand: elastic lateral buckling"},
	} {
		r := c.Beam(k.my, k.mol, k.mod, k.mo, nil)
		for _, v := range [][2]float64{{r.Mbe, k.mbe}, {r.Mbl, k.mbl}, {r.Mbd, k.mbd}, {r.Mb, min(k.mbe, k.mbl, k.mbd)}} {
			near1(t, k.source, v[0], v[1], 1e-5)
		}
	}
}

// TestShearAndCrippling: worked apart from the code, SI of the C15015's and others' webs.
func TestShearAndCrippling(t *testing.T) {
	c := New()
	near1(t, "139 x 1.5 web, elastic (lambda_v 1.550)", c.Shear(0.139, 0.0015, 450e6, nil), 23437.3, 1e-5)
	near1(t, "139 x 3.0 web, yield (lambda_v 0.775)", c.Shear(0.139, 0.003, 450e6, nil), 112590, 1e-5)
	// Clause 3.3.4 writes the rule with 0.64 tw² sqrt(E kv fy) and 0.905 E kv tw³/d1. The elastic ranges agree to the
	// rounding of 0.905; in the middle 7.2.3 has 0.60 (0.815 sqrt(0.6 pi²/10.92)) in place of 0.64: the lower is used.
	d1, tw, fy := 0.110, 0.0016, 450e6
	if x := d1 / tw / math.Sqrt(200e9*5.34/fy); x < 1 || x > 1.415 {
		t.Fatalf("the web meant for the middle range has d1/tw over sqrt(E kv/fy) of %g", x)
	}
	near1(t, "middle range, 0.60 in the form of 3.3.4", c.Shear(d1, tw, fy, nil), 0.60*tw*tw*math.Sqrt(200e9*5.34*fy), 0.01)
	near1(t, "elastic range against 3.3.4", c.Shear(0.139, 0.0015, 450e6, nil), 0.905*200e9*5.34*math.Pow(0.0015, 3)/0.139, 0.002)

	rb, phi, err := c.Crippling(find(t, "C20019"), 450e6, Support{Length: 0.075}, nil)
	if err != nil || phi != 0.85 {
		t.Fatalf("phi %g, %v", phi, err)
	}
	near1(t, "C20019 end, one flange, 75 mm", rb, 12859.6, 1e-5)
	rb, phi, err = c.Crippling(find(t, "Z20019"), 450e6, Support{Length: 0.075, TwoFlange: true, Interior: true}, nil)
	if err != nil || phi != 0.80 {
		t.Fatalf("phi %g, %v", phi, err)
	}
	near1(t, "Z20019 interior, two flanges, 75 mm", rb, 29898.2, 1e-5)
	for _, k := range []struct {
		name string
		lb   float64
		want string
	}{{"C10010", 0.250, "lb/tw"}, {"C10019", 0.2, "lb/d1"}, {"C20019", 0, "bearing length"}} {
		if _, _, err := c.Crippling(find(t, k.name), 450e6, Support{Length: k.lb}, nil); err == nil || !strings.Contains(err.Error(), k.want) {
			t.Errorf("%s with %g m: %v, want %q", k.name, k.lb, err, k.want)
		}
	}
}

// TestGlobalAgainstStrips compares the closed forms of global buckling with the finite strips of the same section at long
// half-wavelengths. G is set to the strips' E/2.6 for this.
func TestGlobalAgainstStrips(t *testing.T) {
	c := New()
	if err := c.Override("G", 200e9/2.6, "test"); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"C10019", "C15015", "C20024", "Z15015", "Z20019"} {
		s := find(t, name)
		sec, err := Strips(s)
		if err != nil {
			t.Fatal(err)
		}
		l := sec.Line()
		for _, a := range []float64{8, 12} {
			at := func(k strip.Loading) float64 {
				f, _ := sec.Solver(sec.Stress(k)).Lowest(a)
				return f
			}
			len3 := Lengths{a, a, a}
			near1(t, name+" column", c.GlobalColumn(s, len3, nil), at(strip.Compression)*l.A, 0.005)
			mx := at(strip.BendTop) * l.Ix / l.FarY
			if s.Family == catalog.Z {
				// The zed's formula leaves torsion out: safe, not equal.
				if mo := c.LateralMoment(s, len3, 1, nil); mo > mx {
					t.Errorf("%s at %g m: Mo %g above the strips' %g", name, a, mo, mx)
				}
				continue
			}
			near1(t, name+" beam", c.LateralMoment(s, len3, 1, nil), mx, 0.005)
			near1(t, name+" about y, lips compressed", c.MinorMoment(s, Right, len3), at(strip.BendRight)*l.Iy/l.FarX, 0.006)
			if a > 10 && name != "C20024" {
				near1(t, name+" about y, web compressed", c.MinorMoment(s, Left, len3), at(strip.BendLeft)*l.Iy/l.FarX, 0.01)
			}
		}
	}
}

// TestBucklingMatchesPublished: the moments behind two published stresses, through the catalogue's own section.
func TestBucklingMatchesPublished(t *testing.T) {
	for _, k := range []struct {
		name     string
		fol, fod float64 // MPa
	}{
		{"C20015", 293, 234}, // trade table of elastic buckling stresses, https://www.scribd.com/document/120946135
		{"Z15015", 491, 369},
	} {
		r := resist(t, k.name)
		zx := r.Section.Props.Ix / (r.Section.Dims.D/2 - r.Section.Dims.T/2) // mid-line fibre
		near1(t, k.name+" Mol", r.Mol[Top], k.fol*1e6*zx, 0.03)
		near1(t, k.name+" Mod", r.Mod[Top], k.fod*1e6*zx, 0.06)
	}
}

func TestSheetingFactor(t *testing.T) {
	c := New()
	s := find(t, "C20019")
	good := Sheeting{ScrewFastened: true, PanSpacing: 0.2, Thickness: 0.42e-3, Spans: 3, Lapped: true, LapRatio: 0.15, SpanRatio: 1, Bridging: 1, Uplift: true}
	r, err := c.SheetingFactor(s, good, nil)
	if err != nil || r != 0.85 {
		t.Fatalf("R = %g, %v; want 0.85 (three spans, lapped, one row)", r, err)
	}
	for _, k := range []struct {
		change func(h *Sheeting)
		want   string
	}{
		{func(h *Sheeting) { h.Axial = true }, "no axial force"},
		{func(h *Sheeting) { h.ClipFixed = true }, "not clip-fixed"},
		{func(h *Sheeting) { h.ScrewFastened = false }, "screwed"},
		{func(h *Sheeting) { h.PanSpacing = 0.3 }, "200 mm"},
		{func(h *Sheeting) { h.Thickness = 0.35e-3 }, "0.42"},
		{func(h *Sheeting) { h.LapRatio = 0.1 }, "13 %"},
		{func(h *Sheeting) { h.Lapped = false }, "13 %"},
		{func(h *Sheeting) { h.SpanRatio = 0.7 }, "20 %"},
		{func(h *Sheeting) { h.Spans, h.Uplift = 1, false }, "no row"},
	} {
		h := good
		k.change(&h)
		if _, err := c.SheetingFactor(s, h, nil); err == nil || !strings.Contains(err.Error(), k.want) {
			t.Errorf("%+v: %v, want refusal by %q", h, err, k.want)
		}
	}
	if _, err := c.SheetingFactor(find(t, "C10019"), good, nil); err == nil {
		t.Error("depth/thickness 54 is below the condition's 60: no refusal")
	}
}

// TestRadial: actions divided by the radial utilisation land on the code's sum of 1; utilisation rises with every action.
func TestRadial(t *testing.T) {
	c := New()
	rng := rand.New(rand.NewPCG(5, 6))
	r := resist(t, "C20019")
	l := Lengths{6, 2, 2}
	m := c.Segment(r, l, [2]Lengths{{Y: 2, Z: 2}, {Y: 2, Z: 2}}, [2]float64{1.1, 1}, nil)
	for range 300 {
		a := Actions{N: -60e3 * rng.Float64(), Mx: 14e3 * (rng.Float64() - 0.5), My: 1.5e3 * (rng.Float64() - 0.5)}
		if rng.IntN(3) == 0 {
			a.N = -a.N
		}
		u, raw := c.Combined(a, r, m, l, 1, nil)
		if (u > 1) != (raw > 1) && math.Abs(u-1) > 1e-6 {
			t.Errorf("%+v: radial %g, sum %g", a, u, raw)
		}
		_, at := c.Combined(Actions{N: a.N / u, Mx: a.Mx / u, My: a.My / u}, r, m, l, 1, nil)
		// At the step of N*/(phi Nc) = 0.15 the sum jumps; there it stays at or below 1.
		jump := math.Abs(-a.N/u/(c.at(PhiCompression)*m.Nc)-0.15) < 1e-6
		if at > 1+1e-6 || (at < 1-1e-6 && !jump) {
			t.Errorf("%+v: at the surface the sum is %g", a, at)
		}
		b := a
		b.Mx *= 1.05
		if v, _ := c.Combined(b, r, m, l, 1, nil); v < u*(1-1e-9) {
			t.Errorf("%+v: more moment, less utilisation", a)
		}
		var w checks.Working
		if v, raw2 := c.Combined(a, r, m, l, 1, &w); v != u || raw2 != raw || len(w.Steps) == 0 {
			t.Errorf("%+v: with working %g, without %g", a, v, u)
		}
	}
}

func TestCombinedByHand(t *testing.T) {
	// Chosen capacities, so that the sums of 3.5 can be done by hand: phi Nc 85, phi Ns 170, phi Mbx 9, phi Msx 18,
	// Ne far away (short length about x).
	c := New()
	r := resist(t, "C20019")
	rr := *r
	rr.Ns, rr.Nt = 200e3, 250e3
	rr.Ms[Top], rr.Ms[Right] = 20e3, 2e3
	rr.My[Top], rr.My[Right] = 20e3, 2e3
	m := Member{Nc: 100e3, Mbx: [2]float64{10e3, 10e3}, Mby: [2]float64{2e3, 2e3}}
	l := Lengths{X: 1e-3, Y: 1e-3}
	_, raw := c.Combined(Actions{N: -34e3, Mx: 4.5e3, My: 0.18e3}, &rr, m, l, 1, nil)
	near1(t, "34/85 + 4.5/9 + 0.18/1.8", raw, 1.0, 1e-6)
	_, raw = c.Combined(Actions{N: 45e3, Mx: 4.5e3, My: 0.18e3}, &rr, m, l, 1, nil)
	near1(t, "tension: the greater of 4.5/9 + 0.18/1.8 - 45/225 and 4.5/18 + 0.18/1.8 + 45/225", raw, 0.55, 1e-6)
	// Amplified: Ne about x of 340 kN, so alpha_nx = 1 - 34/340 = 0.9.
	l.X = math.Pi * math.Sqrt(200e9*r.Section.Props.Ix/340e3)
	_, raw = c.Combined(Actions{N: -34e3, Mx: 4.5e3}, &rr, m, l, 1, nil)
	near1(t, "34/85 + 4.5/(9 x 0.9)", raw, 0.4+0.5/0.9, 1e-6)
}

func TestOverride(t *testing.T) {
	c := New()
	if err := c.Override("PHI bending", 0.85, "copy of the standard"); err != nil {
		t.Fatal(err)
	}
	if c.at(PhiBending) != 0.85 || New().at(PhiBending) != 0.90 {
		t.Error("an override must hold in its own pack only")
	}
	if m := c.Coefficients()[PhiBending].Mark; !strings.Contains(m, "copy of the standard") {
		t.Errorf("mark %q", m)
	}
	if err := c.Override("phi", 1, ""); err == nil || !strings.Contains(err.Error(), "phi bending") {
		t.Errorf("unknown name: %v", err)
	}
	for _, v := range []float64{0, -1, math.NaN()} {
		if err := c.Override("E", v, ""); err == nil {
			t.Errorf("value %g accepted", v)
		}
	}
}

// TestRows: every coefficient has its own row, name, clause and mark.
func TestRows(t *testing.T) {
	seen := map[string]bool{}
	for i, r := range New().Coefficients() {
		if int(r.Key) != i || r.Name == "" || seen[r.Name] || r.Clause == "" || r.Mark == "" || r.Value <= 0 {
			t.Errorf("row %d: %+v", i, r)
		}
		seen[r.Name] = true
	}
}
