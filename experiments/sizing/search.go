package sizing

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"leanbay/optimize"
	"leanbay/solver"
)

// tolerance is how far above 1 a ratio of a feasible design may be, by the form's definition.
const tolerance = 1e-6

// Options says how to search. Evaluations is a hard limit on distinct designs analysed; 0 is 20,000.
type Options struct {
	Seed        uint64
	Evaluations int
	Workers     int
	// Tune may change the search, to measure what its parts contribute.
	Tune func(*optimize.Config)
}

// Answer is the neutral form's answer.
type Answer struct {
	Name              string            `json:"name"`
	Units             map[string]string `json:"units,omitempty"`
	Seed              uint64            `json:"seed"`
	Evaluations       int               `json:"evaluations"`         // distinct designs analysed
	EvaluationsToBest int               `json:"evaluations_to_best"` // of them up to and with the best
	Mass              float64           `json:"mass"`
	Areas             []float64         `json:"areas_by_group"`
	StressRatio       float64           `json:"max_stress_ratio"`
	DisplacementRatio float64           `json:"max_displacement_ratio"`
	Feasible          bool              `json:"feasible"`
	Stopped           string            `json:"stopped_because"`
	Settled           bool              `json:"locally_optimal"` // no single or paired step is lighter and feasible
	Front             []Design          `json:"front"`
	Caution           string            `json:"caution"`
}

// Design is one point of the front of mass against the greatest ratio.
type Design struct {
	Mass  float64   `json:"mass"`
	Ratio float64   `json:"max_ratio"`
	Areas []float64 `json:"areas_by_group"`
}

// problem is a Truss for the search: one gene for each group, an index in the list of areas.
//
// The objective is mass alone: a feasible design is of class 0. Every other one is of class 1 and ranked by how much
// its ratios exceed 1, group by group. Mass is known without analysis, so that whatever is not lighter than the best
// feasible design is never analysed.
type problem struct {
	truss  *Truss
	space  *optimize.Space
	length []float64 // of each group, all members together
	make   func() analyser
}

func newProblem(t *Truss, make func() analyser) *problem {
	p := &problem{truss: t, space: &optimize.Space{}, make: make}
	names := []string{}
	for _, a := range t.Areas {
		names = append(names, strconv.FormatFloat(a, 'g', -1, 64))
	}
	for g, members := range t.Groups {
		sum := 0.0
		for _, m := range members {
			sum += t.length(m)
		}
		p.length = append(p.length, sum)
		p.space.Genes = append(p.space.Genes, optimize.Gene{Name: "area " + strconv.Itoa(g), Options: names, Values: t.Areas, Ordered: true})
	}
	return p
}

// Space implements optimize.Problem.
func (p *problem) Space() *optimize.Space { return p.space }

// Objectives implements optimize.Problem.
func (p *problem) Objectives() []optimize.Objective {
	return []optimize.Objective{{Name: "mass", Unit: p.truss.Units["mass"]}}
}

// Canonical implements optimize.Problem: every point is a design of its own.
func (p *problem) Canonical(point []int) (string, []int) {
	var b strings.Builder
	for i, o := range point {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(p.space.Genes[i].Options[o])
	}
	return b.String(), slices.Clone(point)
}

// Bound implements optimize.Bounder: mass is known exactly.
func (p *problem) Bound(point []int, _ string) optimize.Bound {
	return optimize.Bound{Objectives: []float64{p.mass(point)}}
}

func (p *problem) mass(point []int) float64 {
	sum := 0.0
	for g, o := range point {
		sum += float64(p.truss.Areas[o] * p.length[g])
	}
	return p.truss.Density * sum
}

func (p *problem) areas(point []int) []float64 {
	out := make([]float64, len(point))
	for g, o := range point {
		out[g] = p.truss.Areas[o]
	}
	return out
}

// NewEvaluator implements optimize.Problem.
func (p *problem) NewEvaluator() optimize.Evaluator { return &evaluator{p: p, analyser: p.make()} }

type evaluator struct {
	p        *problem
	analyser analyser
	response response
	skeleton *skeleton // of its forecasts; nil until the first
}

// Evaluate implements optimize.Evaluator. Tie carries the greatest ratio, for the front.
func (e *evaluator) Evaluate(_ context.Context, point []int, _ string) (optimize.Score, error) {
	r := &e.response
	if err := e.analyser.analyse(e.p.areas(point), r); err != nil {
		return optimize.Score{}, err
	}
	if !r.stable {
		return optimize.Score{Class: 2, Violation: 1}, nil
	}
	return e.p.Guess(point, "", append(slices.Clone(r.stress), r.displacement)), nil
}

// Guess implements optimize.Guesser: the measures are the groups' stress ratios, then the displacement ratio.
func (p *problem) Guess(point []int, _ string, ratios []float64) optimize.Score {
	s := optimize.Score{Objectives: []float64{p.mass(point)}, Tie: slices.Max(ratios), Measures: ratios}
	if s.Complies = s.Tie <= 1+tolerance; !s.Complies {
		s.Class = 1
		for _, ratio := range ratios {
			s.Violation += excess(ratio)
		}
	}
	return s
}

func excess(ratio float64) float64 { return math.Max(0, ratio-1) }

// tracker notes when the best design was first analysed and the front of mass against the greatest ratio.
type tracker struct {
	count, best int
	order       map[string]int // by key: how many were analysed up to it
	mass        float64
	front       *optimize.Archive
}

// Generation implements optimize.Recorder.
func (t *tracker) Generation(s optimize.State) error {
	for _, v := range s.Fresh {
		t.count++
		t.order[v.Key] = t.count
		if v.Score.Class > 1 {
			continue
		}
		mass := v.Score.Objectives[0]
		if v.Score.Complies && mass < t.mass {
			t.mass, t.best = mass, t.count
		}
		v.Score = optimize.Score{Objectives: []float64{mass, v.Score.Tie}}
		t.front.Add(v)
	}
	return nil
}

// Small islands: they only keep the search broad, the scouts do the most. The search ends after patience generations
// without a lighter design, or twice as many as there are groups if that is more; a generation analyses some hundred.
const (
	islands    = 2
	population = 10
	patience   = 16
)

// Search looks for the lightest feasible design of t. The error is the truss's fault if it is a mechanism.
func Search(ctx context.Context, t *Truss, o Options) (*Answer, error) {
	if o.Evaluations == 0 {
		o.Evaluations = 20_000
	}
	model, err := newModel(t)
	if err != nil {
		return nil, fmt.Errorf("the truss cannot be analysed: %w", err)
	}
	check := newBarAnalyser(t, model)
	if err := check.stands(); err != nil {
		return nil, err
	}
	cfg := optimize.Config{Seed: o.Seed, Islands: islands, Population: population, Workers: o.Workers, Guesses: max(3, len(t.Groups)/3)}
	// All areas at their greatest: most often feasible, and what was analysed above for a mechanism, so that it counts.
	cfg.Start = [][]int{slices.Repeat([]int{len(t.Areas) - 1}, len(t.Groups))}
	cfg.Stop = optimize.Stop{Evaluations: o.Evaluations, Stagnation: max(patience, 2*len(t.Groups))}
	cfg.NoGuess = true // forecasts are better and much quicker
	if o.Tune != nil {
		o.Tune(&cfg)
	}
	p := newProblem(t, func() analyser { return newBarAnalyser(t, model) })
	track := &tracker{order: map[string]int{}, mass: math.Inf(1), front: optimize.NewArchive(0)}
	res, err := optimize.Run(ctx, p, cfg, track)
	if err != nil {
		return nil, err
	}
	return p.answer(o.Seed, res, track, check)
}

// answer puts the result in the form's words; the design is analysed once more for its ratios.
func (p *problem) answer(seed uint64, res *optimize.Result, track *tracker, check *barAnalyser) (*Answer, error) {
	best, at := res.Closest, track.best
	if res.Lightest != nil {
		best = res.Lightest
	} else {
		at = track.order[best.Key]
	}
	var r response
	if err := check.analyse(p.areas(best.Point), &r); err != nil {
		return nil, err
	}
	a := &Answer{
		Name: p.truss.Name, Units: p.truss.Units, Seed: seed, Evaluations: track.count, EvaluationsToBest: at,
		Mass: p.mass(best.Point), Areas: p.areas(best.Point), StressRatio: slices.Max(r.stress), DisplacementRatio: r.displacement,
		Feasible: best.Score.Complies, Stopped: string(res.Reason), Settled: best.Settled, Front: []Design{}, Caution: solver.Caution,
	}
	for _, v := range track.front.Front() {
		a.Front = append(a.Front, Design{v.Score.Objectives[0], v.Score.Objectives[1], p.areas(v.Point)})
	}
	return a, nil
}
