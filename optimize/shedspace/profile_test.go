package shedspace

import (
	"reflect"
	"slices"
	"testing"
	"time"
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

// TestEvaluationAllocates: a design of a topology that is known allocates its structure and its assessment, and next to nothing for
// analysis and checks, whose storage serves again: at most 25 times for each of its members. One allocation a combination and
// member would be twice as many again.
func TestEvaluationAllocates(t *testing.T) {
	p := example(t, "packhouse")
	d, err := p.Sturdy()
	if err != nil {
		t.Fatal(err)
	}
	j := newJudge(p)
	j.brief, j.quick = true, true
	set := p.setupOf(d)
	members := len(p.Shed.Build(d).Structure.Members)
	times := testing.AllocsPerRun(3, func() {
		if _, err := j.assess(d, set); err != nil {
			t.Fatal(err)
		}
	})
	t.Logf("%.0f allocations for %d members", times, members)
	if most := 25 * float64(members); times > most {
		t.Errorf("%.0f allocations, more than %.0f", times, most)
	}
}
