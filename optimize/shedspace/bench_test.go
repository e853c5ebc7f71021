package shedspace

import "testing"

// BenchmarkAssess judges the packhouse, drawn and braced, in full: every combination in second order in the whole shed
// and alone, all checks, buckling, service.
func BenchmarkAssess(b *testing.B) {
	p := example(b, "packhouse")
	d, _, err := p.Braced()
	if err != nil {
		b.Fatal(err)
	}
	j := newJudge(p)
	rounds := 0
	for b.Loop() {
		a, err := j.assess(d, p.bench.drawn)
		if err != nil {
			b.Fatal(err)
		}
		rounds = a.Iterations
	}
	b.ReportMetric(float64(rounds), "rounds/op")
	b.ReportMetric(float64(len(p.bench.strength)), "combinations")
}
