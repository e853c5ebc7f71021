package shedspace

import (
	"context"
	"math/rand/v2"
	"slices"
	"syscall"
	"testing"
	"time"

	"leanbay/model/shed"
)

// BenchmarkAssess judges the packhouse, drawn and braced, and one that is strong enough that nothing stops it early: every
// combination in second order in the whole shed and alone, all checks, buckling, service; carefully, carefully from quick answers, and quickly, in full and as
// much as the search wants. cpu-ms is the process's own time, which a busy machine does not blur.
func BenchmarkAssess(b *testing.B) {
	p := example(b, "packhouse")
	braced, _, err := p.Braced()
	if err != nil {
		b.Fatal(err)
	}
	sturdy, err := p.Sturdy()
	if err != nil {
		b.Fatal(err)
	}
	designs := map[string]*shed.Design{"braced": braced, "strong": sturdy}
	for _, design := range []string{"strong", "braced"} {
		for _, pace := range []string{"careful", "started", "quick"} {
			for _, extent := range []string{"full", "search"} {
				b.Run(design+"/"+pace+"/"+extent, func(b *testing.B) {
					j := newJudge(p)
					if pace == "started" {
						j = newStartedJudge(p)
					}
					j.quick, j.brief = pace == "quick", extent == "search"
					benchmarkAssess(b, j, designs[design])
				})
			}
		}
	}
}

func benchmarkAssess(b *testing.B, j *judge, d *shed.Design) {
	rounds := 0
	start := ownTime(b)
	for b.Loop() {
		a, err := j.assess(d, j.p.bench.drawn)
		if err != nil {
			b.Fatal(err)
		}
		rounds = a.Iterations
	}
	b.ReportMetric(float64((ownTime(b)-start).Microseconds())/1e3/float64(b.N), "cpu-ms/op")
	b.ReportMetric(float64(rounds), "rounds/op")
}

// ownTime is the time that the process has spent computing.
func ownTime(b *testing.B) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// BenchmarkSearch judges one design after the other as a search would, near a braced proposal: topologies change.
func BenchmarkSearch(b *testing.B) {
	for _, name := range []string{"kit", "packhouse", "barn"} {
		b.Run(name, func(b *testing.B) {
			p := example(b, name)
			e := p.NewEvaluator()
			var points [][]int
			rng := rand.New(rand.NewPCG(3, 4))
			base := p.Start()
			for range 100 {
				pt := slices.Clone(base[len(base)-1])
				for range 3 {
					k := rng.IntN(len(pt))
					pt[k] = rng.IntN(len(p.genes[k].Options))
				}
				_, pt = p.Canonical(pt)
				points = append(points, pt)
			}
			start, n := ownTime(b), 0
			for b.Loop() {
				if _, err := e.Evaluate(context.Background(), points[n%len(points)], ""); err != nil {
					b.Fatal(err)
				}
				n++
			}
			b.ReportMetric(float64((ownTime(b)-start).Microseconds())/1e3/float64(n), "cpu-ms/op")
		})
	}
}

// BenchmarkReady makes designs of a known layout ready for analysis as the search does: their model with its loads, the whole shed and
// inner frames alone taken up by workspaces.
func BenchmarkReady(b *testing.B) {
	for _, name := range []string{"kit", "packhouse", "barn"} {
		b.Run(name, func(b *testing.B) {
			p := example(b, name)
			d, err := p.Sturdy()
			if err != nil {
				b.Fatal(err)
			}
			j, set := newJudge(p), p.setupOf(d)
			j.quick, j.brief = true, true
			start := ownTime(b)
			for b.Loop() {
				m := j.model(d, set)
				err := j.loadWhole(m)
				if err == nil {
					plane, _ := j.planeFrames(m)
					err = j.loadAlone(plane)
				}
				if err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64((ownTime(b)-start).Microseconds())/1e3/float64(b.N), "cpu-ms/op")
		})
	}
}
