package optimize

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"slices"
)

// Forecaster is an Evaluator that can tell from one evaluated variant how those around it would fare, without
// evaluating them: from sensitivities, from a model of lower order. It is for problems that ask for the least first
// objective, which must be positive, among variants that comply.
type Forecaster interface {
	// Forecast returns a forecast around the variant named key, which was evaluated: a pure function of the key. It is
	// nil where the variant allows none.
	Forecast(ctx context.Context, p []int, key string) (Forecast, error)
	// Excess returns by what share the worst limit of an evaluated variant is exceeded, negative if all are met.
	Excess(s Score) float64
}

// Forecast belongs to one goroutine. Points need not be repaired.
type Forecast interface {
	// At says that what is asked next is around p; it changes answers by no more than the forecast's own error.
	At(p []int)
	// Objective predicts the first objective of p, which must be positive.
	Objective(p []int) float64
	// Distance says how far p is from the centre for the forecast: 0 there, and the greater, the less the forecast is to be
	// trusted. How much less is learnt.
	Distance(p []int) float64
	// Excess predicts the excess of p. It may return less than that as soon as it knows it to be above enough, but then
	// still a value above enough.
	Excess(p []int, enough float64) float64
}

// Measures of a scout. Reaches are the greatest change of a gene in one round, in the logarithm of its values (or in
// shares of its range if it has none); one step is always within reach.
const (
	firstReach   = 1.0
	leastReach   = 0.12
	greatReach   = 1.6
	closeReach   = 1.0
	elite        = 12   // variants of a trip that are remembered
	closings     = 3    // centres around which a trip is closed
	closeRounds  = 8    // rounds without success before the next of them
	scoutRounds  = 16   // rounds in a generation
	scoutPicks   = 3    // variants evaluated in a round on the way down, or one for each ten genes
	closePicks   = 5    // and in closing, or one for each four genes
	worthless    = 2e-7 // expected gain, as a share of the best, below which nothing is evaluated
	leastDoubt   = 2e-5 // doubt about a predicted excess that is always left
	firstDoubt   = 0.15 // doubt per distance before anything was learnt
	doubtMemory  = 0.9
	doubtBins    = 24 // of distances, each twice the one before
	firstBin     = -20
	firstPenalty = 1.5  // power of an excess in the merit
	greatPenalty = 100  // and where it ends
	nearly       = 0.01 // excess below which a trip has come down beside what complies
)

// scout makes trips: from a start down to a good variant, by variants that a forecast around the best so far finds best,
// and then around the best of the trip to whatever is expected to beat the lightest of all.
type scout struct {
	Centre  string   `json:"centre,omitempty"` // variant whose forecast is used; empty before the start
	Reach   float64  `json:"reach"`
	Closing bool     `json:"closing,omitempty"`
	Failed  int      `json:"failed,omitempty"` // closing rounds without success
	Spent   []string `json:"spent,omitempty"`  // centres closed
	Own     []string `json:"own,omitempty"`    // best of the trip, best first
	Trips   int      `json:"trips"`
	Penalty float64  `json:"penalty"` // power of an excess in the merit; grows until a trip comes down beside what complies
}

func (s *scout) clone() *scout {
	c := *s
	c.Spent, c.Own = slices.Clone(s.Spent), slices.Clone(s.Own)
	return &c
}

// scouting is what the scouts of a run share.
type scouting struct {
	// Doubt is the mean error of a predicted excess by distance; 0 where nothing was learnt.
	Doubt   [doubtBins]float64 `json:"doubt"`
	Started []string           `json:"started,omitempty"`
}

// proposal is a candidate with what was predicted for it.
type proposal struct {
	candidate
	excess   float64
	distance float64 // as the forecast has it
}

// merit is what a trip makes small: the objective with a penalty on excess, on a scale on which a share of either counts
// alike everywhere.
func (s *scout) merit(objective, excess float64) float64 {
	return math.Log(math.Max(objective, 1e-300)) + s.Penalty*math.Log1p(math.Max(0, excess))
}

// meritOf is the merit of an evaluated variant; +Inf if it has no objectives.
func (e *engine) meritOf(s *scout, v *Variant) float64 {
	if v.Score.Objectives == nil {
		return math.Inf(1)
	}
	return s.merit(v.Score.Objectives[0], e.forecaster.Excess(v.Score))
}

// reconnoitre lets the scouts of all islands make their rounds of a generation.
func (e *engine) reconnoitre() error {
	if e.forecaster == nil {
		return nil
	}
	for round := range scoutRounds {
		if e.spent(0) {
			return nil
		}
		if err := e.scoutRound(round); err != nil {
			return err
		}
	}
	return nil
}

// scoutRound lets every scout propose, evaluates what they propose together, and lets each learn from it.
func (e *engine) scoutRound(round int) error {
	lists := make([][]proposal, len(e.islands))
	looks := make([]int, len(e.islands))
	err := e.pool.each(e.ctx, len(e.islands), func(w Evaluator, i int) (err error) {
		rng := generator(e.cfg.Seed, i, e.generation, streamScout-round)
		lists[i], looks[i], err = e.propose(w.(Forecaster), e.islands[i], rng)
		return err
	})
	if err != nil {
		return err
	}
	var batch []candidate
	for i, list := range lists {
		e.tiers.Guessed += looks[i]
		for _, p := range list {
			batch = append(batch, p.candidate)
		}
	}
	before := len(e.fresh)
	if err := e.evaluate(batch); err != nil {
		return err
	}
	for _, v := range e.fresh[before:] {
		e.archive.Add(v)
	}
	for i, list := range lists {
		e.report(e.islands[i], list)
	}
	return nil
}

// propose returns what a scout wants to have evaluated next. It changes only the scout.
func (e *engine) propose(w Forecaster, here *island, rng *rand.Rand) ([]proposal, int, error) {
	s := here.scout
	if s.Centre == "" {
		c := e.startOf(here, rng)
		s.Centre, s.Reach, s.Closing, s.Failed, s.Spent, s.Own = c.key, firstReach, false, 0, nil, nil
		s.Penalty = firstPenalty
		if _, ok := e.seen[c.key]; !ok {
			return []proposal{{candidate: c, distance: -1}}, 0, nil
		}
		s.Own = []string{c.key}
	}
	centre, ok := e.seen[s.Centre]
	if !ok || centre.Score.Objectives == nil {
		return nil, 0, nil
	}
	f, err := w.Forecast(e.ctx, centre.Point, centre.Key)
	if err != nil || f == nil {
		return nil, 0, err
	}
	k := newSeeker(e, f, centre, s, rng)
	return k.seek(), k.looks, nil
}

// startOf returns where a trip begins: in turn the best that no trip began from, the lightest shaken, a random point.
func (e *engine) startOf(here *island, rng *rand.Rand) candidate {
	turn := here.scout.Trips % 3
	if l := e.archive.Lightest(); turn == 1 && l != nil {
		p := slices.Clone(l.Point)
		for range max(2, len(p)/3) {
			e.vary.mutate[rng.IntN(len(e.vary.mutate))].apply(e.vary, p, nil, rng)
		}
		return e.canonical(p)
	}
	if turn == 2 {
		return e.canonical(e.vary.random(rng))
	}
	var best *Variant
	for _, v := range e.members[here.index] {
		if !slices.Contains(e.scouting.Started, v.Key) && (best == nil || e.meritOf(here.scout, &v) < e.meritOf(here.scout, best)) {
			best = &v
		}
	}
	if best == nil {
		return e.canonical(e.vary.random(rng))
	}
	return candidate{key: best.Key, point: best.Point, cross: -1, mutate: -1}
}

// report takes in what came of a scout's proposals and decides where it goes next.
func (e *engine) report(here *island, list []proposal) {
	s := here.scout
	if s.Centre != "" && !slices.Contains(e.scouting.Started, s.Centre) && len(s.Own) <= 1 {
		e.scouting.Started = append(e.scouting.Started, s.Centre)
	}
	before := s.best()
	lightest := e.archive.Lightest()
	success := false
	for _, p := range list {
		v, ok := e.seen[p.key]
		if !ok || v.Score.Objectives == nil {
			continue
		}
		if p.distance > 0 {
			e.scouting.learnDoubt(p, e.forecaster.Excess(v.Score))
		}
		s.Own = append(s.Own, p.key)
		if lightest != nil && p.key == lightest.Key {
			success = true
		}
	}
	e.sortOwn(s)
	s.Own = s.Own[:min(len(s.Own), elite)]
	if success {
		here.inject = append(here.inject, *lightest)
	}
	e.advance(s, before, success, len(list) == 0)
}

func (e *engine) sortOwn(s *scout) {
	slices.SortStableFunc(s.Own, func(a, b string) int {
		va, vb := e.seen[a], e.seen[b]
		return cmp.Or(cmp.Compare(e.meritOf(s, &va), e.meritOf(s, &vb)), compareVariants(va, vb))
	})
}

// excess returns that of an evaluated variant.
func (e *engine) excess(key string) float64 { return e.forecaster.Excess(e.seen[key].Score) }

// best returns the best of the trip, empty if there is none.
func (s *scout) best() string {
	if len(s.Own) == 0 {
		return ""
	}
	return s.Own[0]
}

// advance moves a scout on. before was the best of its trip before this round; idle says that nothing was worth a try.
func (e *engine) advance(s *scout, before string, success, idle bool) {
	best := s.best()
	switch {
	case best == "": // the start allows no forecast
		s.end()
	case before == "":
		s.Centre = best
	case !s.Closing && best != before:
		s.Centre, s.Reach = best, math.Min(1.5*s.Reach, greatReach)
	case !s.Closing && s.Reach > leastReach:
		s.Reach /= 2
	case !s.Closing && e.excess(best) > nearly && s.Penalty < greatPenalty:
		s.Penalty, s.Reach = 2*s.Penalty, closeReach
		e.sortOwn(s)
		s.Centre = s.best()
	case !s.Closing:
		s.Closing, s.Failed, s.Centre = true, 0, best
	case success:
		s.Failed, s.Centre = 0, e.archive.Lightest().Key
	case best != before:
		s.Failed, s.Centre = 0, best
	default:
		if s.Failed++; idle || s.Failed >= closeRounds {
			s.next()
		}
	}
}

// next closes the centre and takes the next best of the trip, or ends it.
func (s *scout) next() {
	s.Spent, s.Failed = append(s.Spent, s.Centre), 0
	for _, k := range s.Own {
		if len(s.Spent) < closings && !slices.Contains(s.Spent, k) {
			s.Centre = k
			return
		}
	}
	s.end()
}

func (s *scout) end() {
	s.Centre = ""
	s.Trips++
}

// learnDoubt compares a prediction with the truth.
func (sc *scouting) learnDoubt(p proposal, truth float64) {
	miss := math.Abs(truth-p.excess) / (1 + math.Max(0, math.Max(truth, p.excess)))
	d := &sc.Doubt[doubtBin(p.distance)]
	if *d == 0 {
		*d = math.Max(miss, 0.5*sc.doubt(p.distance)) // one lucky guess is not yet knowledge
	}
	*d = math.Sqrt(doubtMemory**d**d + (1-doubtMemory)*miss*miss)
}

func doubtBin(distance float64) int {
	return min(max(int(math.Floor(math.Log2(math.Max(distance, 1e-9))))-firstBin, 0), doubtBins-1)
}

// doubt returns how far a prediction at a distance may be out: what was learnt there, else what was learnt
// nearest to it, less towards the centre and more away from it.
func (sc *scouting) doubt(distance float64) float64 {
	at := doubtBin(distance)
	for k := at; k < doubtBins; k++ {
		if sc.Doubt[k] > 0 {
			return sc.Doubt[k] * math.Pow(2, float64(at-k))
		}
	}
	for k := at - 1; k >= 0; k-- {
		if sc.Doubt[k] > 0 {
			return sc.Doubt[k] * math.Pow(4, float64(at-k))
		}
	}
	return firstDoubt * distance
}
