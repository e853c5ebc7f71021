package optimize

import (
	"context"
	"encoding/json"
	"math"
	"slices"
	"strconv"
	"sync"
	"sync/atomic"
	"testing"
)

// ties is a made-up sizing problem: bars of some areas, of which two limits ask for enough stiffness; they share loads, so
// that the limits are not sums over bars. Its forecast is of first order in the reciprocals of areas.
type ties struct {
	areas []float64
	n     int
	dull  bool         // without forecasts
	known sync.Map     // keys evaluated
	early atomic.Int64 // forecasts asked for around what was not evaluated
}

func (t *ties) Space() *Space {
	s := &Space{}
	for i := range t.n {
		s.Genes = append(s.Genes, Gene{Name: strconv.Itoa(i), Levels: len(t.areas), Values: t.areas, Ordered: true})
	}
	return s
}

func (t *ties) Objectives() []Objective { return []Objective{{Name: "mass"}} }

func (t *ties) Canonical(p []int) (string, []int) { return pointKey(p), slices.Clone(p) }

func (t *ties) NewEvaluator() Evaluator {
	if t.dull {
		return dull{t}
	}
	return sharp{dull{t}}
}

func (t *ties) mass(p []int) float64 {
	m := 0.0
	for i, o := range p {
		m += t.areas[o] * float64(3+i%4)
	}
	return m
}

// give returns the two limits' ratios and, if asked for, their slopes with the reciprocal of each area.
func (t *ties) give(p []int, slopes *[2][]float64) (out [2]float64) {
	for k := range out {
		sum, cross := 0.0, 0.0
		part := make([]float64, len(p))
		for i, o := range p {
			part[i] = float64(1+(i*(k+2)+k)%5) / t.areas[o]
			sum += part[i]
			cross += part[i] * part[i]
		}
		out[k] = (sum + 0.4*cross/sum) / 4
		if slopes != nil {
			for i, o := range p {
				c := part[i] * t.areas[o]
				slopes[k] = append(slopes[k], c*(1+0.4*(2*part[i]/sum-cross/(sum*sum)))/4)
			}
		}
	}
	return out
}

type dull struct{ t *ties }

func (e dull) Evaluate(_ context.Context, p []int, key string) (Score, error) {
	e.t.known.Store(key, true)
	g := e.t.give(p, nil)
	s := Score{Objectives: []float64{e.t.mass(p)}, Tie: max(g[0], g[1])}
	if s.Complies = s.Tie <= 1; !s.Complies {
		s.Class, s.Violation = 1, max(0, g[0]-1)+max(0, g[1]-1)
	}
	return s, nil
}

type sharp struct{ dull }

func (e sharp) Excess(s Score) float64 { return s.Tie - 1 }

func (e sharp) Forecast(_ context.Context, p []int, key string) (Forecast, error) {
	if _, ok := e.t.known.Load(key); !ok {
		e.t.early.Add(1)
	}
	f := &tiesForecast{t: e.t, centre: slices.Clone(p)}
	f.at = e.t.give(p, &f.slopes)
	return f, nil
}

type tiesForecast struct {
	t      *ties
	centre []int
	at     [2]float64
	slopes [2][]float64
}

func (f *tiesForecast) At([]int)                  {}
func (f *tiesForecast) Objective(p []int) float64 { return f.t.mass(p) }
func (f *tiesForecast) Distance(p []int) float64 {
	sum := 0.0
	for i, o := range p {
		d := math.Log(f.t.areas[o] / f.t.areas[f.centre[i]])
		sum += d * d
	}
	return sum
}
func (f *tiesForecast) Excess(p []int, enough float64) float64 {
	worst := math.Inf(-1)
	for k, v := range f.at {
		for i, o := range p {
			v += f.slopes[k][i] * (1/f.t.areas[o] - 1/f.t.areas[f.centre[i]])
		}
		if worst = max(worst, v-1); worst > enough {
			break
		}
	}
	return worst
}

func newTies(n int) *ties {
	return &ties{n: n, areas: []float64{1, 1.3, 1.7, 2.2, 3, 4.1, 5.5, 7, 9, 13}}
}

// The optimum is known by enumeration. Forecasts must find it in every seed, with a small share of the evaluations that
// the space has.
func TestScoutsFindTheOptimum(t *testing.T) {
	p := newTies(6)
	best := math.Inf(1)
	point := make([]int, p.n)
	for code := range 1_000_000 {
		for i, c := 0, code; i < p.n; i, c = i+1, c/10 {
			point[i] = c % 10
		}
		if m := p.mass(point); m < best {
			if g := p.give(point, nil); max(g[0], g[1]) <= 1 {
				best = m
			}
		}
	}
	for seed := uint64(1); seed <= 5; seed++ {
		res := run(t, p, Config{Seed: seed, Islands: 2, Population: 8, Stop: Stop{Evaluations: 600}})
		if res.Lightest == nil || res.Lightest.Score.Objectives[0] > best+1e-9 || res.Evaluations > 600 {
			t.Errorf("seed %d: %+v after %d evaluations, the optimum is %v", seed, res.Lightest, res.Evaluations, best)
		}
	}
}

// A forecast may solve for its centre: that is honest only if the centre was counted as an evaluation.
func TestForecastsAreAskedAroundEvaluatedVariantsOnly(t *testing.T) {
	p := newTies(8)
	res := run(t, p, Config{Seed: 2, Population: 8, Stop: Stop{Evaluations: 300}})
	distinct := 0
	p.known.Range(func(any, any) bool { distinct++; return true })
	if p.early.Load() != 0 || distinct != res.Evaluations {
		t.Errorf("%d forecasts around what was not evaluated; %d variants evaluated, %d counted", p.early.Load(), distinct, res.Evaluations)
	}
}

// Scouts may not make a run depend on its workers, nor on an interruption.
func TestScoutsAreDeterministicAndResume(t *testing.T) {
	cfg := Config{Seed: 5, Islands: 2, Population: 8, Stop: Stop{Generations: 6}}
	whole := &tape{}
	want := text(t, run(t, newTies(9), cfg, whole))
	more := cfg
	more.Workers = 3
	if got := text(t, run(t, newTies(9), more)); got != want {
		t.Error("three workers: another result")
	}
	for _, g := range []int{0, 2, 5} {
		stored, err := json.Marshal(whole.all[g])
		if err != nil {
			t.Fatal(err)
		}
		resumed := cfg
		resumed.Resume = &Checkpoint{}
		if err := json.Unmarshal(stored, resumed.Resume); err != nil {
			t.Fatal(err)
		}
		if got := text(t, run(t, newTies(9), resumed)); got != want {
			t.Errorf("resumed at generation %d: another result", g)
		}
	}
	// A checkpoint without scouts is of another run.
	dullRun := newTies(9)
	dullRun.dull = true
	cfg.Resume = &whole.all[2]
	if _, err := Run(context.Background(), dullRun, cfg); err == nil {
		t.Error("a run without forecasts resumed one with them")
	}
}

// Where nothing complies the scouts come down to the least excess that there is, and the run says that nothing does.
func TestScoutsWhereNothingComplies(t *testing.T) {
	p := newTies(5)
	p.areas = p.areas[:3]
	res := run(t, p, Config{Seed: 1, Population: 8, Stop: Stop{Stagnation: 20}})
	if res.Lightest != nil || res.Closest == nil {
		t.Fatalf("lightest %+v, closest %+v", res.Lightest, res.Closest)
	}
	if !slices.Equal(res.Closest.Point, []int{2, 2, 2, 2, 2}) {
		t.Errorf("closest %v: the greatest areas have the least excess", res.Closest.Point)
	}
}

// Source: tables of the normal distribution; far out, ln Φ(-30) = -454.3212440 (Mills' ratio with its second term).
func TestLogChance(t *testing.T) {
	for _, c := range []struct{ x, want, tol float64 }{
		{0, math.Log(0.5), 1e-12},
		{1.6448536, math.Log(0.95), 1e-7},
		{-1.6448536, math.Log(0.05), 1e-6},
		{-5, math.Log(2.866515719e-7), 1e-8},
		{-30, -454.3212440, 2e-3},
	} {
		if got := logChance(c.x); math.Abs(got-c.want) > c.tol {
			t.Errorf("ln Φ(%v) = %.8f, want %.8f", c.x, got, c.want)
		}
	}
}
