package shedspace

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"leanbay/model/shed"
)

// startShare is how far figures of careful assessments that start from quick answers may lie from those that do not: both leave 1e-10 of the
// greatest force out of balance, and the softest movements and buckling factors answer to that with some ten times as much.
const startShare = 1e-8

// TestStartedAgreesWithCareful: careful assessments that start from quick answers are those that do not, of designs of the
// shipped briefs: as drawn, braced, strong, and with three genes of the braced proposal changed at random. Class, trouble and lists
// agree, and every figure lies within startShare; which of equal members or combinations governs is a matter of round-off.
func TestStartedAgreesWithCareful(t *testing.T) {
	for _, name := range []string{"kit", "packhouse", "barn"} {
		p := example(t, name)
		started, careful := newStartedJudge(p), newJudge(p)
		worst, stable, rounds := 0.0, 0, [2]int{}
		for i, d := range aroundBraced(t, p, 6) {
			a, b := judged(t, started, d), judged(t, careful, d)
			if a.Stable != b.Stable || a.Class != b.Class || a.Complies != b.Complies || a.Mechanism != b.Mechanism || len(a.Trouble) != len(b.Trouble) {
				t.Errorf("%s, design %d: started %s %q, by itself %s %q", name, i, a.Says(), a.Trouble, b.Says(), b.Trouble)
				continue
			}
			x, y := figuresIn(a), figuresIn(b)
			if len(x) != len(y) || len(a.Groups) != len(b.Groups) {
				t.Errorf("%s, design %d: started has %d figures, by itself %d", name, i, len(x), len(y))
				continue
			}
			for k := range x {
				if u := apart(x[k], y[k]); !(u <= startShare) {
					t.Errorf("%s, design %d, figure %d: started %.12g, by itself %.12g", name, i, k, x[k], y[k])
				} else {
					worst = max(worst, u)
				}
			}
			for k := range a.Groups {
				x, y := &a.Groups[k], &b.Groups[k]
				u := apart(x.Utilisation, y.Utilisation)
				if x.Group != y.Group || !(u <= startShare) {
					t.Errorf("%s, design %d, %s %s: started %.12g, by itself %.12g", name, i, x.Group, x.Name, x.Utilisation, y.Utilisation)
				}
				worst = max(worst, u)
			}
			if a.Stable {
				stable++
				rounds[0] += a.Iterations
				rounds[1] += b.Iterations
			}
		}
		if stable < 3 {
			t.Errorf("%s: only %d designs were judged in full", name, stable)
		}
		if rounds[0] >= rounds[1] {
			t.Errorf("%s: %d rounds from quick answers, %d without: the start spares nothing", name, rounds[0], rounds[1])
		}
		t.Logf("%s: %d designs judged in full, figures differ by %.2g at most, rounds %d instead of %d",
			name, stable, worst, rounds[0], rounds[1])
	}
}

// aroundBraced lists the proposal, a strong one, the proposal braced, and n designs with three genes of that changed at random.
func aroundBraced(t *testing.T, p *Problem, n int) []*shed.Design {
	base := p.Start()
	rng := rand.New(rand.NewPCG(5, 6))
	sturdy, err := p.Sturdy()
	if err != nil {
		t.Fatal(err)
	}
	out := []*shed.Design{p.Drawn, sturdy}
	for i := range n + 1 {
		pt := slices.Clone(base[len(base)-1])
		for range 3 * min(i, 1) {
			k := rng.IntN(len(pt))
			pt[k] = rng.IntN(len(p.genes[k].Options))
		}
		d, _ := p.Decode(pt)
		out = append(out, d)
	}
	return out
}

// figuresIn lists the figures of an assessment beside the utilisations of groups, in one order: other utilisations, movements and factors, and forces on footings over the greatest.
func figuresIn(a *Assessment) []float64 {
	out := []float64{a.Mass.Total, a.LambdaC}
	for i := range a.Service {
		out = append(out, a.Service[i].Utilisation, a.Service[i].Value)
	}
	for i := range a.Rules {
		out = append(out, a.Rules[i].Utilisation)
	}
	for i := range a.Connections {
		out = append(out, a.Connections[i].Utilisation())
	}
	for i := range a.Footings {
		out = append(out, a.Footings[i].Utilisation())
	}
	for _, f := range a.Floors {
		out = append(out, f.Test, f.Beams, f.Joists, f.Frequency)
	}
	var forces []float64
	for _, f := range a.Feet {
		forces = append(forces, f.Up, f.Down, f.AlongX, f.AcrossY, f.MomentX, f.MomentY)
	}
	for _, f := range append(forces, a.Holding.Force) {
		out = append(out, f/max(1, slices.Max(append(forces, 0))))
	}
	return out
}

// TestScorersAgree: a scorer that goes from design to design, in one order and in the other, has to the bit what a full assessment of each
// by itself has, but for what it leaves out.
func TestScorersAgree(t *testing.T) {
	for _, name := range []string{"kit", "packhouse"} {
		p := example(t, name)
		list := aroundBraced(t, p, 3)[1:]
		s := p.NewScorer()
		var got []*Assessment
		for _, back := range []bool{false, true} {
			for k := range list {
				if back {
					k = len(list) - 1 - k
				}
				a, err := s.Assess(list[k])
				if err != nil {
					t.Fatal(err)
				}
				got = append(got, a)
			}
		}
		for k, d := range list {
			full, err := p.Assess(d)
			if err != nil {
				t.Fatal(err)
			}
			if full.Stable && full.Feet == nil {
				t.Errorf("%s, design %d: a full assessment without reactions: the test shows little", name, k)
			}
			full.Feet, full.Connections, full.Footings, full.FootingNotes, full.Holding = nil, nil, nil, nil, HoldingForce{}
			for i := range full.Floors {
				f := &full.Floors[i]
				f.Beams, f.Joists, f.Frequency = 0, 0, 0
			}
			for _, a := range []*Assessment{got[k], got[2*len(list)-1-k]} {
				if !alikeButNaN(a, full) {
					t.Errorf("%s, design %d: %s, in full %s", name, k, a.Says(), full.Says())
				}
			}
		}
	}
}

// alikeButNaN compares assessments; stations that no check has are not numbers, and equal.
func alikeButNaN(a, b *Assessment) bool {
	for _, x := range []*Assessment{a, b} {
		for i := range x.Groups {
			if math.IsNaN(x.Groups[i].Station) {
				x.Groups[i].Station = -1
			}
		}
	}
	return reflect.DeepEqual(a, b)
}
