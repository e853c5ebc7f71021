package store

import (
	"context"
	"database/sql"
	"fmt"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"leanbay/optimize"
)

// toy is a small problem whose objectives pull apart: x and (8-x)² + y.
type toy struct{}

func (toy) Space() *optimize.Space {
	return &optimize.Space{Genes: []optimize.Gene{{Name: "x", Levels: 9, Ordered: true}, {Name: "y", Levels: 9, Ordered: true}, {Name: "z", Levels: 30, Ordered: true}}}
}
func (toy) Objectives() []optimize.Objective {
	return []optimize.Objective{{Name: "a", Reference: 100}, {Name: "b", Reference: 100}}
}
func (toy) Canonical(p []int) (string, []int) {
	return fmt.Sprint(p), append([]int(nil), p...)
}
func (t toy) NewEvaluator() optimize.Evaluator { return t }
func (toy) Evaluate(_ context.Context, p []int, _ string) (optimize.Score, error) {
	x, y, z := float64(p[0]), float64(p[1]), float64(p[2])
	return optimize.Score{Objectives: []float64{x + z/30, (8-x)*(8-x) + y + z}, Complies: true}, nil
}

// halt cancels a run when a generation is reached, as a kill would.
type halt struct {
	at     int
	cancel context.CancelFunc
}

func (h halt) Generation(s optimize.State) error {
	if s.Generation >= h.at {
		h.cancel()
	}
	return nil
}

func config() optimize.Config {
	return optimize.Config{Seed: 7, Population: 16, Stop: optimize.Stop{Generations: 12}}
}

// TestKilledRunResumes: a run stopped after some generations and resumed from its file ends with the front of one that
// was left alone.
func TestKilledRunResumes(t *testing.T) {
	whole, err := optimize.Run(context.Background(), toy{}, config())
	if err != nil {
		t.Fatal(err)
	}
	for _, at := range []int{1, 5, 11} {
		path := filepath.Join(t.TempDir(), "run.db")
		s, err := Create(context.Background(), path, Run{Brief: "toy", BriefHash: "h", Seed: 7, Config: "{}", Program: "test"})
		if err != nil {
			t.Fatal(err)
		}
		ctx, cancel := context.WithCancel(context.Background())
		if _, err := optimize.Run(ctx, toy{}, config(), s, halt{at, cancel}); err != nil {
			t.Fatal(err)
		}
		cancel()
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		s, run, err := Open(context.Background(), path)
		if err != nil {
			t.Fatal(err)
		}
		if run.Seed != 7 || run.Brief != "toy" {
			t.Errorf("read back %+v", run)
		}
		cfg := config()
		if cfg.Resume, err = s.Checkpoint(context.Background()); err != nil || cfg.Resume == nil {
			t.Fatalf("checkpoint %v, %v", cfg.Resume, err)
		}
		end, err := optimize.Run(context.Background(), toy{}, cfg, s)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(end.Front, whole.Front) || end.Evaluations != whole.Evaluations {
			t.Errorf("killed at %d: front of %d after %d evaluations, left alone %d after %d", at, len(end.Front), end.Evaluations, len(whole.Front), whole.Evaluations)
		}
		history, err := s.History(context.Background())
		if err != nil || len(history) < 12 {
			t.Errorf("history of %d generations, %v", len(history), err)
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
}

func TestRefusals(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "run.db")
	s, err := Create(ctx, path, Run{Brief: "a", Config: "{}"})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := Create(ctx, path, Run{Brief: "b", Config: "{}"}); err == nil || !strings.Contains(err.Error(), "already holds a run") {
		t.Errorf("a second run in one file: %v", err)
	}
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec(`PRAGMA user_version = 99`); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	if _, _, err := Open(ctx, path); err == nil || !strings.Contains(err.Error(), "schema version 99") {
		t.Errorf("a file of another version: %v", err)
	}
}
