package shedspace

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"leanbay/model/joints"
	"leanbay/model/shed"
	"leanbay/optimize"
)

// TestSearchPromises holds the shed problem to what the engine is promised: repair, keys, evaluation as a pure function, and
// bounds below what they bound, with two sets of objectives.
func TestSearchPromises(t *testing.T) {
	for _, objectives := range [][]string{nil, {"mass", "distinct sections", "sway"}, {"mass", "departures"}} {
		p, err := New(example(t, "kit").Brief, objectives...)
		if err != nil {
			t.Fatal(err)
		}
		if err := optimize.Verify(context.Background(), p, 1, 12); err != nil {
			t.Errorf("%v: %v", objectives, err)
		}
	}
}

// TestOutlineIsExact compares the outline of designs with their model, weighed member by member.
func TestOutlineIsExact(t *testing.T) {
	for _, name := range []string{"kit", "packhouse", "barn"} {
		p := example(t, name)
		for _, d := range randomDesigns(p, 40) {
			m, a := p.Shed.Build(d), p.outline(d)
			if kg := m.Mass(p.setupOf(d).secondaries.Sections).Total; math.Abs(a.Mass.Total-kg) > roundOff*kg/2 {
				t.Errorf("%s: outline %.6f kg, model %.6f kg", name, a.Mass.Total, kg)
			}
			rules := p.rules(m, &joints.Fitter{Words: true}, nil)
			for i, r := range a.Rules {
				if rules[i].Rule != r.Rule || math.Abs(rules[i].Utilisation-r.Utilisation) > 1e-9 {
					t.Errorf("%s: rule %v in the outline, %v in the model", name, r, rules[i])
				}
			}
			if len(a.Findings) != len(m.Findings) {
				t.Errorf("%s: %d findings in the outline, %d in the model", name, len(a.Findings), len(m.Findings))
			}
		}
	}
}

// TestPartialBoundsHold checks the bounds of branches against the mass of points in them, in all examples and in a wide one.
func TestPartialBoundsHold(t *testing.T) {
	for _, name := range []string{"kit", "packhouse", "barn"} {
		p := example(t, name)
		rng := rand.New(rand.NewPCG(3, 5))
		var pt []int
		for k := range 12 {
			if k%6 == 0 {
				pt = randomPoint(p, rng)
			} else { // other sections in the same layout
				copy(pt[p.layoutDecided():], randomPoint(p, rng)[p.layoutDecided():])
			}
			_, repaired := p.Canonical(pt)
			d, _ := p.Decode(repaired)
			kg := p.outline(d).Mass.Total
			last := 0.0
			for fixed := 3; fixed <= len(repaired); fixed++ { // with the spacings given: a branch of all of them takes minutes
				b := p.BoundPartial(repaired, fixed)
				if got := b.Objectives[0]; !math.IsInf(got, 1) && got > kg {
					t.Errorf("%s: first %d genes of %v bound %.3f kg, the design has %.3f kg", name, fixed, repaired, got, kg)
				}
				last = math.Max(last, b.Objectives[0])
			}
			if last < 0.99*kg {
				t.Errorf("%s: the bound of a whole point is %.3f kg, its mass %.3f kg", name, last, kg)
			}
		}
	}
}

// TestGuessOfOwnMeasures feeds what was measured back: the guess is then the evaluation, but for what is unknown.
func TestGuessOfOwnMeasures(t *testing.T) {
	p := example(t, "kit")
	e, compared := p.NewEvaluator(), 0
	designs := someDesigns(t, p, 12)
	for _, d := range designs {
		pt, ok := p.Encode(d)
		if !ok {
			continue
		}
		key, pt := p.Canonical(pt)
		s, err := e.Evaluate(context.Background(), pt, key)
		if err != nil {
			t.Fatal(err)
		}
		if s.Measures == nil {
			continue
		}
		compared++
		g := p.Guess(pt, key, s.Measures)
		if g.Class != s.Class || math.Abs(g.Violation-s.Violation) > 1e-9 || math.Abs(g.Tie-s.Tie) > 1e-9 {
			t.Errorf("evaluated class %d, violation %v, utilisation %v; guessed %d, %v, %v", s.Class, s.Violation, s.Tie, g.Class, g.Violation, g.Tie)
		}
	}
	if compared < 3 {
		t.Errorf("only %d designs were compared", compared)
	}
}

// TestHintsPointAtWhatGoverns checks signs on the braced proposal: the governing group steps up, one at half of it down.
func TestHintsPointAtWhatGoverns(t *testing.T) {
	p := example(t, "kit")
	d, _, err := p.Braced()
	if err != nil {
		t.Fatal(err)
	}
	pt, _ := p.Encode(d)
	d, pt = p.Decode(pt)
	w := p.NewEvaluator()
	s, err := w.Evaluate(context.Background(), pt, p.Key(d))
	if err != nil {
		t.Fatal(err)
	}
	hints, err := w.(optimize.Hinter).Hint(context.Background(), pt, p.Key(d), s)
	if err != nil {
		t.Fatal(err)
	}
	a := judged(t, newJudge(p), d)
	for i := range p.genes {
		for _, g := range p.genes[i].groups {
			switch u := a.utilisationOf(string(g)); {
			case a.Governing.Group == string(g) && hints[i] <= 0:
				t.Errorf("%s governs at %.2f, its hint is %v", g, u, hints[i])
			case u == 0 && a.needs()[g] == 0 && len(p.genes[i].groups) == 1 && hints[i] != 0:
				t.Errorf("%s is not there, its hint is %v", g, hints[i])
			}
		}
	}
}

// randomDesigns decodes random points.
func randomDesigns(p *Problem, n int) []*shed.Design {
	rng := rand.New(rand.NewPCG(11, 12))
	var out []*shed.Design
	for range n {
		d, _ := p.Decode(randomPoint(p, rng))
		out = append(out, d)
	}
	return out
}
