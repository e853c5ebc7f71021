package shedspace

import (
	"context"
	"math"
	"slices"
	"strings"

	"leanbay/catalog"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/optimize"
)

var _ optimize.Hinter = (*evaluator)(nil)

// worthYield scales the yield's share in a section's worth (Pa).
const worthYield = 350e6

// worth is a section's number for valuesOf.
func worth(s shed.Steel) float64 {
	if s.Section.Family == catalog.Rod {
		return s.Section.Props.A * s.Grade.Fy / worthYield
	}
	return s.Section.Props.Ix * math.Sqrt(s.Grade.Fy/worthYield)
}

// stiffens says which groups a service limit depends on most.
var stiffens = map[string][]brief.Group{
	"eaves sway across": {brief.GroupColumn, brief.GroupRafter, brief.GroupEndColumn, brief.GroupEndRafter}, "adjacent frames": {brief.GroupColumn, brief.GroupRafter},
	"eaves sway along": {brief.GroupWallRod, brief.GroupWallDiagonal, brief.GroupKneeBrace, brief.GroupPortalBeam, brief.GroupPortalColumn, brief.GroupColumn},
	"mullion,":         {brief.GroupMullion},
	"rafter,":          {brief.GroupRafter, brief.GroupEndRafter}, "floor beam,": {brief.GroupBeam},
}

// needs is the greatest utilisation, of strength or of a limit that depends on it, of each group.
func (a *Assessment) needs() map[brief.Group]float64 {
	out := map[brief.Group]float64{}
	for i := range a.Groups {
		out[brief.Group(a.Groups[i].Group)] = a.Groups[i].Utilisation
	}
	for i := range a.Service {
		for kind, groups := range stiffens {
			if !strings.HasPrefix(a.Service[i].Limit, kind) {
				continue
			}
			for _, g := range groups {
				if u, ok := out[g]; ok {
					out[g] = math.Max(u, a.Service[i].Utilisation)
				}
			}
		}
	}
	return out
}

// governs is how near to the greatest utilisation a group must be to count as governing.
const governs = 0.97

// Hint implements optimize.Hinter: groups that govern should step up, those with slack may step down, the more the more
// they weigh. It goes by the measures of the score; without them it says nothing.
func (e *evaluator) Hint(_ context.Context, point []int, _ string, s optimize.Score) ([]float64, error) {
	if s.Measures == nil {
		return nil, nil
	}
	d, _ := e.p.Decode(point)
	a, l := e.p.outline(d), e.p.layoutOf(d)
	e.p.addMeasures(a, s.Measures, e.p.Shed.UsedGroups(d))
	a.U, a.Mass.Groups = s.Tie, map[brief.Group]float64{}
	for _, g := range l.groupsOf(seatsOn(d)) {
		a.Mass.Groups[g.Group] = g.Kilograms(d.Of(g.Group).Section)
	}
	needs, out := a.needs(), make([]float64, len(point))
	for i := range e.p.genes {
		out[i] = a.hintFor(e.p.genes[i].groups, needs)
	}
	return out, nil
}

// hintFor is the hint for a gene that decides some groups; 0 where the design has none of them.
func (a *Assessment) hintFor(groups []brief.Group, needs map[brief.Group]float64) float64 {
	most, kg := 0.0, 0.0
	for _, g := range slices.Compact(groups) {
		most, kg = math.Max(most, needs[g]), kg+a.Mass.Groups[g]
	}
	top := math.Max(a.U, 1e-3)
	switch {
	case most == 0:
		return 0
	case most >= governs*math.Min(top, 1):
		return most / top
	}
	return -(1 - most/math.Max(top, most)) * (0.1 + kg/a.Mass.Total)
}
