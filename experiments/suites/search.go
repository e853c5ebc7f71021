package suites

import (
	"context"
	"slices"

	"leanbay/optimize"
)

// SearchBench says what to measure of the search on the test functions.
type SearchBench struct {
	Functions   []Function
	Evaluations []int // hypervolumes are noted after each, rising
	Seeds       int   // seeds 1 to Seeds
	Population  int
	Workers     int
	Part        Part // what is switched off; the zero value is nothing
	Watch       func(function string, seed int)
}

// Spread is the least, the median and the greatest of some values.
type Spread struct {
	Least    float64 `json:"least"`
	Median   float64 `json:"median"`
	Greatest float64 `json:"greatest"`
}

// SpreadOf returns the spread of vs, which must not be empty.
func SpreadOf(vs []float64) Spread {
	s := slices.Sorted(slices.Values(vs))
	n := len(s)
	return Spread{s[0], (s[(n-1)/2] + s[n/2]) / 2, s[n-1]}
}

// SearchRow is the outcome on one function after one number of evaluations.
type SearchRow struct {
	Function    string `json:"function"`
	Method      string `json:"method"` // the whole search, or what is switched off
	Evaluations int    `json:"evaluations"`
	// Population is the hypervolume of the population alone, as published figures have it; Archive that of everything
	// non-dominated that was found; True that of the true front.
	Population Spread  `json:"population"`
	Archive    Spread  `json:"archive"`
	True       float64 `json:"true"`
	// Points are the population's objectives of seed 1, for a picture, and PointsVolume their hypervolume.
	Points       [][]float64 `json:"-"`
	PointsVolume float64     `json:"-"`
}

// Part is a way to search for a measurement: Tune switches something off.
type Part struct {
	Name string
	Tune func(*optimize.Config)
}

// Parts returns the search as it is and the search without one part at a time, of those that matter to real variables:
// steps, bounds, local improvement and models are for lists.
func Parts() []Part {
	return []Part{
		{Name: "whole search"},
		{"one selection a generation", func(c *optimize.Config) { c.NoLitters = true }},
		{"no differential steps", func(c *optimize.Config) { c.NoDifference = true }},
		{"neither of these", func(c *optimize.Config) { c.NoLitters, c.NoDifference = true, true }},
		{"no renewal", func(c *optimize.Config) { c.NoRestart = true }},
		{"operators at fixed rates", func(c *optimize.Config) { c.NoAdapt = true }},
		{"two islands of half the size", func(c *optimize.Config) { c.Islands, c.Population = 2, c.Population/2 }},
	}
}

// Run measures. A row's figures are those of the last whole generation within its evaluations.
func (b SearchBench) Run(ctx context.Context) ([]SearchRow, error) {
	var out []SearchRow
	for _, f := range b.Functions {
		notes := make([]note, len(b.Evaluations))
		for seed := 1; seed <= b.Seeds; seed++ {
			if b.Watch != nil {
				b.Watch(f.Name, seed)
			}
			if err := b.one(ctx, f, seed, notes); err != nil {
				return nil, err
			}
		}
		for i, n := range notes {
			out = append(out, SearchRow{f.Name, b.Part.Name, b.Evaluations[i], SpreadOf(n.population), SpreadOf(n.archive), f.Volume, n.points, n.population[0]})
		}
	}
	return out, nil
}

// note gathers hypervolumes over the seeds.
type note struct {
	population, archive []float64
	points              [][]float64 // of the first seed
}

func (b SearchBench) one(ctx context.Context, f Function, seed int, notes []note) error {
	cfg := optimize.Config{Seed: uint64(seed), Islands: 1, Population: b.Population, Workers: b.Workers}
	cfg.Stop.Evaluations = b.Evaluations[len(b.Evaluations)-1]
	if b.Part.Tune != nil {
		b.Part.Tune(&cfg)
	}
	w := &watcher{limits: b.Evaluations, notes: make([]optimize.State, len(b.Evaluations))}
	res, err := optimize.Run(ctx, f.Problem(), cfg, w)
	if err != nil {
		return err
	}
	if res.Reason == optimize.Cancelled {
		return context.Canceled
	}
	reference := slices.Repeat([]float64{Reference}, f.Objectives)
	for i, s := range w.notes {
		var alive []optimize.Variant
		for _, p := range s.Populations {
			alive = append(alive, p...)
		}
		if notes[i].points == nil {
			notes[i].points = objectives(alive)
		}
		notes[i].population = append(notes[i].population, optimize.Hypervolume(objectives(alive), reference))
		notes[i].archive = append(notes[i].archive, optimize.Hypervolume(objectives(s.Front), reference))
	}
	return nil
}

func objectives(vs []optimize.Variant) [][]float64 {
	out := make([][]float64, len(vs))
	for i := range vs {
		out[i] = vs[i].Score.Objectives
	}
	return out
}

// watcher keeps the last state within each limit.
type watcher struct {
	limits []int
	notes  []optimize.State
}

// Generation implements optimize.Recorder.
func (w *watcher) Generation(s optimize.State) error {
	s.Fresh = nil
	for i, n := range w.limits {
		if s.Evaluations <= n {
			w.notes[i] = s
		}
	}
	return nil
}
