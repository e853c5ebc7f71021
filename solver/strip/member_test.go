package strip

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// thin are thin-walled properties of a mid-line by Vlasov's integrals, about the centroid and the shear centre.
type thin struct {
	a, ix, iy, j, iw, x0, y0 float64
}

// vlasov integrates the strips: V. Z. Vlasov, Thin-walled elastic beams; for sections whose x axis is one of symmetry.
func vlasov(s *Section) thin {
	l := s.Line()
	w := make([]float64, len(s.nodes))
	var p thin
	p.a, p.ix, p.iy = l.A, l.Ix, l.Iy
	var sw, sy float64
	for e, st := range s.strips {
		a, b := s.nodes[st.I], s.nodes[st.J]
		x1, y1, x2, y2 := a.X-l.Xc, a.Y-l.Yc, b.X-l.Xc, b.Y-l.Yc
		w[st.J] = w[st.I] + x1*y2 - x2*y1
		da := s.geometry(e).b * st.T
		p.j += da * st.T * st.T / 3
		sw += da * (w[st.I] + w[st.J]) / 2
		sy += da * (2*w[st.I]*y1 + w[st.I]*y2 + w[st.J]*y1 + 2*w[st.J]*y2) / 6
	}
	p.x0 = sy / l.Ix
	for i, n := range s.nodes {
		w[i] -= sw/l.A + p.x0*(n.Y-l.Yc)
	}
	for e, st := range s.strips {
		da := s.geometry(e).b * st.T
		p.iw += da * (w[st.I]*w[st.I] + w[st.I]*w[st.J] + w[st.J]*w[st.J]) / 3
	}
	return p
}

// section makes a Standard section or fails.
func section(t testing.TB, o Outline, m Mesh) *Section {
	t.Helper()
	s, err := o.Section(m, Steel)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestColumn compares long half-wavelengths of a lipped channel with the closed forms of Euler and Timoshenko: the least
// of flexure about y and flexure-torsion about the axis of symmetry x.
func TestColumn(t *testing.T) {
	for _, o := range []Outline{
		LippedC(0.152, 0.064, 0.0155, 0.0015, 0.005),
		LippedC(0.203, 0.076, 0.021, 0.0024, 0.005),
		LippedC(0.102, 0.051, 0.0145, 0.0019, 0.005),
	} {
		s := section(t, o, Standard)
		p := vlasov(s)
		v := s.Solver(s.Stress(Compression))
		r2 := (p.ix+p.iy)/p.a + p.x0*p.x0
		for _, l := range []float64{3, 5, 8, 12} {
			e := math.Pi * math.Pi * Steel.E / (l * l)
			fx, fy := e*p.ix/p.a, e*p.iy/p.a
			fz := (Steel.shear()*p.j + e*p.iw) / (p.a * r2)
			beta := 1 - p.x0*p.x0/r2
			ft := (fx + fz - math.Sqrt((fx+fz)*(fx+fz)-4*beta*fx*fz)) / (2 * beta)
			got, mode := v.Lowest(l)
			want := min(fy, ft)
			if math.Abs(got/want-1) > 0.005 {
				t.Errorf("%.0f mm deep, L %g m: %.3f MPa, closed form %.3f (%+.2f %%)", 1e3*o.Points[3].Y*2, l, got/1e6, want/1e6, 100*(got/want-1))
			}
			if k := s.Shares(mode).Kind(); k != Global {
				t.Errorf("L %g m: kind %q, want global", l, k)
			}
		}
	}
}

// TestBeam compares long half-wavelengths of a channel bent about its axis of symmetry with Timoshenko's lateral
// buckling moment under uniform moment, pi/L·sqrt(EIy(GJ + pi²EIw/L²)).
func TestBeam(t *testing.T) {
	s := section(t, LippedC(0.152, 0.064, 0.0165, 0.0019, 0.005), Standard)
	p, line := vlasov(s), s.Line()
	v := s.Solver(s.Stress(BendTop))
	for _, l := range []float64{4, 6, 10} {
		e := math.Pi * math.Pi * Steel.E / (l * l)
		want := math.Sqrt(e*p.iy*(Steel.shear()*p.j+e*p.iw)) * line.FarY / line.Ix
		got, _ := v.Lowest(l)
		if math.Abs(got/want-1) > 0.005 {
			t.Errorf("L %g m: %.3f MPa, closed form %.3f (%+.2f %%)", l, got/1e6, want/1e6, 100*(got/want-1))
		}
	}
}

// TestAgainstDense compares the enclosed factor and the subspace with a full dense eigensolution.
func TestAgainstDense(t *testing.T) {
	s := section(t, LippedZ(0.152, 0.065, 0.061, 0.0165, 0.0015, 0.005), Mesh{Corner: 2, Least: 3, Most: 4, Width: 0.2})
	for _, kind := range []Loading{Compression, BendTop, BendLeft} {
		v := s.Solver(s.Stress(kind))
		for _, a := range []float64{0.05, 0.2, 0.7, 3} {
			got, _ := v.Lowest(a)
			many, _ := v.Modes(a, 5)
			want := denseFactors(s, s.Stress(kind), a)
			if math.Abs(got/want[0]-1) > 1e-5 {
				t.Errorf("%s a %g: %.8g, dense %.8g", kind, a, got, want[0])
			}
			for i, f := range many {
				if math.Abs(f/want[i]-1) > 1e-4 {
					t.Errorf("%s a %g mode %d: %.8g, dense %.8g", kind, a, i, f, want[i])
				}
			}
		}
	}
}

// denseFactors are the positive factors, ascending, by a dense Cholesky reduction.
func denseFactors(s *Section, stress []float64, a float64) []float64 {
	v := s.Solver(stress)
	k := v.setLength(a)
	n := s.shape.n()
	km, gm := mat.NewSymDense(n, nil), mat.NewSymDense(n, nil)
	for i, f := range s.shape.first {
		for j := f; j <= i; j++ {
			km.SetSym(i, j, v.k.row(i)[j-f])
			gm.SetSym(i, j, k*k*v.g.row(i)[j-f])
		}
	}
	mu, _ := generalised(gm, km)
	var out []float64
	for _, m := range mu {
		if m > 0 {
			out = append(out, 1/m)
		}
	}
	return out
}

// published reads the trade table of elastic buckling stresses.
func published(t *testing.T) [][]string {
	t.Helper()
	f, err := os.Open("testdata/published.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

// TestPublished compares with the trade table within the bounds that an independent finite strip solution met: +3 % and
// -6 % (one row, fod of Z25019, -6.4 there and here), and half a unit of the last printed digit.
func TestPublished(t *testing.T) {
	const high, low = 0.03, -0.065
	worst := [2]float64{}
	for _, row := range published(t) {
		var d [7]float64
		for i := range d {
			v, err := strconv.ParseFloat(row[[]int{2, 3, 4, 5, 6, 7, 9}[i]], 64)
			if err != nil {
				t.Fatal(err)
			}
			d[i] = v
		}
		var o Outline
		if row[1] == "Z" {
			o = LippedZ(d[0]/1e3, d[1]/1e3, d[2]/1e3, d[3]/1e3, d[4]/1e3, d[5]/1e3)
		} else {
			o = LippedC(d[0]/1e3, d[1]/1e3, d[3]/1e3, d[4]/1e3, d[5]/1e3)
		}
		kind := BendTop
		if row[8][4:] == "N" {
			kind = Compression
		}
		c, err := section(t, o, Standard).Critical(kind)
		if err != nil {
			t.Fatal(err)
		}
		got := c.Local
		if row[8][:3] == "fod" {
			got = c.Distortional
		}
		dev := got.Factor/1e6/d[6] - 1
		worst[0], worst[1] = max(worst[0], dev), min(worst[1], dev)
		half := 0.5 / d[6]
		if dev > high+half || dev < low-half || got.Rule != Distinct {
			t.Errorf("%s %s: %.1f MPa (%s), published %g (%+.2f %%)", row[0], row[8], got.Factor/1e6, got.Rule, d[6], 100*dev)
		}
	}
	t.Logf("deviations from %+.2f to %+.2f %%", 100*worst[1], 100*worst[0])
}

// TestStandardMesh compares the mesh for design with one three times as fine.
func TestStandardMesh(t *testing.T) {
	for _, c := range []struct {
		o   Outline
		tol float64
	}{
		{LippedC(0.102, 0.051, 0.0125, 0.001, 0.005), 0.006},
		{LippedC(0.300, 0.096, 0.0315, 0.003, 0.005), 0.003},
		{LippedZ(0.203, 0.079, 0.074, 0.0185, 0.0019, 0.005), 0.003},
	} {
		coarse, fine := section(t, c.o, Standard), section(t, c.o, Standard.Refined(3))
		for _, kind := range []Loading{Compression, BendTop, BendRight} {
			a, err := coarse.Critical(kind)
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range []Found{a.Local, a.Distortional} {
				if f.Rule != Distinct {
					continue
				}
				// At a minimum the factor is flat in the half-wavelength, so the same length serves both.
				want, _ := fine.Solver(fine.Stress(kind)).Lowest(f.HalfWave)
				if dev := f.Factor/want - 1; math.Abs(dev) > c.tol {
					t.Errorf("%s %s: %+.3f %% against the finer mesh", kind, f.Kind, 100*dev)
				}
			}
		}
	}
}

// TestRules pins the fallbacks on sections known to need them: a deep channel in compression has no distortional
// minimum, one bent with the web in compression no distortional buckling at all.
func TestRules(t *testing.T) {
	s := section(t, LippedC(0.254, 0.076, 0.0185, 0.0019, 0.005), Standard)
	c, err := s.Critical(Compression)
	if err != nil {
		t.Fatal(err)
	}
	if c.Distortional.Rule != AtDistortionalWave || c.Local.Rule != Distinct {
		t.Errorf("compression: rules %q and %q", c.Local.Rule, c.Distortional.Rule)
	}
	// The curve's own value at that half-wavelength is a lower bound, pure distortion an upper one.
	first, _ := s.Solver(s.Stress(Compression)).Lowest(c.Distortional.HalfWave)
	fr, err := newFrame(s.outline, Steel)
	if err != nil {
		t.Fatal(err)
	}
	from, to := s.Span()
	_, pure, ok := fr.least(Compression, from, to)
	if !ok || c.Distortional.Factor < first*(1-1e-6) || c.Distortional.Factor > pure {
		t.Errorf("distortional %.1f MPa is not between the curve %.1f and pure distortion %.1f", c.Distortional.Factor/1e6, first/1e6, pure/1e6)
	}
	if c, err = s.Critical(BendLeft); err != nil || c.Distortional.Rule != None || c.Local.Rule != Distinct {
		t.Errorf("web in compression: %v, rules %q and %q", err, c.Local.Rule, c.Distortional.Rule)
	}
	if c, err = s.Critical(BendRight); err != nil || c.Local.Rule != Distinct || c.Distortional.Rule != Distinct {
		t.Errorf("lips in compression: %v, rules %q and %q", err, c.Local.Rule, c.Distortional.Rule)
	}
	// Small lips on wide flanges of thick plate: the lip gives way before the flange buckles, and no local minimum is left.
	s = section(t, LippedC(0.150, 0.150, 0.010, 0.004, 0.004), Standard)
	if c, err = s.Critical(BendRight); err != nil || c.Local.Rule != HeldFolds || c.Local.Factor < c.Distortional.Factor {
		t.Errorf("small lips: %v, rules %q and %q", err, c.Local.Rule, c.Distortional.Rule)
	}
}

// TestFallbackIsSmooth: as a channel in compression grows deeper its distortional minimum fades away between 220 and
// 230 mm; the stress must go on falling evenly where the rule changes, and never pass above the curve there.
func TestFallbackIsSmooth(t *testing.T) {
	last, rules := 0.0, map[Rule]bool{}
	for _, depth := range []float64{0.20, 0.21, 0.22, 0.23, 0.24, 0.25} {
		s := section(t, LippedC(depth, 0.076, 0.0205, 0.0024, 0.005), Standard)
		c, err := s.Critical(Compression)
		if err != nil {
			t.Fatal(err)
		}
		d := c.Distortional
		rules[d.Rule] = true
		if first, _ := s.Solver(s.Stress(Compression)).Lowest(d.HalfWave); math.Abs(d.Factor/first-1) > 1e-4 {
			t.Errorf("%.0f mm: %.1f MPa, the curve there %.1f", 1e3*depth, d.Factor/1e6, first/1e6)
		}
		if step := d.Factor / last; last != 0 && (step < 0.89 || step > 0.96) {
			t.Errorf("%.0f mm: %.3f of the stress at 10 mm less", 1e3*depth, step)
		}
		last = d.Factor
	}
	if !rules[Distinct] || !rules[AtDistortionalWave] {
		t.Errorf("the depths do not cross the change of rule: %v", rules)
	}
}
