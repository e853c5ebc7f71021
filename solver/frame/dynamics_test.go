package frame

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func periods(t testing.TB, b *build, m Mass, n int) []Period {
	t.Helper()
	ps, err := workspace(t, &b.s).Periods(m, nil, n)
	if err != nil {
		t.Fatal(err)
	}
	return ps
}

// TestBeamFrequencies: ω = (βL)²√(EI/ρA)/L² with βL = π (pinned), 4.730041 (fixed), 1.875104 (cantilever), 3.926602
// (propped); Blevins, Formulas for Natural Frequency and Mode Shape, Table 8-1. One element, weak axis first.
func TestBeamFrequencies(t *testing.T) {
	const L = 6.0
	for _, c := range []struct {
		name, i, j string
		bl         float64
	}{
		{"pinned", "xyzX", "xyz", math.Pi},
		{"fixed", all, all, 4.730041},
		{"cantilever", all, "", 1.875104},
		{"propped", all, "xyz", 3.926602},
	} {
		var b build
		i, j := b.node(0, 0, 0, c.i), b.node(L, 0, 0, c.j)
		b.beam(i, j, ez)
		ps := periods(t, &b, Mass{}, 2)
		for k, I := range []float64{1e-5, 2e-5} {
			f := c.bl * c.bl * math.Sqrt(testE*I/(7850*0.01)) / (L * L) / (2 * math.Pi)
			near(t, c.name, ps[k].Frequency, f, 1e-6)
			near(t, c.name+" T", ps[k].T, 1/f, 1e-6)
		}
		vertical := periods(t, &b, Mass{Direction: [3]bool{false, false, true}}, 1)
		near(t, c.name+" vertical", vertical[0].Frequency, ps[1].Frequency, 1e-6)
	}
}

// TestLumpedMass: a massless cantilever with a mass at its tip: ω² = 3EI/(mL³); and a frame of rods sways on its rod.
func TestLumpedMass(t *testing.T) {
	const L, m = 4.0, 500.0
	b := post(0, 0)
	ps := periods(t, b, Mass{Nodes: []float64{0, m}, Without: true, Direction: [3]bool{false, true, false}}, 1)
	near(t, "f", ps[0].Frequency, math.Sqrt(3*testE*2e-5/(m*L*L*L))/(2*math.Pi), 1e-6)
}

// TestFloorMass: mass along a hinged floor beam counts in its frequency: π²√(EI/(ρA+m))/L².
func TestFloorMass(t *testing.T) {
	const L = 6.0
	var b build
	i, j := b.node(0, 0, 0, all), b.node(L, 0, 0, all)
	e := b.beam(i, j, ez)
	e.ReleaseI[5], e.ReleaseJ[5] = true, true
	ps := periods(t, &b, Mass{PerLength: []float64{300}, Direction: [3]bool{false, false, true}}, 1)
	near(t, "f", ps[0].Frequency, math.Pi*math.Pi*math.Sqrt(testE*2e-5/(300+78.5))/(L*L)/(2*math.Pi), 1e-6)
	if len(ps[0].Local) != 1 {
		t.Errorf("local %v: the beam vibrates between still nodes", ps[0].Local)
	}
}

// TestPeriodsOfMechanism is an error that names it.
func TestPeriodsOfMechanism(t *testing.T) {
	var b build
	i, j := b.node(0, 0, 0, "xyz"), b.node(5, 0, 0, "yz")
	b.beam(i, j, ez)
	b.force(j, r3.Vec{}, r3.Vec{})
	if _, err := workspace(t, &b.s).Periods(Mass{}, nil, 1); err == nil {
		t.Error("no error")
	}
}
