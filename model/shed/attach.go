package shed

import (
	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/brief"
	"leanbay/solver"
)

// Load puts the actions on the model: the shared loads at purlins and girts, floors on their beams, and the shares of
// weight that notional and earthquake cases ask for. The joists' own mass (kg/m²) rests on the beams.
func (m *Model) Load(l *Loads, joistMass float64) { m.LoadIn(&LoadRoom{}, l, joistMass) }

// LoadIn is Load with the cases in storage that serves again: those of the model loaded in it before are gone.
func (m *Model) LoadIn(room *LoadRoom, l *Loads, joistMass float64) {
	room.begin(l)
	st := &m.Structure
	st.Cases, st.Table = room.cases, nil
	if room.Tabled {
		st.Table = l.table
	}
	for i := range st.Cases {
		m.floorLoads(&st.Cases[i], l, i, joistMass)
		if l.Source[i].SelfWeight {
			m.hangRods(&st.Cases[i])
			m.settle(&st.Cases[i])
		}
	}
	for i := range st.Cases {
		if src := &l.Source[i]; src.Fraction != 0 {
			m.sideways(i, src, room)
		}
	}
	room.end()
	st.Combinations = l.Combinations
}

// floorLoads appends the line loads of a case's floor patches on the beams that carry joists.
func (m *Model) floorLoads(c *solver.Case, l *Loads, i int, joistMass float64) {
	for _, p := range l.Source[i].Floors {
		for _, b := range m.Beams {
			if b.primary && m.Shed.Mezzanines[b.mezzanine].Floor == p.Floor {
				m.beamLoad(c, &b, p.X0, p.X1, p.Y0, p.Y1, p.Pressure)
			}
		}
	}
	if l.Source[i].SelfWeight && joistMass > 0 {
		for _, b := range m.Beams {
			if b.primary {
				m.beamLoad(c, &b, b.x0, b.x1, b.y0, b.y1, joistMass*brief.Gravity)
			}
		}
	}
}

// hangRods puts half of each rod's weight on its two nodes.
func (m *Model) hangRods(c *solver.Case) {
	for i := range m.Structure.Members {
		mem := &m.Structure.Members[i]
		e := &m.Structure.Elements[mem.Elements[0]]
		if !e.Bar || mem.Section == nil {
			continue
		}
		half := r3.Vec{Z: -mem.Section.Props.Mass * mem.Length * brief.Gravity / 2}
		c.Nodal = append(c.Nodal, solver.NodalLoad{Node: e.I, F: half}, solver.NodalLoad{Node: e.J, F: half})
	}
}

// beamLoad adds a pressure on a plan rectangle to a beam, as the joists bring it: uniform along the beam where the
// rectangle covers the strip that the beam carries. The whole load reaches the beam, also from the short lengths
// between its pinned ends and the column's axis.
func (m *Model) beamLoad(c *solver.Case, b *beamLine, x0, x1, y0, y1, pressure float64) {
	x0, x1 = max(x0, b.x0), min(x1, b.x1)
	y0, y1 = max(y0, b.y0), min(y1, b.y1)
	if x0 >= x1 || y0 >= y1 {
		return
	}
	member := &m.Structure.Members[b.member]
	along, from, to, grid := x1-x0, x0, x1, b.x0
	full := b.x1 - b.x0
	if m.Shed.Mezzanines[b.mezzanine].JoistsAlongX { // the beam runs along Y
		along, from, to, grid, full = y1-y0, y0, y1, b.y0, b.y1-b.y0
	}
	total := pressure * (x1 - x0) * (y1 - y0)
	scale := member.Length / full
	f, t := (from-grid)*scale, (to-grid)*scale
	if t-f < 1e-6 || along < 1e-6 {
		return
	}
	q := r3.Vec{Z: -total / (t - f)}
	c.Line = append(c.Line, solver.LineLoad{Member: b.member, From: f, To: t, Q1: q, Q2: q})
}
