package optimize

// lookup remembers what points are called and how they are bounded: breeding comes to the same points again and again, and
// repairing one and bounding it takes much longer than finding it here. Both are pure functions of the point.
type lookup struct{ known map[string]*looked }

type looked struct {
	key   string
	point []int
	bound *Bound // nil until it was asked for
}

// mostLooked bounds the memory: some 300 bytes each.
const mostLooked = 50_000

// look names a point.
func (l *lookup) look(p Problem, point []int) candidate {
	k := pointKey(point)
	at, ok := l.known[k]
	if !ok {
		if l.known == nil || len(l.known) >= mostLooked {
			l.known = map[string]*looked{}
		}
		at = &looked{}
		at.key, at.point = p.Canonical(point)
		l.known[k] = at
	}
	return candidate{key: at.key, point: at.point, looked: at, cross: -1, mutate: -1}
}

// boundOf bounds a candidate that was looked up.
func (e *engine) boundOf(c candidate) *Bound {
	if c.looked.bound == nil {
		b := e.bounder.Bound(c.point, c.key)
		c.looked.bound = &b
	}
	return c.looked.bound
}
