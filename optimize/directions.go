package optimize

import (
	"math"
	"math/rand/v2"
	"slices"
)

// dasDennis returns the points of the unit simplex in dim dimensions whose coordinates are multiples of 1/parts (Das and
// Dennis 1998): (parts+dim-1 over dim-1) of them.
func dasDennis(dim, parts int) [][]float64 {
	var out [][]float64
	point := make([]int, dim)
	var fill func(at, left int)
	fill = func(at, left int) {
		if at == dim-1 {
			point[at] = left
			d := make([]float64, dim)
			for i, n := range point {
				d[i] = float64(n) / float64(parts)
			}
			out = append(out, d)
			return
		}
		for n := 0; n <= left; n++ {
			point[at] = n
			fill(at+1, left-n)
		}
	}
	fill(0, parts)
	return out
}

// referenceDirections returns the finest even set of directions that has no more than n of them (at least the axes).
func referenceDirections(dim, n int) [][]float64 {
	best := dasDennis(dim, 1)
	for parts := 2; ; parts++ {
		// The next size is known without building it: binomial(parts+dim-1, dim-1).
		size := 1.0
		for k := 1; k < dim; k++ {
			size = size * float64(parts+k) / float64(k)
		}
		if math.Round(size) > float64(n) {
			return best
		}
		best = dasDennis(dim, parts)
	}
}

// niches chooses keep variants of the layer at, beside those chosen already, by reference directions: each choice fills
// the direction that has fewest variants so far (Deb and Jain 2014, algorithms 2 to 4).
func niches(vs []Variant, chosen, at []int, keep int, directions [][]float64, rng *rand.Rand) []int {
	all := append(slices.Clone(chosen), at...)
	unit := normalise(vs, all)
	count := make([]int, len(directions))
	for k := range chosen {
		nearest, _ := associate(unit[k], directions)
		count[nearest]++
	}
	type near struct {
		index    int
		distance float64
	}
	waiting := make([][]near, len(directions))
	for k, i := range at {
		d, dist := associate(unit[len(chosen)+k], directions)
		waiting[d] = append(waiting[d], near{i, dist})
	}
	var out []int
	for len(out) < keep {
		d := emptiest(count, func(d int) bool { return len(waiting[d]) > 0 }, rng)
		pick := rng.IntN(len(waiting[d]))
		if count[d] == 0 { // the nearest first, then any
			for k, w := range waiting[d] {
				if w.distance < waiting[d][pick].distance {
					pick = k
				}
			}
		}
		out = append(out, waiting[d][pick].index)
		waiting[d] = slices.Delete(waiting[d], pick, pick+1)
		count[d]++
	}
	slices.Sort(out)
	return out
}

// emptiest returns a direction with the least count among those that ok allows, at random among equals.
func emptiest(count []int, ok func(int) bool, rng *rand.Rand) int {
	least, ties, pick := math.MaxInt, 0, -1
	for d, n := range count {
		if !ok(d) || n > least {
			continue
		}
		if n < least {
			least, ties = n, 0
		}
		if ties++; rng.IntN(ties) == 0 {
			pick = d
		}
	}
	return pick
}

// associate returns the direction whose line from the origin passes nearest to p, and how near.
func associate(p []float64, directions [][]float64) (int, float64) {
	best, least := 0, math.Inf(1)
	for k, d := range directions {
		dot, dd := 0.0, 0.0
		for i := range p {
			dot += float64(p[i] * d[i])
			dd += float64(d[i] * d[i])
		}
		sum := 0.0
		for i := range p {
			off := p[i] - float64(dot/dd*d[i])
			sum += float64(off * off)
		}
		if sum < least {
			best, least = k, sum
		}
	}
	return best, math.Sqrt(least)
}

// normalise maps the objectives of the variants named by at to the unit box: the ideal point to 0, the intercepts of the
// plane through the extreme points to 1. Where there is no such plane the greatest values stand in for the intercepts.
func normalise(vs []Variant, at []int) [][]float64 {
	dim := len(vs[at[0]].Score.Objectives)
	ideal, worst := slices.Repeat([]float64{math.Inf(1)}, dim), slices.Repeat([]float64{math.Inf(-1)}, dim)
	for _, i := range at {
		for m, v := range vs[i].Score.Objectives {
			ideal[m], worst[m] = min(ideal[m], v), max(worst[m], v)
		}
	}
	span := intercepts(vs, at, ideal)
	for m := range worst {
		if span == nil || span[m] < 1e-9*(worst[m]-ideal[m]) {
			span = nil
			break
		}
	}
	out := make([][]float64, len(at))
	for k, i := range at {
		p := make([]float64, dim)
		for m, v := range vs[i].Score.Objectives {
			width := worst[m] - ideal[m]
			if span != nil {
				width = span[m]
			}
			if width > 0 {
				p[m] = (v - ideal[m]) / width
			}
		}
		out[k] = p
	}
	return out
}

// intercepts returns where the plane through the extreme variants meets the axes, measured from ideal; nil if they do
// not span a plane or it meets an axis at or below ideal.
func intercepts(vs []Variant, at []int, ideal []float64) []float64 {
	dim := len(ideal)
	rows := make([][]float64, dim)
	for m := range rows {
		best, least := -1, math.Inf(1)
		for _, i := range at {
			// Achievement scalarising function with a small weight off the axis (Deb and Jain 2014, equation 4).
			reach := math.Inf(-1)
			for j, v := range vs[i].Score.Objectives {
				w := 1e-6
				if j == m {
					w = 1
				}
				reach = max(reach, (v-ideal[j])/w)
			}
			if reach < least {
				best, least = i, reach
			}
		}
		rows[m] = make([]float64, dim)
		for j, v := range vs[best].Score.Objectives {
			rows[m][j] = v - ideal[j]
		}
	}
	plane, ok := solve(rows, slices.Repeat([]float64{1}, dim))
	if !ok {
		return nil
	}
	for m, v := range plane {
		if !(v > 0) {
			return nil
		}
		plane[m] = 1 / v
	}
	return plane
}

// solve is Gaussian elimination with partial pivoting for the few equations of intercepts. It overwrites a and b.
func solve(a [][]float64, b []float64) ([]float64, bool) {
	n := len(b)
	for c := range n {
		p := c
		for r := c + 1; r < n; r++ {
			if math.Abs(a[r][c]) > math.Abs(a[p][c]) {
				p = r
			}
		}
		if math.Abs(a[p][c]) < 1e-12 {
			return nil, false
		}
		a[c], a[p], b[c], b[p] = a[p], a[c], b[p], b[c]
		for r := c + 1; r < n; r++ {
			f := a[r][c] / a[c][c]
			for k := c; k < n; k++ {
				a[r][k] -= float64(f * a[c][k])
			}
			b[r] -= float64(f * b[c])
		}
	}
	for c := n - 1; c >= 0; c-- {
		for k := c + 1; k < n; k++ {
			b[c] -= float64(a[c][k] * b[k])
		}
		b[c] /= a[c][c]
	}
	return b, true
}
