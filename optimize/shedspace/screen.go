package shedspace

import (
	"cmp"
	"slices"

	"leanbay/solver"
	"leanbay/solver/checks/as4100"
	"leanbay/solver/frame"
)

// suspect is a combination that may raise the utilisation of a member's group, with the rough bound that says so.
type suspect struct {
	member      int // in the list of memberPlaces
	combination int
	group       int // in Assessment.Groups
	bound       float64
}

// memberPlace is a member, and where it is in the analysed structure.
type memberPlace struct{ member, in int }

// checkMembers checks members over all analysed combinations. In a hurry, combinations whose bound does not exceed what the
// group has already are passed over, the greatest bound of each group first; what governs each group is the same as without,
// but for members whose utilisations are equal.
func (j *judge) checkMembers(st *solver.Structure, list []memberPlace, alone bool, a *Assessment) {
	if !j.quick {
		for _, p := range list {
			j.checkMember(st, p.member, p.in, alone, a)
		}
		return
	}
	j.suspect(st, list, alone, a)
	first := make([]int, len(a.Groups)) // the greatest bound of each group
	for g := range first {
		first[g] = -1
	}
	for i := range j.suspects {
		s := &j.suspects[i]
		if f := first[s.group]; f < 0 || s.bound > j.suspects[f].bound {
			first[s.group] = i
		}
	}
	for _, i := range first {
		if i >= 0 {
			j.question(st, list, j.suspects[i], alone, a)
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

// suspect lists the combinations that may raise each member's group.
func (j *judge) suspect(st *solver.Structure, list []memberPlace, alone bool, a *Assessment) {
	j.suspects = j.suspects[:0]
	for n, p := range list {
		m := &st.Members[p.member]
		if !j.prepare(m, alone, a) {
			continue
		}
		g := a.groupIndex(m.Group)
		if a.Groups[g].Member == "" {
			a.Groups[g].Member = m.ID
		}
		for k := range j.combos {
			if b := j.check.Bound(maxima(j.res[k].RoughExtent(p.in))); !(b <= a.Groups[g].Utilisation) {
				j.suspects = append(j.suspects, suspect{n, k, g, b})
			}
		}
	}
}

// question checks one member under one combination, if the closer bound has it suspect too.
func (j *judge) question(st *solver.Structure, list []memberPlace, s suspect, alone bool, a *Assessment) {
	p := list[s.member]
	m := &st.Members[p.member]
	if j.check.Member != m && !j.prepare(m, alone, a) {
		return
	}
	if b := j.check.Bound(maxima(j.res[s.combination].Extent(p.in))); b <= a.Groups[s.group].Utilisation {
		return
	}
	var env as4100.Envelope
	for k := range env.Results {
		env.Results[k].Utilisation = a.Groups[s.group].Utilisation
	}
	j.res[s.combination].Diagram(p.in, &j.curve)
	j.check.Check(&j.curve, s.combination, &env, nil)
	if best := env.Governing(); best.Name != "" {
		a.note(m.Group, m.ID, j.combos[s.combination].ID, alone, best)
	}
}

// maxima puts the frame's bounds in the checks' words.
func maxima(x frame.Extent) as4100.Maxima {
	return as4100.Maxima{Tension: x.Tension, Compression: x.Compression, Vy: x.Vy, Vz: x.Vz, T: x.T, Mx: x.Mz, My: x.My}
}

// allMembers lists every member of a structure in its own place.
func allMembers(st *solver.Structure) []memberPlace {
	out := make([]memberPlace, len(st.Members))
	for i := range out {
		out[i] = memberPlace{i, i}
	}
	return out
}
