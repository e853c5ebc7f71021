package speed

import (
	"context"
	"runtime"
	"slices"
	"sync"
	"time"

	"leanbay/optimize"
	"leanbay/optimize/shedspace"
)

// Cores is what a second core (and more) brings: to a pure compute loop, and to the search. Runs with one worker and with all
// alternate, and medians count, so that other work on the machine meets both alike.
type Cores struct {
	Workers int     `json:"workers"` // all processors
	Rounds  int     `json:"rounds"`
	Loop    SpeedUp `json:"loop"`   // operations a second in registers
	Search  SpeedUp `json:"search"` // evaluations a second in the search of packhouse
	Share   float64 `json:"share"`  // speed-up of the search over that of the loop
}

// SpeedUp compares rates a second.
type SpeedUp struct {
	One    float64 `json:"one"`
	All    float64 `json:"all"`
	Factor float64 `json:"factor"`
}

const (
	coreRounds      = 5
	coreSpins       = 400 // stretches of the compute loop
	coreEvaluations = 300 // of the search
)

// cores measures on packhouse.
func (b Bench) cores(ctx context.Context) (*Cores, error) {
	b.tell("cores: preparing packhouse")
	p, err := open("packhouse")
	if err != nil {
		return nil, err
	}
	c := &Cores{Workers: runtime.GOMAXPROCS(0)}
	var rates [4][]float64
	for round := range coreRounds {
		b.tell("cores: round %d of %d", round+1, coreRounds)
		for k, workers := range []int{1, c.Workers} {
			rates[k] = append(rates[k], loopRate(workers))
			rate, err := searchRate(ctx, p, workers, coreEvaluations)
			if err != nil || ctx.Err() != nil {
				return nil, err
			}
			rates[2+k] = append(rates[2+k], rate)
		}
		c.Rounds++
	}
	c.Loop = speedUp(rates[0], rates[1])
	c.Search = speedUp(rates[2], rates[3])
	c.Share = c.Search.Factor / c.Loop.Factor
	return c, nil
}

func speedUp(one, all []float64) SpeedUp {
	s := SpeedUp{One: median(one), All: median(all)}
	s.Factor = s.All / s.One
	return s
}

func median(v []float64) float64 {
	s := slices.Sorted(slices.Values(v))
	n := len(s)
	return (s[(n-1)/2] + s[n/2]) / 2
}

// loopRate is how many operations a second the compute loop does on so many goroutines, by elapsed time.
func loopRate(workers int) float64 {
	var wg sync.WaitGroup
	start := time.Now()
	for range workers {
		wg.Go(func() {
			for range coreSpins {
				spin(spinRounds)
			}
		})
	}
	wg.Wait()
	return float64(workers*coreSpins*spinRounds*spin(1)) / time.Since(start).Seconds()
}

// searchRate is how many variants a second a search evaluates with so many workers: the whole of it, breeding included.
func searchRate(ctx context.Context, p *shedspace.Problem, workers, evaluations int) (float64, error) {
	cfg := optimize.Config{Seed: 1, Workers: workers, Start: p.Start(), Population: 40}
	cfg.Stop.Evaluations = evaluations
	start := time.Now()
	res, err := optimize.Run(ctx, p, cfg, nothing{})
	if err != nil {
		return 0, err
	}
	return float64(res.Evaluations) / time.Since(start).Seconds(), nil
}

// nothing records nothing.
type nothing struct{}

// Generation implements optimize.Recorder.
func (nothing) Generation(optimize.State) error { return nil }

// SearchRun is how soon a search is of use.
type SearchRun struct {
	Name        string  `json:"name"`
	Seed        uint64  `json:"seed"`
	Workers     int     `json:"workers"`
	Prepare     float64 `json:"prepare_seconds"` // reading the brief, actions, loads, tables
	First       float64 `json:"first_seconds"`   // from the start to the end of the generation with the first complying variant; 0 for none
	FirstFront  int     `json:"first_front"`     // variants on the front then
	FirstAfter  int     `json:"first_evaluations"`
	Settled     float64 `json:"settled_seconds"` // to a front from which no single or paired step improves; 0 if it did not settle
	Total       float64 `json:"total_seconds"`
	Evaluations int     `json:"evaluations"`
	Front       int     `json:"front"`
	Lightest    float64 `json:"lightest_kg"`
	Reason      string  `json:"reason"`
}

// searchTimes notes when a search first complied and first settled.
type searchTimes struct {
	run   *SearchRun
	start time.Time
}

// Generation implements optimize.Recorder.
func (s searchTimes) Generation(st optimize.State) error {
	at := time.Since(s.start).Seconds()
	if st.Lightest != nil && s.run.First == 0 {
		s.run.First, s.run.FirstFront, s.run.FirstAfter = at, len(st.Front), st.Evaluations
	}
	if st.Settled && s.run.Settled == 0 {
		s.run.Settled = at
	}
	return nil
}

// search runs the search of a brief as `leanbay optimise` does by default, without files, from a cold start.
func (b Bench) search(ctx context.Context, name string, a *Answer) error {
	b.tell("%s: search, seed 1", name)
	r := SearchRun{Name: name, Seed: 1, Workers: runtime.GOMAXPROCS(0)}
	times := searchTimes{&r, time.Now()}
	p, err := open(name)
	if err != nil {
		return err
	}
	r.Prepare = time.Since(times.start).Seconds()
	mended, spent, err := p.Repaired(ctx, shedspace.Mending{Budget: shedspace.MendFirst, Workers: r.Workers})
	if err != nil {
		return err
	}
	cfg := optimize.Config{Seed: r.Seed, Population: 40, Stones: 1, Start: append(mended, p.Start()...)}
	cfg.Stop.Generations, cfg.Stop.Stagnation = 60, 10
	res, err := optimize.Run(ctx, p, cfg, times)
	if err != nil {
		return err
	}
	r.Total, r.Evaluations, r.Front, r.Reason = time.Since(times.start).Seconds(), res.Evaluations, len(res.Front), string(res.Reason)
	r.Evaluations, r.FirstAfter = r.Evaluations+spent, r.FirstAfter+spent
	if res.Lightest != nil {
		r.Lightest = res.Lightest.Score.Objectives[0]
	}
	a.Searches = append(a.Searches, r) // also one that was interrupted: when it first complied is known
	return nil
}
