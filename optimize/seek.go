package optimize

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// seeker looks with a forecast for what is worth evaluating, by annealing: a look costs next to nothing beside an
// evaluation, so that many thousands of points are looked at to choose a few.
type seeker struct {
	e        *engine
	f        Forecast
	centre   []int
	from, to []int // options within reach, by gene
	at       [][]float64
	rng      *rand.Rand
	scout    *scout
	closing  bool
	best     float64 // objective to beat in closing
	n        int     // how many to return
	hot      float64 // temperatures
	cold     float64
	known    map[string]bool // points that entered the list or were found evaluated
	list     []sought
	looks    int
}

type sought struct {
	proposal
	value float64
}

func newSeeker(e *engine, f Forecast, centre Variant, s *scout, rng *rand.Rand) *seeker {
	k := &seeker{e: e, f: f, scout: s, centre: centre.Point, at: e.places, rng: rng, n: max(scoutPicks, len(e.vary.open)/10), hot: 0.03, cold: 0.0003, known: map[string]bool{}}
	reach := s.Reach
	if l := e.archive.Lightest(); s.Closing && l != nil {
		k.closing, k.best, k.n, k.hot, k.cold = true, l.Score.Objectives[0], max(closePicks, len(e.vary.open)/4), 2, 0.05
		reach = closeReach
	}
	for i, o := range k.centre {
		at := k.at[i]
		lo, hi := max(0, o-1), min(len(at)-1, o+1)
		if !e.space.Genes[i].Ordered {
			lo, hi = 0, len(at)-1
		}
		for lo > 0 && at[o]-at[lo-1] <= reach {
			lo--
		}
		for hi < len(at)-1 && at[hi+1]-at[o] <= reach {
			hi++
		}
		k.from, k.to = append(k.from, lo), append(k.to, hi)
	}
	return k
}

// places returns the coordinate of every option: the logarithm of its value, or its place in the list as a share of it.
func places(s *Space) [][]float64 {
	out := make([][]float64, len(s.Genes))
	for i := range s.Genes {
		g := &s.Genes[i]
		for o := range g.Count() {
			at := float64(o) / float64(max(1, g.Count()-1))
			if g.Values != nil {
				at = math.Log(g.Values[o])
			}
			out[i] = append(out[i], at)
		}
	}
	return out
}

// value is what is made small: on the way down the merit, in closing less the logarithm of the expected gain. If it is
// above limit it may be anything above limit.
func (k *seeker) value(p []int, limit float64) (value, excess, distance float64) {
	k.looks++
	objective := k.f.Objective(p)
	if !k.closing {
		least := k.scout.merit(objective, 0)
		if least > limit {
			return least, 0, 0
		}
		distance = k.f.Distance(p)
		excess = k.f.Excess(p, math.Expm1((limit-least)/k.scout.Penalty))
		return k.scout.merit(objective, excess), excess, distance
	}
	gain := 1 - objective/k.best
	if gain <= 0 {
		return 60 - 2000*gain, 0, 0
	}
	distance = k.f.Distance(p)
	doubt := math.Hypot(leastDoubt, k.e.scouting.doubt(distance))
	// The chance of a normal variable below -t is at most exp(-t²/2).
	t := math.Sqrt(2 * math.Max(0, limit+math.Log(gain)))
	excess = k.f.Excess(p, t*doubt)
	return -math.Log(gain) - logChance(-excess/doubt), excess, distance
}

// logChance is the logarithm of the chance that a normal variable is below x.
func logChance(x float64) float64 {
	if x < -20 {
		return -x*x/2 - math.Log(-x) - 0.9189385332046727 // its asymptote; ln √2π
	}
	return math.Log(0.5 * math.Erfc(-x/math.Sqrt2))
}

// seek anneals and returns the best points that were not evaluated, best first.
func (k *seeker) seek() []proposal {
	now := slices.Clone(k.centre)
	k.f.At(now)
	value, _, _ := k.value(now, math.Inf(1))
	k.known[pointKey(now)] = true
	total := 500 + 100*len(k.e.vary.open)
	cooling := math.Pow(k.cold/k.hot, 1/float64(total))
	heat, moved := k.hot, 0
	next := make([]int, len(now))
	for range total {
		heat *= cooling
		copy(next, now)
		k.move(next)
		accept := value - heat*math.Log(1-k.rng.Float64()) // what is below is accepted
		limit := math.Inf(1)
		if len(k.list) == k.n {
			limit = math.Max(accept, k.list[k.n-1].value)
		}
		v, excess, distance := k.value(next, limit)
		if v <= limit {
			k.offer(next, v, excess, distance)
		}
		if v <= accept {
			copy(now, next)
			value = v
			if moved++; moved%6 == 0 {
				k.f.At(now)
			}
		}
	}
	var out []proposal
	for _, s := range k.list {
		if k.closing && s.value > -math.Log(worthless) {
			break
		}
		out = append(out, s.proposal)
	}
	return out
}

// move changes a point within reach: one step, one up and one down, or a jump.
func (k *seeker) move(p []int) {
	open := k.e.vary.open
	i := open[k.rng.IntN(len(open))]
	u := k.rng.Float64()
	switch {
	case u < 0.2 || !k.e.space.Genes[i].Ordered:
		p[i] = k.from[i] + k.rng.IntN(k.to[i]-k.from[i]+1)
	case u < 0.5:
		k.step(p, i, 1-2*k.rng.IntN(2))
	default:
		way := 1 - 2*k.rng.IntN(2)
		k.step(p, i, way)
		k.step(p, open[k.rng.IntN(len(open))], -way)
	}
}

// step goes one or two options up or down.
func (k *seeker) step(p []int, gene, way int) {
	if k.rng.IntN(4) == 0 {
		way *= 2
	}
	p[gene] = min(max(p[gene]+way, k.from[gene]), k.to[gene])
}

// offer puts a point on the list if it is good enough and new.
func (k *seeker) offer(p []int, value, excess, distance float64) {
	if len(k.list) == k.n && value >= k.list[k.n-1].value || math.IsNaN(value) {
		return
	}
	key := pointKey(p)
	if k.known[key] {
		return
	}
	k.known[key] = true
	c := k.e.canonical(p)
	if _, ok := k.e.seen[c.key]; ok || slices.ContainsFunc(k.list, func(s sought) bool { return s.key == c.key }) {
		return
	}
	if k.e.bounder != nil && k.e.archive.Excludes(k.e.bounder.Bound(c.point, c.key).Objectives) {
		return
	}
	k.list = append(k.list, sought{proposal{c, excess, distance}, value})
	slices.SortStableFunc(k.list, func(a, b sought) int { return cmp.Compare(a.value, b.value) })
	k.list = k.list[:min(len(k.list), k.n)]
}

// pointKey is a point as a map's key.
func pointKey(p []int) string {
	b := make([]byte, 0, 2*len(p))
	for _, o := range p {
		b = append(b, byte(o), byte(o>>8))
	}
	return string(b)
}
