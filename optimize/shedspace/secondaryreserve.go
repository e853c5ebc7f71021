package shedspace

import (
	"leanbay/catalog"
	"leanbay/model/brief"
)

// boundReserves finds, for each setup, the greatest wind reserve that its secondaries leave to any design: the best there can be
// of an objective that is dear, so that frames which no reserve can come of are left without one. It is nothing that an
// assessment does not say: of all factors that WindReserve tries beyond it, purlins, girts, jambs or lintels fail each.
func (p *Problem) boundReserves(b *bench) error {
	s := reserveSeeker{p: p, b: b, known: map[reserveKey]int{}}
	for _, sp := range p.allSpacings() {
		if err := s.seek(sp, b.loads[sp]); err != nil {
			return err
		}
	}
	return s.seek(spacings{purlin: p.Drawn.PurlinSpacing, girt: p.Drawn.GirtSpacing}, b.drawn)
}

// reserveSeeker keeps how far each secondary goes, in steps from leastReserve; -1 is nowhere.
type reserveSeeker struct {
	p     *Problem
	b     *bench
	known map[reserveKey]int
}

// reserveKey is a purlin or girt of a spacing, or (without a section) the jambs and lintels of a spacing of girts that are sized for
// a wind.
type reserveKey struct {
	group         brief.Group
	spacing, wind float64
	section       *catalog.Section
}

// seek sets the greatest reserve that a setup leaves.
func (s *reserveSeeker) seek(sp spacings, set *setup) error {
	sec, at := &set.secondaries.Sections, reserveSteps
	for _, one := range []reserveKey{{brief.GroupPurlin, sp.purlin, 0, sec.Purlin}, {brief.GroupGirt, sp.girt, 0, sec.Girt}} {
		if one.section == nil {
			continue
		}
		k, err := s.last(one, func(f float64) (bool, error) { return s.passes(one, f) })
		if err != nil {
			return err
		}
		at = min(at, k)
	}
	framing := reserveKey{brief.GroupJamb, sp.girt, sp.wind, nil}
	if set == s.b.drawn {
		framing.wind = -1 // those that were drawn
	}
	q := &Problem{Brief: s.p.Brief, Shed: s.p.Shed, Drawn: s.p.Drawn, bench: s.b, trimmers: set.secondaries.trimmers}
	k, err := s.last(framing, func(f float64) (bool, error) {
		var out Secondaries
		if err := q.chooseFraming(s.b, spacings{girt: sp.girt, wind: f}, true, &out); err != nil {
			return false, err
		}
		for _, r := range out.Results {
			if r.Utilisation > 1 {
				return false, nil
			}
		}
		return true, nil
	})
	if at = min(at, k); at >= 0 {
		set.reserve = leastReserve + float64(at)*reserveStep
	}
	return err
}

// last is the last step at which something passes, sought from the most down: beyond it each was seen to fail.
func (s *reserveSeeker) last(one reserveKey, passes func(factor float64) (bool, error)) (int, error) {
	if k, ok := s.known[one]; ok {
		return k, nil
	}
	k := reserveSteps
	for ; k >= 0; k-- {
		if ok, err := passes(leastReserve + float64(k)*reserveStep); err != nil {
			return k, err
		} else if ok {
			break
		}
	}
	s.known[one] = k
	return k, nil
}

// passes checks a purlin or girt under a factor on the site wind speed.
func (s *reserveSeeker) passes(one reserveKey, factor float64) (bool, error) {
	p, spans := s.p, s.p.Shed.GirtSpans(one.spacing)
	if one.group == brief.GroupPurlin {
		spans = p.Shed.PurlinSpans(one.spacing)
	}
	wind, err := p.windOn(s.b, spans, factor)
	if err != nil {
		return false, err
	}
	need, lines := p.girtNeed(wind, one.spacing), p.Brief.Building.Secondary.Girts
	if one.group == brief.GroupPurlin {
		need, lines = p.purlinNeed(s.b, wind, one.spacing), p.Brief.Building.Secondary.Purlins
	}
	r, err := s.b.secondary(p.Brief, one.group, need, lines, one.section)
	if err != nil {
		return false, err
	}
	return r.Governing.Utilisation <= 1, nil
}
