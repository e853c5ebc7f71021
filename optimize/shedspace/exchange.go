package shedspace

import (
	"cmp"
	"slices"

	"leanbay/model/shed"
)

// Bounds of an exchange: heavy sections that are tried as drawn, and options of one layout decision that are tried with each.
const (
	exchangedSections = 2
	exchangedOptions  = 24
)

// exchange finds the lightest design that complies with one of the heaviest changed sections as drawn and one decision of
// the layout otherwise: where bracing elsewhere does what a heavier section did. It returns nil where there is none.
func (a *adviser) exchange(point []int) ([]int, error) {
	drawn, _ := a.p.Encode(a.p.Drawn)
	now := a.mass(point)
	var list []saving
	for i := range point {
		if len(a.p.genes[i].groups) == 0 || point[i] == drawn[i] {
			continue
		}
		try := slices.Clone(point)
		try[i] = drawn[i]
		if _, try = a.p.Canonical(try); a.mass(try) < now-leastSaving {
			list = append(list, saving{gene: i, option: drawn[i], kg: now - a.mass(try)})
		}
	}
	slices.SortStableFunc(list, func(x, y saving) int { return cmp.Compare(y.kg, x.kg) })
	var tries []lighter
	for _, s := range list[:min(len(list), exchangedSections)] {
		for u := range point {
			if len(a.p.genes[u].groups) > 0 {
				continue
			}
			for o := range min(a.p.genes[u].Count(), exchangedOptions) {
				try := slices.Clone(point)
				try[s.gene], try[u] = s.option, o
				_, try = a.p.Canonical(try)
				if kg := a.mass(try); o != point[u] && kg < now-leastSaving {
					tries = append(tries, lighter{try, o, kg})
				}
			}
		}
	}
	slices.SortStableFunc(tries, func(x, y lighter) int { return cmp.Compare(x.kg, y.kg) })
	for batch := range slices.Chunk(tries, abreast) {
		var points [][]int
		for _, l := range batch {
			points = append(points, l.point)
		}
		if err := a.ask(false, points...); err != nil {
			return nil, err
		}
		for _, pt := range points {
			if a.known(pt) {
				return pt, nil
			}
		}
	}
	return nil, nil
}

// Needed says of the departures of a point what fails where that one decision stays as drawn: why it is needed. Departures
// that the rest could do without are left out.
func (p *Problem) Needed(point []int) (map[string]string, error) {
	drawn, _ := p.Encode(p.Drawn)
	d, _ := p.Decode(point)
	j := newJudge(p)
	j.quick = true
	has, out := departureTexts(p.Departures(d)), map[string]string{}
	for i := range point {
		if point[i] == drawn[i] {
			continue
		}
		try := slices.Clone(point)
		try[i] = drawn[i]
		_, try = p.Canonical(try)
		e, _ := p.Decode(try)
		a, err := j.assess(e, p.setupOf(e))
		if err != nil {
			return nil, err
		}
		left := departureTexts(p.Departures(e))
		for _, text := range has {
			if fails := a.Fails(); fails != "" && !slices.Contains(left, text) {
				out[text] = fails
			}
		}
	}
	return out, nil
}

func departureTexts(list []shed.Departure) []string {
	var out []string
	for _, d := range list {
		out = append(out, d.Text)
	}
	return out
}
