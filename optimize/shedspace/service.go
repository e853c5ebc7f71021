package shedspace

import (
	"fmt"
	"math"
	"slices"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/frame"
)

// serviceChecks analyses the service combinations and compares movements with the brief's limits.
func (j *judge) serviceChecks(m *shed.Model, a *Assessment) error {
	standing := &j.whole
	if k := float64(j.p.Brief.Proposal.Bases.ServiceSpring); k > 0 {
		defer springFeet(m, k)()
		if err := j.sprung.load(&m.Structure, j.quick); err != nil {
			return err
		}
		standing = &j.sprung
	}
	if err := j.analyse(standing, m.Structure.Combinations, j.p.bench.service, frame.TensionOnlySecondOrder, a); err != nil {
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
	slip := rodSlip(m, float64(j.p.Brief.Actions.RodSlack))
	for k := range j.combos {
		if j.combos[k].State != solver.Service {
			continue
		}
		kinds := kindsIn(&m.Structure, &j.combos[k])
		v := &movements{j: j, m: m, a: a, k: k, u: j.res[k].U, limits: &j.p.Brief.Limits, slip: slip}
		if kinds.wind {
			v.sway()
			v.adjacent()
			v.mullions()
		}
		v.rafters(kinds)
		v.floors(kinds)
	}
}

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

// beyond says whether member i, measured from a line that is c0 and c1 away at its ends (m), may lie farther off than least (m)
// somewhere. In a hurry a bound decides; else it may always.
func (v *movements) beyond(i int, c0, c1, least float64) bool {
	if !v.j.quick {
		return true
	}
	list := v.j.res[v.k].Bows(i, v.j.bows[:0])
	v.j.bows = list
	length := v.m.Structure.Members[i].Length
	for k := range list {
		b := &list[k]
		t := b.X / length
		if math.Abs((1-t)*c0+t*c1+b.Y)+b.Off > least {
			return true
		}
	}
	return len(list) == 0
}

// known is the utilisation that a limit has already; below zero if nothing was noted.
func (v *movements) known(limit string) float64 {
	for i := range v.a.Service {
		if v.a.Service[i].Limit == limit {
			return v.a.Service[i].Utilisation
		}
	}
	return -1
}

// bow is the greatest distance of member i from the straight line between its ends (m), and false if it is no worse than the
// utilisation that the limit has already.
func (v *movements) bow(i int, limit string, allowed float64) (bow float64, worse bool) {
	if !v.beyond(i, 0, 0, v.known(limit)*allowed) {
		return 0, false
	}
	v.j.res[v.k].Diagram(i, &v.j.curve)
	bow, _, _, _ = v.j.curve.MaxChordDeflection()
	return bow, true
}

// note keeps the worst of each limit.
func (v *movements) note(limit, where string, value, allowed float64) {
	r := ServiceResult{limit, where, v.j.combos[v.k].ID, value, allowed, math.Abs(value) / allowed}
	for i := range v.a.Service {
		if v.a.Service[i].Limit == limit {
			if r.Utilisation > v.a.Service[i].Utilisation {
				v.a.Service[i] = r
			}
			return
		}
	}
	v.a.Service = append(v.a.Service, r)
}

func (v *movements) at(node int, d solver.DOF) float64 { return v.u[6*node+int(d)] }

// sway compares each eaves' movement, across and along the building, with its height.
func (v *movements) sway() {
	for f, pair := range v.m.Eaves {
		across := 0.0
		switch f {
		case 0:
			across = v.slip[2]
		case len(v.m.Eaves) - 1:
			across = v.slip[3]
		}
		for side, n := range pair {
			h := v.m.Structure.Nodes[n].Pos.Z
			name := v.m.Structure.Nodes[n].Name
			v.note(fmt.Sprintf("eaves sway across, H/%g", float64(v.limits.EavesSway)), name, further(v.at(n, solver.UY), across), h/float64(v.limits.EavesSway))
			v.note(fmt.Sprintf("eaves sway along, H/%g", float64(v.limits.EavesSway)), name, further(v.at(n, solver.UX), v.slip[side]), h/float64(v.limits.EavesSway))
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
			v.note(fmt.Sprintf("adjacent frames, bay/%g", float64(v.limits.AdjacentFrames)), fmt.Sprintf("bay %d, column line %c", f+1, 'A'+side),
				d, (s.Frames[f+1]-s.Frames[f])/float64(v.limits.AdjacentFrames))
		}
	}
}

// mullions compares each mullion's bow with its height.
func (v *movements) mullions() {
	limit := fmt.Sprintf("mullion, height/%g", float64(v.limits.MullionWind))
	for _, gable := range v.m.Mullions {
		for _, i := range gable {
			mem := &v.m.Structure.Members[i]
			allowed := mem.Length / float64(v.limits.MullionWind)
			if bow, worse := v.bow(i, limit, allowed); worse {
				v.note(limit, mem.ID, bow, allowed)
			}
		}
	}
}

// rafters compares each rafter line's drop between its supports with the span: permanent action alone, imposed action
// alone, and wind. The drop is that of the rafter's nodes and of the pieces between them, less the mean of its supports.
func (v *movements) rafters(kinds actionKinds) {
	var limit brief.Ratio
	var name string
	switch {
	case kinds.wind:
		limit, name = v.limits.RafterWind, "rafter, service wind, span/%g"
	case kinds.roof && !kinds.permanent:
		limit, name = v.limits.RafterImposed, "rafter, imposed, span/%g"
	case kinds.permanent && !kinds.roof && !kinds.floor:
		limit, name = v.limits.RafterPermanent, "rafter, permanent, span/%g"
	default:
		return
	}
	name = fmt.Sprintf(name, float64(limit))
	for f := range v.m.Rafters {
		allowed := slices.Max(rafterSpans(v.m, f)) / float64(limit)
		v.note(name, fmt.Sprintf("frame %d", f+1), v.rafterDrop(f, v.known(name)*allowed), allowed)
	}
}

// rafterDrop is the greatest vertical movement of frame f's rafters relative to the eaves (m). Curves that move no farther than
// least (m) are left out: the answer is then no more than that.
func (v *movements) rafterDrop(f int, least float64) (drop float64) {
	base := (v.at(v.m.Eaves[f][0], solver.UZ) + v.at(v.m.Eaves[f][1], solver.UZ)) / 2
	for _, r := range v.m.Rafters[f] {
		for _, e := range v.m.Structure.Members[r].Elements {
			el := &v.m.Structure.Elements[e]
			for _, n := range [2]int{el.I, el.J} {
				if d := v.at(n, solver.UZ) - base; math.Abs(d) > math.Abs(drop) {
					drop = d
				}
			}
		}
		if !v.beyond(r, v.chordDrop(r, 0)-base, v.chordDrop(r, v.m.Structure.Members[r].Length)-base, math.Max(least, math.Abs(drop))) {
			continue
		}
		v.j.res[v.k].Diagram(r, &v.j.curve)
		bow, x, _, _ := v.j.curve.MaxChordDeflection()
		if d := v.chordDrop(r, x) + bow - base; math.Abs(d) > math.Abs(drop) {
			drop = d
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
	limit, name := v.limits.FloorTotal, "floor beam, total, span/%g"
	if !kinds.permanent {
		limit, name = v.limits.FloorImposed, "floor beam, imposed, span/%g"
	}
	name = fmt.Sprintf(name, float64(limit))
	for _, i := range v.m.BeamMembers() {
		mem := &v.m.Structure.Members[i]
		allowed := mem.Length / float64(limit)
		if bow, worse := v.bow(i, name, allowed); worse {
			v.note(name, mem.ID, bow, allowed)
		}
	}
}
