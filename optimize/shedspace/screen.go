package shedspace

import (
	"cmp"
	"slices"

	"leanbay/solver"
	"leanbay/solver/checks/as4100"
	"leanbay/solver/frame"
)

// suspect is a combination that may raise a group's utilisation, with the bound that says so.
type suspect struct {
	combination int
	bound       float64
}

// screenMember is checkMember for members whose checker is prepared, in a hurry: combinations whose bound does not exceed
// what the group has already are passed over, and the others are looked at from the greatest bound down. What governs the
// group is the same as without.
func (j *judge) screenMember(m *solver.Member, in int, alone bool, a *Assessment) {
	g := &a.Groups[a.groupIndex(m.Group)]
	floor := g.Utilisation
	j.suspects = j.suspects[:0]
	for k := range j.combos {
		if b := j.check.Bound(maxima(j.res[k].Extent(in))); !(b <= floor) {
			j.suspects = append(j.suspects, suspect{k, b})
		}
	}
	slices.SortStableFunc(j.suspects, func(x, y suspect) int { return cmp.Compare(y.bound, x.bound) })
	var env as4100.Envelope
	for k := range env.Results {
		env.Results[k].Utilisation = floor
	}
	best := env.Governing()
	for _, s := range j.suspects {
		if s.bound <= best.Utilisation {
			break
		}
		j.res[s.combination].Diagram(in, &j.curve)
		j.check.Check(&j.curve, s.combination, &env, nil)
		best = env.Governing()
	}
	if best.Name != "" {
		a.note(m.Group, m.ID, j.combos[best.Combination].ID, alone, best)
	} else if g.Member == "" {
		g.Member = m.ID
	}
}

// maxima puts the frame's bounds in the checks' words.
func maxima(x frame.Extent) as4100.Maxima {
	return as4100.Maxima{Tension: x.Tension, Compression: x.Compression, Vy: x.Vy, Vz: x.Vz, T: x.T, Mx: x.Mz, My: x.My}
}
