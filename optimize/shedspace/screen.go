package shedspace

import (
	"cmp"
	"math"
	"slices"

	"leanbay/solver"
	"leanbay/solver/checks/as4100"
	"leanbay/solver/frame"
)

// holder is the member and combination that a group's utilisation was found for in the members in hand.
type holder struct{ member, combination int }

// suspect is a combination that may raise the utilisation of a member's group, with the rough bound that says so.
type suspect struct {
	member      int // in the list of memberPlaces
	combination int
	group       int // in Assessment.Groups
	bound       float64
}

// enclosure is a member to be checked, with a bound over all combinations: of its greatest actions as if they came together.
type enclosure struct {
	member int // in the list of memberPlaces
	group  int
	bound  float64
}

// memberPlace is a member, and where it is in the analysed structure.
type memberPlace struct{ member, in int }

// checkMembers checks members over all analysed combinations. Members and combinations whose bound does not exceed what the group has
// already are passed over, the greatest bound of each group first; what governs each group is the same as without: of equal ones the
// first member of the list, and of its combinations the first.
func (j *judge) checkMembers(st *solver.Structure, list []memberPlace, alone bool, a *Assessment) {
	j.enclose(st, list, alone, a)
	j.hold(len(a.Groups))
	slices.SortStableFunc(j.enclosed, func(x, y enclosure) int { return cmp.Compare(y.bound, x.bound) })
	j.suspects = j.suspects[:0]
	j.asked = slices.Grow(j.asked[:0], len(a.Groups))[:len(a.Groups)]
	clear(j.asked)
	for _, e := range j.enclosed {
		if !(e.bound > a.Groups[e.group].Utilisation) {
			continue
		}
		first := j.suspect(list, e, a)
		if first >= 0 && !j.asked[e.group] {
			j.asked[e.group] = true
			j.question(st, list, j.suspects[first], alone, a)
			j.suspects[first].bound = 0 // it is answered
		}
	}
	j.suspects = slices.DeleteFunc(j.suspects, func(s suspect) bool { return s.bound <= a.Groups[s.group].Utilisation })
	slices.SortStableFunc(j.suspects, func(x, y suspect) int { return cmp.Compare(y.bound, x.bound) })
	for _, s := range j.suspects {
		if s.bound > a.Groups[s.group].Utilisation {
			j.question(st, list, s, alone, a)
		}
	}
}

// enclose prepares a checker for each member of the list that the rules cover, and bounds its utilisation.
func (j *judge) enclose(st *solver.Structure, list []memberPlace, alone bool, a *Assessment) {
	j.enclosed, j.places = j.enclosed[:0], j.places[:0]
	for len(j.checkers) < len(st.Members) {
		j.checkers = append(j.checkers, &as4100.Checker{})
	}
	if !alone {
		j.ready = slices.Grow(j.ready[:0], len(st.Members))[:len(st.Members)]
		clear(j.ready)
	}
	for n, p := range list {
		m, c := &st.Members[p.member], j.checkers[p.member]
		if !j.ready[p.member] { // for frames alone those of the whole shed serve on
			if j.ready[p.member] = j.prepare(c, m, alone, a); !j.ready[p.member] {
				continue
			}
		}
		g := a.groupIndex(m.Group)
		if a.Groups[g].Member == "" {
			a.Groups[g].Member = m.ID
		}
		j.enclosed, j.places = append(j.enclosed, enclosure{member: n, group: g}), append(j.places, p.in)
	}
	j.widest = frame.WidestExtents(j.res, j.places, j.widest)
	for i := range j.enclosed {
		e := &j.enclosed[i]
		if e.bound = j.checkers[list[e.member].member].Bound(maxima(j.widest[i])); math.IsNaN(e.bound) { // actions without bounds
			e.bound = math.Inf(1)
		}
	}
}

// suspect lists the combinations that may raise a member's group, and returns the place of the one with the greatest bound; -1 if
// there is none.
func (j *judge) suspect(list []memberPlace, e enclosure, a *Assessment) (first int) {
	first = -1
	c, in, floor := j.checkers[list[e.member].member], list[e.member].in, a.Groups[e.group].Utilisation
	reach := c.Reach()
	for k := range j.combos {
		x := j.res[k].RoughExtent(in)
		b := c.Bound(maxima(x))
		if b <= floor {
			continue
		}
		if reach != [2]float64{} {
			if b = c.BoundNear(maxima(x), j.res[k].NearEnds(in, reach, &x)); b <= floor {
				continue
			}
		}
		if math.IsNaN(b) {
			b = math.Inf(1)
		}
		if first < 0 || b > j.suspects[first].bound {
			first = len(j.suspects)
		}
		j.suspects = append(j.suspects, suspect{e.member, k, e.group, b})
	}
	return first
}

// hold begins the list of who holds the utilisations of groups: none of the members in hand.
func (j *judge) hold(groups int) {
	j.holders = j.holders[:0]
	for range groups {
		j.holders = append(j.holders, holder{-1, -1})
	}
}

// question checks one member under one combination, if closer bounds have it suspect too: first one from its moments along the
// member, which lateral buckling depends on most, then its greatest actions.
func (j *judge) question(st *solver.Structure, list []memberPlace, s suspect, alone bool, a *Assessment) {
	p := list[s.member]
	m, c, r := &st.Members[p.member], j.checkers[p.member], &j.res[s.combination]
	j.along = r.Moments(p.in, j.along[:0])
	if len(j.along) > 0 && c.BoundAlong(maxima(r.RoughExtent(p.in)), j.along) <= a.Groups[s.group].Utilisation {
		return
	}
	if c.BoundAlong(maxima(r.Extent(p.in)), j.along) <= a.Groups[s.group].Utilisation {
		return
	}
	r.Diagram(p.in, &j.curve)
	floor, h := a.Groups[s.group].Utilisation, &j.holders[s.group]
	if s.member < h.member || s.member == h.member && s.combination < h.combination {
		floor = math.Nextafter(floor, 0) // of equal ones the first
	}
	if best := c.Worst(&j.curve, s.combination, floor); best.Name != "" {
		a.Groups[s.group] = GroupResult{m.Group, m.ID, j.combos[s.combination].ID, alone, best}
		*h = holder{s.member, s.combination}
	}
}

// maxima puts the frame's bounds in the checks' words.
func maxima(x frame.Extent) as4100.Maxima {
	return as4100.Maxima{Tension: x.Tension, Compression: x.Compression, Vy: x.Vy, Vz: x.Vz, T: x.T, Mx: x.Mz, My: x.My}
}

// allMembers lists every member of a structure in its own place.
func (j *judge) allMembers(st *solver.Structure) []memberPlace {
	j.listed = j.listed[:0]
	for i := range st.Members {
		j.listed = append(j.listed, memberPlace{i, i})
	}
	return j.listed
}
