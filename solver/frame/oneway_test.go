package frame

import (
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// bay is a pin-jointed braced bay in the X-Z plane, 4 m wide and 3 m high: two columns, a beam, two crossed rods. All of it
// is kept in its plane.
func bay() *build {
	var b build
	b.node(0, 0, 0, "xyz")
	b.node(4, 0, 0, "xyz")
	b.node(0, 0, 3, "y")
	b.node(4, 0, 3, "y")
	for _, p := range [][2]int{{0, 2}, {1, 3}, {2, 3}} {
		b.beam(p[0], p[1], ey).Bar = true
	}
	b.rod(0, 3, 2e-4)
	b.rod(1, 2, 2e-4)
	return &b
}

// TestBracedBay: the rod that the load stretches takes H/cos, the other is slack; reversed load, reversed rods. Statically
// determinate once the state is known.
func TestBracedBay(t *testing.T) {
	for _, H := range []float64{10000, -10000} {
		b := bay()
		b.force(2, r3.Vec{X: H / 2}, r3.Vec{})
		b.force(3, r3.Vec{X: H / 2}, r3.Vec{})
		r := run(t, &b.s, TensionOnly)
		tight, slack := 3, 4
		if H < 0 {
			tight, slack = 4, 3
		}
		if r.Slack[tight] || !r.Slack[slack] {
			t.Fatalf("H %g: slack %v", H, r.Slack)
		}
		near(t, "rod", r.Ends[tight][6], math.Abs(H)*5/4, exact)
		near(t, "slack rod", r.Ends[slack][6], 0, 1e-6)
		// Linear ignores the activity: both rods act.
		lin := run(t, &b.s, Linear)
		if lin.Ends[slack][6] > -1000 {
			t.Errorf("linear: the rod in compression carries %g", lin.Ends[slack][6])
		}
	}
}

// TestGravitySlackensAllRods: columns shorten, both rods go slack; the bay is pinned and stands only by rods that are ready
// to act. The answer is the columns' own, with a note and no mechanism.
func TestGravitySlackensAllRods(t *testing.T) {
	b := bay()
	b.force(2, r3.Vec{Z: -50000}, r3.Vec{})
	b.force(3, r3.Vec{Z: -50000}, r3.Vec{})
	r := run(t, &b.s, TensionOnly)
	if !r.Slack[3] || !r.Slack[4] || !r.Touching[3] || !r.Touching[4] {
		t.Errorf("slack %v touching %v", r.Slack, r.Touching)
	}
	near(t, "column", r.Ends[0][6], -50000, exact)
	near(t, "uz", r.U[6*2+2], -50000*3/(testE*0.01), exact)
	near(t, "ux", r.U[6*2], 0, 1e-12)
	if !strings.Contains(strings.Join(r.Notes, "\n"), "all rods slack") {
		t.Errorf("notes: %q", r.Notes)
	}
}

// TestOneRodDoesNotHold: with a single rod the bay stands one way only. Pushed the other way, or not pushed at all, it is a
// mechanism with that rod named.
func TestOneRodDoesNotHold(t *testing.T) {
	for _, H := range []float64{10000, -10000, 0} {
		b := bay()
		b.s.Elements = b.s.Elements[:4]
		b.s.Members = b.s.Members[:4]
		b.force(3, r3.Vec{X: H, Z: -20000}, r3.Vec{})
		b.force(2, r3.Vec{Z: -20000}, r3.Vec{})
		r := runAny(t, &b.s, TensionOnly)
		if H > 0 {
			if !r.Stable {
				t.Errorf("pulled: %v", r.Mechanisms)
			}
			continue
		}
		if r.Stable || len(r.Mechanisms) != 1 || !strings.Contains(r.Mechanisms[0].Text, "e4") || !strings.Contains(r.Mechanisms[0].Text, "along X") {
			t.Errorf("H %g: stable %v, %+v %v", H, r.Stable, r.Mechanisms, r.Notes)
		}
	}
}

// TestFalseMechanism: with all rods present both are compressed under this load (the first-order answer), yet one of them
// acts in the true state, since the frame leans when both are gone.
func TestFalseMechanism(t *testing.T) {
	b := bay()
	b.force(2, r3.Vec{X: 500, Z: -400000}, r3.Vec{})
	b.force(3, r3.Vec{X: 500, Z: -400000}, r3.Vec{})
	lin := run(t, &b.s, Linear)
	if lin.Ends[3][6] > 0 || lin.Ends[4][6] > 0 {
		t.Fatalf("the case is not what it is meant to be: %g %g", lin.Ends[3][6], lin.Ends[4][6])
	}
	r := run(t, &b.s, TensionOnly)
	if r.Slack[3] || !r.Slack[4] {
		t.Fatalf("slack %v", r.Slack)
	}
	near(t, "rod", r.Ends[3][6], 1000*5.0/4, exact)
}

// TestCompressionOnly: of two struts on either side of a pushed block only the one that is pressed acts.
func TestCompressionOnly(t *testing.T) {
	var b build
	a, m, c := b.node(0, 0, 0, "xyz"), b.node(1, 0, 0, "yz"), b.node(3, 0, 0, "xyz")
	b.rod(a, m, 1e-3).Acts = solver.CompressionOnly
	b.rod(m, c, 1e-3).Acts = solver.CompressionOnly
	b.force(m, r3.Vec{X: 700}, r3.Vec{})
	r := run(t, &b.s, TensionOnly)
	near(t, "pressed", r.Ends[1][6], -700, exact)
	near(t, "free", r.Ends[0][6], 0, 1e-9)
	near(t, "ux", r.U[6], 700*2/(testE*1e-3), exact)
}

// TestRandomRods: for random braced frames the answer meets the conditions that single it out: no rod in compression, no
// slack rod stretched, equilibrium with the slack ones gone.
func TestRandomRods(t *testing.T) {
	for seed := range 40 {
		b := randomTower(seed)
		r := runAny(t, &b.s, TensionOnly)
		if !r.Stable {
			t.Fatalf("seed %d: %v %v", seed, r.Mechanisms, r.Notes)
		}
		if r.Residual > 1e-8 {
			t.Errorf("seed %d: residual %g", seed, r.Residual)
		}
		for e := range b.s.Elements {
			el := &b.s.Elements[e]
			if el.Acts == solver.BothWays {
				continue
			}
			d := r.w.els[e].local(r.U[6*el.I:6*el.I+6], r.U[6*el.J:6*el.J+6])
			stretch := d[6] - d[0]
			if r.Slack[e] && stretch > 1e-12 || !r.Slack[e] && stretch < -1e-12 {
				t.Errorf("seed %d: rod %d slack %v, stretch %g", seed, e, r.Slack[e], stretch)
			}
		}
	}
}

// randomTower is a tower of three storeys on four fixed, weak columns with crossed rods in every panel and random loads.
func randomTower(seed int) *build {
	x := make([]float64, 64)
	t := float64(seed) * 0.37
	for i := range x {
		t += math.Phi
		t -= math.Floor(t)
		x[i] = t - 0.5
	}
	var b build
	corner := [4][2]float64{{0, 0}, {5, 0}, {5, 4}, {0, 4}}
	for k := range 4 {
		for c := range 4 {
			held := ""
			if k == 0 {
				held = all
			}
			b.node(corner[c][0], corner[c][1], 3*float64(k), held)
		}
	}
	for k := range 3 {
		for c := range 4 {
			a, d := 4*k+c, 4*k+(c+1)%4
			b.beam(a, a+4, ex)
			b.beam(a+4, d+4, ez)
			b.rod(a, d+4, 3e-4)
			b.rod(d, a+4, 3e-4)
		}
	}
	for i := range 12 {
		b.force(4+i, r3.Vec{X: 3e4 * x[3*i], Y: 3e4 * x[3*i+1], Z: -1e5 * (x[3*i+2] + 0.5)}, r3.Vec{})
	}
	return &b
}

// TestAgainstEnumeration: a pinned tower of two braced bays, four rods: all sixteen states are tried as linear structures, and
// the one that contradicts itself nowhere (no acting rod pressed, no slack one stretched) must be the answer. Where no state
// fits, or only one in which nothing holds the lean, the answer is upright on ready rods, or a mechanism.
func TestAgainstEnumeration(t *testing.T) {
	x, next := 0.123, 0.0
	random := func() float64 {
		x += math.Phi
		x -= math.Floor(x)
		next = math.Mod(next+x*7.31, 1)
		return next - 0.5
	}
	found := 0
	for range 150 {
		var b build
		n := []int{b.node(0, 0, 0, "xyz"), b.node(4, 0, 0, "xyz"), b.node(0, 0, 3, "y"), b.node(4, 0, 3, "y"), b.node(0, 0, 6, "y"), b.node(4, 0, 6, "y")}
		for _, p := range [][2]int{{0, 2}, {1, 3}, {2, 4}, {3, 5}, {2, 3}, {4, 5}} {
			e := b.beam(n[p[0]], n[p[1]], ey)
			e.Bar, e.A = true, 0.002+0.004*(random()+0.5)
		}
		for _, p := range [][2]int{{0, 3}, {1, 2}, {2, 5}, {3, 4}} {
			b.rod(n[p[0]], n[p[1]], 3e-4)
		}
		for i := 2; i < 6; i++ {
			b.force(n[i], r3.Vec{X: 2e4 * random(), Z: -1e5 * (random() + 0.3)}, r3.Vec{})
		}
		r := runAny(t, &b.s, TensionOnly)
		want := -1
		for state := range 16 {
			if consistent(t, &b.s, state) {
				want = state
			}
		}
		if want < 0 {
			continue
		}
		found++
		if !r.Stable {
			t.Fatalf("state %04b fits, answer: %v %v", want, r.Mechanisms, r.Notes)
		}
		for k := range 4 {
			if slack := want>>k&1 == 0; r.Slack[6+k] != slack {
				t.Errorf("state %04b fits, answer: slack %v", want, r.Slack[6:])
			}
		}
	}
	if found < 50 {
		t.Errorf("only %d cases had a state that fits: the test looks at too little", found)
	}
}

// consistent analyses the structure with only the rods of state present, as two-way bars, and tells whether the answer is
// stable, stretches every rod present and no rod absent.
func consistent(t *testing.T, s *solver.Structure, state int) bool {
	c := *s
	c.Elements, c.Members = nil, nil
	for e := range s.Elements {
		if e >= 6 && state>>(e-6)&1 == 0 {
			continue
		}
		el := s.Elements[e]
		el.Acts, el.Member = solver.BothWays, len(c.Members)
		c.Members = append(c.Members, solver.Member{ID: el.ID, Elements: []int{len(c.Elements)}})
		c.Elements = append(c.Elements, el)
	}
	r := runAny(t, &c, Linear)
	if !r.Stable {
		return false
	}
	for e := 6; e < 10; e++ {
		el := &s.Elements[e]
		var full element
		full.fill(s, el)
		d := full.local(r.U[6*el.I:6*el.I+6], r.U[6*el.J:6*el.J+6])
		if stretch := d[6] - d[0]; (stretch > 0) != (state>>(e-6)&1 == 1) {
			return false
		}
	}
	return true
}

// TestWorkers: workspaces of one model, used side by side, give the same bits as one alone.
func TestWorkers(t *testing.T) {
	s := shed(3)
	m, err := Compile(s)
	if err != nil {
		t.Fatal(err)
	}
	answers := make([][]Result, 4)
	var wg sync.WaitGroup
	for i := range answers {
		wg.Go(func() {
			w := m.NewWorkspace()
			answers[i] = make([]Result, len(s.Combinations))
			if err := w.Load(s); err != nil {
				t.Error(err)
				return
			}
			if err := w.AnalyseAll(s.Combinations, TensionOnlySecondOrder, answers[i]); err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
	for i := range answers {
		for c := range answers[i] {
			if !slices.Equal(answers[i][c].U, answers[0][c].U) {
				t.Fatalf("worker %d, combination %d differs", i, c)
			}
		}
	}
}
