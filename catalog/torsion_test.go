package catalog

import (
	"math"
	"testing"
)

// prandtl returns the torsion constant of a section by finite differences: the stress function's equation
// phi_xx + phi_yy = -2 with phi = 0 on the outline; J = 2 times the volume under it (Timoshenko and Goodier, Theory of
// elasticity, ch. 10). n nodes to a millimetre; straight sides must fall on nodes, where the scheme is exact across a wall.
func prandtl(f Family, d Dims, n float64) float64 {
	ps := pieces(f, d)
	w, h := d.B, d.D
	if f == EA {
		w = d.D
	}
	step := 1e-3 / n
	nx, ny := int(math.Round(w/step))+1, int(math.Round(h/step))+1
	inside := func(x, y float64) bool {
		sum := 0.0
		for _, p := range ps {
			if p.r == 0 {
				if x > p.x && x < p.x+p.w && y > p.y && y < p.y+p.h {
					sum += p.sign
				}
				continue
			}
			u, v := (x-p.x)*p.qx, (y-p.y)*p.qy
			if u > 0 && v > 0 && u < p.r && v < p.r && math.Hypot(p.r-u, p.r-v) > p.r {
				sum += p.sign
			}
		}
		return sum > 0.5
	}
	var nodes []int
	for j := range ny {
		for i := range nx {
			x, y, e := float64(i)*step, float64(j)*step, step*1e-3
			if inside(x-e, y-e) && inside(x+e, y-e) && inside(x-e, y+e) && inside(x+e, y+e) {
				nodes = append(nodes, j*nx+i)
			}
		}
	}
	phi := make([]float64, nx*ny)
	thick := max(d.T, d.Tf) + d.R1/2
	omega := 2 / (1 + math.Sin(math.Pi*step/(1.5*thick))) // successive over-relaxation
	for sweep := 0; ; sweep++ {
		change, peak := 0.0, 0.0
		for _, k := range nodes {
			delta := (phi[k-1]+phi[k+1]+phi[k-nx]+phi[k+nx]+2*step*step)/4 - phi[k]
			phi[k] += omega * delta
			change, peak = max(change, math.Abs(delta)), max(peak, phi[k])
		}
		if change < 1e-7*peak || sweep > 20000 {
			break
		}
	}
	sum := 0.0
	for _, k := range nodes {
		sum += phi[k]
	}
	return 2 * sum * step * step
}

// TestTorsionByFiniteDifferences holds the fitted torsion constants of hot-rolled sections to the stress function, over the
// proportions of the lists. 3 %, the tolerance for J; the differences are logged.
func TestTorsionByFiniteDifferences(t *testing.T) {
	for _, c := range []struct {
		name string
		f    Family
		d    Dims
	}{
		{"rectangle of a leg", EA, Dims{D: 0.1, T: 0.01}},
		{"heavy beam", UB, Dims{D: 0.12, B: 0.08, Tf: 0.008, Tw: 0.005, R1: 0.006}},
		{"light beam", UB, Dims{D: 0.1, B: 0.06, Tf: 0.006, Tw: 0.004, R1: 0.009}},
		{"heavy channel", PFC, Dims{D: 0.12, B: 0.05, Tf: 0.008, Tw: 0.004, R1: 0.007}},
		{"light channel", PFC, Dims{D: 0.075, B: 0.04, Tf: 0.006, Tw: 0.004, R1: 0.008}},
		{"thick angle", EA, Dims{D: 0.06, T: 0.008, R1: 0.006}},
		{"thin angle", EA, Dims{D: 0.06, T: 0.005, R1: 0.006}},
	} {
		want := prandtl(c.f, c.d, 4)
		got, _ := c.d.torsion(c.f, 0)
		t.Logf("%-18s J fitted %.5g, finite differences %.5g m4 (%+.2f %%)", c.name, got, want, 100*(got/want-1))
		near(t, c.name, got, want, 0.03)
	}
}

// TestFiniteDifferencesThemselves: a solid rectangle 2:1 has J = 0.2287 a b^3 (Timoshenko and Goodier, Table of ch. 10).
func TestFiniteDifferencesThemselves(t *testing.T) {
	d := Dims{D: 0.04, B: 0.02, Tf: 0.02, Tw: 0.02} // two flanges that fill the depth
	near(t, "J", prandtl(UB, d, 2), 0.2287*0.04*math.Pow(0.02, 3), 3e-3)
}

// TestHollowTorsionThin: Bredt's formulas for a thin square tube.
func TestHollowTorsionThin(t *testing.T) {
	const thickness = 1e-6
	d := Dims{D: 0.1 + thickness, B: 0.1 + thickness, T: thickness}
	j, c := d.torsion(SHS, 0)
	near(t, "J", j, math.Pow(0.1, 3)*thickness, 1e-4)
	near(t, "C", c, 2*0.1*0.1*thickness, 1e-4)
}

// TestTorsionOutsideTheFits: separate rectangles are a lower bound of the whole (a cut never stiffens), and no absurd one.
func TestTorsionOutsideTheFits(t *testing.T) {
	for _, c := range []struct {
		f Family
		d Dims
	}{
		{UB, Dims{D: 0.06, B: 0.03, Tf: 0.004, Tw: 0.008, R1: 0.004}},
		{PFC, Dims{D: 0.06, B: 0.03, Tf: 0.004, Tw: 0.006, R1: 0.003}},
		{EA, Dims{D: 0.02, T: 0.008, R1: 0.004}},
	} {
		got, _ := c.d.torsion(c.f, 0)
		if whole := prandtl(c.f, c.d, 4); got > whole || got < 0.6*whole {
			t.Errorf("%s: rectangles %.4g, finite differences %.4g", c.f, got, whole)
		}
	}
}
