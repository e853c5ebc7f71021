package optimize

import (
	"cmp"
	"slices"
)

// Hypervolume returns the volume that the points dominate, up to reference, in the product of the objectives' units.
// Points that are not better than reference in every objective count nothing. It is exact for any number of objectives:
// a sweep for up to three, slices along the last objective beyond. It panics if a point has another length than
// reference.
func Hypervolume(points [][]float64, reference []float64) float64 {
	inside := make([][]float64, 0, len(points))
	for _, p := range points {
		if len(p) != len(reference) {
			panic("optimize: Hypervolume: point and reference differ in length")
		}
		if strictlyLess(p, reference) {
			inside = append(inside, p)
		}
	}
	return volume(inside, reference)
}

func strictlyLess(a, b []float64) bool {
	for i := range a {
		if !(a[i] < b[i]) {
			return false
		}
	}
	return true
}

// volume sweeps along the last objective: between two neighbouring values the cross-section is that of the points so
// far. Its order of points is changed.
func volume(points [][]float64, reference []float64) float64 {
	last := len(reference) - 1
	if len(points) == 0 {
		return 0
	}
	slices.SortFunc(points, func(a, b []float64) int {
		if c := cmp.Compare(a[last], b[last]); c != 0 {
			return c
		}
		return slices.Compare(a, b)
	})
	if last == 0 {
		return reference[0] - points[0][0]
	}
	if last == 2 {
		return volume3(points, reference)
	}
	sum := 0.0
	cut := make([][]float64, 0, len(points))
	best := reference[0]
	for i, p := range points {
		top := reference[last]
		if i+1 < len(points) {
			top = points[i+1][last]
		}
		var area float64
		if last == 1 {
			best = min(best, p[0])
			area = reference[0] - best
		} else {
			cut = append(cut, p[:last])
			area = volume(slices.Clone(cut), reference[:last])
		}
		sum += float64(area * (top - p[last]))
	}
	return sum
}

// volume3 sweeps points, sorted by the third objective, and keeps the staircase of the first two with its area.
func volume3(points [][]float64, reference []float64) float64 {
	var stairs [][]float64 // first objective rising, second falling
	sum, area := 0.0, 0.0
	for i, p := range points {
		if grown := climb(&stairs, p); grown {
			area = stairArea(stairs, reference)
		}
		top := reference[2]
		if i+1 < len(points) {
			top = points[i+1][2]
		}
		sum += float64(area * (top - p[2]))
	}
	return sum
}

// climb puts p on the staircase, drops the steps it covers, and reports whether p was not covered itself.
func climb(stairs *[][]float64, p []float64) bool {
	s := *stairs
	at, _ := slices.BinarySearchFunc(s, p[0], func(q []float64, x float64) int { return cmp.Compare(q[0], x) })
	if (at > 0 && s[at-1][1] <= p[1]) || (at < len(s) && s[at][0] == p[0] && s[at][1] <= p[1]) {
		return false
	}
	end := at
	for end < len(s) && s[end][1] >= p[1] {
		end++
	}
	*stairs = slices.Replace(s, at, end, p)
	return true
}

func stairArea(stairs [][]float64, reference []float64) float64 {
	area, ceiling := 0.0, reference[1]
	for _, p := range stairs {
		area += float64((reference[0] - p[0]) * (ceiling - p[1]))
		ceiling = p[1]
	}
	return area
}
