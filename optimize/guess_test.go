package optimize

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// powers is a problem whose measures are products of powers of its sizes: straight lines in logarithms.
type powers struct{ *toy }

func (powers) Guess(_ []int, _ string, m []float64) Score {
	return Score{Objectives: []float64{m[0], m[1]}}
}

func TestModelInterpolatesAndIsExactOnPowers(t *testing.T) {
	values := []float64{1, 1.3, 1.9, 2.4, 3.7, 5.5, 9}
	space := &Space{}
	for range 3 {
		space.Genes = append(space.Genes, Gene{Options: make([]string, len(values)), Values: values, Ordered: true})
	}
	measure := func(p []int) []float64 {
		return []float64{3 * math.Pow(values[p[0]], -1) * math.Pow(values[p[2]], 0.5), 0.2 * math.Pow(values[p[1]], -2)}
	}
	rng := rand.New(rand.NewPCG(1, 2))
	var vs []Variant
	for range 60 {
		p := []int{rng.IntN(7), rng.IntN(7), rng.IntN(7)}
		key := string([]byte{byte('a' + p[0]), byte('a' + p[1]), byte('a' + p[2])})
		vs = append(vs, Variant{Key: key, Point: p, Score: Score{Measures: measure(p)}})
	}
	vs = distinct(vs)
	model := learn(powers{}, newFeatures(space), vs)
	if model == nil {
		t.Fatalf("nothing was learnt from %d points", len(vs))
	}
	for i := range 343 {
		p := []int{i % 7, i / 7 % 7, i / 49}
		got := model.guess(p, "").Objectives
		for k, want := range measure(p) { // closed form
			if math.Abs(got[k]-want) > 1e-6*want {
				t.Errorf("%v: measure %d is guessed %v, is %v", p, k, got[k], want)
			}
		}
	}
	if learn(powers{}, newFeatures(space), vs[:guessLeast-1]) != nil {
		t.Error("a model of too few points")
	}
}

// plainly is elimination with row pivots as it is written down: column by column, one entry after the other.
func plainly(rows [][]float64, size int) {
	for c := range size {
		p := c
		for r := c + 1; r < size; r++ {
			if math.Abs(rows[r][c]) > math.Abs(rows[p][c]) {
				p = r
			}
		}
		rows[c], rows[p] = rows[p], rows[c]
		for r := c + 1; r < size; r++ {
			f := rows[r][c] / rows[c][c]
			for k := c + 1; k < len(rows[r]); k++ {
				rows[r][k] -= float64(f * rows[c][k])
			}
		}
	}
	for c := size - 1; c >= 0; c-- {
		for k := size; k < len(rows[c]); k++ {
			for j := c + 1; j < size; j++ {
				rows[c][k] -= float64(rows[c][j] * rows[j][k])
			}
			rows[c][k] /= rows[c][c]
		}
	}
}

// TestEliminateInPanels: columns taken together leave the bits of columns taken one by one.
func TestEliminateInPanels(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for size := 1; size < 20; size++ {
		a, b := make([][]float64, size), make([][]float64, size)
		for i := range a {
			a[i] = make([]float64, size+3)
			for k := range a[i] {
				if rng.IntN(4) > 0 {
					a[i][k] = rng.NormFloat64()
				}
			}
			a[i][i] += 3
			b[i] = slices.Clone(a[i])
		}
		if plainly(b, size); !eliminate(a, size) {
			t.Fatalf("size %d: found singular", size)
		}
		for i := range a {
			if !slices.Equal(a[i][size:], b[i][size:]) {
				t.Errorf("size %d, unknown %d: %v, plainly %v", size, i, a[i][size:], b[i][size:])
			}
		}
	}
	if eliminate([][]float64{{1, 2, 0}, {2, 4, 0}}, 2) {
		t.Error("a singular system was solved")
	}
}

// asIs returns the measures themselves.
type asIs struct{ *toy }

func (asIs) Guess(_ []int, _ string, m []float64) Score { return Score{Measures: m} }

// TestGuessIsTheSumOfItsBasis: going through genes and measures side by side leaves the bits of the sum as it is defined, over the
// coordinates of every point; a measure that is known nowhere stays unknown.
func TestGuessIsTheSumOfItsBasis(t *testing.T) {
	space := &Space{Genes: []Gene{
		{Options: make([]string, 5)}, {Options: make([]string, 7), Ordered: true}, {Options: make([]string, 2)}, {Options: make([]string, 1)},
		{Options: make([]string, 4), Ordered: true, Values: []float64{1, 3, 4, 8}}, {Options: make([]string, 3)},
	}}
	rng := rand.New(rand.NewPCG(7, 8))
	draw := func() []int {
		p := make([]int, len(space.Genes))
		for i := range p {
			p[i] = rng.IntN(space.Genes[i].Count())
		}
		return p
	}
	var vs []Variant
	for range 70 {
		m := []float64{rng.Float64(), rng.Float64(), -1, rng.Float64(), rng.Float64(), rng.Float64(), rng.Float64()}
		if rng.IntN(5) == 0 {
			m[3] = -1
		}
		vs = append(vs, Variant{Point: draw(), Score: Score{Measures: m}})
	}
	slices.SortFunc(vs, func(a, b Variant) int { return slices.Compare(a.Point, b.Point) })
	vs = slices.CompactFunc(vs, func(a, b Variant) bool { return slices.Equal(a.Point, b.Point) })
	f := newFeatures(space)
	g := learn(asIs{}, f, vs)
	if g == nil {
		t.Fatal("nothing was learnt")
	}
	for range 50 {
		p := draw()
		x := f.of(p)
		var basis []float64
		for _, v := range vs {
			sum := 0.0
			for k, y := range f.of(v.Point) {
				sum += float64((x[k] - y) * (x[k] - y))
			}
			basis = append(basis, sum*math.Sqrt(sum))
		}
		basis = append(append(basis, 1), x...)
		got := g.guess(p, "").Measures
		for m, w := range g.weights {
			want := -1.0
			if m != 2 {
				sum := 0.0
				for i, b := range basis {
					sum += float64(b * w[i])
				}
				want = math.Exp(math.Min(sum, 50))
			}
			if got[m] != want {
				t.Errorf("%v: measure %d is guessed %v, the sum is %v", p, m, got[m], want)
			}
		}
	}
}

func TestGuessingSavesEvaluations(t *testing.T) {
	want := len(exhaust(newToy(4, 7)))
	reach := func(cfg Config) int {
		worst := 0
		for seed := range uint64(2) {
			cfg.Seed, cfg.Population, cfg.Stop = seed, 20, Stop{Generations: 80, Stagnation: 12}
			at := 0
			run(t, newToy(4, 7), cfg, recorderFunc(func(s State) error {
				if len(s.Front) != want || at == 0 {
					at = s.Evaluations
				}
				return nil
			}))
			worst = max(worst, at)
		}
		return worst
	}
	with, without := reach(Config{}), reach(Config{NoGuess: true})
	if with > without {
		t.Errorf("the front took %d evaluations with a model, %d without", with, without)
	}
	t.Logf("front complete after %d evaluations with a model, %d without", with, without)
}
