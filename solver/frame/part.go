package frame

import "leanbay/solver"

// Part is a structure as part of another: a selection of its members under a selection of its cases, with supports and nodal
// loads of its own. A case has there all that it puts on the members that are left.
type Part struct {
	Elements []int // where element e of the part is in the whole; they are the same but for the member they belong to
	Cases    []int // where case c is, ascending
}

// LoadPart is Load for a structure that is part of what is loaded in another workspace, to the bit: elements and their loads are
// taken over instead of found anew. Where they do not serve, it is Load itself.
func (w *Workspace) LoadPart(s *solver.Structure, whole *Workspace, p *Part) error {
	if !w.Quick || !whole.hasPart(s, p) {
		return w.Load(s)
	}
	if err := w.forget(s); err != nil {
		return err
	}
	for e, there := range p.Elements {
		w.els[e] = whole.els[there]
		w.noteLoose(e)
	}
	if !w.loads.part(w.m, s, w.els, &whole.loads, p) {
		return w.Load(s)
	}
	w.take(s)
	return nil
}

// hasPart tells whether the elements of s are those that p names of what is loaded, so that their values have been checked too.
func (w *Workspace) hasPart(s *solver.Structure, p *Part) bool {
	if w == nil || w.s == nil || !w.Quick || len(p.Elements) != len(s.Elements) || len(p.Cases) != len(s.Cases) {
		return false
	}
	for e, there := range p.Elements {
		el := w.s.Elements[there]
		el.Member = s.Elements[e].Member
		if el != s.Elements[e] || w.s.Nodes[el.I].Pos != s.Nodes[el.I].Pos || w.s.Nodes[el.J].Pos != s.Nodes[el.J].Pos {
			return false
		}
	}
	return true
}

// part makes l the loads of s, which is part p of the structure of whole; false if these are not kept in such a way.
func (l *loadSet) part(m *Model, s *solver.Structure, els []element, whole *loadSet, p *Part) bool {
	l.places.begin(s, els, true)
	if !l.places.part(m, s, els, &whole.places, p.Cases) {
		return false
	}
	l.here, l.hereCase = renumber(l.here, p.Elements, len(whole.first)-2), renumber(l.hereCase, p.Cases, len(whole.caseAt)-1)
	l.all, l.fixed, l.smooth, l.caseAt = l.all[:0], l.fixed[:0], l.smooth[:0], append(l.caseAt[:0], 0)
	for _, c := range p.Cases {
		for i := whole.caseAt[c]; i < whole.caseAt[c+1]; i++ {
			if e := l.here[whole.fixed[i].element]; e >= 0 {
				l.fixed, l.smooth = append(l.fixed, whole.fixed[i]), append(l.smooth, whole.smooth[i])
				l.fixed[len(l.fixed)-1].element = e
			}
		}
		l.caseAt = append(l.caseAt, int32(len(l.fixed)))
	}
	l.sorted, l.first = l.sorted[:0], append(l.first[:0], 0)
	for e, there := range p.Elements {
		on := whole.on(there)
		for i := range on {
			if c := l.hereCase[on[i].caseNo]; c >= 0 {
				l.sorted = append(l.sorted, on[i])
				ld := &l.sorted[len(l.sorted)-1]
				ld.element, ld.caseNo = int32(e), c
			}
		}
		l.first = append(l.first, int32(len(l.sorted)))
	}
	l.first = append(l.first, int32(len(l.sorted)))
	l.places.seated.settle(&l.places)
	l.statics.ready = false
	l.readyStatics(els)
	return true
}

// renumber tells of each of n where it is in a list; -1 if nowhere.
func renumber(to []int32, list []int, n int) []int32 {
	to = sized(to, n)
	for i := range to {
		to[i] = -1
	}
	for i, there := range list {
		to[there] = int32(i)
	}
	return to
}

// part takes the forces at the places of s from those of the whole, whose cases are given; false unless both have the places of the
// structure's table alone, and those of s are known.
func (p *placeSet) part(m *Model, s *solver.Structure, els []element, whole *placeSet, cases []int) bool {
	p.seated, p.tabled = nil, 0
	if !p.on || !whole.on || s.Table == nil || whole.tabled == 0 || whole.tabled != len(whole.list) {
		return false
	}
	p.findRuns(s)
	if p.seated = p.seatings.of(m, s, els, p.runs); p.seated == nil || len(p.seated.placed) != len(whole.placed) {
		return false
	}
	p.seated.take(p)
	p.tabled = len(p.list)
	p.findCopies(cases)
	for k, there := range whole.placed {
		j := p.placed[k]
		if there < 0 || j < 0 {
			if j >= 0 || there >= 0 && s.Tabled(s.Table.Places()[k].Member) >= 0 {
				return false
			}
			continue
		}
		for axis := range 3 {
			to, from := p.force[(3*int(j)+axis)*p.nc:], whole.force[(3*int(there)+axis)*whole.nc:]
			for _, r := range p.copies {
				copy(to[r.first:r.first+r.n], from[r.column:r.column+r.n])
			}
		}
	}
	return true
}

// findCopies lists the cases that follow each other in the whole too: what is a column there.
func (p *placeSet) findCopies(cases []int) {
	p.copies = p.copies[:0]
	for c, there := range cases {
		if n := len(p.copies) - 1; n >= 0 && p.copies[n].column+p.copies[n].n == there {
			p.copies[n].n++
		} else {
			p.copies = append(p.copies, tableRun{c, there, 1})
		}
	}
}
