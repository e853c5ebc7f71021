package shedspace

import (
	"slices"
	"testing"

	"leanbay/model/shed"
	"leanbay/solver"
)

// TestServiceBesideStrength judges movements twice: from the answers that came with those of strength, and analysed by themselves. They
// agree within what two quick answers may differ by.
func TestServiceBesideStrength(t *testing.T) {
	for _, name := range []string{"kit", "packhouse", "barn"} {
		p := example(t, name)
		j := newJudge(p)
		j.brief, j.quick = true, true
		judged := 0
		for i, d := range someDesigns(t, p, 8) {
			beside, by := bothServices(t, j, j.model(d, p.bench.drawn))
			if len(beside.Service) != len(by.Service) || len(beside.Trouble) != len(by.Trouble) || beside.Mechanism != by.Mechanism {
				t.Errorf("%s, design %d: beside strength %d limits, %q; by themselves %d, %q", name, i, len(beside.Service), beside.Trouble, len(by.Service), by.Trouble)
				continue
			}
			for k := range by.Service {
				x, y := &beside.Service[k], &by.Service[k]
				if u := apart(x.Utilisation, y.Utilisation); x.Limit != y.Limit || !(u <= 2*quickShare) {
					t.Errorf("%s, design %d: %s %.7f beside strength, %s %.7f by itself", name, i, x.Limit, x.Utilisation, y.Limit, y.Utilisation)
				}
				judged++
			}
		}
		if judged < 20 {
			t.Errorf("%s: only %d limits were compared", name, judged)
		}
	}
}

// TestServiceTroubleBesideStrength puts a hundred times its actions on one combination of service, beyond the critical loads: strength
// says nothing of it, the service checks name it, however it was analysed.
func TestServiceTroubleBesideStrength(t *testing.T) {
	_, j, m := sturdyPackhouse(t)
	k := slices.IndexFunc(m.Structure.Combinations, func(c solver.Combination) bool {
		return c.State == solver.Service && kindsIn(&m.Structure, &c).permanent
	})
	m.Structure.Combinations = slices.Clone(m.Structure.Combinations)
	c := &m.Structure.Combinations[k]
	c.Terms = slices.Clone(c.Terms)
	for i := range c.Terms {
		c.Terms[i].Factor *= 100
	}
	beside, by := bothServices(t, j, m)
	for _, a := range []*Assessment{beside, by} {
		if len(a.Trouble) != 1 || a.Trouble[0][:len(c.ID)] != c.ID || len(a.Service) > 0 || a.Stable {
			t.Errorf("trouble %q, %d limits, stable %v; want %s alone to have no stable answer", a.Trouble, len(a.Service), a.Stable, c.ID)
		}
	}
}

// bothServices judges the movements of a model whose strength combinations stand, with the answers that came beside those of strength and
// with service analysed by itself.
func bothServices(t *testing.T, j *judge, m *shed.Model) (beside, by *Assessment) {
	t.Helper()
	beside, by = &Assessment{Stable: true}, &Assessment{Stable: true}
	j.set = j.p.bench.drawn
	if err := j.whole.load(&m.Structure, true); err != nil {
		t.Fatal(err)
	}
	if err := j.analyseWhole(m, beside); err != nil {
		t.Fatal(err)
	}
	if beside.Mechanism != "" || len(beside.Trouble) > 0 {
		return beside, beside
	}
	if err := j.serviceChecks(m, true, beside); err != nil {
		t.Fatal(err)
	}
	if err := j.serviceChecks(m, false, by); err != nil {
		t.Fatal(err)
	}
	return beside, by
}

// sturdyPackhouse is a packhouse that is strong enough to be judged to the end, as a judge of the search has its model.
func sturdyPackhouse(t *testing.T) (*Problem, *judge, *shed.Model) {
	p := example(t, "packhouse")
	sturdy, err := p.Sturdy()
	if err != nil {
		t.Fatal(err)
	}
	j := newJudge(p)
	j.brief, j.quick = true, true
	return p, j, j.model(sturdy, p.bench.drawn)
}
