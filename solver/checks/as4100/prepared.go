package as4100

import (
	"slices"

	"leanbay/solver"
)

// prepared is what a checker was prepared for: all that its numbers depend on. The zero value is nothing.
type prepared struct {
	good       bool
	capacity   *Capacity
	opt        Options
	member     solver.Member // restraints apart, which the member's owner may overwrite
	restraints []solver.Restraint
}

// serves tells whether a member asks for the same.
func (p *prepared) serves(capacity *Capacity, m *solver.Member, opt *Options) bool {
	o := &p.member
	return p.good && p.capacity == capacity && p.opt == *opt && o.Section == m.Section && o.Length == m.Length && o.Role == m.Role && o.TopLoads == m.TopLoads &&
		o.EffectiveX == m.EffectiveX && o.EffectiveY == m.EffectiveY && o.EndEccentricity == m.EndEccentricity &&
		o.EccentricitySource == m.EccentricitySource && slices.EqualFunc(p.restraints, m.Restraints, sameRestraint)
}

// sameRestraint compares what restraints do; where they come from only the working tells, which reads the member's own.
func sameRestraint(a, b solver.Restraint) bool {
	return a.Station == b.Station && a.Flange == b.Flange && a.Kind == b.Kind
}

// keep notes what a member asked for.
func (p *prepared) keep(capacity *Capacity, m *solver.Member, opt *Options) {
	p.good, p.capacity, p.opt, p.member = true, capacity, *opt, *m
	p.restraints = append(p.restraints[:0], m.Restraints...)
}
