package optimize

import (
	"cmp"
	"math"
	"slices"
)

// layers sorts variants into layers, best first, and returns the indexes of each: class 0 by non-domination, then the
// other classes by class, violation and tie. Inside a layer indexes rise.
func layers(vs []Variant) [][]int {
	var good, bad []int
	for i := range vs {
		if vs[i].Score.Class == 0 {
			good = append(good, i)
		} else {
			bad = append(bad, i)
		}
	}
	out := frontLayers(vs, good)
	slices.SortFunc(bad, func(i, j int) int {
		if c := compareScores(&vs[i].Score, &vs[j].Score); c != 0 {
			return c
		}
		return cmp.Compare(i, j)
	})
	for k, i := range bad {
		if k == 0 || compareScores(&vs[bad[k-1]].Score, &vs[i].Score) != 0 {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], i)
	}
	return out
}

// frontLayers is the non-dominated sorting of Deb et al. (2002) on the variants named by at.
func frontLayers(vs []Variant, at []int) [][]int {
	beaten := make([]int, len(at)) // by how many
	beats := make([][]int, len(at))
	for a := range at {
		for b := a + 1; b < len(at); b++ {
			x, y := vs[at[a]].Score.Objectives, vs[at[b]].Score.Objectives
			switch {
			case dominates(x, y):
				beats[a] = append(beats[a], b)
				beaten[b]++
			case dominates(y, x):
				beats[b] = append(beats[b], a)
				beaten[a]++
			}
		}
	}
	var out [][]int
	var layer []int
	for a, n := range beaten {
		if n == 0 {
			layer = append(layer, a)
		}
	}
	for len(layer) > 0 {
		named := make([]int, len(layer))
		var next []int
		for k, a := range layer {
			named[k] = at[a]
			for _, b := range beats[a] {
				if beaten[b]--; beaten[b] == 0 {
					next = append(next, b)
				}
			}
		}
		slices.Sort(next)
		out = append(out, named)
		layer = next
	}
	return out
}

// crowding returns, for each variant named by at, the sum over objectives of the gap between its neighbours, as a share
// of the range; the ends have +Inf (Deb et al. 2002). Variants without objectives have 0.
func crowding(vs []Variant, at []int) []float64 {
	out := make([]float64, len(at))
	if len(at) == 0 || vs[at[0]].Score.Objectives == nil || vs[at[0]].Score.Class > 0 {
		return out
	}
	order := make([]int, len(at))
	for m := range vs[at[0]].Score.Objectives {
		value := func(k int) float64 { return vs[at[k]].Score.Objectives[m] }
		for k := range order {
			order[k] = k
		}
		slices.SortFunc(order, func(a, b int) int {
			if c := cmp.Compare(value(a), value(b)); c != 0 {
				return c
			}
			return cmp.Compare(a, b)
		})
		first, last := order[0], order[len(order)-1]
		width := value(last) - value(first)
		out[first], out[last] = math.Inf(1), math.Inf(1)
		for k := 1; k < len(order)-1 && width > 0; k++ {
			out[order[k]] += (value(order[k+1]) - value(order[k-1])) / width
		}
	}
	return out
}

// thinByCrowding takes variants out of at, the most crowded first and measuring again after each, until keep are left.
func thinByCrowding(vs []Variant, at []int, keep int) []int {
	left := slices.Clone(at)
	for len(left) > keep {
		d := crowding(vs, left)
		worst := 0
		for k := range d {
			if d[k] < d[worst] {
				worst = k
			}
		}
		left = slices.Delete(left, worst, worst+1)
	}
	return left
}
