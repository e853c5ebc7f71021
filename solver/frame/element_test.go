package frame

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// TestDistance: the bits of r3.Norm, whichever parts are zero or no numbers.
func TestDistance(t *testing.T) {
	rng := rand.New(rand.NewPCG(91, 92))
	part := func() float64 {
		switch rng.IntN(8) {
		case 0, 1, 2:
			return 0
		case 3:
			return math.Copysign(0, -1)
		case 4:
			return []float64{math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64, 5e-324}[rng.IntN(5)]
		}
		return rng.NormFloat64() * math.Pow(10, float64(rng.IntN(9)-4))
	}
	for range 20000 {
		v := r3.Vec{X: part(), Y: part(), Z: part()}
		if got, want := distance(v), r3.Norm(v); got != want && !(math.IsNaN(got) && math.IsNaN(want)) {
			t.Fatalf("%v: %v, r3.Norm has %v", v, got, want)
		}
	}
}

// TestBarStiffness: a bar added by itself is what the stiffness of all twelve freedoms puts there, to the bit.
func TestBarStiffness(t *testing.T) {
	rng := rand.New(rand.NewPCG(93, 94))
	for range 200 {
		s := &solver.Structure{Nodes: []solver.Node{{}, {Pos: r3.Vec{X: rng.NormFloat64(), Y: float64(rng.IntN(2)), Z: rng.NormFloat64()}}}}
		el := solver.Element{J: 1, E: 2e11, A: 1e-4 + 1e-3*rng.Float64(), Bar: true}
		var e element
		e.fill(s, &el)
		var place [78]int32
		for i := range place {
			if place[i] = int32(i); rng.IntN(9) == 0 {
				place[i] = -1 // held
			}
		}
		var whole, got, want [78]float64
		e.global(&e.linear, &whole)
		addAt(want[:], place[:], whole[:])
		if e.addBar(e.linear.kA, got[:], &place); got != want {
			t.Fatalf("got %v\nwant %v", got, want)
		}
	}
}
