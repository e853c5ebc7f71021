package shedspace

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"leanbay/model/shed"
)

// TestQuickAgreesWithCareful judges designs of the shipped briefs twice: as the search does, and carefully as fronts are
// confirmed. Class, compliance, trouble and lists agree, and no utilisation differs by more than quickShare.
func TestQuickAgreesWithCareful(t *testing.T) {
	for _, name := range []string{"kit", "packhouse", "barn"} {
		p := example(t, name)
		quick, careful := newJudge(p), newJudge(p)
		quick.quick = true
		worst, ranked := 0.0, 0
		for i, d := range someDesigns(t, p, 5) {
			a, b := judged(t, quick, d), judged(t, careful, d)
			if a.Class != b.Class || a.Complies != b.Complies || len(a.Trouble) != len(b.Trouble) || len(a.Groups) != len(b.Groups) || len(a.Service) != len(b.Service) {
				t.Errorf("%s, design %d: quick %s %q, careful %s %q", name, i, a.Says(), a.Trouble, b.Says(), b.Trouble)
				continue
			}
			if a.Class < ClassUnstable {
				ranked++
			}
			worst = max(worst, compare(t, a, b))
		}
		if ranked < 3 {
			t.Errorf("%s: only %d designs were judged in full", name, ranked)
		}
		if !(worst <= quickShare) {
			t.Errorf("%s: quick and careful utilisations differ by %.2g", name, worst)
		}
		t.Logf("%s: %d designs judged in full, utilisations differ by %.2g at most", name, ranked, worst)
	}
}

// TestQuickAgreesOnSearch does the same for designs as a search meets them, with three genes of the braced proposal changed at random, so
// that layouts change as well; what governs, or what is not stable, agrees too.
func TestQuickAgreesOnSearch(t *testing.T) {
	for _, name := range []string{"kit", "packhouse", "barn"} {
		p := example(t, name)
		quick, careful := newJudge(p), newJudge(p)
		quick.quick = true
		rng := rand.New(rand.NewPCG(3, 4))
		base := p.Start()
		worst := 0.0
		for i := range 5 {
			pt := slices.Clone(base[len(base)-1])
			for range 3 {
				k := rng.IntN(len(pt))
				pt[k] = rng.IntN(len(p.genes[k].Options))
			}
			d, _ := p.Decode(pt)
			a, b := judged(t, quick, d), judged(t, careful, d)
			if a.Class != b.Class || a.Mechanism != b.Mechanism || len(a.Trouble) != len(b.Trouble) || len(a.Groups) != len(b.Groups) {
				t.Errorf("%s, design %d: quick %s %q, careful %s %q", name, i, a.Says(), a.Trouble, b.Says(), b.Trouble)
				continue
			}
			if a.Class >= ClassUnstable {
				continue
			}
			worst = max(worst, compare(t, a, b))
			if x, y := a.Governing, b.Governing; x.Group != y.Group || x.Name != y.Name {
				t.Errorf("%s, design %d: quick has %s govern by %s, careful %s by %s", name, i, x.Member, x.Name, y.Member, y.Name)
			}
		}
		if !(worst <= quickShare) {
			t.Errorf("%s: quick and careful utilisations differ by %.2g", name, worst)
		}
	}
}

func judged(t *testing.T, j *judge, d *shed.Design) *Assessment {
	a, err := j.assess(d, j.p.bench.drawn)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// compare returns the greatest difference of two assessments.
func compare(t *testing.T, a, b *Assessment) float64 {
	worst := apart(a.U, b.U)
	for k := range a.Groups {
		x, y := &a.Groups[k], &b.Groups[k]
		if u := apart(x.Utilisation, y.Utilisation); u > worst {
			worst = u
			if u > quickShare {
				t.Errorf("%s: quick %.7f by %s, careful %.7f by %s", x.Member, x.Utilisation, x.Name, y.Utilisation, y.Name)
			}
		}
	}
	for k := range a.Service {
		x, y := &a.Service[k], &b.Service[k]
		if u := apart(x.Utilisation, y.Utilisation); u > worst {
			worst = u
			if u > quickShare {
				t.Errorf("%s: quick %.7f, careful %.7f", x.Limit, x.Utilisation, y.Utilisation)
			}
		}
	}
	if v := apart(a.Violation, b.Violation); v > quickShare*float64(1+len(a.Groups)+len(a.Service)) {
		t.Errorf("violation: quick %.7f, careful %.7f", a.Violation, b.Violation)
	}
	return worst
}

// apart is the difference of two utilisations, relative where they are above 1.
func apart(a, b float64) float64 {
	return math.Abs(a-b) / math.Max(1, math.Max(math.Abs(a), math.Abs(b)))
}

// someDesigns are the first n of those that the bench looks among.
func someDesigns(t testing.TB, p *Problem, n int) []*shed.Design {
	list, err := p.heavier(n)
	if err != nil {
		t.Fatal(err)
	}
	return list
}
