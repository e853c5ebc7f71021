package as4100

import (
	"cmp"
	"fmt"
	"slices"

	"leanbay/solver"
)

// Segment is a length of a member between sections that are restrained for the flange in compression (5.3.1), with what
// its lateral buckling needs except the moment's shape.
type Segment struct {
	From, To   float64       // m, stations
	Critical   solver.Flange // the flange in compression (of a free segment: the flange in tension, 5.5.3)
	Ends       Ends
	Kt, Kl, Kr float64
	Le         float64 // m, kt kl kr L
	AlphaS     float64
	Mb         float64 // N·m, alpha_s Ms <= Ms: the member moment capacity with alpha_m = 1
}

// Free reports whether one end of the segment is unrestrained.
func (s *Segment) Free() bool { return s.Ends.free() }

// samePlace is how near two stations count as one section: the size of a cleat's tolerance.
const samePlace = 1e-3 // m

// bracing is one restrained section of a member: the class for each flange in compression, and which flanges are
// themselves held (both by solver.TopFlange, solver.BottomFlange).
type bracing struct {
	at    float64
	class [2]byte
	held  [2]bool
}

// restraintRank orders the classes from none to full.
func restraintRank(k byte) int {
	switch solver.RestraintKind(k) {
	case solver.RestraintF:
		return 3
	case solver.RestraintP:
		return 2
	case solver.RestraintL:
		return 1
	}
	return 0
}

// classFor is the class of r for critical flange f (AS 4100 5.4.2, read on the safe side): its own for a flange that it
// holds; for the other flange a full or partial restraint counts as partial, since its hold on twist is not known to be
// full, and a lateral one for nothing.
func classFor(r solver.Restraint, f solver.Flange) byte {
	k := byte(r.Kind)
	if restraintRank(k) == 0 {
		return 'U'
	}
	if r.Flange == solver.BothFlanges || r.Flange == f {
		return k
	}
	if restraintRank(k) >= 2 {
		return 'P'
	}
	return 'U'
}

// bracings gathers the restraints of m by section, in order of station, into dst. Both flanges held sideways at one
// section hold it against twist, so that the section is F.
func bracings(dst []bracing, m *solver.Member) []bracing {
	if len(m.Restraints) == 0 {
		full := [2]byte{'F', 'F'}
		return append(dst, bracing{at: 0, class: full}, bracing{at: m.Length, class: full})
	}
	for _, r := range m.Restraints {
		some := restraintRank(byte(r.Kind)) > 0
		dst = append(dst, bracing{
			at:    r.Station,
			class: [2]byte{classFor(r, solver.TopFlange), classFor(r, solver.BottomFlange)},
			held:  [2]bool{some && r.Flange != solver.BottomFlange, some && r.Flange != solver.TopFlange},
		})
	}
	slices.SortStableFunc(dst, func(a, b bracing) int { return cmp.Compare(a.at, b.at) })
	out := dst[:0]
	for _, b := range dst {
		if n := len(out); n > 0 && b.at-out[n-1].at < samePlace {
			out[n-1].merge(b)
			continue
		}
		out = append(out, b)
	}
	return out
}

// merge takes the better class of each flange. Where one restraint holds the top and another the bottom flange, the
// section cannot twist: it is F.
func (b *bracing) merge(o bracing) {
	crossed := (b.held[0] && o.held[1]) || (b.held[1] && o.held[0])
	alone := (b.held[0] && b.held[1]) || (o.held[0] && o.held[1])
	for f := range b.class {
		if restraintRank(o.class[f]) > restraintRank(b.class[f]) {
			b.class[f] = o.class[f]
		}
		b.held[f] = b.held[f] || o.held[f]
	}
	if crossed && !alone {
		b.class = [2]byte{'F', 'F'}
	}
}

// checkRestraints refuses stations off the member and unknown classes.
func checkRestraints(m *solver.Member) error {
	for _, r := range m.Restraints {
		if !(r.Station >= -samePlace && r.Station <= m.Length+samePlace) {
			return fmt.Errorf("as4100: %s: restraint %q at %.3f m lies off the member (0 to %.3f m)", m.ID, r.Source, r.Station, m.Length)
		}
		if r.Flange < solver.TopFlange || r.Flange > solver.BothFlanges {
			return fmt.Errorf("as4100: %s: restraint %q at %.3f m holds flange %d; the flanges are top, bottom, both", m.ID, r.Source, r.Station, r.Flange)
		}
		switch r.Kind {
		case solver.RestraintF, solver.RestraintP, solver.RestraintL, solver.RestraintU:
		default:
			return fmt.Errorf("as4100: %s: restraint %q at %.3f m has class %q; the classes are F, P, L, U", m.ID, r.Source, r.Station, string(r.Kind))
		}
	}
	return nil
}

// segments appends to dst the segments of m for compression in flange f.
func (c *Capacity) segments(dst []Segment, m *solver.Member, list []bracing, f solver.Flange, opt *Options) ([]Segment, error) {
	start, last := len(dst), -1
	for i := range list {
		if list[i].class[f] == 'U' {
			continue
		}
		if last >= 0 {
			dst = append(dst, Segment{From: list[last].at, To: list[i].at, Critical: f, Ends: Ends{list[last].class[f], list[i].class[f]}})
		} else if list[i].at > samePlace {
			dst = append(dst, Segment{From: 0, To: -1, Critical: f})
		}
		last = i
	}
	if last < 0 {
		dst = append(dst, Segment{From: 0, To: -1, Critical: f}, Segment{From: -1, To: m.Length, Critical: f})
	} else if m.Length-list[last].at > samePlace {
		dst = append(dst, Segment{From: -1, To: m.Length, Critical: f})
	}
	for i := start; i < len(dst); i++ {
		if err := dst[i].holdFreeEnd(m, list); err != nil {
			return dst, err
		}
		c.finish(&dst[i], m, opt)
	}
	return dst, nil
}

// holdFreeEnd completes a segment with an unrestrained end: its critical flange is the one in tension (5.5.3), and it
// reaches to the nearest section that is F or P for that flange.
func (s *Segment) holdFreeEnd(m *solver.Member, list []bracing) error {
	if s.From >= 0 && s.To >= 0 {
		return nil
	}
	s.Critical = 1 - s.Critical
	if s.To < 0 {
		for i := range list {
			if k := list[i].class[s.Critical]; restraintRank(k) >= 2 {
				s.To, s.Ends = list[i].at, Ends{'U', k}
				return nil
			}
		}
	} else {
		for i := len(list) - 1; i >= 0; i-- {
			if k := list[i].class[s.Critical]; restraintRank(k) >= 2 {
				s.From, s.Ends = list[i].at, Ends{k, 'U'}
				return nil
			}
		}
	}
	return fmt.Errorf("as4100: %s: one end is unrestrained and no section is F or P for the critical flange, which AS 4100 Table 5.6.3 does not cover; give the ends their restraint", m.ID)
}

// finish fills a segment's factors, effective length and capacity with alpha_m = 1.
func (c *Capacity) finish(s *Segment, m *solver.Member, opt *Options) {
	l := s.To - s.From
	d1, tf, tw, webs := c.clearWeb()
	height := AtShearCentre
	if on := m.TopLoads; on > 0 && s.Critical == solver.TopFlange {
		height = TopWithin
		if l <= on+samePlace {
			height = TopAtEnd
		}
	}
	s.Kt, s.Kl, s.Kr = Kt(s.Ends, l, d1, tf, tw, webs), Kl(s.Ends, height), Kr(s.Ends, opt.EndsHeld)
	s.Le = s.Kt * s.Kl * s.Kr * l
	s.AlphaS = AlphaS(c.Msx, c.Mo(s.Le, nil))
	s.Mb = s.AlphaS * c.Msx
}

// heldLengths gives the greatest distances (m) between sections of m that are held sideways at their centroid (both flanges,
// or one with the twist held), at either flange, and against twist (F or P for either flange). The ends of the member count
// as held.
func heldLengths(m *solver.Member, list []bracing) (centroid, either, twist float64) {
	var last [3]float64
	grow := func(k int, length *float64, at float64) { *length, last[k] = max(*length, at-last[k]), at }
	for i := range list {
		top, bottom := restraintRank(list[i].class[0]), restraintRank(list[i].class[1])
		if max(top, bottom) >= 2 || min(top, bottom) >= 1 {
			grow(0, &centroid, list[i].at)
		}
		if max(top, bottom) >= 1 {
			grow(1, &either, list[i].at)
		}
		if max(top, bottom) >= 2 {
			grow(2, &twist, list[i].at)
		}
	}
	grow(0, &centroid, m.Length)
	grow(1, &either, m.Length)
	grow(2, &twist, m.Length)
	return centroid, either, twist
}
