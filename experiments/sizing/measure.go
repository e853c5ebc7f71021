package sizing

import (
	"context"
	"encoding/json"
	"fmt"
	"math"

	"leanbay/optimize"
)

// Outcome is one run of a measurement.
type Outcome struct {
	Seed              uint64  `json:"seed"`
	Feasible          bool    `json:"feasible"`
	Mass              float64 `json:"mass,omitempty"` // of the lightest feasible design
	Evaluations       int     `json:"evaluations"`
	EvaluationsToBest int     `json:"evaluations_to_best"`
	Hit               bool    `json:"hit"` // no heavier than the published best
}

// Row is the outcome of one problem over seeds.
type Row struct {
	Problem   string    `json:"problem"`
	Method    string    `json:"method"`
	Published float64   `json:"published_best"`
	Limit     int       `json:"limit"` // distinct designs analysed
	Runs      []Outcome `json:"runs"`
}

// Hits counts the runs that found the published best.
func (r Row) Hits() int {
	n := 0
	for _, o := range r.Runs {
		if o.Hit {
			n++
		}
	}
	return n
}

// Method is a way to search, for a measurement; Tune is nil for the search as it is.
type Method struct {
	Name  string
	Plain bool // eaopt's own model instead
	Tune  func(*optimize.Config)
}

// Parts returns the search as it is and the search with one part at a time switched off.
func Parts() []Method {
	return []Method{
		{Name: "whole search"},
		{Name: "no bounds", Tune: func(c *optimize.Config) { c.NoBounds = true }},
		{Name: "no forecasts", Tune: func(c *optimize.Config) { c.NoForecast = true }},
		{Name: "no forecasts, but a model of what was evaluated", Tune: func(c *optimize.Config) { c.NoForecast, c.NoGuess = true, false }},
		{Name: "no local improvement", Tune: func(c *optimize.Config) { c.NoPolish = true }},
		{Name: "no renewal", Tune: func(c *optimize.Config) { c.NoRestart = true }},
		{Name: "operators at fixed rates", Tune: func(c *optimize.Config) { c.NoAdapt = true }},
		{Name: "one island", Tune: func(c *optimize.Config) { c.Islands, c.Population = 1, 2*population }},
		{Name: "none of these", Tune: func(c *optimize.Config) {
			c.NoBounds, c.NoForecast, c.NoPolish, c.NoRestart, c.NoAdapt = true, true, true, true, true
		}},
	}
}

// PlainMethod is eaopt's own single-objective model on a penalised mass.
func PlainMethod() Method { return Method{Name: "eaopt's generational model", Plain: true} }

// Measure runs a shipped problem with seeds 1 to seeds. The published best is read from the file.
func Measure(ctx context.Context, name string, text []byte, m Method, seeds, limit, workers int) (Row, error) {
	t, err := Read(name, text)
	if err != nil {
		return Row{}, err
	}
	var published struct {
		Best struct {
			Mass float64 `json:"mass"`
		} `json:"published_best"`
	}
	if err := json.Unmarshal(text, &published); err != nil || published.Best.Mass == 0 {
		return Row{}, fmt.Errorf("%s: no published_best with a mass; measure only what has one", name)
	}
	row := Row{Problem: t.Name, Method: m.Name, Published: published.Best.Mass, Limit: limit}
	for seed := uint64(1); seed <= uint64(seeds); seed++ {
		o, err := m.run(ctx, t, seed, limit, workers)
		if err != nil {
			return row, err
		}
		o.Hit = o.Feasible && o.Mass <= published.Best.Mass+0.005+tolerance // published to two decimals
		row.Runs = append(row.Runs, o)
	}
	return row, nil
}

func (m Method) run(ctx context.Context, t *Truss, seed uint64, limit, workers int) (Outcome, error) {
	if m.Plain {
		mass, at, err := Plain(ctx, t, seed, limit)
		o := Outcome{Seed: seed, Evaluations: limit, EvaluationsToBest: at}
		if o.Feasible = !math.IsInf(mass, 1); o.Feasible {
			o.Mass = mass
		}
		return o, err
	}
	a, err := Search(ctx, t, Options{Seed: seed, Evaluations: limit, Workers: workers, Tune: m.Tune})
	if err != nil {
		return Outcome{}, err
	}
	if a.Stopped == string(optimize.Cancelled) {
		return Outcome{}, context.Canceled
	}
	o := Outcome{Seed: seed, Feasible: a.Feasible, Evaluations: a.Evaluations, EvaluationsToBest: a.EvaluationsToBest}
	if a.Feasible {
		o.Mass = a.Mass
	}
	return o, nil
}

// Masses returns the mass of each run, +Inf where none was feasible, and the designs analysed up to the best.
func (r Row) Masses() (mass, toBest []float64) {
	for _, o := range r.Runs {
		m := o.Mass
		if !o.Feasible {
			m = math.Inf(1)
		}
		mass, toBest = append(mass, m), append(toBest, float64(o.EvaluationsToBest))
	}
	return mass, toBest
}
