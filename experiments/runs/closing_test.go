package runs

import (
	"context"
	"encoding/json"
	"regexp"
	"strconv"
	"testing"

	"leanbay/experiments/briefs"
	"leanbay/model/brief"
	"leanbay/optimize"
)

// TestClosingResumes: a run that is interrupted while it looks around its front, and goes on with another number of workers, ends
// with the document of one that was not; most of what it looked at was left half way.
func TestClosingResumes(t *testing.T) {
	b, err := brief.ReadFS(briefs.FS, "kit.yaml")
	if err != nil {
		t.Fatal(err)
	}
	set := Settings{Seed: 1, Population: 6, Generations: 2, Strengthen: 60, Closing: 8, Workers: 1}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	document := func(ctx context.Context, dir string, s Settings, look func(optimize.State)) string {
		f, err := Optimise(ctx, b, dir, s, look)
		if err != nil {
			t.Fatal(err)
		}
		text, err := json.Marshal(f)
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	rounds := 0
	whole := document(ctx, t.TempDir(), set, func(st optimize.State) { rounds = st.Generation - set.Generations })
	if rounds < 3 {
		t.Fatalf("%d rounds of closing: too few to interrupt", rounds)
	}
	dir := t.TempDir()
	if part := document(ctx, dir, set, func(st optimize.State) {
		if st.Generation == set.Generations+2 {
			cancel()
		}
	}); part == whole {
		t.Fatal("the interrupted run ended like the whole one")
	}
	set.Workers = 2
	if got := document(context.Background(), dir, set, nil); got != whole {
		t.Errorf("interrupted and resumed:\n%s\nwhole:\n%s", got, whole)
	}
	m := regexp.MustCompile(`(\d+) in the course of their evaluation, and (\d+) evaluated`).FindStringSubmatch(whole)
	if m == nil {
		t.Fatal("the document does not say what was left half way")
	}
	screened, _ := strconv.Atoi(m[1])
	evaluated, _ := strconv.Atoi(m[2])
	if screened < 2*evaluated {
		t.Errorf("%d left half way, %d evaluated", screened, evaluated)
	}
}
