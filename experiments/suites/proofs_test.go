package suites

import (
	"context"
	"testing"
)

// TestSearchMatchesTheProvenFrontOfASmallSpace runs the smallest space with two seeds: the searches end with the front that
// the enumeration proves, and its points add up.
func TestSearchMatchesTheProvenFrontOfASmallSpace(t *testing.T) {
	b := ProofBench{Subspaces: Subspaces()[:1], Seeds: 2, Evaluations: 260, Population: 12, Workers: 2}
	rows, err := b.Run(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	r := rows[0]
	if !r.Proven || r.Hits != 2 || r.HitsBest != 2 || r.Front < 1 || r.Lightest <= 0 {
		t.Errorf("%+v", r)
	}
	if sum := r.Repeated + r.Branches + r.Bounded + r.Screened + float64(r.Evaluated); sum != r.Points {
		t.Errorf("%v of %v points decided", sum, r.Points)
	}
	if r.Searched.Greatest >= r.Points/2 || r.Complete.Median > r.Searched.Median {
		t.Errorf("searches took %+v of %v points, complete after %+v", r.Searched, r.Points, r.Complete)
	}
}

// TestSubspacesAreWhatTheySay: each narrowed brief is a problem whose size lies in the range that is asked for.
func TestSubspacesAreWhatTheySay(t *testing.T) {
	names := map[string]bool{}
	for _, s := range Subspaces() {
		p, err := s.Problem()
		if err != nil {
			t.Errorf("%s: %v", s.Name, err)
			continue
		}
		if n := p.Space().Size(); n < 1e3 || n > 2e6 || names[s.Name] {
			t.Errorf("%s: %v points", s.Name, n)
		}
		names[s.Name] = true
	}
}
