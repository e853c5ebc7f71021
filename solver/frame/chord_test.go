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

// TestWholeBeams: beams answered at once have the forces of their parts one by one.
func TestWholeBeams(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 17))
	rows := func(n int) []row8 {
		v := make([]row8, n)
		for i := range v {
			for l := range v[i] {
				v[i][l] = 2*rng.Float64() - 1
			}
		}
		return v
	}
	for round := range 50 {
		e := element{L: 1 + rng.Float64(), EI: [2]float64{2, 3}, R: [3][3]float64{{0.6, 0.8, 0}, {-0.8, 0.6, 0}, {0, 0, 1}}}
		e.linear.kA, e.linear.kT, e.weakest = 5, 0.7, 2
		for p := range 2 {
			if e.plane[p].k = [4]float64{rigid, rigid, rigid, rigid}; round%3 > 0 {
				e.plane[p].k[3], e.plane[p].loose = 0, true
			}
			if round%3 == 2 {
				e.plane[p].k[1] = 0
			}
		}
		var s abreast
		s.tabulate([]element{e})
		vary := round%2 == 0 && round%3 < 2
		ui, uj, sums, variation := rows(6), rows(6), rows(sumRows), rows(chordTerms)
		if !vary {
			clear(variation)
		}
		var g, ends [2][]row8
		for way := range g {
			s.acc, s.pull = [accRows]row8{}, make([]row8, pullRows)
			g[way], ends[way] = make([]row8, 12), make([]row8, 12)
			gi, gj := g[way][:6], g[way][6:]
			switch kind := e.planeKind(); {
			case way == 0:
				beamIn(s.sc, ui, uj, sums, s.acc[:], s.t[:], s.pull)
				for p := range 2 {
					sp, d, out := s.sp[p*spNumbers:], s.t[tBend+4*p:], s.t[tForce+4*p:]
					if inner, f := sums[sumInner+inners*p:], sums[4+4*p:]; e.plane[p].loose {
						planeVaryLoose(sp, d, s.t[tMean:], variation, inner, f, s.acc[:], out)
					} else {
						planeVary(sp, d, s.t[tMean:], variation, inner, f, s.acc[:], out)
					}
				}
				beamOut(s.sc, s.t[:], ends[way], gi, gj, s.acc[:])
			case kind == pinnedPlanes:
				beamPinned(s.sc, s.sp, ui, uj, sums, s.acc[:], s.pull, ends[way], gi, gj)
			case vary && kind == loosePlanes:
				beamVaryLoose(s.sc, s.sp, ui, uj, sums, variation, s.acc[:], s.pull, ends[way], gi, gj)
			case vary:
				beamVary(s.sc, s.sp, ui, uj, sums, variation, s.acc[:], s.pull, ends[way], gi, gj)
			case kind == loosePlanes:
				beamEvenLoose(s.sc, s.sp, ui, uj, sums, s.acc[:], s.pull, ends[way], gi, gj)
			default:
				beamEven(s.sc, s.sp, ui, uj, sums, s.acc[:], s.pull, ends[way], gi, gj)
			}
		}
		for k := range 12 {
			for l := range lanes {
				if a, b := ends[0][k][l], ends[1][k][l]; math.Abs(a-b) > 1e-11 {
					t.Fatalf("round %d: end force %d is %g, by parts %g", round, k, b, a)
				}
				if a, b := g[0][k][l], g[1][k][l]; math.Abs(a-b) > 1e-11 {
					t.Fatalf("round %d: sum %d is %g, by parts %g", round, k, b, a)
				}
			}
		}
	}
}
