package shedspace

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/brief"
	"leanbay/model/shed"
)

// rodSlip is how far the tops of each long wall and gable move along it before its rods are taut, for a slack (m) in each
// rod's own length: a panel racks by slack over the cosine of the rod's slope, and panels above each other add up. The
// bay that moves farthest counts, since only then do all rods work as they are analysed. Walls without rods do not slip.
func rodSlip(m *shed.Model, slack float64) (slip [4]float64) {
	if slack == 0 {
		return slip
	}
	st := &m.Structure
	for side := range slip {
		type panel struct{ from, low int } // place along the wall and height of its lower corner, mm
		racks := map[panel]float64{}
		bays := map[int]float64{}
		var order []panel
		for _, i := range m.Walls[side] {
			if mem := &st.Members[i]; mem.Group == string(brief.GroupWallRod) {
				e := &st.Elements[mem.Elements[0]]
				p, q := st.Nodes[e.I].Pos, st.Nodes[e.J].Pos
				from, to := p.X, q.X
				if side >= longWalls {
					from, to = p.Y, q.Y
				}
				key := panel{int(math.Round(1e3 * math.Min(from, to))), int(math.Round(1e3 * math.Min(p.Z, q.Z)))}
				if _, ok := racks[key]; !ok {
					order = append(order, key)
				}
				if run := math.Abs(to - from); run > 0 {
					racks[key] = math.Max(racks[key], slack*r3.Norm(r3.Sub(q, p))/run)
				}
			}
		}
		for _, k := range order {
			bays[k.from] += racks[k]
			slip[side] = math.Max(slip[side], bays[k.from])
		}
	}
	return slip
}
