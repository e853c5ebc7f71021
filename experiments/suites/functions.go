package suites

import (
	"context"
	"encoding/binary"
	"math"
	"slices"

	"leanbay/optimize"
)

// Function is a test function of multi-objective optimisation whose true front is known. All objectives are minimised.
type Function struct {
	Name       string
	Source     string
	Objectives int
	Lower      []float64 // of each variable
	Upper      []float64
	Eval       func(x, out []float64)
	// Volume is the hypervolume of the true front up to Reference in every objective.
	Volume float64
}

// Reference is the coordinate of the reference point in every objective.
const Reference = 1.1

const (
	zdt  = "E. Zitzler, K. Deb, L. Thiele, Comparison of multiobjective evolutionary algorithms: empirical results, Evolutionary Computation 8(2), 2000"
	dtlz = "K. Deb, L. Thiele, M. Laumanns, E. Zitzler, Scalable test problems for evolutionary multiobjective optimization, 2005"
)

// Functions returns ZDT1 to 4 and 6 and DTLZ2 with their usual sizes: 30, 30, 30, 10, 10 and 12 variables.
func Functions() []Function {
	return []Function{
		{"ZDT1", zdt, 2, box(30, 0), box(30, 1), zdt1, Reference*Reference - 1.0/3},
		{"ZDT2", zdt, 2, box(30, 0), box(30, 1), zdt2, Reference*Reference - 2.0/3},
		{"ZDT3", zdt, 2, box(30, 0), box(30, 1), zdt3, zdt3Volume()},
		{"ZDT4", zdt, 2, append([]float64{0}, box(9, -5)...), append([]float64{1}, box(9, 5)...), zdt4, Reference*Reference - 1.0/3},
		{"ZDT6", zdt, 2, box(10, 0), box(10, 1), zdt6, zdt6Volume()},
		{"DTLZ2", dtlz, 3, box(12, 0), box(12, 1), dtlz2, Reference*Reference*Reference - math.Pi/6},
	}
}

func box(n int, v float64) []float64 { return slices.Repeat([]float64{v}, n) }

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

func zdt1(x, out []float64) {
	g := 1 + 9*mean(x[1:])
	out[0], out[1] = x[0], g*(1-math.Sqrt(x[0]/g))
}

func zdt2(x, out []float64) {
	g := 1 + 9*mean(x[1:])
	out[0], out[1] = x[0], g*(1-(x[0]/g)*(x[0]/g))
}

func zdt3(x, out []float64) {
	g := 1 + 9*mean(x[1:])
	out[0], out[1] = x[0], g*(1-math.Sqrt(x[0]/g)-x[0]/g*math.Sin(10*math.Pi*x[0]))
}

func zdt4(x, out []float64) {
	g := 1 + 10*float64(len(x)-1)
	for _, v := range x[1:] {
		g += v*v - 10*math.Cos(4*math.Pi*v)
	}
	out[0], out[1] = x[0], g*(1-math.Sqrt(x[0]/g))
}

func zdt6(x, out []float64) {
	f := zdt6First(x[0])
	g := 1 + 9*math.Pow(mean(x[1:]), 0.25)
	out[0], out[1] = f, g*(1-(f/g)*(f/g))
}

func zdt6First(x float64) float64 { return 1 - math.Exp(-4*x)*math.Pow(math.Sin(6*math.Pi*x), 6) }

func dtlz2(x, out []float64) {
	g := 0.0
	for _, v := range x[2:] {
		g += (v - 0.5) * (v - 0.5)
	}
	a, b := x[0]*math.Pi/2, x[1]*math.Pi/2
	out[0] = (1 + g) * math.Cos(a) * math.Cos(b)
	out[1] = (1 + g) * math.Cos(a) * math.Sin(b)
	out[2] = (1 + g) * math.Sin(a)
}

// zdt3Volume integrates what the best second objective so far leaves free, by the midpoint rule: the front is in pieces.
func zdt3Volume() float64 {
	const steps = 1_000_000
	sum, best := 0.0, math.Inf(1)
	for i := range steps {
		x := (float64(i) + 0.5) / steps
		best = min(best, 1-math.Sqrt(x)-x*math.Sin(10*math.Pi*x))
		sum += Reference - min(best, Reference)
	}
	return sum/steps + (Reference-1)*(Reference-best)
}

// zdt6Volume: the front is f2 = 1 - f1² from the least f1 to 1.
func zdt6Volume() float64 {
	a := zdt6Least()
	return Reference*(Reference-a) - ((1 - a) - (1-a*a*a)/3)
}

// zdt6Least finds the least first objective, 0.2808, by golden section near its place.
func zdt6Least() float64 {
	lo, hi := 0.05, 0.11
	for range 100 {
		a, b := lo+0.382*(hi-lo), lo+0.618*(hi-lo)
		if zdt6First(a) < zdt6First(b) {
			hi = b
		} else {
			lo = a
		}
	}
	return zdt6First((lo + hi) / 2)
}

// Front returns the true front in pieces that hang together, of n points altogether or a little fewer. That of three
// objectives is returned as a curve on it, with equal first and second objective.
func (f Function) Front(n int) [][][]float64 {
	var pieces [][][]float64
	var piece [][]float64
	least := math.Inf(1)
	for i := range n {
		x := slices.Repeat([]float64{0}, len(f.Lower))
		x[0] = float64(i) / float64(n-1)
		if f.Objectives == 3 {
			x = slices.Repeat([]float64{0.5}, len(f.Lower))
			x[0], x[1] = float64(i)/float64(n-1), 0.5
		}
		out := make([]float64, f.Objectives)
		f.Eval(x, out)
		if f.Name == "ZDT6" { // its first objective goes to and fro with the first variable
			out[0] = zdt6Least() + (1-zdt6Least())*x[0]
			out[1] = 1 - out[0]*out[0]
		}
		if f.Objectives == 2 && out[1] >= least {
			if piece != nil {
				pieces, piece = append(pieces, piece), nil
			}
			continue
		}
		least = out[1]
		piece = append(piece, out)
	}
	if piece != nil {
		pieces = append(pieces, piece)
	}
	return pieces
}

// levels is the number of levels by which a real variable is divided: odd, so that the middle is one of them.
const levels = 1<<30 + 1

// Problem returns the function for the search, with each variable finely divided.
func (f Function) Problem() optimize.Problem {
	p := &functionProblem{Function: f, space: &optimize.Space{}}
	for range f.Lower {
		p.space.Genes = append(p.space.Genes, optimize.Gene{Name: "x", Levels: levels, Ordered: true})
	}
	return p
}

type functionProblem struct {
	Function
	space *optimize.Space
}

func (p *functionProblem) Space() *optimize.Space { return p.space }

func (p *functionProblem) Objectives() []optimize.Objective {
	out := make([]optimize.Objective, p.Function.Objectives)
	for i := range out {
		out[i] = optimize.Objective{Name: string(rune('1' + i)), Box: 0.001, Reference: Reference}
	}
	return out
}

func (p *functionProblem) Canonical(point []int) (string, []int) {
	key := make([]byte, 0, 5*len(point))
	for _, v := range point {
		key = binary.AppendUvarint(key, uint64(v))
	}
	return string(key), slices.Clone(point)
}

func (p *functionProblem) NewEvaluator() optimize.Evaluator {
	return &functionEvaluator{p, make([]float64, len(p.Lower))}
}

type functionEvaluator struct {
	p *functionProblem
	x []float64
}

// Evaluate implements optimize.Evaluator.
func (e *functionEvaluator) Evaluate(_ context.Context, point []int, _ string) (optimize.Score, error) {
	for i, v := range point {
		e.x[i] = e.p.Lower[i] + (e.p.Upper[i]-e.p.Lower[i])*float64(v)/(levels-1)
	}
	out := make([]float64, e.p.Function.Objectives)
	e.p.Eval(e.x, out)
	return optimize.Score{Objectives: out, Complies: true}, nil
}
