package shedspace

import (
	"cmp"
	"math"
	"slices"
)

// saving is one decision changed, and what that saves.
type saving struct {
	gene, option int
	kg, weight   float64
}

// save changes decisions one after another, each to its lightest option that complies, the best saving for its weight
// first. It returns every point on the way.
func (a *adviser) save(point []int) ([][]int, error) {
	out := [][]int{point}
	list, err := a.savings(point)
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(list, func(x, y saving) int {
		return cmp.Compare(y.kg/math.Max(y.weight, 0.1), x.kg/math.Max(x.weight, 0.1))
	})
	for _, s := range list {
		next, err := a.settle(point, s)
		if err != nil {
			return nil, err
		}
		if next != nil {
			point = next
			out = append(out, point)
		}
	}
	return out, nil
}

// savings finds for every decision the lightest option that complies, all others as they are, where that saves something. The
// decisions are looked at side by side.
func (a *adviser) savings(point []int) ([]saving, error) {
	var hunts []*hunt
	for i := range point {
		hunts = append(hunts, a.newHunt(point, i))
	}
	for {
		var batch [][]int
		for _, h := range hunts {
			if h.lo < h.hi {
				batch = append(batch, h.lighter[h.at()].point)
			}
		}
		if len(batch) == 0 {
			break
		}
		if err := a.ask(false, batch...); err != nil {
			return nil, err
		}
		for _, h := range hunts {
			if h.lo < h.hi {
				h.hear(a.known(h.lighter[h.at()].point))
			}
		}
	}
	var out []saving
	for _, h := range hunts {
		if h.found == nil {
			continue
		}
		s := saving{h.gene, h.found.option, h.now - h.found.kg, a.weight(h.found.point) - a.weight(point)}
		if s.kg > leastSaving {
			out = append(out, s)
		}
	}
	return out, nil
}

// leastSaving is the mass below which a change is not worth a line of advice (kg).
const leastSaving = 5.0

// hunt looks for the lightest option of a decision that complies: by bisection where they are ordered, else from the lightest
// up, among a few.
type hunt struct {
	gene    int
	now     float64   // mass as it is (kg)
	lighter []lighter // by mass
	ordered bool
	lo, hi  int // the place of the lightest that complies is among these
	found   *lighter
}

// lighter is a point that differs in one decision.
type lighter struct {
	point  []int
	option int
	kg     float64
}

// fewOptions is how many options of a decision without order are looked at.
const fewOptions = 8

func (a *adviser) newHunt(point []int, gene int) *hunt {
	h := &hunt{gene: gene, now: a.mass(point), ordered: a.p.genes[gene].Ordered}
	for o := range a.p.genes[gene].Count() {
		try := a.with(point, gene, o)
		if try[gene] != o {
			continue
		}
		if kg := a.mass(try); kg < h.now-leastSaving {
			h.lighter = append(h.lighter, lighter{try, o, kg})
		}
	}
	slices.SortStableFunc(h.lighter, func(x, y lighter) int { return cmp.Compare(x.kg, y.kg) })
	if !h.ordered {
		h.lighter = h.lighter[:min(len(h.lighter), fewOptions)]
	}
	h.hi = len(h.lighter)
	return h
}

// at is the place to ask about next.
func (h *hunt) at() int {
	if h.ordered { // what complies begins somewhere from lo up, if strength rises with mass
		return (h.lo + h.hi) / 2
	}
	return h.lo
}

// hear takes in whether that complies.
func (h *hunt) hear(complies bool) {
	at := h.at()
	if !complies {
		h.lo = at + 1
		return
	}
	if l := &h.lighter[at]; h.found == nil || l.kg < h.found.kg {
		h.found = l
	}
	h.hi = at
}

// settle applies a saving, backing off to heavier options while it does not comply with the changes before it. While one
// option is judged, so is the next. It returns nil where nothing is left to save.
func (a *adviser) settle(point []int, s saving) ([]int, error) {
	for o := s.option; ; o++ {
		batch := a.backingOff(point, s.gene, o)
		if len(batch) == 0 {
			return nil, nil
		}
		if _, ok := a.seen[a.key(batch[0])]; ok {
			batch = batch[:1]
		}
		if err := a.ask(false, batch...); err != nil {
			return nil, err
		}
		if a.known(batch[0]) {
			return batch[0], nil
		}
		if !a.p.genes[s.gene].Ordered || o == point[s.gene] {
			return nil, nil
		}
	}
}

// backingOff are the points with an option of a decision and with the next heavier ones, as far as they save something.
func (a *adviser) backingOff(point []int, gene, option int) [][]int {
	var out [][]int
	for o := option; o < a.p.genes[gene].Count() && len(out) < abreast; o++ {
		try := a.with(point, gene, o)
		if a.mass(try) > a.mass(point)-leastSaving {
			break
		}
		if out = append(out, try); !a.p.genes[gene].Ordered {
			break
		}
	}
	return out
}
