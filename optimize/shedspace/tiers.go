package shedspace

import (
	"context"
	"fmt"

	"leanbay/optimize"
)

var _ optimize.Screener = (*evaluator)(nil)

// Screen implements optimize.Screener: of the whole shed only the service combinations are analysed, a quarter of the work.
// What breaks a hard limit of service, or does not stand, is ranked nowhere, whatever its strength.
func (e *evaluator) Screen(_ context.Context, point []int, key string) (optimize.Bound, error) {
	p := e.p
	if !p.Brief.Limits.ServiceHard || p.Brief.Proposal.Bases.ServiceSpring != 0 {
		return optimize.Bound{}, nil
	}
	d, _ := p.Decode(point)
	a := p.outline(d)
	a.Key = key
	m := p.loaded(d)
	e.j.set = p.setupOf(d)
	err := e.j.whole.load(&m.Structure, true)
	if err == nil {
		err = e.j.serviceChecks(m, a)
	}
	if err != nil {
		return optimize.Bound{}, fmt.Errorf("variant %s: %w", key, err)
	}
	return p.boundBy(a, p.partsOf(d, nothingOpen).u), nil
}
