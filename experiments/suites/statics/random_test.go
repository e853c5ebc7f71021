package statics

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// randomFrame is a small space frame with everything that the dense routine knows: sections at any roll, releases, end
// springs, sprung supports, rods that act one way, loads anywhere.
func randomFrame(r *rand.Rand) *form {
	f := newForm()
	n := 2 + r.IntN(2)
	for i := range n { // two or three posts
		f.at(4*float64(i)+r.Float64(), r.Float64(), 0)
		f.at(4*float64(i)+r.Float64(), r.Float64(), 3+r.Float64())
	}
	section := func() section {
		s := closedSection
		s.Iy *= 0.5 + r.Float64()
		s.Iz *= 0.5 + r.Float64()
		s.J *= 0.5 + r.Float64()
		return s
	}
	roll := func() vec { return vec{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()} }
	for i := range n {
		f.hold(2*i+1, "pin rz")
		if r.IntN(2) == 0 {
			f.hold(2*i+1, "all")
		} else {
			f.supportOf(2*i+1).KRX, f.supportOf(2*i+1).KRY = 1e6*r.Float64()+1e5, 1e6
		}
		f.beam(fmt.Sprintf("post%d", i), 2*i+1, 2*i+2, section(), roll())
	}
	for i := range n - 1 {
		m := f.beam(fmt.Sprintf("beam%d", i), 2*i+2, 2*i+4, section(), roll())
		if r.IntN(2) == 0 {
			m.ReleaseI = []string{"My", "Mz"}
		}
		if r.IntN(2) == 0 {
			m.SpringsJ = map[string]float64{"Mz": 1e6 * (0.2 + r.Float64()), "My": 1e6}
		}
		f.tie(fmt.Sprintf("up%d", i), 2*i+1, 2*i+4, steelE, 1e-4)
		f.tie(fmt.Sprintf("down%d", i), 2*i+3, 2*i+2, steelE, 1e-4)
	}
	return f
}

func randomLoads(r *rand.Rand, f *form, c *loadCase) {
	for i := range f.Nodes {
		if i%2 == 1 {
			c.force(i+1, 8e3*r.NormFloat64(), 2e3*r.NormFloat64(), -60e3-90e3*r.Float64())
			c.moment(i+1, 1e3*r.NormFloat64(), 1e3*r.NormFloat64(), 1e3*r.NormFloat64())
		}
	}
	for _, m := range f.Members {
		if m.Rod {
			continue
		}
		a := r.Float64()
		c.udl(m.ID, 500*r.NormFloat64(), 500*r.NormFloat64(), -2e3)
		c.part(m.ID, a, a+1.5, -1e3, -3e3*r.Float64())
		c.at(m.ID, 3*r.Float64(), -2e3)
	}
}

// TestRandomFrames compares solver and dense routine on random frames: displacements and end forces of every node and
// member, states, load factors.
func TestRandomFrames(t *testing.T) {
	compared := 0
	for seed := range uint64(12) {
		r := rand.New(rand.NewPCG(seed, 7))
		f := randomFrame(r)
		for _, an := range []string{"linear", "tension_only", "second_order", "tension_only_second_order"} {
			randomLoads(rand.New(rand.NewPCG(seed, 8)), f, f.load(an, an))
		}
		a, err := analyse(f)
		if err != nil {
			t.Fatal(err)
		}
		for i := range a.Cases {
			c := &a.Cases[i]
			second, oneWay := i >= 2, i%2 == 1
			ref, err := reference(f, c.ID, second, oneWay)
			if (err == nil) != c.Stable {
				t.Errorf("seed %d, %s: stable %v, dense routine %v", seed, c.ID, c.Stable, err)
			}
			if err != nil || !c.Stable { // both say that it does not stand
				continue
			}
			compared++
			off := worst(f, c.Displacements, ref)
			for e, m := range f.Members {
				if got, want := c.States[m.ID] == "slack", ref.slack[e]; oneWay && got != want {
					t.Errorf("seed %d, %s: %s slack %v, dense %v", seed, c.ID, m.ID, got, want)
				}
			}
			if off > 2e-4 {
				t.Errorf("seed %d, %s: displacements differ by %.1e of the greatest", seed, c.ID, off)
			}
		}
	}
	if compared < 40 {
		t.Errorf("only %d of 48 stand: the loads are too great to compare much", compared)
	}
}

// worst is the greatest difference of displacements over the greatest displacement.
func worst[S ~[6]float64](f *form, got map[string]S, ref *denseAnswer) float64 {
	most, off := 0.0, 0.0
	for i := range f.Nodes {
		g := got[fmt.Sprint(f.Nodes[i].ID)]
		for k := range 6 {
			most = max(most, math.Abs(ref.u[6*i+k]))
			off = max(off, math.Abs(g[k]-ref.u[6*i+k]))
		}
	}
	return off / most
}

// TestRandomBuckling compares the two lowest load factors.
func TestRandomBuckling(t *testing.T) {
	for seed := range uint64(8) {
		r := rand.New(rand.NewPCG(seed, 9))
		f := randomFrame(r)
		for _, m := range f.Members {
			m.Tension = false // both rods of a bay act: which act is another test's matter
		}
		randomLoads(r, f, f.load("b", "buckling"))
		a, err := analyse(f)
		if err != nil {
			t.Fatal(err)
		}
		want, err := critical(f, "b", 2)
		if err != nil {
			t.Fatal(err)
		}
		got := a.Cases[0].Factors
		for k := range want {
			if k >= len(got) || math.Abs(got[k]/want[k]-1) > 5e-4 {
				t.Errorf("seed %d: factors %v, dense routine %v", seed, got, want)
				break
			}
		}
	}
}
