package frame

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestLanePlanes: what lanes bend has the forces of smoothState, which TestSmoothElement holds to the exact element: for axial forces
// that vary or not, inner loads, ends that are rigid, turn freely or in springs.
func TestLanePlanes(t *testing.T) {
	rng := rand.New(rand.NewPCG(10, 11))
	number := func() float64 { return 2*rng.Float64() - 1 }
	joints := []float64{rigid, 0, 4e5}
	for round := range 200 {
		const L = 5.0
		e := element{L: L, EI: [2]float64{2e6, 5e6}}
		e.weakest = e.EI[0]
		for p := range 2 {
			j := &e.plane[p]
			j.k = [4]float64{rigid, joints[rng.IntN(3)], rigid, joints[rng.IntN(3)]}
			if round%8 == 1 {
				j.k = [4]float64{rigid, 0, rigid, 0}
			}
			j.loose = j.k[1] != rigid || j.k[3] != rigid
		}
		var sps [2 * spNumbers]float64
		for p := range 2 {
			e.tabulatePlane(p, sps[spNumbers*p:])
		}
		sums, d := make([]row8, sumRows), make([]row8, 4)
		vary := make([]row8, chordTerms)
		var mean [1]row8
		var of [lanes]smoothSum
		for l := range lanes {
			s := &of[l]
			for j := 1; j < axials && round%2 == 0; j++ {
				s.axial[j] = 2e4 * number()
				sums[sumAxial+j][l] = s.axial[j]
			}
			mean[0][l] = 3e5 * number()
			for k := range inners {
				s.inner[0][k] = 1e3 * number()
				s.inner[1][k] = s.inner[0][k]
				sums[sumInner+k][l] = s.inner[0][k]
			}
			for a := range 4 {
				sums[4+a][l], d[a][l] = 1e4*number(), 0.01*number()
			}
			s.settle()
		}
		settleLanes(sums, vary)
		for p := range 2 {
			out := make([]row8, 4)
			acc := make([]row8, accRows)
			sp, inner, f := sps[spNumbers*p:], sums[sumInner:], sums[4:]
			switch loose := e.plane[p].loose; {
			case round%2 == 0 && loose:
				planeVaryLoose(sp, d, mean[:], vary, inner, f, acc, out)
			case round%2 == 0:
				planeVary(sp, d, mean[:], vary, inner, f, acc, out)
			case e.plane[p].pinned():
				planePinned(sp, d, mean[:], f, acc, out)
			case loose:
				planeEvenLoose(sp, d, mean[:], inner, f, acc, out)
			default:
				planeEven(sp, d, mean[:], inner, f, acc, out)
			}
			for l := range lanes {
				var g packed
				of[l].geometry(mean[0][l], &g)
				var k block
				v := [4]float64{f[0][l] / L, f[1][l], f[2][l] / L, f[3][l]}
				e.smoothPlane(p, &g, &of[l].inner[p], &k, &v)
				var c condensation
				c.condense(&k, 4, &e.plane[p])
				c.loads(&v, math.Inf(1))
				unit := [4]float64{L, 1, L, 1}
				for a := range 4 {
					want := v[a]
					for b := range 4 {
						want += k[a][b] * d[b][l] * unit[b]
					}
					if want *= unit[a]; math.Abs(out[a][l]-want) > 1e-9*1e4 {
						t.Fatalf("round %d, plane %d, lane %d, row %d: %g, want %g", round, p, l, a, out[a][l], want)
					}
				}
			}
		}
	}
}
