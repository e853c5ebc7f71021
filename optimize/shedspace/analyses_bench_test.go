package shedspace

import (
	"math"
	"testing"
	"time"

	"leanbay/solver/frame"
)

// BenchmarkAnalyses times the quick analyses of a design that is judged to the end, from what has been loaded to the answers: the whole
// shed's and that of its inner frames alone. least-us is the time of the quickest, which a busy machine blurs least.
func BenchmarkAnalyses(b *testing.B) {
	for _, name := range []string{"packhouse", "kit", "barn"} {
		p := example(b, name)
		d, err := p.Sturdy()
		if err != nil {
			b.Fatal(err)
		}
		j := newJudge(p)
		j.quick, j.brief = true, true
		set := p.setupOf(d)
		for _, part := range []string{"whole", "alone"} {
			b.Run(name+"/"+part, func(b *testing.B) {
				m := j.model(d, set)
				plane, _ := j.planeFrames(m)
				least := time.Duration(math.MaxInt64)
				for b.Loop() {
					a := &Assessment{Stable: true}
					load := func() error { return j.loadWhole(m) }
					if part == "alone" {
						load = func() error { return j.loadAlone(plane) }
					}
					if err := load(); err != nil {
						b.Fatal(err)
					}
					start := time.Now()
					if part == "alone" {
						err = j.analyse(&j.alone, m.Structure.Combinations, p.bench.planar, frame.SecondOrder, a)
					} else {
						err = j.analyseWhole(m, a)
					}
					if err != nil || a.Mechanism != "" || len(a.Trouble) > 0 {
						b.Fatal(err, a.Mechanism, a.Trouble)
					}
					least = min(least, time.Since(start))
				}
				b.ReportMetric(float64(least.Nanoseconds())/1e3, "least-us")
			})
		}
	}
}
