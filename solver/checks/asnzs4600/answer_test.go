package asnzs4600

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestAskByHand for C20019, 1.7 m between lateral restraints, with the finite strip's Mol 20.65 and Mod 16.24 kN·m and
// Zx fy = 20.00: Mo = Cb A ro1 sqrt(foy foz) 32.82, Mbe = (10/9) 20 (1 - 200/(36 x 32.82)) = 18.46; Mbl = [1 - 0.15 x
// 1.0458] x 1.0458 x 18.46 = 16.28; Mbd = [1 - 0.22 x 0.9011] x 0.9011 x 20 = 14.45: phi Mb = 13.01.
func TestAskByHand(t *testing.T) {
	s := find(t, "C20019")
	a, err := New().Ask(s, s.Grades[0], Query{Length: 1.7, LengthX: 5, LengthY: 1.7, Cb: 1}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if got := *a.PhiMbx; math.Abs(got/13.01-1) > 3e-3 {
		t.Errorf("phi Mbx %.4g, by hand 13.01", got)
	}
	// The published local and distortional stresses of the trade table for C20024 are 747 and 518 MPa, within the bounds of
	// another finite strip (+3, -6 %).
	b, err := New().Ask(find(t, "C20024"), find(t, "C20024").Grades[0], Query{Cb: 1}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ got, want float64 }{{*b.Buckling.FolMx, 747}, {*b.Buckling.FodMx, 518}} {
		if r := c.got / c.want; r < 0.94 || r > 1.03 {
			t.Errorf("buckling stress %.4g MPa, published %g", c.got, c.want)
		}
	}
}

// TestAskProperties over random sections and lengths: longer is never stronger, a member never above its section, the
// least of the compression capacities is the answer, and actions divided by their utilisation meet the limit.
func TestAskProperties(t *testing.T) {
	r := rand.New(rand.NewPCG(46, 0))
	names := []string{"C10015", "C15012", "C25024", "Z15015", "Z20019"}
	c := New()
	for range 12 {
		s := find(t, names[r.IntN(len(names))])
		q := Query{LengthX: 6 * r.Float64(), LengthY: 4 * r.Float64(), Length: 4 * r.Float64(), Cb: 1, Combined: true, N: 4e3 * r.Float64(), Mx: 2e3 * r.Float64(), My: 100 * r.Float64()}
		a, err := c.Ask(s, s.Grades[0], q, nil)
		if err != nil {
			t.Fatal(err)
		}
		if *a.PhiMbx > *a.PhiMsx*(1+1e-6) || *a.PhiNc > *a.PhiNs*(1+1e-6) || *a.PhiNc > math.Min(*a.PhiNcx, math.Min(*a.PhiNcy, *a.PhiNcz))*(1+1e-6) {
			t.Errorf("%s: member above section or above one of its modes: %+v", s.Name, a)
		}
		u := *a.Combined.Governing
		on := q
		on.N, on.Mx, on.My = q.N/u, q.Mx/u, q.My/u
		b, err := c.Ask(s, s.Grades[0], on, nil)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(*b.Combined.Governing-1) > 1e-4 {
			t.Errorf("%s: actions divided by %g give %g", s.Name, u, *b.Combined.Governing)
		}
		longer := q
		longer.LengthX, longer.LengthY, longer.Length = q.LengthX+1, q.LengthY+1, q.Length+1
		if d, err := c.Ask(s, s.Grades[0], longer, nil); err != nil || *d.PhiNc > *a.PhiNc*(1+1e-6) || *d.PhiMbx > *a.PhiMbx*(1+1e-6) {
			t.Errorf("%s: longer is stronger (%v)", s.Name, err)
		}
	}
}
