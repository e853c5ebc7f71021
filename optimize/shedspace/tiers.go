package shedspace

import (
	"context"
	"fmt"
	"sync"

	"leanbay/model/shed"
	"leanbay/optimize"
)

var _ optimize.Completer = (*evaluator)(nil)

// Complete implements optimize.Completer: it finds the dear objectives of a design.
func (e *evaluator) Complete(_ context.Context, point []int, key string, s optimize.Score) (optimize.Score, error) {
	d, _ := e.p.Decode(point)
	out := s
	out.Objectives, out.Pending = append([]float64(nil), s.Objectives...), false
	for i, o := range e.p.objectives {
		if o.dear == nil {
			continue
		}
		if e.reviewer == nil {
			e.reviewer = e.p.NewReviewer()
		}
		v, err := e.p.dearValue(o, e.reviewer, d, key)
		if err != nil {
			return s, fmt.Errorf("%s of %s: %w", o.Name, key, err)
		}
		out.Objectives[i] = v
	}
	return out, nil
}

// dearValues keeps what was found, by objective and key; values are pure functions of these.
type dearValues struct {
	mu    sync.Mutex
	known map[string]float64
}

// dearValue is the true value of a dear objective.
func (p *Problem) dearValue(o objective, r *Reviewer, d *shed.Design, key string) (float64, error) {
	at, c := o.Name+" "+key, &p.bench.dear
	c.mu.Lock()
	v, ok := c.known[at]
	c.mu.Unlock()
	if ok {
		return v, nil
	}
	v, err := o.dear(r, d)
	if err != nil {
		return 0, err
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.known == nil {
		c.known = map[string]float64{}
	}
	c.known[at] = v
	return v, nil
}

// lostReserve is the wind reserve with its sign turned: the less the better.
func lostReserve(r *Reviewer, d *shed.Design) (float64, error) {
	w, err := r.WindReserve(d)
	return -w.Factor, err
}

// whatIfsFailed is the number of the brief's what-ifs that can happen to a design and under which it does not comply.
func whatIfsFailed(r *Reviewer, d *shed.Design) (float64, error) {
	complies, asked, err := r.Robust(d)
	return float64(asked - complies), err
}
