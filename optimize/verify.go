package optimize

import (
	"context"
	"fmt"
	"slices"
)

// Verify looks for breaches of what Problem, Evaluator, Bounder and PartialBounder promise, on n points drawn by seed:
// repair that is not final, one key for two repaired points, a score that cannot be ranked, evaluations of one key that
// differ, a bound above what it bounds. Tests of a problem call it.
func Verify(ctx context.Context, p Problem, seed uint64, n int) error {
	space := p.Space()
	if err := space.Validate(); err != nil {
		return err
	}
	v, names := newVariation(space), map[string][]int{}
	first, second := p.NewEvaluator(), p.NewEvaluator()
	for i := range n {
		rng := generator(seed, 0, 0, i)
		point := v.random(rng)
		key, repaired := p.Canonical(point)
		if err := verifyKey(p, space, key, repaired); err != nil {
			return err
		}
		if other, ok := names[key]; ok && !slices.Equal(other, repaired) {
			return fmt.Errorf("optimize: key %q is given to %v and to %v", key, other, repaired)
		}
		names[key] = repaired
		score, err := first.Evaluate(ctx, repaired, key)
		if err != nil {
			return fmt.Errorf("optimize: variant %q: %w", key, err)
		}
		if err := checkScore(score, len(p.Objectives()), key); err != nil {
			return err
		}
		// The second evaluator has seen something else before: its answer must not depend on it.
		if again, err := second.Evaluate(ctx, repaired, key); err != nil || !sameScore(score, again) {
			return fmt.Errorf("optimize: variant %q: one evaluator says %+v, another %+v (%v)", key, score, again, err)
		}
		if _, other := p.Canonical(v.random(rng)); i%2 == 0 {
			k, _ := p.Canonical(other)
			if _, err := second.Evaluate(ctx, other, k); err != nil {
				return fmt.Errorf("optimize: variant %q: %w", k, err)
			}
		}
		if err := verifyBounds(p, repaired, key, score); err != nil {
			return err
		}
	}
	return nil
}

func verifyKey(p Problem, space *Space, key string, repaired []int) error {
	if len(repaired) != len(space.Genes) {
		return fmt.Errorf("optimize: variant %q is repaired to %d genes, the space has %d", key, len(repaired), len(space.Genes))
	}
	for i, o := range repaired {
		if o < 0 || o >= space.Genes[i].Count() {
			return fmt.Errorf("optimize: variant %q: gene %d (%s) is repaired to %d, it has options 0 to %d", key, i, space.Genes[i].Name, o, space.Genes[i].Count()-1)
		}
	}
	if k, r := p.Canonical(repaired); k != key || !slices.Equal(r, repaired) {
		return fmt.Errorf("optimize: repair is not final: %q %v is repaired to %q %v", key, repaired, k, r)
	}
	return nil
}

func sameScore(a, b Score) bool {
	return a.Class == b.Class && slices.Equal(a.Measures, b.Measures) && a.Violation == b.Violation && a.Tie == b.Tie && a.Complies == b.Complies && slices.Equal(a.Objectives, b.Objectives)
}

func verifyBounds(p Problem, repaired []int, key string, s Score) error {
	var bounds []Bound
	if b, ok := p.(Bounder); ok {
		bounds = append(bounds, b.Bound(repaired, key))
	}
	if b, ok := p.(PartialBounder); ok {
		for fixed := range len(repaired) + 1 {
			bounds = append(bounds, b.BoundPartial(repaired, fixed))
		}
	}
	for _, b := range bounds {
		if s.Class == 0 && !covers(b.Objectives, s.Objectives) {
			return fmt.Errorf("optimize: variant %q scores %v, a bound says %v", key, s.Objectives, b.Objectives)
		}
		if b.CannotComply && s.Complies {
			return fmt.Errorf("optimize: variant %q complies, a bound says that it cannot", key)
		}
	}
	return nil
}
