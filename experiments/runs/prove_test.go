package runs

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"leanbay/experiments/briefs"
	"leanbay/model/brief"
	"leanbay/optimize"
)

// provable is the kit with its layout given and a few sections for columns, rafters and mullions: some dozens of points.
const provable = `
  struts: {eaves: true, nodes: true}
  wall_bracing:
    - {wall: south, bay: 2, pattern: single diagonal, rises: east}
    - {wall: north, bay: 1, pattern: single diagonal, rises: east}

freedoms:
  spacings: false
  fly_braces: false
  struts: false
  one_outer_size: false
  props: {add: false, max_lines: 0}
  bracing: {max_bays: 0, roof: [crossed rods]}
  stock:
    column: {sections: [150x100x5.0RHS, 200x100x5.0RHS]}
    rafter: {sections: [150x100x5.0RHS, 200x100x5.0RHS]}
    mullion: {sections: [100x50x4.0RHS, 125x75x4.0RHS]}
    eaves strut: {sections: [65x65x3.0SHS]}
    wall diagonal: {sections: [89x89x3.5SHS]}
    roof rod: {sections: [R16]}

limits: {service_hard: false}
`

// smallBrief reads the kit with another tail.
func smallBrief(t *testing.T) *brief.Brief {
	t.Helper()
	data, err := briefs.FS.ReadFile("kit.yaml")
	if err != nil {
		t.Fatal(err)
	}
	text, _, _ := strings.Cut(string(data), "  # no wall_bracing")
	text = strings.Replace(text, "    purlin: Z15015", "    eaves strut: 65x65x3.0SHS\n    node strut: 65x65x3.0SHS\n    wall diagonal: 89x89x3.5SHS\n    purlin: Z15015", 1)
	b, err := brief.Read("kit.yaml", strings.NewReader(text+provable))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestProvenFront: a search stopped early and proven ends with a front of which every other variant of the space is dominated,
// counts add up, and the document says so in words.
func TestProvenFront(t *testing.T) {
	f, err := Optimise(context.Background(), smallBrief(t), t.TempDir(), Settings{Seed: 1, Population: 4, Evaluations: 12, Workers: 2, Prove: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	p := f.Proof
	if p == nil || !p.Proven || !strings.Contains(p.Text, "is proven") {
		t.Fatalf("proof %+v", p)
	}
	if decided := p.decided(); decided != p.Size {
		t.Errorf("%v points decided of %v", decided, p.Size)
	}
	if p.Gap != 0 || math.Abs(p.LeastMass-f.Variant(f.Points["lightest"]).Mass) > 1e-6 {
		t.Errorf("proven, but gap %v and least mass %v", p.Gap, p.LeastMass)
	}
	for i := range f.Variants {
		if !f.Variants[i].Settled {
			t.Errorf("%s is on a proven front and not locally optimal", f.Variants[i].Key)
		}
	}
	checkExplain(t, f)
	if _, err := json.Marshal(f); err != nil {
		t.Error(err)
	}
}

// checkExplain holds the explanation to the front it explains.
func checkExplain(t *testing.T, f *Front) {
	e, ok := f.Explain, 0
	for i := range f.Variants {
		if !f.Variants[i].Complies {
			continue
		}
		ok++
		for name, option := range e.Same {
			if v := f.Variants[i].Design[name]; v != option && v != "" {
				t.Errorf("%s is said to be %s everywhere, a variant has %q", name, option, v)
			}
		}
	}
	for _, tr := range e.Trades {
		if len(tr.Options) != ok {
			t.Errorf("%s has %d options for %d complying variants", tr.Decision, len(tr.Options), ok)
		}
	}
	if ok == 0 || len(e.Text) == 0 || len(e.Same) == 0 || len(e.Steps) == 0 {
		t.Errorf("explanation of %d complying variants: %+v", ok, e)
	}
	for _, s := range e.Steps { // the front is proven: no step may be lighter and comply with as much reserve
		l := f.Variant(f.Points["lightest"])
		if s.Complies && s.Mass < -1e-6 {
			t.Errorf("a step from the lightest complies and is lighter: %+v than %v kg", s, l.Mass)
		}
	}
	for _, c := range e.Limits {
		if c.Wider != nil && *c.Wider > 1e-9 || c.Tighter != nil && *c.Tighter < -1e-9 {
			t.Errorf("wider limits cost mass, or narrower ones save it: %+v", c)
		}
	}
}

// TestLowerBoundOfALargeSpace: the whole kit cannot be enumerated; the bound lies below what was found, and says so.
func TestLowerBoundOfALargeSpace(t *testing.T) {
	b, err := brief.ReadFS(briefs.FS, "kit.yaml")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 3*time.Minute)
	defer cancel()
	f, err := Optimise(ctx, b, t.TempDir(), Settings{Seed: 1, Population: 4, Evaluations: 12, Workers: 2, Prove: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if p := f.Proof; p == nil || p.Proven || p.LeastMass <= 0 || p.Size < 1e20 || !strings.Contains(p.Text, "not proven") {
		t.Errorf("proof %+v", p)
	}
}

// TestTimeReplays: a run stopped by time names the evaluations that replay it, also where time ended while the drawing was
// still being mended.
func TestTimeReplays(t *testing.T) {
	b := smallBrief(t)
	for _, limit := range []time.Duration{time.Millisecond, 300 * time.Millisecond} {
		s := Settings{Seed: 2, Population: 4, Generations: 40, Workers: 1, Time: limit, Strengthen: 30}
		first, err := Optimise(context.Background(), b, t.TempDir(), s, nil)
		if err != nil {
			t.Fatal(err)
		}
		if first.Stopped != optimize.TimeUp {
			continue // a fast machine may settle before
		}
		spent := 0
		if _, err := fmt.Sscanf(first.StoppedText, "the time was up; --evaluations %d --strengthen %d", &s.Evaluations, &spent); err != nil || s.Evaluations != first.Evaluations {
			t.Errorf("%d evaluations: %s", first.Evaluations, first.StoppedText)
		}
		s.Time, s.Strengthen = 0, spent
		again, err := Optimise(context.Background(), b, t.TempDir(), s, nil)
		if err != nil {
			t.Fatal(err)
		}
		if len(again.Variants) != len(first.Variants) || again.Evaluations != first.Evaluations {
			t.Errorf("%d variants after %d evaluations, replayed %d after %d", len(first.Variants), first.Evaluations, len(again.Variants), again.Evaluations)
		}
	}
}

// TestStrengthenedStart: a search that starts from the mended drawing has what complies from the first generation on, and
// counts what the mending took.
func TestStrengthenedStart(t *testing.T) {
	b, err := brief.ReadFS(briefs.FS, "kit.yaml")
	if err != nil {
		t.Fatal(err)
	}
	const limit = 130
	f, err := Optimise(context.Background(), b, t.TempDir(), Settings{Seed: 1, Population: 6, Evaluations: limit, Strengthen: 100, Workers: 2}, func(s optimize.State) {
		if !slices.ContainsFunc(s.Front, func(v optimize.Variant) bool { return v.Score.Complies }) {
			t.Errorf("generation %d: nothing complies", s.Generation)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	if f.Evaluations > limit || f.Evaluations < 50 || !strings.Contains(f.Tiers, "mending the drawing") {
		t.Errorf("%d evaluations of %d; %s", f.Evaluations, limit, f.Tiers)
	}
}
