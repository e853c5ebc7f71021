package optimize

import (
	"container/heap"
	"math"
	"slices"
)

// branch is a set of points that share their first genes, with a bound on the first objective of those that comply.
type branch struct {
	genes  []int
	least  float64
	number int // in order of making, to break ties
}

// branches is a heap, least bound first.
type branches []branch

func (b branches) Len() int { return len(b) }
func (b branches) Less(i, j int) bool {
	if b[i].least != b[j].least {
		return b[i].least < b[j].least
	}
	if len(b[i].genes) != len(b[j].genes) { // deeper first: nearer to an answer
		return len(b[i].genes) > len(b[j].genes)
	}
	return b[i].number < b[j].number
}
func (b branches) Swap(i, j int) { b[i], b[j] = b[j], b[i] }
func (b *branches) Push(x any)   { *b = append(*b, x.(branch)) }
func (b *branches) Pop() any {
	last := (*b)[len(*b)-1]
	*b = (*b)[:len(*b)-1]
	return last
}

// floor returns a proven lower bound on the first objective of every complying variant: best-first search opens the
// branch of the least bound until a point that complies comes first, or the limit is used up. It is -Inf if the problem
// bounds no branches.
func (e *enumerator) floor() (float64, error) {
	if e.partial == nil {
		return math.Inf(-1), nil
	}
	open := &branches{{least: math.Inf(-1)}}
	made := 0
	for open.Len() > 0 && made < e.cfg.Limit {
		if err := e.ctx.Err(); err != nil {
			return 0, err
		}
		b := heap.Pop(open).(branch)
		if len(b.genes) == len(e.space.Genes) {
			complies, err := e.complies(b.genes)
			if err != nil {
				return 0, err
			}
			if complies {
				return b.least, nil
			}
			made++
			continue
		}
		made += e.open(b, open, made)
	}
	if open.Len() == 0 {
		return math.Inf(1), nil
	}
	return (*open)[0].least, nil
}

// open puts the branches of b's next gene on the heap, but for those that cannot comply, and returns how many it made.
func (e *enumerator) open(b branch, onto *branches, number int) int {
	at := len(b.genes)
	count := e.space.Genes[at].Count()
	for o := range count {
		p := make([]int, len(e.space.Genes))
		copy(p, b.genes)
		p[at] = o
		bound := e.partial.BoundPartial(p, at+1)
		if !bound.CannotComply {
			heap.Push(onto, branch{genes: slices.Clone(p[:at+1]), least: max(b.least, bound.Objectives[0], bound.Complying), number: number + o})
		}
	}
	return count
}

// complies evaluates one point. A point that repair changes is left to the point that it means.
func (e *enumerator) complies(p []int) (bool, error) {
	key, repaired := e.problem.Canonical(p)
	if !slices.Equal(p, repaired) {
		return false, nil
	}
	vs, err := e.pool.evaluate(e.ctx, []candidate{{key: key, point: repaired}})
	return err == nil && vs[0].Score.Complies, err
}
