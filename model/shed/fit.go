package shed

import (
	"encoding/binary"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/brief"
	"leanbay/solver"
)

// AppendLayout appends to b what a model has otherwise than by Fit: designs of a shed with equal layouts differ only in what Fit
// takes from them. It is exact, and no text.
func (d *Design) AppendLayout(b []byte) []byte {
	flag := func(v bool) {
		b = append(b, 0)
		if v {
			b[len(b)-1] = 1
		}
	}
	whole := func(n int) { b = binary.AppendVarint(b, int64(n)) }
	metres := func(v float64) { b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v)) }
	list := func(values []int) {
		whole(len(values))
		for _, n := range values {
			whole(n)
		}
	}
	text := func(s string) {
		whole(len(s))
		b = append(b, s...)
	}
	for _, g := range [2]brief.Group{brief.GroupEndColumn, brief.GroupEndRafter} { // see endGroup
		_, own := d.Steel[g]
		flag(own)
	}
	whole(len(d.Props))
	for i := range d.Props {
		metres(d.Props[i].Y)
		list(d.Props[i].Frames)
	}
	for _, wall := range d.Walls {
		whole(len(wall))
		for i := range wall {
			w := &wall[i]
			whole(w.Bay)
			text(string(w.Pattern))
			for _, v := range [4]float64{w.From, w.To, w.Mid, w.Reach} {
				metres(v)
			}
		}
	}
	list(d.Roof)
	text(string(d.RoofPattern))
	flag(d.Struts.Eaves)
	flag(d.Struts.Ridge)
	flag(d.Struts.Nodes)
	metres(d.PurlinSpacing)
	whole(len(d.RoofNodes))
	for _, y := range d.RoofNodes {
		metres(y)
	}
	whole(d.FlyBraces)
	text(d.Accident.key())
	return b
}

// Fit gives m the sections of d and what follows from them: the elements' properties, how far beams stand off columns, what holds
// open and hollow sections, where posts are loaded. d must have the layout of the design that m was built for; m is
// then to the last bit what Build makes of d, but for its cases. Effective lengths are left open.
func (m *Model) Fit(d *Design) {
	m.Design = d
	st := &m.Structure
	var steel Steel
	group := ""
	for i := range st.Members {
		mem := &st.Members[i]
		mem.EffectiveX, mem.EffectiveY = solver.EffectiveLength{}, solver.EffectiveLength{}
		if mem.Role == solver.RoleOther {
			continue
		}
		if mem.Group != group {
			steel, group = d.Of(brief.Group(mem.Group)), mem.Group
		}
		mem.Section, mem.Grade = steel.Section, steel.Grade
		// Shear deformation is left out: in members of these proportions it is under one per cent of deflection, and the code's
		// effective lengths do not know it.
		p := &steel.Section.Props
		for _, e := range mem.Elements {
			el := &st.Elements[e]
			el.A, el.Iz, el.Iy, el.It = p.A, p.Ix, p.Iy, p.J
		}
		if mem.Role == solver.RoleBeam {
			continue
		}
		mem.Restraints = m.holds[i].open
		if hollow(steel.Section) {
			mem.Restraints = m.holds[i].hollow
		}
	}
	for i := range m.Beams {
		m.seatBeam(&m.Beams[i])
		m.holdBeam(&m.Beams[i])
	}
	m.topLoads()
	for i, p := range m.Posts {
		mem, rest := &st.Members[p], &m.rests[i]
		mem.EndEccentricity = mem.Section.Dims.D/2 + rest.gap
		if rest.bothSides {
			mem.EndEccentricity /= 2
		}
	}
}

// seatBeam lets a beam's ends stand off columns by half the column and the gap of AS 4100 4.3.4.
func (m *Model) seatBeam(line *beamLine) {
	st := &m.Structure
	mem := &st.Members[line.member]
	off := func(s Seat, sense float64) r3.Vec {
		dir := r3.Vec{X: 1}
		if s.Along {
			dir = r3.Vec{Y: 1}
		}
		return r3.Scale(sense*FaceOffset(m.Design.Of(s.Column).Section, s.Along), dir)
	}
	if s := line.seats[0]; s.Column != "" {
		st.Elements[mem.Elements[0]].OffsetI = off(s, 1)
	}
	if s := line.seats[1]; s.Column != "" {
		st.Elements[mem.Elements[len(mem.Elements)-1]].OffsetJ = off(s, -1)
	}
	mem.Length = 0
	for _, e := range mem.Elements {
		mem.Length += m.ElementLength(e)
	}
}

// holdBeam holds a beam at its end joints, and its top flange sideways at every joist of a floor that the brief calls a diaphragm.
// Joists on the flange do not keep the beam from twisting.
func (m *Model) holdBeam(line *beamLine) {
	mem, floor := &m.Structure.Members[line.member], &m.Shed.Mezzanines[line.mezzanine]
	end := solver.Restraint{Flange: solver.BothFlanges, Kind: solver.RestraintF, Source: "end joint"}
	list := append(mem.Restraints[:0], end)
	if line.primary && floor.Diaphragm {
		for x := floor.JoistSpacing; x < mem.Length-anchorReach; x += floor.JoistSpacing {
			list = append(list, solver.Restraint{Station: x, Flange: solver.TopFlange, Kind: solver.RestraintL, Source: "joist of the floor's diaphragm"})
		}
	}
	end.Station = mem.Length
	mem.Restraints = append(list, end)
}

// topLoads says where purlins, girts and joists load the outer flange: they may move with it where they hold nothing.
func (m *Model) topLoads() {
	st, sec := &m.Structure, &m.Shed.brief.Building.Secondary
	for i := range st.Members {
		switch mem := &st.Members[i]; mem.Role {
		case solver.RoleRafter:
			if !sec.Purlins.Flush {
				mem.TopLoads = m.Design.PurlinSpacing
			}
		case solver.RoleColumn, solver.RoleMullion:
			if !sec.Girts.Flush {
				mem.TopLoads = m.Design.GirtSpacing
			}
		}
	}
	for i := range m.Beams {
		if line := &m.Beams[i]; line.primary {
			st.Members[line.member].TopLoads = m.Shed.Mezzanines[line.mezzanine].JoistSpacing
		}
	}
}
