package shedspace

import (
	"testing"

	"leanbay/model/brief"
)

// BenchmarkNew prepares what all designs of a brief share: actions, combinations, loads of every pair of spacings, and tables of
// secondaries with their finite strip solutions.
func BenchmarkNew(b *testing.B) {
	for _, name := range []string{"kit", "packhouse", "barn"} {
		b.Run(name, func(b *testing.B) {
			br, err := brief.ReadFile("../../experiments/briefs/" + name + ".yaml")
			if err != nil {
				b.Fatal(err)
			}
			start := ownTime(b)
			for b.Loop() {
				if _, err := New(br); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64((ownTime(b)-start).Microseconds())/1e3/float64(b.N), "cpu-ms/op")
		})
	}
}
