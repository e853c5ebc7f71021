package optimize

import (
	"slices"
	"sort"
)

// Archive keeps every variant that no other one dominates: exact, unbounded, and independent of the order in which
// variants were added. Of variants with equal objectives it keeps the one whose key comes first. The zero value is an
// empty archive without stepping stones.
type Archive struct {
	stones  int
	front   []Variant // class 0, in the order of compareVariants
	stone   []Variant // classes 1 to stones, in that order
	closest *Variant
}

// NewArchive returns an empty archive that keeps, beside the front, the best variants of classes 1 to stones: those that
// are dominated neither by the front nor, with their violation as one more objective, by each other.
func NewArchive(stones int) *Archive { return &Archive{stones: stones} }

// Front returns the variants of class 0, ordered by objectives. The slice is the archive's own: read only, and only
// until the next Add.
func (a *Archive) Front() []Variant { return a.front }

// Stones returns the stepping stones of higher classes, best class first. The slice is the archive's own.
func (a *Archive) Stones() []Variant { return a.stone }

// Closest returns the first of all variants added, in the order of classes, violation, tie, objectives and key; nil if
// none was added. Where no variant is of class 0 it is the nearest miss.
func (a *Archive) Closest() *Variant { return a.closest }

// Lightest returns the complying variant with the least first objective, or nil.
func (a *Archive) Lightest() *Variant {
	for i := range a.front {
		if a.front[i].Score.Complies {
			return &a.front[i]
		}
	}
	return nil
}

// Add offers v and reports whether it entered the front or the stepping stones. It keeps v's slices.
func (a *Archive) Add(v Variant) bool {
	if a.closest == nil || compareVariants(v, *a.closest) < 0 {
		c := v
		a.closest = &c
	}
	switch {
	case v.Score.Class == 0:
		return a.addFront(v)
	case v.Score.Class <= a.stones && v.Score.Objectives != nil:
		return a.addStone(v)
	}
	return false
}

func (a *Archive) addFront(v Variant) bool {
	at := sort.Search(len(a.front), func(i int) bool { return slices.Compare(a.front[i].Score.Objectives, v.Score.Objectives) >= 0 })
	if at < len(a.front) && slices.Equal(a.front[at].Score.Objectives, v.Score.Objectives) {
		if v.Key < a.front[at].Key {
			a.front[at] = v
			return true
		}
		return false
	}
	if a.dominatedBefore(at, v.Score.Objectives) {
		return false
	}
	end := a.dominatedAfter(at, v.Score.Objectives)
	a.front = slices.Replace(a.front, at, end, v)
	a.stone = slices.DeleteFunc(a.stone, func(s Variant) bool { return covers(v.Score.Objectives, s.Score.Objectives) })
	return true
}

// dominatedBefore looks for a dominator of o among the first at members; in lexicographic order there is none after
// them. With two objectives the nearest one before has the least second objective of all of them.
func (a *Archive) dominatedBefore(at int, o []float64) bool {
	if len(o) <= 2 && at > 0 {
		return dominates(a.front[at-1].Score.Objectives, o)
	}
	for i := range a.front[:at] {
		if dominates(a.front[i].Score.Objectives, o) {
			return true
		}
	}
	return false
}

// dominatedAfter moves the members from at on that o dominates to the start of that part and returns where they end.
// The other members keep their order.
func (a *Archive) dominatedAfter(at int, o []float64) int {
	if len(o) <= 2 {
		end := at
		for end < len(a.front) && dominates(o, a.front[end].Score.Objectives) {
			end++
		}
		return end
	}
	rest := slices.DeleteFunc(slices.Clone(a.front[at:]), func(m Variant) bool { return dominates(o, m.Score.Objectives) })
	end := len(a.front) - len(rest)
	copy(a.front[end:], rest)
	return end
}

func (a *Archive) addStone(v Variant) bool {
	for i := range a.front {
		if covers(a.front[i].Score.Objectives, v.Score.Objectives) {
			return false
		}
	}
	for i := range a.stone {
		if stoneBefore(&a.stone[i], &v) {
			return false
		}
	}
	a.stone = slices.DeleteFunc(a.stone, func(s Variant) bool { return stoneBefore(&v, &s) })
	at, _ := slices.BinarySearchFunc(a.stone, v, compareVariants)
	a.stone = slices.Insert(a.stone, at, v)
	return true
}

// covers says that a is nowhere worse than b.
func covers(a, b []float64) bool {
	for i, x := range a {
		if x > b[i] {
			return false
		}
	}
	return true
}

// stoneBefore says that a makes b superfluous among stepping stones: nowhere worse in objectives and violation, and
// better somewhere, or alike with an earlier key.
func stoneBefore(a, b *Variant) bool {
	if !covers(a.Score.Objectives, b.Score.Objectives) || a.Score.Violation > b.Score.Violation {
		return false
	}
	alike := a.Score.Violation == b.Score.Violation && slices.Equal(a.Score.Objectives, b.Score.Objectives)
	return !alike || compareVariants(*a, *b) < 0
}

// Excludes says that the front dominates every variant whose objectives are nowhere less than bound, so that such a
// variant cannot enter it. A bound equal to a member's objectives excludes nothing: the variant could have an earlier
// key.
func (a *Archive) Excludes(bound []float64) bool {
	at := sort.Search(len(a.front), func(i int) bool { return slices.Compare(a.front[i].Score.Objectives, bound) >= 0 })
	return a.dominatedBefore(at, bound)
}

// clone copies the lists, not what the variants point at.
func (a *Archive) clone() *Archive {
	return &Archive{stones: a.stones, front: slices.Clone(a.front), stone: slices.Clone(a.stone), closest: a.closest}
}
