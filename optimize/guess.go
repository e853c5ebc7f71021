package optimize

import (
	"math"
	"slices"
	"sync"
)

// guessWindow is the number of latest evaluations that a model learns from, beside the population; guessLeast is the
// number below which it learns nothing. The window bounds the cost: its cube for the model, its first power per guess.
const (
	guessWindow = 200
	guessLeast  = 40
)

// guesser predicts the scores of variants from measured ones: cubic radial basis functions with a linear tail, through
// every measured point, in the logarithms of measures and options' values (Powell 1992; a ratio that goes with a power
// of a size is a straight line there). It serves to choose what to evaluate; nothing guessed is ever kept. It belongs to one
// goroutine.
type guesser struct {
	problem  Guesser
	features *features
	points   [][]int       // measured
	at       [][]float64   // their features
	apart    [][][]float64 // by gene and option: squared distances of the points' options from it; nil before they are asked for
	squares  []float64     // storage of cubes
	weights  [][]float64   // by measure: one for each point (0 where the measure is not known), then constant and slopes; nil: no model
	abreast  []quad
	basis    []float64 // storage of guess
}

// quad holds the weights of four measures side by side, so that their sums run beside each other.
type quad struct {
	measures []int        // up to four
	weights  [][4]float64 // by place in the basis
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

// oneOf is the coordinate of the option that a one-of-several gene has; those of its others are 0.
const oneOf = math.Sqrt2 / 2

func (f *features) of(p []int) []float64 {
	x := make([]float64, f.dim)
	f.put(p, x)
	return x
}

// put writes the coordinates of p.
func (f *features) put(p []int, x []float64) {
	clear(x)
	for i, o := range p {
		if f.table[i] == nil {
			x[f.start[i]+o] = oneOf
		} else {
			x[f.start[i]] = f.table[i][o]
		}
	}
}

// learn fits a model to vs, of which those without measures are left out; nil if too few are left. Each measure has a model
// through the points where it is known; one that is known at too few has none.
func learn(problem Guesser, f *features, vs []Variant) *guesser {
	vs = slices.DeleteFunc(slices.Clone(vs), func(v Variant) bool { return v.Score.Measures == nil })
	if len(vs) < guessLeast {
		return nil
	}
	g := &guesser{
		problem: problem, features: f, apart: make([][][]float64, len(f.count)), squares: make([]float64, len(vs)),
		weights: make([][]float64, len(vs[0].Score.Measures)), basis: make([]float64, len(vs)+1+f.dim),
	}
	for _, v := range vs {
		g.points, g.at = append(g.points, v.Point), append(g.at, f.of(v.Point))
	}
	room := fitRooms.Get().(*[]float64)
	defer fitRooms.Put(room)
	cubes := matrix(room, len(vs), len(vs))
	for i := range cubes {
		g.cubes(g.points[i], cubes[i])
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
		if len(rows) >= guessLeast && !g.fit(vs, cubes, rows, same) {
			return nil
		}
	}
	g.sideBySide()
	return g
}

// sideBySide puts the weights of the measures that have a model into quads.
func (g *guesser) sideBySide() {
	for m, w := range g.weights {
		if w == nil {
			continue
		}
		if k := len(g.abreast); k == 0 || len(g.abreast[k-1].measures) == 4 {
			g.abreast = append(g.abreast, quad{weights: make([][4]float64, len(w))})
		}
		q := &g.abreast[len(g.abreast)-1]
		for i, v := range w {
			q.weights[i][len(q.measures)] = v
		}
		q.measures = append(q.measures, m)
	}
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

// fit solves for the weights of some measures from the variants listed, of which cubes are the basis functions at each other's
// points; false if the points do not determine them.
func (g *guesser) fit(vs []Variant, cubes [][]float64, points, measures []int) bool {
	n, dim := len(points), g.features.dim
	size := n + 1 + dim
	room := fitRooms.Get().(*[]float64)
	defer fitRooms.Put(room)
	rows := matrix(room, size, size+len(measures))
	for i, p := range points {
		for j, q := range points[:i] {
			rows[i][j], rows[j][i] = cubes[p][q], cubes[p][q]
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

// fitRooms are storage of the matrices that models are fitted by: half a megabyte each, some hundred of them a search.
var fitRooms = sync.Pool{New: func() any { return new([]float64) }}

// matrix is one of zeros in a room that grows.
func matrix(room *[]float64, rows, columns int) [][]float64 {
	*room = slices.Grow((*room)[:0], rows*columns)[:rows*columns]
	clear(*room)
	out := make([][]float64, rows)
	for i := range out {
		out[i] = (*room)[i*columns : (i+1)*columns : (i+1)*columns]
	}
	return out
}

func logMeasure(v float64) float64 { return math.Log(math.Max(v, 1e-3)) }

// cubes writes the cube of a point's distance from each measured one. Coordinates that are alike add nothing to a square, so
// that genes are gone through, not coordinates: two differ where two options of a one-of-several gene do.
func (g *guesser) cubes(p []int, out []float64) {
	sums := g.squares
	clear(sums)
	for i, o := range p {
		apart := g.apartFrom(i, o)
		if g.features.table[i] != nil {
			for k, d := range apart {
				sums[k] += d
			}
			continue
		}
		for k, d := range apart {
			sums[k] = sums[k] + d + d
		}
	}
	for k, s := range sums {
		out[k] = s * math.Sqrt(s)
	}
}

// apartFrom are the squared distances of the measured points' options of a gene from option o, in one coordinate; none if all
// have o.
func (g *guesser) apartFrom(gene, o int) []float64 {
	f := g.features
	if g.apart[gene] == nil {
		g.apart[gene] = make([][]float64, f.count[gene])
	}
	if g.apart[gene][o] == nil {
		g.apart[gene][o] = g.measureApart(gene, o)
	}
	return g.apart[gene][o]
}

func (g *guesser) measureApart(gene, o int) []float64 {
	if !slices.ContainsFunc(g.points, func(p []int) bool { return p[gene] != o }) {
		return []float64{}
	}
	out, table := make([]float64, len(g.points)), g.features.table[gene]
	for k, p := range g.points {
		d := oneOf
		if table != nil {
			d = table[p[gene]] - table[o]
		}
		if p[gene] != o {
			out[k] = d * d
		}
	}
	return out
}

// panel is how many columns are eliminated together: each entry beyond them is then read and written once for all.
const panel = 4

// eliminate solves for the columns beyond size, in place, by elimination with row pivots; false if the matrix is singular.
func eliminate(rows [][]float64, size int) bool {
	for from := 0; from < size; from += panel {
		to := min(from+panel, size)
		if !eliminatePanel(rows, from, to, size) {
			return false
		}
		for r := from + 1; r < size; r++ {
			a := rows[r]
			if r >= to && to-from == panel {
				takeFour(a[to:], a[from:to], rows[from][to:], rows[from+1][to:], rows[from+2][to:], rows[from+3][to:])
				continue
			}
			for c := from; c < min(r, to); c++ {
				takeOff(a[to:], a[c], rows[c][to:])
			}
		}
	}
	for c := size - 1; c >= 0; c-- {
		a := rows[c]
		x := a[size:]
		for j := c + 1; j < size; j++ {
			takeOff(x, a[j], rows[j][size:])
		}
		for k := range x {
			x[k] /= a[c]
		}
	}
	return true
}

// eliminatePanel eliminates columns from to to, in these columns alone, and leaves the factors of each row in them.
func eliminatePanel(rows [][]float64, from, to, size int) bool {
	for c := from; c < to; c++ {
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
		b := rows[c][:to]
		for _, a := range rows[c+1 : size] {
			a[c] /= b[c]
			if a[c] != 0 {
				takeOff(a[c+1:to], a[c], b[c+1:])
			}
		}
	}
	return true
}

// takeOff subtracts f times b from a.
func takeOff(a []float64, f float64, b []float64) {
	b = b[:len(a)]
	for k := range a {
		a[k] -= float64(f * b[k])
	}
}

// takeFour subtracts the four rows b, times the four factors f, from a, one after the other.
func takeFour(a, f, b0, b1, b2, b3 []float64) {
	f0, f1, f2, f3 := f[0], f[1], f[2], f[3]
	if f0 == 0 && f1 == 0 && f2 == 0 && f3 == 0 {
		return
	}
	b0, b1, b2, b3 = b0[:len(a)], b1[:len(a)], b2[:len(a)], b3[:len(a)]
	for k := range a {
		a[k] = a[k] - float64(f0*b0[k]) - float64(f1*b1[k]) - float64(f2*b2[k]) - float64(f3*b3[k])
	}
}

// guess returns the score that the variant is thought to have.
func (g *guesser) guess(p []int, key string) Score {
	n := len(g.at)
	g.cubes(p, g.basis[:n])
	g.basis[n] = 1
	g.features.put(p, g.basis[n+1:])
	measures := slices.Repeat([]float64{-1}, len(g.weights))
	for i := range g.abreast {
		q := &g.abreast[i]
		sums := q.sum(g.basis)
		for k, m := range q.measures {
			measures[m] = math.Exp(math.Min(sums[k], 50))
		}
	}
	return g.problem.Guess(p, key, measures)
}

// sum weighs a basis.
func (q *quad) sum(basis []float64) [4]float64 {
	var s0, s1, s2, s3 float64
	weights := q.weights[:len(basis)]
	for i, b := range basis {
		w := &weights[i]
		s0 += float64(b * w[0])
		s1 += float64(b * w[1])
		s2 += float64(b * w[2])
		s3 += float64(b * w[3])
	}
	return [4]float64{s0, s1, s2, s3}
}
