package optimize

import (
	"cmp"
	"slices"
	"strings"
)

// dominates says that a is nowhere worse than b and somewhere better.
func dominates(a, b []float64) bool {
	better := false
	for i, x := range a {
		if x > b[i] {
			return false
		}
		if x < b[i] {
			better = true
		}
	}
	return better
}

// compareScores orders by class, and inside a class above 0 by violation, then tie. Class 0 scores are equal here: they
// are compared by their objectives.
func compareScores(a, b *Score) int {
	if c := cmp.Compare(a.Class, b.Class); c != 0 || a.Class == 0 {
		return c
	}
	if c := cmp.Compare(a.Violation, b.Violation); c != 0 {
		return c
	}
	return cmp.Compare(a.Tie, b.Tie)
}

// compareVariants is the total order that every list is put in before use: classes, then objectives one by one, then
// keys.
func compareVariants(a, b Variant) int {
	if c := compareScores(&a.Score, &b.Score); c != 0 {
		return c
	}
	if c := slices.Compare(a.Score.Objectives, b.Score.Objectives); c != 0 {
		return c
	}
	return strings.Compare(a.Key, b.Key)
}
