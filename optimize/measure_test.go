package optimize

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Sources: by hand, areas and volumes of boxes.
func TestHypervolumeByHand(t *testing.T) {
	for _, c := range []struct {
		name   string
		points [][]float64
		ref    []float64
		want   float64
	}{
		{"none", nil, []float64{1, 1}, 0},
		{"one objective", [][]float64{{3}, {2}}, []float64{10}, 8},
		{"one point", [][]float64{{0.25, 0.5}}, []float64{1, 1}, 0.375},
		{"two steps", [][]float64{{1, 3}, {2, 1}}, []float64{4, 4}, 3 + 6 - 2},
		{"dominated and outside", [][]float64{{1, 3}, {2, 1}, {3, 3}, {5, 0}}, []float64{4, 4}, 7},
		{"on the border", [][]float64{{0, 4}}, []float64{4, 4}, 0},
		{"three objectives", [][]float64{{0, 0, 1}, {1, 0, 0}}, []float64{2, 2, 2}, 4 + 4 - 2},
		{"three, equal heights", [][]float64{{0, 1, 0}, {1, 0, 0}, {1, 1, 0}}, []float64{2, 2, 2}, 2 * 3},
		{"four objectives", [][]float64{{0, 0, 0, 1}, {1, 1, 1, 0}}, []float64{2, 2, 2, 2}, 8 + 2 - 1},
	} {
		if got := Hypervolume(c.points, c.ref); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// A closed form: n points of the line x + y = 1 at equal steps, reference 1, leave a staircase: 1/2 minus n-1 triangles.
// And the volume does not depend on the order of points.
func TestHypervolumeOfALine(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for _, n := range []int{2, 5, 50} {
		var p [][]float64
		for i := range n {
			x := float64(i) / float64(n-1)
			p = append(p, []float64{x, 1 - x})
		}
		rng.Shuffle(n, func(i, j int) { p[i], p[j] = p[j], p[i] })
		h := 1 / float64(n-1)
		if got, want := Hypervolume(p, []float64{1, 1}), 0.5-float64(n-1)*h*h/2; math.Abs(got-want) > 1e-12 {
			t.Errorf("%d points: %v, want %v", n, got, want)
		}
	}
}

// Inclusion and exclusion over all subsets is another way to the union of boxes.
func TestHypervolumeAgainstInclusionExclusion(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 3))
	for dim := 1; dim <= 5; dim++ {
		ref := slices.Repeat([]float64{1}, dim)
		for range 20 {
			p := make([][]float64, 8)
			for i := range p {
				p[i] = make([]float64, dim)
				for k := range p[i] {
					p[i][k] = math.Round(rng.Float64()*8) / 8
				}
			}
			want := 0.0
			for set := 1; set < 1<<len(p); set++ {
				v, sign := 1.0, -1.0
				for k := range dim {
					top := 0.0
					for i := range p {
						if set>>i&1 == 1 {
							top = math.Max(top, p[i][k])
						}
					}
					v *= 1 - top
				}
				for i := range p {
					if set>>i&1 == 1 {
						sign = -sign
					}
				}
				want += sign * v
			}
			if got := Hypervolume(p, ref); math.Abs(got-want) > 1e-12 {
				t.Fatalf("dimension %d: %v, want %v", dim, got, want)
			}
		}
	}
}

func scored(class int, violation float64, objectives ...float64) Variant {
	return Variant{Score: Score{Class: class, Violation: violation, Objectives: objectives}}
}

// By hand: the order of classes first, non-domination inside class 0, violation inside the others.
func TestLayersByHand(t *testing.T) {
	vs := []Variant{
		scored(1, 5, 0, 0), scored(0, 0, 1, 4), scored(0, 0, 2, 5), scored(3, 0, 0, 0), scored(0, 0, 4, 1), scored(1, 2, 9, 9), scored(0, 0, 3, 6), scored(1, 2, 0, 0),
	}
	want := [][]int{{1, 4}, {2}, {6}, {5, 7}, {0}, {3}}
	if got := layers(vs); !slices.EqualFunc(got, want, slices.Equal[[]int]) {
		t.Errorf("%v, want %v", got, want)
	}
}

// By hand: gaps as shares of the ranges 10 and 10.
func TestCrowdingByHand(t *testing.T) {
	vs := []Variant{scored(0, 0, 0, 10), scored(0, 0, 2, 7), scored(0, 0, 3, 6), scored(0, 0, 10, 0)}
	got := crowding(vs, []int{0, 1, 2, 3})
	want := []float64{math.Inf(1), 0.3 + 0.4, 0.8 + 0.7, math.Inf(1)}
	for i := range want {
		if got[i] != want[i] && math.Abs(got[i]-want[i]) > 1e-12 {
			t.Errorf("variant %d: %v, want %v", i, got[i], want[i])
		}
	}
	if left := thinByCrowding(vs, []int{0, 1, 2, 3}, 3); !slices.Equal(left, []int{0, 2, 3}) {
		t.Errorf("thinned to %v, want the most crowded, 1, taken out", left)
	}
}

// Source: Das and Dennis: (parts+dim-1 over dim-1) points, each summing to 1. Deb and Jain use 91 for 12 parts.
func TestReferenceDirections(t *testing.T) {
	if n := len(dasDennis(3, 12)); n != 91 {
		t.Errorf("%d directions of 3 objectives in 12 parts, want 91", n)
	}
	if n := len(referenceDirections(3, 100)); n != 91 {
		t.Errorf("%d directions for a population of 100, want 91", n)
	}
	for _, d := range dasDennis(4, 5) {
		if math.Abs(d[0]+d[1]+d[2]+d[3]-1) > 1e-12 {
			t.Errorf("%v does not sum to 1", d)
		}
	}
}

// By hand: of two crowds and one lone variant, three places go one to each.
func TestNichesSpread(t *testing.T) {
	vs := []Variant{
		scored(0, 0, 1, 0, 0), scored(0, 0, 0.98, 0.01, 0.01), scored(0, 0, 0, 1, 0), scored(0, 0, 0.01, 0.98, 0.01), scored(0, 0, 0, 0, 1),
	}
	for i := range uint64(20) {
		got := niches(vs, nil, []int{0, 1, 2, 3, 4}, 3, dasDennis(3, 1), rand.New(rand.NewPCG(i, 0)))
		if !slices.Equal(got, []int{0, 2, 4}) {
			t.Errorf("chosen %v, want the nearest to each axis: 0, 2, 4", got)
		}
	}
}

func TestSolveByHand(t *testing.T) {
	x, ok := solve([][]float64{{0, 2}, {4, 1}}, []float64{6, 11}) // 2y = 6, 4x + y = 11
	if !ok || math.Abs(x[0]-2) > 1e-12 || math.Abs(x[1]-3) > 1e-12 {
		t.Errorf("%v %v, want 2 and 3", x, ok)
	}
	if _, ok := solve([][]float64{{1, 2}, {2, 4}}, []float64{1, 2}); ok {
		t.Error("a singular system was solved")
	}
}
