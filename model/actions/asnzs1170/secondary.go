package asnzs1170

import (
	"fmt"
	"math"
	"slices"

	"leanbay/model/actions"
)

// Local answers for cladding, purlins, girts, doors and windows: the ultimate wind with local factors. In cyclonic regions
// it rests on the direction multiplier of cladding. Make it once for a building with Pack.Local; it may be shared.
type Local struct {
	p     *Pack
	b     *actions.Building
	s     *actions.Site
	winds []Wind
	a     LocalLengths
	free  bool // a roof without walls: Table B.1 instead of 5.6
}

// Local prepares the local pressures of b on s. On a roof without walls the net coefficients of all its sets are laid
// over each other, and the factors are those of Table B.1.
func (p *Pack) Local(b *actions.Building, s *actions.Site) (*Local, error) {
	if err := p.check(b, s); err != nil {
		return nil, err
	}
	winds, err := p.winds(nil, b, s, Cladding)
	if err != nil {
		return nil, err
	}
	l := &Local{p: p, b: b, s: s, winds: winds, a: p.t.LocalLengths(nil, winds[0].H, winds[0].B, winds[0].D)}
	if l.free = winds[0].Free != nil; l.free {
		l.a.Roof = p.t.at(nil, "free.local.a") * min(b.Span, b.Length())
		for i := range winds {
			winds[i].External.Roof = overlaid(winds[i].Free)
			winds[i].InternalU = Internal{States: []State{{Name: "no walls"}}}
		}
	}
	return l, nil
}

// overlaid are the zones of a free roof with the lowest and the highest net coefficient of all sets.
func overlaid(sets []FreeSet) []Zone {
	out := slices.Clone(sets[0].Cpn)
	for _, s := range sets[1:] {
		for i, z := range s.Cpn {
			out[i].Cpe = [2]float64{min(out[i].Cpe[0], z.Cpe[0]), max(out[i].Cpe[1], z.Cpe[1])}
		}
	}
	return out
}

// freeNames are the factors of Table B.1 that stand for those of Table 5.6.
var freeNames = map[string]string{"RA1": "free.local.edge", "RA2": "free.local.strip", "RC1": "free.local.corner", "RA3": "free.local.edge", "RA4": "free.local.edge"}

// roofKl is the factor of a roof zone by its name.
func (l *Local) roofKl(name string) float64 {
	if l.free {
		return l.p.t.at(nil, freeNames[name])
	}
	return l.p.t.at(nil, "local."+name)
}

// Lengths are the lengths a of the local zones of walls and roof (m).
func (l *Local) Lengths() LocalLengths { return l.a }

// Stretch is a part of a line with one net pressure in Pa, positive towards the surface from outside.
type Stretch struct{ From, To, Pressure float64 }

// LineCase is one alternative of the pressure along a line.
type LineCase struct {
	Case      string // "from the south, RA1"
	Stretches []Stretch
}

// zoneRule is a local zone along a line: where it may lie, its factor, and the largest area it covers.
type zoneRule struct {
	name     string
	kl, area float64
	from, to float64
}

// Line returns the alternatives of the net pressure, in the ultimate wind, on a purlin or girt that runs along u of face
// f at height or plan position v, over one span from u0 to u1, and carries a strip of the given width (m; for a roof
// measured up the slope). Each local zone is taken alone, elsewhere Kl is 1.0; a zone that is shorter than the span lies
// as near to mid-span as it may. Suction goes with roof set a and the highest internal pressure, pressure with set b and
// the lowest. Ka is 1.0.
func (l *Local) Line(f actions.Face, v, u0, u1, width float64) []LineCase {
	var out []LineCase
	for i := range l.winds {
		w := &l.winds[i]
		for _, out1 := range [2]bool{true, false} {
			k, cpi := 0, w.InternalU.Hi
			name := "from the " + w.Name() + ", outwards"
			if !out1 {
				k, cpi, name = 1, w.InternalU.Lo, "from the "+w.Name()+", inwards"
			}
			base := l.base(w, f, k, v, u0, u1)
			rules := []zoneRule{{kl: 1, from: u1, to: u1}}
			for _, r := range l.rules(w, f, v, out1) {
				r.from, r.to = placed(max(r.from, u0), min(r.to, u1), r.area/width, (u0+u1)/2)
				if r.to > r.from {
					rules = append(rules, r)
				}
			}
			for _, r := range rules {
				c := LineCase{Case: name}
				if r.name != "" {
					c.Case += ", " + r.name
				}
				c.Stretches = l.net(w, base, r, cpi)
				out = append(out, c)
			}
		}
	}
	return out
}

// placed is the part of [from, to], of at most the given length, that lies nearest to mid.
func placed(from, to, length, mid float64) (float64, float64) {
	if to-from <= length {
		return from, to
	}
	start := min(max(mid-length/2, from), to-length)
	return start, start + length
}

// base are the coefficients along the line, Kl = 1, as stretches of Cp,e.
func (l *Local) base(w *Wind, f actions.Face, k int, v, u0, u1 float64) []Stretch {
	e := w.External
	switch s := surface(f, w.From); {
	case s == "windward wall":
		return []Stretch{{u0, u1, e.Windward}}
	case s == "leeward wall":
		return []Stretch{{u0, u1, e.Leeward}}
	case s == "roof" && !w.Along:
		return []Stretch{{u0, u1, zoneAt(e.Roof, w.distance(v)).Cpe[k]}}
	case s == "roof":
		return alongLine(w, e.Roof, k, u0, u1)
	}
	return alongLine(w, e.Side, k, u0, u1)
}

// alongLine lays zones along the wind on a line from u0 to u1, in ascending u.
func alongLine(w *Wind, zs []Zone, k int, u0, u1 float64) (out []Stretch) {
	for i := range zs {
		z := zs[i]
		if w.distance(0) != 0 {
			z = zs[len(zs)-1-i]
		}
		a, c := w.distance(z.From), w.distance(z.To)
		from, to := max(u0, min(a, c)), min(u1, max(a, c))
		if to > from {
			out = append(out, Stretch{from, to, z.Cpe[k]})
		}
	}
	return out
}

// net turns coefficients into net pressures, with the factor of r where it lies.
func (l *Local) net(w *Wind, base []Stretch, r zoneRule, cpi float64) (out []Stretch) {
	q := w.Ultimate.Q
	add := func(from, to, cpe float64) {
		if to > from {
			out = append(out, Stretch{from, to, q * (cpe - cpi)})
		}
	}
	for _, s := range base {
		a, c := min(max(r.from, s.From), s.To), min(max(r.to, s.From), s.To)
		add(s.From, a, s.Pressure)
		factored := r.kl * s.Pressure
		if s.Pressure < 0 {
			factored = l.p.t.localSuction(nil, r.kl, s.Pressure)
		}
		add(a, c, factored)
		add(c, s.To, s.Pressure)
	}
	return out
}

// rules are the local zones that a line at v meets: those of suction (outwards) or of pressure.
func (l *Local) rules(w *Wind, f actions.Face, v float64, outwards bool) []zoneRule {
	t := l.p.t
	kl := func(name string) float64 { return t.at(nil, "local."+name) }
	s := surface(f, w.From)
	a := l.a.Wall
	if s == "roof" {
		a = l.a.Roof
	}
	whole, quarter, half := kl("area.whole")*a*a, kl("area.quarter")*a*a, kl("half")*a
	switch {
	case s == "windward wall" && !outwards:
		return []zoneRule{{"WA1", kl("WA1"), quarter, 0, infinite}}
	case s == "windward wall" || s == "leeward wall" || (!outwards && !l.free):
		return nil
	case s == "side wall":
		near := func(d float64) (float64, float64) {
			x, y := w.distance(0), w.distance(d)
			return min(x, y), max(x, y)
		}
		f1, t1 := near(a)
		f2, t2 := near(half)
		if tall(t, *w) {
			return []zoneRule{{"SA3", kl("SA3.SA3"), infinite, 0, infinite}, {"SA4", kl("SA3.SA4"), whole, f1, t1}, {"SA5", kl("SA3.SA5"), quarter, f2, t2}}
		}
		return []zoneRule{{"SA1", kl("SA1"), whole, f1, t1}, {"SA2", kl("SA2"), quarter, f2, t2}}
	}
	return l.roofRules(w, f, v, a)
}

// roofRules are the zones of suction on a roof line that runs along the building at plan position v.
func (l *Local) roofRules(w *Wind, f actions.Face, v, a float64) (out []zoneRule) {
	t, length := l.p.t, l.b.Length()
	whole, quarter, half := t.at(nil, "local.area.whole")*a*a, t.at(nil, "local.area.quarter")*a*a, t.at(nil, "local.half")*a
	eaves := min(v, l.b.Span-v)
	edge := func(name string, area, width float64) {
		if eaves <= width {
			out = append(out, zoneRule{name, l.roofKl(name), area, 0, length})
			return
		}
		out = append(out, zoneRule{name, l.roofKl(name), area, 0, width}, zoneRule{name, l.roofKl(name), area, length - width, length})
	}
	edge("RA1", whole, a)
	edge("RA2", quarter, half)
	if l.b.Pitch(f) < 10*rad {
		if eaves <= a {
			out = append(out, zoneRule{"RC1", l.roofKl("RC1"), quarter, 0, a}, zoneRule{"RC1", l.roofKl("RC1"), quarter, length - a, length})
		}
		return out
	}
	downwind := !w.Along && l.b.Shape == actions.Gable && (f == actions.NorthRoof) == (w.From == actions.SouthWall)
	if ridge := math.Abs(v - l.b.RidgeY); downwind && ridge <= a {
		out = append(out, zoneRule{"RA3", l.roofKl("RA3"), whole, 0, length})
		if ridge <= half {
			out = append(out, zoneRule{"RA4", l.roofKl("RA4"), quarter, 0, length})
		}
	}
	return out
}

// NetRange is the range of net pressure in Pa over all winds: In is the largest towards the surface from outside, Out the
// lowest (negative: outwards), each with its case.
type NetRange struct {
	In, Out         float64
	InCase, OutCase string
}

// Panel is the range of net pressure on a rectangle of a face: cladding, a door, a window. Its local factor is that of
// its area at its place nearest to an edge; Ka is 1.0. opening is its index where it is an opening, -1 where not: an
// opening's own pressure counts while it is shut.
func (l *Local) Panel(f actions.Face, u0, u1, v0, v1 float64, opening int) NetRange {
	r := NetRange{In: -infinite, Out: infinite}
	area := (u1 - u0) * (v1 - v0) * l.b.Stretch(f)
	for i := range l.winds {
		w := &l.winds[i]
		in := w.InternalU
		if opening >= 0 {
			in = l.p.t.Internal(nil, l.b, l.s, w.From, true, func(i int) bool { return i == opening })
		}
		lo, hi := l.panelCpe(w, f, u0, u1, v0, v1, area)
		if p := w.Ultimate.Q * (hi - in.Lo); p > r.In {
			r.In, r.InCase = p, fmt.Sprintf("wind from the %s, Cp,e %.2f, Cp,i %.2f (%s)", w.Name(), hi, in.Lo, in.States[in.LoState].Name)
		}
		if p := w.Ultimate.Q * (lo - in.Hi); p < r.Out {
			r.Out, r.OutCase = p, fmt.Sprintf("wind from the %s, Cp,e %.2f, Cp,i %.2f (%s)", w.Name(), lo, in.Hi, in.States[in.HiState].Name)
		}
	}
	return r
}

// panelCpe is the lowest and the highest Kl·Cp,e of a panel.
func (l *Local) panelCpe(w *Wind, f actions.Face, u0, u1, v0, v1, area float64) (lo, hi float64) {
	t, s := l.p.t, surface(f, w.From)
	switch s {
	case "windward wall":
		cpe := w.External.Windward * t.wallFactor(nil, s, l.a.Wall, 0, area, false)
		return cpe, cpe
	case "leeward wall":
		return w.External.Leeward, w.External.Leeward
	case "side wall":
		near := min(w.distance(u0), w.distance(u1))
		kl := t.wallFactor(nil, s, l.a.Wall, near, area, tall(t, *w))
		cpe := zoneAt(w.External.Side, near).Cpe[0]
		far := zoneAt(w.External.Side, max(w.distance(u0), w.distance(u1))-1e-9).Cpe[0]
		return t.localSuction(nil, kl, cpe), far
	}
	near, far := min(w.distance(v0), w.distance(v1)), max(w.distance(v0), w.distance(v1))
	if w.Along {
		near, far = min(w.distance(u0), w.distance(u1)), max(w.distance(u0), w.distance(u1))
	}
	for _, z := range w.External.Roof {
		if z.To > near && z.From < far {
			lo, hi = min(lo, z.Cpe[0]), max(hi, z.Cpe[1])
		}
	}
	kl := l.roofPanelFactor(w, f, u0, u1, v0, v1, area)
	if l.free { // both signs
		return kl * lo, kl * hi
	}
	return t.localSuction(nil, kl, lo), hi
}

func (l *Local) roofPanelFactor(w *Wind, f actions.Face, u0, u1, v0, v1, area float64) float64 {
	gable := max(0, min(u0, l.b.Length()-u1))
	eaves := max(0, min(v0, l.b.Span-v1))
	ridge := infinite
	flat := l.b.Pitch(f) < 10*rad
	if !flat && !w.Along && l.b.Shape == actions.Gable && (f == actions.NorthRoof) == (w.From == actions.SouthWall) {
		ridge = max(0, min(math.Abs(v0-l.b.RidgeY), math.Abs(v1-l.b.RidgeY)))
	}
	return l.roofFactor(min(gable, eaves), max(gable, eaves), ridge, area, flat)
}

// roofFactor is Kl of an area (m²) of the roof: edge is its distance to the nearest edge, corner to the second nearest,
// ridge that downwind of a ridge of 10° and more (infinite for none); m.
func (l *Local) roofFactor(edge, corner, ridge, area float64, flat bool) float64 {
	t, a := l.p.t, l.a.Roof
	whole, quarter, half := t.at(nil, "local.area.whole")*a*a, t.at(nil, "local.area.quarter")*a*a, t.at(nil, "local.half")*a
	k := 1.0
	for _, z := range []struct {
		name string
		in   bool
	}{
		{"RA1", edge <= a && area <= whole},
		{"RA2", edge <= half && area <= quarter},
		{"RC1", flat && corner <= a && area <= quarter},
		{"RA3", ridge <= a && area <= whole},
		{"RA4", ridge <= half && area <= quarter},
	} {
		if z.in {
			k = max(k, l.roofKl(z.name))
		}
	}
	return k
}

// Scheduled is one door or window in the schedule: what it must resist when shut, and what the result rests on.
type Scheduled struct {
	Opening int
	Name    string
	Face    actions.Face
	Area    float64 // m²
	NetRange
	State    actions.DoorState
	RestsOn  string
	LockPull float64 // N/m
}

// Schedule lists the strength pressures of every door and window, in the order of the building's openings.
func (l *Local) Schedule() []Scheduled {
	var out []Scheduled
	for i, o := range l.b.Openings {
		if l.b.Open(o.Face) {
			continue
		}
		d := Scheduled{Opening: i, Name: o.Name, Face: o.Face, Area: o.OpeningArea(), State: o.State, LockPull: o.LockPull}
		d.NetRange = l.Panel(o.Face, o.U0, o.U1, o.V0, o.V1, i)
		switch o.State {
		case actions.StaysShut:
			d.RestsOn = "the result rests on it staying shut: it, its frame, guides and fixings must carry these pressures"
		case actions.MayFail:
			d.RestsOn = "taken both shut and gone in the ultimate wind, shut in service"
		default:
			d.State, d.RestsOn = actions.MayBeOpen, "taken both shut and open"
		}
		out = append(out, d)
	}
	return out
}

// LocalZone is one local zone of walls or roof with the worst net pressures in it (Pa).
type LocalZone struct {
	Name, Where string
	Kl          float64
	Width       float64 // m, from the edge
	Area        float64 // m², the largest area with this factor
	NetRange
}

// Zones lists the local zones that the building has, each with the range of net pressure on the largest area that takes
// its factor, and first those of the middle of roof and walls (Kl = 1, area above a²).
func (l *Local) Zones() []LocalZone {
	t := l.p.t
	half, quarter := t.at(nil, "local.half"), t.at(nil, "local.area.quarter")
	var out []LocalZone
	add := func(name, where string, kl, width, area float64, faces ...actions.Face) {
		z := LocalZone{Name: name, Where: where, Kl: kl, Width: width, Area: area, NetRange: NetRange{In: -infinite, Out: infinite}}
		for _, f := range faces {
			if l.b.Open(f) || l.b.Outline(f) == nil {
				continue
			}
			z.NetRange = widest(z.NetRange, l.worst(f, kl, width))
		}
		if !math.IsInf(z.In, 0) {
			out = append(out, z)
		}
	}
	roofs := []actions.Face{actions.SouthRoof, actions.NorthRoof}
	walls := []actions.Face{actions.SouthWall, actions.NorthWall, actions.WestGable, actions.EastGable}
	r, w := l.a.Roof, l.a.Wall
	add("-", "roof, away from edges and on large areas", 1, 0, infinite, roofs...)
	add("RA1", "roof within a of an edge", l.roofKl("RA1"), r, r*r, roofs...)
	add("RA2", "roof within 0.5a of an edge", l.roofKl("RA2"), half*r, quarter*r*r, roofs...)
	if l.b.Pitch(actions.SouthRoof) < 10*rad {
		add("RC1", "roof within a of two edges", l.roofKl("RC1"), r, quarter*r*r, roofs...)
	}
	if l.free {
		return out
	}
	add("-", "walls, away from corners and on large areas", 1, 0, infinite, walls...)
	add("SA1", "side walls within a of the windward corner", t.at(nil, "local.SA1"), w, w*w, walls...)
	add("SA2", "side walls within 0.5a of the windward corner", t.at(nil, "local.SA2"), half*w, quarter*w*w, walls...)
	add("WA1", "windward walls anywhere, inwards", t.at(nil, "local.WA1"), infinite, quarter*w*w, walls...)
	return out
}

// worst is the range of net pressure on face f where the factor kl counts: suction at the windward edge of every wind for
// zones of an edge, the face's own extremes for the rest.
func (l *Local) worst(f actions.Face, kl, width float64) NetRange {
	r := NetRange{In: -infinite, Out: infinite}
	for i := range l.winds {
		w := &l.winds[i]
		lo, hi := infinite, -infinite
		switch s := surface(f, w.From); {
		case s == "windward wall":
			lo, hi = w.External.Windward, w.External.Windward
			if math.IsInf(width, 1) {
				hi *= kl
			}
		case s == "leeward wall":
			lo, hi = w.External.Leeward, w.External.Leeward
		case s == "side wall":
			lo, hi = l.spread(w.External.Side, kl, math.IsInf(width, 1))
		default:
			lo, hi = l.spread(w.External.Roof, kl, false)
		}
		r = widest(r, l.against(w, lo, hi))
	}
	return r
}

// spread is the lowest coefficient of zones with the factor on suction (all of it without, for zones of pressure), and
// the highest.
func (l *Local) spread(zs []Zone, kl float64, pressureOnly bool) (lo, hi float64) {
	lo, hi = infinite, -infinite
	for _, z := range zs {
		lo, hi = min(lo, z.Cpe[0]), max(hi, z.Cpe[1])
	}
	switch {
	case l.free:
		return kl * lo, kl * hi
	case !pressureOnly:
		lo = l.p.t.localSuction(nil, kl, lo)
	}
	return lo, hi
}

// against sets external extremes against the internal ones.
func (l *Local) against(w *Wind, lo, hi float64) NetRange {
	in := w.InternalU
	text := func(cpe, cpi float64) string {
		return fmt.Sprintf("wind from the %s, Kl·Cp,e %.2f, Cp,i %.2f", w.Name(), cpe, cpi)
	}
	return NetRange{In: w.Ultimate.Q * (hi - in.Lo), InCase: text(hi, in.Lo), Out: w.Ultimate.Q * (lo - in.Hi), OutCase: text(lo, in.Hi)}
}

func widest(a, b NetRange) NetRange {
	if b.In > a.In {
		a.In, a.InCase = b.In, b.InCase
	}
	if b.Out < a.Out {
		a.Out, a.OutCase = b.Out, b.OutCase
	}
	return a
}
