package optimize

import (
	"math"
	"slices"
)

// guessWindow is the number of latest evaluations that a model learns from, beside the population; guessLeast is the
// number below which it learns nothing. The window bounds the cost: its cube for the model, its first power per guess.
const (
	guessWindow = 200
	guessLeast  = 40
)

// guesser predicts the scores of variants from measured ones: cubic radial basis functions with a linear tail, through
// every measured point, in the logarithms of measures and options' values (Powell 1992; a ratio that goes with a power
// of a size is a straight line there). It serves to choose what to evaluate; nothing guessed is ever kept.
type guesser struct {
	problem  Guesser
	features *features
	at       [][]float64 // features of the measured points
	weights  [][]float64 // by measure: one for each point (0 where the measure is not known), then constant and slopes; nil: no model
}

// features turns points into coordinates.
type features struct {
	start []int       // first coordinate of each gene
	table [][]float64 // by gene: coordinate of each option; nil for one-of-several
	count []int
	dim   int
}

func newFeatures(s *Space) *features {
	f := &features{}
	for i := range s.Genes {
		g := &s.Genes[i]
		f.start, f.count = append(f.start, f.dim), append(f.count, g.Count())
		if !g.Ordered && g.Count() > 2 {
			f.table = append(f.table, nil)
			f.dim += g.Count()
			continue
		}
		f.table = append(f.table, coordinates(g))
		f.dim++
	}
	return f
}

// coordinates spreads the options of a gene over 0 to 1, by the logarithm of their values if they have any.
func coordinates(g *Gene) []float64 {
	n := g.Count()
	out := make([]float64, n)
	for o := range out {
		out[o] = float64(o) / float64(max(1, n-1))
		if g.Values != nil {
			out[o] = math.Log(g.Values[o])
		}
	}
	if g.Values != nil {
		lo, hi := slices.Min(out), slices.Max(out)
		for o := range out {
			out[o] = (out[o] - lo) / math.Max(hi-lo, 1e-12)
		}
	}
	return out
}

func (f *features) of(p []int) []float64 {
	x := make([]float64, f.dim)
	for i, o := range p {
		if f.table[i] == nil {
			x[f.start[i]+o] = math.Sqrt2 / 2
		} else {
			x[f.start[i]] = f.table[i][o]
		}
	}
	return x
}

// learn fits a model to vs, of which those without measures are left out; nil if too few are left. Each measure has a model
// through the points where it is known; one that is known at too few has none.
func learn(problem Guesser, f *features, vs []Variant) *guesser {
	vs = slices.DeleteFunc(slices.Clone(vs), func(v Variant) bool { return v.Score.Measures == nil })
	if len(vs) < guessLeast {
		return nil
	}
	g := &guesser{problem: problem, features: f, weights: make([][]float64, len(vs[0].Score.Measures))}
	for _, v := range vs {
		g.at = append(g.at, f.of(v.Point))
	}
	done := make([]bool, len(g.weights))
	for k := range g.weights {
		if done[k] {
			continue
		}
		rows := knownRows(vs, k)
		var same []int // the measures known at the same points share the work
		for m := k; m < len(done); m++ {
			if !done[m] && slices.Equal(knownRows(vs, m), rows) {
				same, done[m] = append(same, m), true
			}
		}
		if len(rows) >= guessLeast && !g.fit(vs, rows, same) {
			return nil
		}
	}
	return g
}

// knownRows lists the variants at which a measure is known.
func knownRows(vs []Variant, measure int) []int {
	var out []int
	for i := range vs {
		if vs[i].Score.Measures[measure] >= 0 {
			out = append(out, i)
		}
	}
	return out
}

// fit solves for the weights of some measures from the variants listed; false if the points do not determine them.
func (g *guesser) fit(vs []Variant, points, measures []int) bool {
	n, dim := len(points), g.features.dim
	size := n + 1 + dim
	rows := make([][]float64, size)
	for i := range rows {
		rows[i] = make([]float64, size+len(measures))
	}
	for i, p := range points {
		for j, q := range points[:i] {
			r := cube(g.at[p], g.at[q])
			rows[i][j], rows[j][i] = r, r
		}
		rows[i][n], rows[n][i] = 1, 1
		for k, v := range g.at[p] {
			rows[i][n+1+k], rows[n+1+k][i] = v, v
		}
		for k, m := range measures {
			rows[i][size+k] = logMeasure(vs[p].Score.Measures[m])
		}
	}
	for k := range dim { // a coordinate that never changes has no slope
		rows[n+1+k][n+1+k] = -1e-9
	}
	if !eliminate(rows, size) {
		return false
	}
	for k, m := range measures {
		w := make([]float64, len(g.at)+1+dim)
		for i, p := range points {
			w[p] = rows[i][size+k]
		}
		for i := range 1 + dim {
			w[len(g.at)+i] = rows[n+i][size+k]
		}
		g.weights[m] = w
	}
	return true
}

func logMeasure(v float64) float64 { return math.Log(math.Max(v, 1e-3)) }

func cube(x, y []float64) float64 {
	sum := 0.0
	for k, v := range x {
		d := v - y[k]
		sum += float64(d * d)
	}
	return sum * math.Sqrt(sum)
}

// eliminate solves for the columns beyond size, in place; false if the matrix is singular.
func eliminate(rows [][]float64, size int) bool {
	for c := range size {
		p := c
		for r := c + 1; r < size; r++ {
			if math.Abs(rows[r][c]) > math.Abs(rows[p][c]) {
				p = r
			}
		}
		if math.Abs(rows[p][c]) < 1e-14 {
			return false
		}
		rows[c], rows[p] = rows[p], rows[c]
		for r := c + 1; r < size; r++ {
			if f := rows[r][c] / rows[c][c]; f != 0 {
				a, b := rows[r], rows[c]
				for k := c + 1; k < len(a); k++ {
					a[k] -= float64(f * b[k])
				}
			}
		}
	}
	for c := size - 1; c >= 0; c-- {
		for k := size; k < len(rows[c]); k++ {
			s := rows[c][k]
			for j := c + 1; j < size; j++ {
				s -= float64(rows[c][j] * rows[j][k])
			}
			rows[c][k] = s / rows[c][c]
		}
	}
	return true
}

// guess returns the score that the variant is thought to have.
func (g *guesser) guess(p []int, key string) Score {
	x := g.features.of(p)
	n := len(g.at)
	basis := make([]float64, n+1+len(x))
	for i, y := range g.at {
		basis[i] = cube(x, y)
	}
	basis[n] = 1
	copy(basis[n+1:], x)
	measures := make([]float64, len(g.weights))
	for k, w := range g.weights {
		if w == nil {
			measures[k] = -1
			continue
		}
		sum := 0.0
		for i, b := range basis {
			sum += float64(b * w[i])
		}
		measures[k] = math.Exp(math.Min(sum, 50))
	}
	return g.problem.Guess(p, key, measures)
}
