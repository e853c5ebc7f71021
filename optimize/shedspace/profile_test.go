package shedspace

import (
	"maps"
	"reflect"
	"slices"
	"testing"
	"time"

	"leanbay/model/bracing"
	"leanbay/model/shed"
)

// TestProfile: a sturdy design of each shipped brief goes through every phase, its phases add up to no more than the whole,
// and timing changes no result.
func TestProfile(t *testing.T) {
	want := []string{"structure and loads", "mass and rules", "load and assemble", "analysis", "checks", "buckling", "inner frames alone", "service", "score"}
	start := time.Now()
	clock := func() time.Duration { return time.Since(start) }
	for _, name := range []string{"kit", "packhouse", "barn"} {
		p := example(t, name)
		d, err := p.Sturdy()
		if err != nil {
			t.Fatal(err)
		}
		prof, err := p.Profile(d, 1, clock)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		sum := prof.Total - prof.Total
		for _, l := range prof.Laps {
			got = append(got, l.Phase)
			sum += l.Time
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: phases %q, want %q", name, got, want)
		}
		if sum > prof.Total {
			t.Errorf("%s: phases add up to %v of %v", name, sum, prof.Total)
		}
		if len(prof.Combinations) == 0 || prof.Planar > len(prof.Combinations) {
			t.Errorf("%s: %d combinations, %d planar", name, len(prof.Combinations), prof.Planar)
		}
		timed, plain := newJudge(p), newJudge(p)
		timed.brief, timed.quick, timed.laps = true, true, &laps{now: clock}
		plain.brief, plain.quick = true, true
		a, b := judged(t, timed, d), judged(t, plain, d)
		if a.U != b.U || a.Violation != b.Violation || !reflect.DeepEqual(a.Mass, b.Mass) {
			t.Errorf("%s: timed %v %v %v, plain %v %v %v", name, a.U, a.Violation, a.Mass, b.U, b.Violation, b.Mass)
		}
	}
}

// TestEvaluationAllocates: of a design whose layout and topology are known nothing is allocated, from the structure to the last
// check: all storage serves again, also where designs of two topologies take turns. A score has storage of its own: objectives and
// measures.
func TestEvaluationAllocates(t *testing.T) {
	for _, name := range []string{"kit", "packhouse", "barn"} {
		p := example(t, name)
		sturdy, err := p.Sturdy()
		if err != nil {
			t.Fatal(err)
		}
		point, _ := p.Encode(sturdy)
		heaviest := slices.Clone(point)
		for i := range heaviest {
			if p.genes[i].groups != nil {
				heaviest[i] = p.genes[i].Count() - 1
			}
		}
		one, _ := p.Decode(point)
		sections, _ := p.Decode(heaviest)
		layout := *one
		if layout.RoofPattern = bracing.ZigZag; one.RoofPattern != "" {
			layout.RoofPattern = ""
		}
		layout.Steel = maps.Clone(one.Steel)
		if _, err := p.fillSteel(&layout); err != nil {
			t.Fatal(err)
		}
		j := newJudge(p)
		j.brief, j.quick = true, true
		var a Assessment
		for _, pair := range [][]*shed.Design{{one, sections}, {one, &layout}} {
			times := testing.AllocsPerRun(10, func() {
				for _, d := range pair {
					set := p.setupOf(d)
					if err := j.assessModel(j.model(d, set), set, &a); err != nil {
						t.Fatal(err)
					}
				}
			})
			if times > 0 {
				t.Errorf("%s: %.0f allocations for two designs of %d layouts", name, times, len(j.board.kept))
			}
		}
		if len(j.board.kept) != 2 {
			t.Errorf("%s: %d layouts: the test shows something else", name, len(j.board.kept))
		}
		if times := testing.AllocsPerRun(10, func() { p.scoreOf(&a) }); times > 2 {
			t.Errorf("%s: %.0f allocations for its score", name, times)
		}
	}
}
