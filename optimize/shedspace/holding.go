package shedspace

import (
	"errors"
	"math"
	"slices"
	"strings"

	"leanbay/catalog"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/checks"
	"leanbay/solver/checks/as4100"
	"leanbay/solver/checks/asnzs4600"
)

// HoldingForce is what the purlins that hold rafters' flanges carry to the bracing.
type HoldingForce struct {
	Force       float64 // N, in the purlin next to its anchor
	Combination string
	Purlin      checks.Result // the purlin under its own loads and this force as a strut
}

// holdingForce finds the greatest force along a purlin line that restrains the rafters of one slope: 0.025 of the greatest
// flange force of the worst rafter and 0.0125 of each beyond, seven at most (AS 4100 5.4.3). A rafter's flange force is taken
// at its worst station, whichever purlin is near it. It is 0 where no purlin holds a rafter.
func (j *judge) holdingForce(m *shed.Model, out *HoldingForce) {
	var forces []float64
	for k := range j.combos {
		for slope := range m.Rafters[0] {
			forces = forces[:0]
			for f := range m.Rafters {
				if i := m.Rafters[f][slope]; heldByPurlin(&m.Structure.Members[i]) {
					forces = append(forces, j.flangeForce(&m.Structure.Members[i], i, k))
				}
			}
			slices.SortFunc(forces, func(a, b float64) int { return sign(b - a) })
			if f := as4100.RestraintForce(forces...); f > out.Force {
				out.Force, out.Combination = f, j.combos[k].ID
			}
		}
	}
}

func heldByPurlin(m *solver.Member) bool {
	return slices.ContainsFunc(m.Restraints, func(r solver.Restraint) bool { return strings.HasPrefix(r.Source, "purlin") })
}

// flangeForce is the greatest force of a member's flange in combination k: M over the distance of the flanges, and half the
// axial force.
func (j *judge) flangeForce(m *solver.Member, i, k int) float64 {
	d := &m.Section.Dims
	arm := d.D - math.Max(d.Tf, d.T)
	j.res[k].Diagram(i, &j.curve)
	bend, _ := j.curve.MaxAbs(solver.Mz)
	axial, _ := j.curve.MaxAbs(solver.N)
	return math.Abs(bend)/arm + math.Abs(axial)/2
}

// holdingPurlin checks the design's purlin with the holding force as a strut besides its own loads.
func (j *judge) holdingPurlin(h *HoldingForce) error {
	sec := j.set.secondaries.Sections.Purlin
	if h.Force == 0 || sec == nil {
		return nil
	}
	for _, r := range j.set.secondaries.Results {
		if r.Group != string(brief.GroupPurlin) {
			continue
		}
		n := r.Need
		n.Strut = h.Force
		// A table of its own: the bench's are only read once the search runs.
		got, err := asnzs4600.NewTable(j.p.bench.coldFormed, j.p.bench.stock, []*catalog.Section{sec}).Lightest(n)
		if err != nil && !errors.Is(err, asnzs4600.ErrNonePasses) {
			return err
		}
		h.Purlin = got.Governing
	}
	return nil
}
