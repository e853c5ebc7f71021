package speed

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"leanbay/solver/frame"
)

// TestBench measures the smallest sheds once: every phase is there, counts agree with each other, and the matrix files begin as
// they should.
func TestBench(t *testing.T) {
	dir := t.TempDir()
	a, err := Bench{Frames: []int{2, 5}, Repeat: 1, Matrix: dir}.Run(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if a.Interrupted || len(a.Rows) != 2 || a.Caution == "" || !(a.Peak.Rate > 0) {
		t.Fatalf("answer: %+v", a)
	}
	for _, r := range a.Rows {
		if len(r.Phases) != len(PhaseNotes) {
			t.Fatalf("%s: %d phases", r.Name, len(r.Phases))
		}
		for i, p := range r.Phases {
			if p.Name != PhaseNotes[i][0] || p.Seconds < 0 {
				t.Errorf("%s: phase %d is %+v", r.Name, i, p)
			}
		}
		if r.NonZeroL < r.NonZeroK || r.SolveFlops != int64(4*r.NonZeroL-3*r.Unknowns) || r.FactorBytes < 8*r.NonZeroL || r.PeakHeap == 0 {
			t.Errorf("%s: %+v", r.Name, r)
		}
	}
	for name, banner := range map[string]string{"generated-5-stiffness.mtx": "%%MatrixMarket matrix coordinate real symmetric", "generated-5-loads.mtx": "%%MatrixMarket matrix array real general"} {
		text, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(string(text), banner+"\n% Shed generated-5: 85 nodes") || !strings.Contains(string(text), "N m") {
			t.Errorf("%s begins %.200q", name, text)
		}
	}
}

// TestBenchInterrupted: what was complete is kept.
func TestBenchInterrupted(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	a, err := Bench{Frames: []int{2, 3, 4}, Repeat: 1, Watch: func(what string) {
		if strings.HasPrefix(what, "generated-3") {
			stop()
		}
	}}.Run(ctx)
	if err != nil || !a.Interrupted || len(a.Rows) != 1 || a.Rows[0].Frames != 2 {
		t.Fatalf("%v: %+v", err, a)
	}
}

// BenchmarkGenerated runs the phases of generated sheds one after the other.
func BenchmarkGenerated(b *testing.B) {
	for _, frames := range []int{5, 50} {
		b.Run(fmt.Sprintf("frames=%d", frames), func(b *testing.B) {
			s, err := Generate(frames)
			if err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				var r Row
				if err := measure(context.Background(), s, s.Combinations, 1, &r); err != nil {
					b.Fatal(err)
				}
				for _, p := range r.Phases {
					b.ReportMetric(p.Seconds*1e6/float64(frames), strings.ReplaceAll(p.Name, " ", "-")+"-µs/frame")
				}
			}
		})
	}
}

// BenchmarkPeak shows the peak against which rates are measured.
func BenchmarkPeak(b *testing.B) {
	for b.Loop() {
		b.ReportMetric(MeasurePeak().Rate/1e9, "Gflop/s")
	}
}

// BenchmarkSecondOrder answers the combinations of a loaded generated shed as the search does, thread time.
func BenchmarkSecondOrder(b *testing.B) {
	for _, frames := range []int{50, 500, 2000} {
		b.Run(fmt.Sprintf("frames=%d", frames), func(b *testing.B) {
			m := loadedMeter(b, frames)
			best := math.Inf(1)
			for b.Loop() {
				best = min(best, m.shortest(1, m.load, func() error { return m.analyse(frame.TensionOnlySecondOrder) }))
				if m.err != nil {
					b.Fatal(m.err)
				}
			}
			b.ReportMetric(best*1e6/float64(frames), "best-µs/frame")
		})
	}
}

// loadedMeter is a meter of a generated shed that has been analysed once, so that there is room for everything.
func loadedMeter(b *testing.B, frames int) *meter {
	s, err := Generate(frames)
	if err != nil {
		b.Fatal(err)
	}
	var r Row
	m := &meter{ctx: context.Background(), s: s, combos: s.Combinations, repeat: 1, row: &r}
	runtime.LockOSThread()
	b.Cleanup(runtime.UnlockOSThread)
	if m.model, m.err = frame.Compile(s); m.err == nil {
		m.work = m.model.NewWorkspace()
		m.work.Quick = true
		m.res = make([]frame.Result, len(m.combos))
		m.shortest(1, m.load, func() error { return m.analyse(frame.TensionOnlySecondOrder) })
	}
	if m.err != nil {
		b.Fatal(m.err)
	}
	return m
}
