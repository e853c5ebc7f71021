package shedspace

import (
	"slices"

	"leanbay/solver"
)

// selection is those of a bench's cases that some of its combinations weigh. The search analyses a structure under these alone: what
// each case costs, loads and its solution in first order, is spared for the others.
type selection struct {
	cases []int // ascending
	place []int // by case: where it stands among them; -1 for one that is left out
}

// selectionOf is that of the combinations on a list, of n cases.
func selectionOf(all []solver.Combination, list []int, n int) *selection {
	s := &selection{place: make([]int, n)}
	for _, i := range list {
		for _, t := range all[i].Terms {
			s.place[t.Case] = 1
		}
	}
	for c, has := range s.place {
		s.place[c] = -1
		if has > 0 {
			s.place[c] = len(s.cases)
			s.cases = append(s.cases, c)
		}
	}
	return s
}

// posing is storage of what is analysed in the place of a structure: the same with selected cases, and combinations of these.
type posing struct {
	selected *selection // of the structure in hand; nil for all cases
	posed    solver.Structure
	combos   []solver.Combination
	terms    []solver.Term
}

// of is st with the selected cases alone, in storage whose structure of before is gone.
func (p *posing) of(st *solver.Structure, s *selection) *solver.Structure {
	p.selected = s
	if s == nil {
		return st
	}
	cases := p.posed.Cases[:0]
	p.posed = *st
	for _, c := range s.cases {
		cases = append(cases, st.Cases[c])
	}
	p.posed.Cases, p.posed.Combinations = cases, nil // which name all cases
	return &p.posed
}

// combinations are those of the structure in hand that answer to cs, which weigh selected cases only.
func (p *posing) combinations(cs []solver.Combination) []solver.Combination {
	if p.selected == nil {
		return cs
	}
	p.combos, p.terms = append(p.combos[:0], cs...), p.terms[:0]
	for i := range cs {
		p.terms = append(p.terms, cs[i].Terms...)
	}
	at := 0
	for i := range p.combos {
		own := p.terms[at : at+len(cs[i].Terms)]
		for k := range own {
			own[k].Case = p.selected.place[own[k].Case]
		}
		p.combos[i].Terms, at = slices.Clip(own), at+len(own)
	}
	return p.combos
}
