package suites

import (
	"context"
	"math"
	"slices"

	"leanbay/experiments/briefs"
	"leanbay/model/brief"
	"leanbay/optimize"
	"leanbay/optimize/shedspace"
)

// ShedBench says on which shipped briefs to measure what each part of the search contributes: every search has the same number
// of evaluations and goes on to their end.
type ShedBench struct {
	Briefs      []string
	Parts       []ShedPart // switched off, one at a time; the whole search comes first
	Seeds       int        // seeds 1 to Seeds
	Evaluations int        // of each search, those of mending among them
	Population  int        // of each of two islands
	Workers     int
	Plain       bool // also eaopt's own single-objective model on the mass with a penalty
	Watch       func(brief, search string, seed int)
}

// ShedPart is a part of the search that can be switched off.
type ShedPart struct {
	Name   string
	off    func(*optimize.Config)
	drawn  bool // starts from the drawing instead of from the mended one
	single bool // one island of the size of both
}

// ShedParts are the parts of the search that matter to sheds; the first is none.
func ShedParts() []ShedPart {
	return []ShedPart{
		{Name: ""},
		{Name: "mended start", drawn: true},
		{Name: "bounds", off: func(c *optimize.Config) { c.NoBounds = true }},
		{Name: "guesses", off: func(c *optimize.Config) { c.NoGuess = true }},
		{Name: "chase", off: func(c *optimize.Config) { c.NoChase = true }},
		{Name: "local improvement", off: func(c *optimize.Config) { c.NoPolish = true }},
		{Name: "paired steps", off: func(c *optimize.Config) { c.NoPairs = true }},
		{Name: "restarts", off: func(c *optimize.Config) { c.NoRestart = true }},
		{Name: "islands", single: true},
	}
}

// ShedRow is the outcome on one brief with one part off.
type ShedRow struct {
	Brief   string `json:"brief"`
	Without string `json:"without,omitempty"`
	Method  string `json:"method,omitempty"` // another than the search
	Seeds   int    `json:"seeds"`
	Found   int    `json:"found"` // seeds that found a design that complies
	// Of the seeds that found one: mass of the lightest that complies (kg), evaluations up to it, and the hypervolume of the
	// front, up to the reference: kg times utilisation. The last is 0 for a method without a front.
	Lightest  Spread     `json:"lightest_kg"`
	After     Spread     `json:"after"`
	Volume    Spread     `json:"hypervolume"`
	Reference [2]float64 `json:"reference"` // mass and utilisation
}

// referenceMass is the mass of the reference point as a share of that of the drawing when it is first mended, and referenceUse
// its utilisation: no front of interest reaches beyond.
const (
	referenceMass = 1.25
	referenceUse  = 1.25
)

// Run measures, brief by brief. Scores are remembered between the searches of a brief.
func (b ShedBench) Run(ctx context.Context) ([]ShedRow, error) {
	var out []ShedRow
	for _, name := range b.Briefs {
		rows, err := b.one(ctx, name)
		if out = append(out, rows...); err != nil {
			return out, err
		}
	}
	return out, nil
}

func (b ShedBench) one(ctx context.Context, name string) ([]ShedRow, error) {
	br, err := brief.ReadFS(briefs.FS, name+".yaml")
	if err != nil {
		return nil, err
	}
	opened, err := shedspace.New(br)
	if err != nil {
		return nil, err
	}
	p := &remembered{Problem: opened, known: map[string]optimize.Score{}}
	mended, spent, err := p.Repaired(ctx, shedspace.Mending{Budget: min(shedspace.MendFirst, b.Evaluations/2), Workers: b.Workers})
	if err != nil {
		return nil, err
	}
	reference := [2]float64{0, referenceUse}
	reference[0] = referenceMass * p.Mass(append(slices.Clone(mended), p.Start()...)[0])
	var out []ShedRow
	for _, part := range b.Parts {
		row := ShedRow{Brief: name, Without: part.Name, Seeds: b.Seeds, Reference: reference}
		start, first := append(slices.Clone(mended), p.Start()...), spent
		if part.drawn {
			start, first = p.Start(), 0
		}
		var found found
		for seed := 1; seed <= b.Seeds; seed++ {
			b.tell(name, row.Search(), seed)
			cfg := optimize.Config{Seed: uint64(seed), Population: b.Population, Workers: b.Workers, Stones: 1, Start: start, Stop: optimize.Stop{Evaluations: b.Evaluations - first}}
			if part.single {
				cfg.Islands, cfg.Population = 1, 2*b.Population
			}
			if part.off != nil {
				part.off(&cfg)
			}
			var s searched
			res, err := optimize.Run(ctx, p, cfg, &s)
			if err == nil {
				err = ctx.Err()
			}
			if err != nil {
				return out, err
			}
			if res.Lightest != nil {
				found.add(res.Lightest.Score.Objectives[0], first+completeAt(s.seen, []string{res.Lightest.Key}), optimize.Hypervolume(objectives(res.Front), reference[:]))
			}
		}
		found.fill(&row)
		out = append(out, row)
	}
	if b.Plain {
		row, err := b.plain(ctx, name, p)
		row.Reference = reference
		return append(out, row), err
	}
	return out, nil
}

// plain measures eaopt's own model.
func (b ShedBench) plain(ctx context.Context, name string, p *remembered) (ShedRow, error) {
	row := ShedRow{Brief: name, Method: "eaopt's generational model", Seeds: b.Seeds}
	var found found
	for seed := 1; seed <= b.Seeds; seed++ {
		b.tell(name, row.Search(), seed)
		mass, at, err := optimize.Plain(ctx, p, p.Mass, uint64(seed), b.Evaluations)
		if err != nil {
			return row, err
		}
		if !math.IsInf(mass, 1) {
			found.add(mass, at, 0)
		}
	}
	found.fill(&row)
	return row, nil
}

func (b ShedBench) tell(brief, search string, seed int) {
	if b.Watch != nil {
		b.Watch(brief, search, seed)
	}
}

// Search says what was searched with.
func (r ShedRow) Search() string {
	switch {
	case r.Method != "":
		return r.Method
	case r.Without == "":
		return "whole search"
	}
	return "without " + r.Without
}

// found gathers the figures of seeds.
type found struct{ lightest, after, volume []float64 }

func (f *found) add(lightest float64, after int, volume float64) {
	f.lightest, f.after, f.volume = append(f.lightest, lightest), append(f.after, float64(after)), append(f.volume, volume)
}

func (f *found) fill(r *ShedRow) {
	if r.Found = len(f.lightest); r.Found > 0 {
		r.Lightest, r.After, r.Volume = SpreadOf(f.lightest), SpreadOf(f.after), SpreadOf(f.volume)
	}
}
