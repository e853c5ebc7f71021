package shedspace

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/frame"
)

// serviceChecks compares movements under the service combinations with the brief's limits. answered says that analyseWhole was the
// last to analyse the whole shed; where bases have springs in service, that does not count.
func (j *judge) serviceChecks(m *shed.Model, answered bool, a *Assessment) error {
	if k := float64(j.p.Brief.Proposal.Bases.ServiceSpring); k > 0 {
		defer springFeet(m, k)()
		if err := j.sprung.loadUnder(&m.Structure, j.p.bench.serviceCases, j.quick); err != nil {
			return err
		}
		if err := j.analyse(&j.sprung, m.Structure.Combinations, j.p.bench.service, frame.TensionOnlySecondOrder, a); err != nil {
			return err
		}
	} else if answered {
		j.waitingService(m, a)
	} else if err := j.analyse(&j.whole, m.Structure.Combinations, j.p.bench.service, frame.TensionOnlySecondOrder, a); err != nil {
		return err
	}
	if a.Mechanism != "" || len(a.Trouble) > 0 {
		return nil
	}
	j.gatherService(&m.Structure)
	j.serviceLimits(m, a)
	return nil
}

// serviceLimits compares the movements under those of the analysed combinations that are of service with the brief's limits.
func (j *judge) serviceLimits(m *shed.Model, a *Assessment) {
	j.floorTest(m, a)
	v := movements{j: j, m: m, a: a, limits: &j.p.Brief.Limits, slip: rodSlip(m, float64(j.p.Brief.Actions.RodSlack))}
	j.doubts = j.doubts[:0]
	for k := range j.combos {
		if j.combos[k].State != solver.Service {
			continue
		}
		kinds := kindsIn(&m.Structure, &j.combos[k])
		v.under(k)
		if kinds.wind {
			v.sway()
			v.adjacent()
			v.mullions()
		}
		v.rafters(kinds)
		v.floors(kinds)
	}
	v.settleDoubts()
}

// settleDoubts draws the curves of the doubts that may be the worst of their limit: of each limit that with the greatest bound first, of
// the others those that closer bounds have in doubt still.
func (v *movements) settleDoubts() {
	for limit := range v.a.Service {
		if v.a.Service[limit].Utilisation < 0 {
			v.settleGreatest(limit)
		}
	}
	inDoubt := func(d *doubt) bool { return d.most > v.a.Service[d.limit].Utilisation }
	list := slices.DeleteFunc(v.j.doubts, func(d doubt) bool { return !inDoubt(&d) })
	byBound := func(x, y doubt) int { return cmp.Compare(y.most, x.most) }
	slices.SortStableFunc(list, byBound)
	for i := range list {
		v.under(list[i].combination)
		v.bound(&list[i], (*frame.Result).Bows)
	}
	slices.SortStableFunc(list, byBound)
	for i := range list {
		if d := &list[i]; inDoubt(d) {
			v.under(d.combination)
			v.settle(d)
		}
	}
}

// settleGreatest draws the curves of the doubt of a limit that has the greatest bound, the first of equal ones, if there is one.
func (v *movements) settleGreatest(limit int) {
	var first *doubt
	for i := range v.j.doubts {
		if d := &v.j.doubts[i]; d.limit == limit && (first == nil || d.most > first.most) {
			first = d
		}
	}
	if first == nil {
		return
	}
	v.under(first.combination)
	v.settle(first)
	first.most = 0
}

// bound sets a bound of a doubt's utilisation from bows along its members.
func (v *movements) bound(d *doubt, bows bowsOf) {
	if d.member >= 0 {
		d.most = v.farthest(d.member, 0, 0, bows)
	} else {
		d.most = v.farthestRafter(d.frame, bows)
	}
	d.most /= d.allowed
}

// bowsOf lists bows along a member: Result.Bows or RoughBows.
type bowsOf = func(r *frame.Result, member int, dst []frame.Bow) []frame.Bow

// actionKinds says what a combination holds.
type actionKinds struct{ wind, roof, floor, permanent bool }

func kindsIn(st *solver.Structure, c *solver.Combination) actionKinds {
	var k actionKinds
	for _, t := range c.Terms {
		switch st.Cases[t.Case].Kind {
		case solver.KindWindService:
			k.wind = true
		case solver.KindRoofImposed, solver.KindSnow:
			k.roof = true
		case solver.KindFloorImposed:
			k.floor = true
		case solver.KindPermanent, solver.KindPermanentExtra:
			k.permanent = true
		}
	}
	return k
}

// movements reads one combination's displacements.
type movements struct {
	j      *judge
	m      *shed.Model
	a      *Assessment
	k      int
	u      []float64
	limits *brief.Limits
	slip   [4]float64 // m, along each long wall and gable before its rods are taut
}

// under takes combination k in hand.
func (v *movements) under(k int) { v.k, v.u = k, v.j.res[k].U }

// doubt is a curve that may be the worst of its limit: a member's bow or, without a member, the drop of a frame's rafters.
type doubt struct {
	limit         int // in Assessment.Service
	combination   int
	member, frame int     // one of them is -1
	allowed       float64 // m
	most          float64 // a bound of the utilisation
}

// consider settles a doubt, in a hurry not before all are known, the worst first: few curves are then drawn. The limit takes its
// place in the list either way.
func (v *movements) consider(d doubt) {
	if !v.j.quick {
		v.settle(&d)
		return
	}
	v.bound(&d, (*frame.Result).RoughBows)
	v.j.doubts = append(v.j.doubts, d)
}

// settle draws the curves of a doubt.
func (v *movements) settle(d *doubt) {
	if d.member < 0 {
		if r := v.noteAt(d.limit, v.rafterDrop(d.frame), d.allowed); r != nil {
			r.Where = v.j.limitNames.frame(d.frame)
		}
		return
	}
	v.j.res[v.k].MajorCurve(d.member, &v.j.curve)
	bow, _, _, _ := v.j.curve.MaxChordDeflection()
	if r := v.noteAt(d.limit, bow, d.allowed); r != nil {
		r.Where = v.m.Structure.Members[d.member].ID
	}
}

// farthest bounds how far member i lies anywhere from a line that is c0 and c1 away from the member's chord at its ends (m); infinite
// where no bound is known.
func (v *movements) farthest(i int, c0, c1 float64, bows bowsOf) float64 {
	list := bows(&v.j.res[v.k], i, v.j.bows[:0])
	v.j.bows = list
	if len(list) == 0 {
		return math.Inf(1)
	}
	length, most := v.m.Structure.Members[i].Length, 0.0
	for k := range list {
		b := &list[k]
		t := b.X / length
		most = math.Max(most, math.Abs((1-t)*c0+t*c1+b.Y)+b.Off)
	}
	return most
}

// entry finds or makes a limit's place in the list; below zero is the utilisation of one that nothing was noted for.
func (v *movements) entry(limit string) int {
	for i := range v.a.Service {
		if v.a.Service[i].Limit == limit {
			return i
		}
	}
	v.a.Service = append(v.a.Service, ServiceResult{Limit: limit, Utilisation: -1})
	return len(v.a.Service) - 1
}

// note keeps the worst of each limit; what it returns wants to be told where it is, nil if it is not the worst.
func (v *movements) note(limit string, value, allowed float64) *ServiceResult {
	return v.noteAt(v.entry(limit), value, allowed)
}

// noteAt is note for a limit's place in the list.
func (v *movements) noteAt(limit int, value, allowed float64) *ServiceResult {
	r := &v.a.Service[limit]
	u := math.Abs(value) / allowed
	if u <= r.Utilisation {
		return nil
	}
	*r = ServiceResult{Limit: r.Limit, Combination: v.j.combos[v.k].ID, Value: value, Allowed: allowed, Utilisation: u}
	return r
}

func (v *movements) at(node int, d solver.DOF) float64 { return v.u[6*node+int(d)] }

// sway compares each eaves' movement, across and along the building, with its height.
func (v *movements) sway() {
	names, ratio := &v.j.limitNames, float64(v.limits.EavesSway)
	for f, pair := range v.m.Eaves {
		across := 0.0
		switch f {
		case 0:
			across = v.slip[2]
		case len(v.m.Eaves) - 1:
			across = v.slip[3]
		}
		for side, n := range pair {
			node := &v.m.Structure.Nodes[n]
			if r := v.note(names.across, further(v.at(n, solver.UY), across), node.Pos.Z/ratio); r != nil {
				r.Where = node.Name
			}
			if r := v.note(names.along, further(v.at(n, solver.UX), v.slip[side]), node.Pos.Z/ratio); r != nil {
				r.Where = node.Name
			}
		}
	}
}

// further is a movement with a slip in its own sense.
func further(u, slip float64) float64 { return u + math.Copysign(slip, u) }

// adjacent compares the difference between neighbouring frames with their spacing.
func (v *movements) adjacent() {
	s := v.m.Shed
	for f := 0; f+1 < len(s.Frames); f++ {
		for side := range 2 {
			d := v.at(v.m.Eaves[f+1][side], solver.UY) - v.at(v.m.Eaves[f][side], solver.UY)
			if r := v.note(v.j.limitNames.adjacent, d, (s.Frames[f+1]-s.Frames[f])/float64(v.limits.AdjacentFrames)); r != nil {
				r.Where = v.j.limitNames.bay(f, side)
			}
		}
	}
}

// mullions compares each mullion's bow with its height.
func (v *movements) mullions() {
	for _, gable := range v.m.Mullions {
		for _, i := range gable {
			v.consider(doubt{limit: v.entry(v.j.limitNames.mullion), combination: v.k, member: i, frame: -1, allowed: v.m.Structure.Members[i].Length / float64(v.limits.MullionWind)})
		}
	}
}

// rafters compares each rafter line's drop between its supports with the span: permanent action alone, imposed action
// alone, and wind. The drop is that of the rafter's nodes and of the pieces between them, less the mean of its supports, and the span
// the longest between columns and props.
func (v *movements) rafters(kinds actionKinds) {
	var limit brief.Ratio
	var name string
	switch {
	case kinds.wind:
		limit, name = v.limits.RafterWind, v.j.limitNames.rafterWind
	case kinds.roof && !kinds.permanent:
		limit, name = v.limits.RafterImposed, v.j.limitNames.rafterImposed
	case kinds.permanent && !kinds.roof && !kinds.floor:
		limit, name = v.limits.RafterPermanent, v.j.limitNames.rafterPermanent
	default:
		return
	}
	entry := v.entry(name)
	for f := range v.m.Rafters {
		v.consider(doubt{limit: entry, combination: v.k, member: -1, frame: f, allowed: slices.Max(v.m.Spans[f]) / float64(limit)})
	}
}

// eavesLevel is how far the eaves of frame f rose, on average (m).
func (v *movements) eavesLevel(f int) float64 {
	return (v.at(v.m.Eaves[f][0], solver.UZ) + v.at(v.m.Eaves[f][1], solver.UZ)) / 2
}

// rafterDrop is the greatest vertical movement of frame f's rafters relative to the eaves (m).
func (v *movements) rafterDrop(f int) (drop float64) {
	base := v.eavesLevel(f)
	for _, r := range v.m.Rafters[f] {
		if d := v.nodeDrop(r, base); math.Abs(d) > math.Abs(drop) {
			drop = d
		}
		if v.j.quick && v.farthest(r, v.chordDrop(r, 0)-base, v.chordDrop(r, v.m.Structure.Members[r].Length)-base, (*frame.Result).Bows) <= math.Abs(drop) {
			continue
		}
		v.j.res[v.k].MajorCurve(r, &v.j.curve)
		bow, x, _, _ := v.j.curve.MaxChordDeflection()
		if d := v.chordDrop(r, x) + bow - base; math.Abs(d) > math.Abs(drop) {
			drop = d
		}
	}
	return drop
}

// farthestRafter bounds rafterDrop's magnitude.
func (v *movements) farthestRafter(f int, bows bowsOf) float64 {
	base, most := v.eavesLevel(f), 0.0
	for _, r := range v.m.Rafters[f] {
		most = math.Max(most, math.Abs(v.nodeDrop(r, base)))
		most = math.Max(most, v.farthest(r, v.chordDrop(r, 0)-base, v.chordDrop(r, v.m.Structure.Members[r].Length)-base, bows))
	}
	return most
}

// nodeDrop is the greatest vertical movement of member r's nodes from base (m).
func (v *movements) nodeDrop(r int, base float64) (drop float64) {
	for _, e := range v.m.Structure.Members[r].Elements {
		el := &v.m.Structure.Elements[e]
		for _, n := range [2]int{el.I, el.J} {
			if d := v.at(n, solver.UZ) - base; math.Abs(d) > math.Abs(drop) {
				drop = d
			}
		}
	}
	return drop
}

// chordDrop is the vertical movement of member r's chord at station x (m).
func (v *movements) chordDrop(r int, x float64) float64 {
	mem := &v.m.Structure.Members[r]
	i := v.m.Structure.Elements[mem.Elements[0]].I
	j := v.m.Structure.Elements[mem.Elements[len(mem.Elements)-1]].J
	t := x / mem.Length
	return (1-t)*v.at(i, solver.UZ) + t*v.at(j, solver.UZ)
}

// floors compares the beams' bow with their span.
func (v *movements) floors(kinds actionKinds) {
	if !kinds.floor || kinds.wind {
		return
	}
	limit, name := v.limits.FloorTotal, v.j.limitNames.floorTotal
	if !kinds.permanent {
		limit, name = v.limits.FloorImposed, v.j.limitNames.floorImposed
	}
	for _, i := range v.m.BeamMembers() {
		v.consider(doubt{limit: v.entry(name), combination: v.k, member: i, frame: -1, allowed: v.m.Structure.Members[i].Length / float64(limit)})
	}
}

// limitNames are the names of the service limits on movements, with the brief's ratios, and of places.
type limitNames struct {
	across, along, adjacent, mullion           string
	rafterWind, rafterImposed, rafterPermanent string
	floorTotal, floorImposed, floorTest        string

	frames []string    // as far as they were asked for
	bays   [][2]string // likewise, by column line
}

// frame names a frame (0-based).
func (n *limitNames) frame(f int) string {
	for len(n.frames) <= f {
		n.frames = append(n.frames, fmt.Sprintf("frame %d", len(n.frames)+1))
	}
	return n.frames[f]
}

// bay names a column line (0, 1) in a bay (0-based).
func (n *limitNames) bay(b, line int) string {
	for len(n.bays) <= b {
		i := len(n.bays) + 1
		n.bays = append(n.bays, [2]string{fmt.Sprintf("bay %d, column line A", i), fmt.Sprintf("bay %d, column line B", i)})
	}
	return n.bays[b][line]
}

func namesOf(l *brief.Limits) limitNames {
	name := func(format string, r brief.Ratio) string { return fmt.Sprintf(format, float64(r)) }
	return limitNames{
		across: name("eaves sway across, H/%g", l.EavesSway), along: name("eaves sway along, H/%g", l.EavesSway),
		adjacent: name("adjacent frames, bay/%g", l.AdjacentFrames), mullion: name("mullion, height/%g", l.MullionWind),
		rafterWind: name("rafter, service wind, span/%g", l.RafterWind), rafterImposed: name("rafter, imposed, span/%g", l.RafterImposed),
		rafterPermanent: name("rafter, permanent, span/%g", l.RafterPermanent),
		floorTotal:      name("floor beam, total, span/%g", l.FloorTotal), floorImposed: name("floor beam, imposed, span/%g", l.FloorImposed),
		floorTest: fmt.Sprintf("floor under 1 kN, %.1f mm", float64(l.FloorTest)*1e3),
	}
}
