package shedspace

import (
	"context"
	"maps"
	"slices"
	"testing"

	"leanbay/model/brief"
	"leanbay/optimize"
)

// kitSpace is the kit with its walls braced in given bays, its stock cut to a few sections, and service limits left aside, so
// that several variants trade mass against strength: a space of a hundred points.
func kitSpace(t testing.TB) *Problem {
	t.Helper()
	b := *example(t, "kit").Brief
	f := &b.Freedoms
	f.Stock = map[brief.Group]brief.Stock{}
	for g, list := range map[brief.Group][]string{
		brief.GroupColumn: {"125x75x5.0RHS", "150x100x5.0RHS", "200x100x5.0RHS"}, brief.GroupRafter: {"125x75x5.0RHS", "150x100x5.0RHS", "200x100x5.0RHS"},
		brief.GroupMullion: {"100x50x4.0RHS"}, brief.GroupEavesStrut: {"65x65x3.0SHS"},
		brief.GroupWallDiagonal: {"75x75x3.0SHS"}, brief.GroupRoofRod: {"R16"},
	} {
		f.Stock[g] = brief.Stock{Sections: list}
	}
	f.Spacings, f.FlyBraces, f.Struts, f.OneOuterSize = false, false, false, false
	f.Props.Add, f.Props.MaxLines = false, 0
	f.Bracing.MaxBays, f.Bracing.Roof = 0, []brief.Pattern{brief.CrossedRods}
	b.Proposal.Struts = brief.Struts{Eaves: true, Ridge: true, Nodes: true}
	b.Proposal.WallBracing = []brief.WallPanel{
		{Wall: brief.South, Bay: 2, Pattern: brief.SingleStrut, Rises: brief.East}, {Wall: brief.North, Bay: 1, Pattern: brief.SingleStrut, Rises: brief.East},
	}
	b.Proposal.Sections = maps.Clone(b.Proposal.Sections)
	drawn := b.Proposal.Sections[brief.GroupColumn]
	for g, name := range map[brief.Group]string{brief.GroupEavesStrut: "65x65x3.0SHS", brief.GroupNodeStrut: "65x65x3.0SHS", brief.GroupWallDiagonal: "89x89x3.5SHS"} {
		drawn.Section, drawn.Grade = name, "C350L0"
		b.Proposal.Sections[g] = drawn
	}
	b.Limits.ServiceHard = false
	p, err := New(&b)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// keysOf lists the keys of variants.
func keysOf(vs []optimize.Variant) []string {
	var out []string
	for _, v := range vs {
		out = append(out, v.Key)
	}
	return out
}

// TestSearchFindsTheProvenFront: on a space of a hundred points the fronts of enumeration without bounds, of enumeration with
// bounds and of the search with three seeds are the same, and bounds and search evaluate less.
func TestSearchFindsTheProvenFront(t *testing.T) {
	p, ctx := kitSpace(t), context.Background()
	all, err := optimize.Enumerate(ctx, p, optimize.Enumeration{NoBounds: true, Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	want := keysOf(all.Front)
	if !all.Proven || len(want) < 2 {
		t.Fatalf("enumeration: proven %v, %d variants on the front", all.Proven, len(want))
	}
	bounded, err := optimize.Enumerate(ctx, p, optimize.Enumeration{Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	if got := keysOf(bounded.Front); !slices.Equal(got, want) || !bounded.Proven {
		t.Errorf("with bounds: proven %v, front %v, want %v", bounded.Proven, got, want)
	}
	if bounded.Evaluated >= all.Evaluated {
		t.Errorf("bounds exclude nothing: %d evaluated, %d without", bounded.Evaluated, all.Evaluated)
	}
	t.Logf("%.0f points: %d evaluated without bounds, %d with; %d on the front", all.Points, all.Evaluated, bounded.Evaluated, len(want))
	for seed := range uint64(3) {
		res, err := optimize.Run(ctx, p, optimize.Config{Seed: seed, Population: 10, Start: p.Start(), Stones: 1, Workers: 2,
			Stop: optimize.Stop{Generations: 25, Stagnation: 5}})
		if err != nil {
			t.Fatal(err)
		}
		if got := keysOf(res.Front); !slices.Equal(got, want) {
			t.Errorf("seed %d: front %v, want %v", seed, got, want)
		}
		t.Logf("seed %d: %d evaluated, stopped by %s", seed, res.Evaluations, res.Reason)
	}
}

// TestSensitivityAgainstDirectSearch compares the effect of limits with a plain reading of careful assessments of all variants.
func TestSensitivityAgainstDirectSearch(t *testing.T) {
	p, ctx := kitSpace(t), context.Background()
	var seen []optimize.Variant
	e := p.NewEvaluator()
	type weighedDesign struct {
		a    *Assessment
		mass float64
	}
	var list []weighedDesign
	d, _, err := p.Braced()
	if err != nil {
		t.Fatal(err)
	}
	at, _ := p.Encode(d)
	for i := range p.genes {
		for o := range p.genes[i].Count() {
			q := slices.Clone(at)
			q[i] = o
			key, q := p.Canonical(q)
			if slices.Contains(keysOf(seen), key) {
				continue
			}
			s, err := e.Evaluate(ctx, q, key)
			if err != nil {
				t.Fatal(err)
			}
			seen = append(seen, optimize.Variant{Key: key, Point: q, Score: s})
			design, _ := p.Decode(q)
			a, err := p.Assess(design)
			if err != nil {
				t.Fatal(err)
			}
			list = append(list, weighedDesign{a, a.Mass.Total})
		}
	}
	const share = 0.25
	_, effects := p.Sensitivity(seen, share)
	for _, x := range effects {
		want := 0.0
		for _, w := range list {
			if keepsBut(w.a, x.Limit, 1+share) && (want == 0 || w.mass < want) {
				want = w.mass
			}
		}
		if want > 0 && !(x.Relaxed <= want*1.0001 && x.Relaxed >= want*0.9999) {
			t.Errorf("%s relaxed: %.1f kg, by careful assessment %.1f kg", x.Limit, x.Relaxed, want)
		}
	}
}

// keepsBut says whether a stable design keeps everything with one group's strength limit multiplied.
func keepsBut(a *Assessment, limit string, factor float64) bool {
	if a.Class >= ClassUnstable || a.missing() > 0 {
		return false
	}
	for i := range a.Groups {
		most := 1.0
		if limit == "strength of "+a.Groups[i].Group {
			most = factor
		}
		if a.Groups[i].Utilisation > most {
			return false
		}
	}
	return !slices.ContainsFunc(a.Rules, func(r RuleResult) bool { return r.Utilisation > 1 })
}
