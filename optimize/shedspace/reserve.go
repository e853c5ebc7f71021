package shedspace

import (
	"fmt"

	"leanbay/model/actions"
	"leanbay/model/shed"
)

// The wind reserve is sought between these factors on the site wind speed, to this step.
const (
	leastReserve = 0.5
	mostReserve  = 1.5
	reserveStep  = 1.0 / 64
	reserveSteps = 64 // from the least to the most
)

// Reserve is how much more wind a design bears.
type Reserve struct {
	Factor float64 // on the site wind speed; 0 where the design fails at leastReserve already
	Most   bool    // it still complies at the greatest factor that is tried
	Ends   string  // what fails first beyond it, in words
}

// WindReserve is the largest factor on the site wind speed, of those tried by bisection in steps of 1/64, at which the design
// passes everything (engineering practice: which sites one product covers). Passing is taken to end once for all as the wind
// grows. The factor acts as a topographic multiplier in all directions.
func (r *Reviewer) WindReserve(d *shed.Design) (Reserve, error) {
	try := func(j *judge, f float64) (*Assessment, error) {
		q, e, err := r.under(fmt.Sprintf("wind %.6f", f), r.p.Brief, func(s *actions.Site) { blowHarder(s, f) }, d)
		if err != nil {
			return nil, err
		}
		return r.judge(j, q, e)
	}
	lo, hi := -1, reserveSteps+1 // in steps: passes at lo, fails at hi
	for hi-lo > 1 {
		mid := (lo + hi) / 2 // the site's own speed first
		a, err := try(r.screen, leastReserve+float64(mid)*reserveStep)
		if err != nil {
			return Reserve{}, err
		}
		if a.Complies {
			lo = mid
		} else {
			hi = mid
		}
	}
	// The careful answer decides at the border.
	for ; lo >= 0; lo-- {
		a, err := try(r.full, leastReserve+float64(lo)*reserveStep)
		if err != nil {
			return Reserve{}, err
		}
		if a.Complies {
			break
		}
	}
	out := Reserve{Most: lo == reserveSteps}
	if lo >= 0 {
		out.Factor = leastReserve + float64(lo)*reserveStep
	}
	if out.Most {
		return out, nil
	}
	a, err := try(r.full, leastReserve+float64(lo+1)*reserveStep)
	if err == nil {
		out.Ends = a.Fails()
	}
	return out, err
}

// blowHarder multiplies the wind speeds of a site.
func blowHarder(s *actions.Site, factor float64) {
	for i, v := range s.Topographic {
		if v == 0 {
			v = 1
		}
		s.Topographic[i] = v * factor
	}
}

// String says it in a few words.
func (r Reserve) String() string {
	switch {
	case r.Most:
		return fmt.Sprintf("passes everything at %.2f times the site wind speed, the most that is tried", r.Factor)
	case r.Factor == 0:
		return fmt.Sprintf("none: it fails at %.1f of the site wind speed already: %s", leastReserve, r.Ends)
	}
	return fmt.Sprintf("passes everything up to %.2f times the site wind speed; then %s", r.Factor, r.Ends)
}
