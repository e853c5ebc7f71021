package optimize

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"sync"
	"sync/atomic"
)

// toy is a made-up design problem with the traits of a shed's: sized groups that share a load by stiffness, families, a
// part that can be absent (its position then means nothing), a pattern whose first option is a mechanism.
type toy struct {
	groups  int
	sizes   int
	third   bool // a third objective: the number of distinct sizes
	calls   atomic.Int64
	mu      sync.Mutex
	perKey  map[string]int
	badOnce string // a key whose evaluation fails
	loose   bool   // bounds that are wrong, to be found by an audit
	onCall  func(n int64)
}

func newToy(groups, sizes int) *toy {
	return &toy{groups: groups, sizes: sizes, perKey: map[string]int{}}
}

func (t *toy) Space() *Space {
	s := &Space{}
	families := make([]int, t.sizes)
	for o := range families {
		families[o] = o % 2
	}
	kin := ""
	if t.third {
		kin = "sizes"
	}
	for g := range t.groups {
		s.Genes = append(s.Genes, Gene{Name: fmt.Sprintf("size %d", g), Levels: t.sizes, Family: families, Ordered: true, Kin: kin, Block: fmt.Sprintf("line %d", g/2)})
	}
	return &Space{Genes: append(s.Genes,
		Gene{Name: "prop", Options: []string{"none", "one"}},
		Gene{Name: "place", Levels: 4, Ordered: true},
		Gene{Name: "brace", Options: []string{"none", "rods", "strut"}},
	)}
}

func (t *toy) Objectives() []Objective {
	o := []Objective{{Name: "mass", Unit: "kg", Box: 1}, {Name: "compliance", Box: 0.005}}
	if t.third {
		o = append(o, Objective{Name: "sizes", Box: 1})
	}
	return o
}

func (t *toy) Canonical(p []int) (string, []int) {
	q := append([]int(nil), p...)
	if q[t.groups] == 0 {
		q[t.groups+1] = 0
	}
	key := make([]byte, 0, 3*len(q))
	for _, o := range q {
		key = append(strconv.AppendInt(key, int64(o), 10), ' ')
	}
	return string(key), q
}

func (t *toy) mass(p []int) float64 {
	m := 0.0
	for g := range t.groups {
		m += weight(p[g]) * float64(3+g)
	}
	return m + 11*float64(p[t.groups]) + [3]float64{0, 4, 9}[p[t.groups+2]]
}

// weight is per length of size o: rising, the second family a little heavier for its stiffness.
func weight(o int) float64 { return 5 + 2.1*float64(o) + 0.7*float64(o%2) }

func stiffness(o int) float64 { return math.Pow(weight(o), 2) * (1 - 0.2*float64(o%2)) }

// ratios are the groups' loads to their strengths.
func (t *toy) ratios(p []int) []float64 {
	sum := 0.0
	for g := range t.groups {
		sum += stiffness(p[g])
	}
	load := 380.0
	if p[t.groups] == 1 {
		load *= 0.75 + 0.05*math.Abs(float64(p[t.groups+1])-2)
	}
	if p[t.groups+2] == 2 {
		load *= 0.96
	}
	out := make([]float64, t.groups)
	for g := range out {
		out[g] = load * (0.7*stiffness(p[g])/sum + 0.3/float64(t.groups)) * (1 + 0.1*float64(g)) / (12 * weight(p[g]) * float64(3) / float64(t.groups))
	}
	return out
}

// Guess makes a score of ratios, as Evaluate does.
func (t *toy) Guess(p []int, _ string, ratios []float64) Score {
	if p[t.groups+2] == 0 {
		return Score{Class: 3, Violation: 1}
	}
	u, excess := 0.0, 0.0
	for _, r := range ratios {
		u = math.Max(u, r)
		excess += math.Max(0, r-1)
	}
	s := Score{Objectives: []float64{t.mass(p), math.Max(u, 0.8)}, Tie: u, Complies: u <= 1, Measures: ratios}
	if t.third {
		seen := map[int]bool{}
		for g := range t.groups {
			seen[p[g]] = true
		}
		s.Objectives = append(s.Objectives, float64(len(seen)))
	}
	if u > 1.25 {
		s.Class, s.Violation = 1, excess
	}
	return s
}

func (t *toy) Bound(p []int, _ string) Bound {
	b := Bound{Objectives: []float64{t.mass(p), 0.8}}
	if t.loose {
		b.Objectives[0] *= 1.3
	}
	if t.third {
		b.Objectives = append(b.Objectives, 1)
	}
	return b
}

func (t *toy) BoundPartial(p []int, fixed int) Bound {
	q := append([]int(nil), p[:fixed]...)
	return t.Bound(append(q, make([]int, len(p)-fixed)...), "")
}

func (t *toy) NewEvaluator() Evaluator { return toyEvaluator{t} }

type toyEvaluator struct{ t *toy }

func (w toyEvaluator) Evaluate(_ context.Context, p []int, key string) (Score, error) {
	t := w.t
	n := t.calls.Add(1)
	if t.onCall != nil {
		t.onCall(n)
	}
	t.mu.Lock()
	t.perKey[key]++
	t.mu.Unlock()
	if t.badOnce != "" && key >= t.badOnce {
		return Score{}, fmt.Errorf("no evaluation beyond %s", t.badOnce)
	}
	return t.Guess(p, key, t.ratios(p)), nil
}

func (w toyEvaluator) Hint(_ context.Context, p []int, _ string, _ Score) ([]float64, error) {
	h := make([]float64, len(p))
	for g, r := range w.t.ratios(p) {
		h[g] = r - 0.95
	}
	return h, nil
}

var (
	_ Problem        = (*toy)(nil)
	_ Bounder        = (*toy)(nil)
	_ PartialBounder = (*toy)(nil)
	_ Guesser        = (*toy)(nil)
	_ Hinter         = toyEvaluator{}
)

// exhaust scores every point of a problem with no help from the code under test but Canonical and the archive's order
// of preference: it compares all with all.
func exhaust(t *toy) []Variant {
	space := t.Space()
	all := map[string]Variant{}
	p := make([]int, len(space.Genes))
	for {
		key, q := t.Canonical(p)
		if _, ok := all[key]; !ok {
			s, _ := t.NewEvaluator().Evaluate(context.Background(), q, key)
			all[key] = Variant{Key: key, Point: q, Score: s}
		}
		i := 0
		for ; i < len(p); i++ {
			if p[i]++; p[i] < space.Genes[i].Count() {
				break
			}
			p[i] = 0
		}
		if i == len(p) {
			break
		}
	}
	return nonDominated(all)
}

func nonDominated(all map[string]Variant) []Variant {
	var good, out []Variant
	for _, v := range all {
		if v.Score.Class == 0 {
			good = append(good, v)
		}
	}
	for _, v := range good {
		if !slices.ContainsFunc(good, func(w Variant) bool {
			same := slices.Equal(w.Score.Objectives, v.Score.Objectives)
			return dominates(w.Score.Objectives, v.Score.Objectives) || same && w.Key < v.Key
		}) {
			out = append(out, v)
		}
	}
	return distinct(out)
}
