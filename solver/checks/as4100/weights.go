package as4100

import (
	"math"

	"leanbay/solver/checks"
)

// weights are what bounds multiply a member's greatest actions by: one over each design capacity, found once a member, and more by
// weightSlack, so that no bound falls below a check that divides.
type weights struct {
	tension, compression float64 // phi Nt, and phi times the least Nc
	inPlane, outOfPlane  float64 // of compression in 8.4: phi min(Ncx, Ncy), phi Ncy
	x, y                 float64 // phi Msx, phi Msy
	xPulled              float64 // as x, with what 8.3.2 allows beyond in tension
	my                   [2]float64
	lateral              [2]float64    // the least phi Mbx of a flange's segments, alpha_m at its least
	inner                [2]float64    // as lateral, without short free segments at the ends
	atEnd                [2][2]float64 // as lateral, of these by end
	shearX, shearY       float64
	torsion              float64
}

// weightSlack is many times the rounding of a product or a sum, and far below what any coefficient is known to.
const weightSlack = 1e-14

// weight is one over a design capacity, more by weightSlack. Where there is no capacity any action is too much, and where none is
// defined the check is not asked for.
func weight(capacity float64) float64 {
	switch {
	case !checks.Defined(capacity):
		return 0
	case capacity <= 0:
		return math.MaxFloat64
	}
	return (1 + weightSlack) / capacity
}

// weigh fills the weights of a member whose capacities are known.
func (c *Checker) weigh() {
	k, phi := c.Cap, c.Cap.phi
	w := &c.weights
	*w = weights{tension: weight(phi * c.base.Nt), compression: weight(phi * c.ncLeast)}
	w.inPlane, w.outOfPlane = weight(phi*min(c.base.Ncx, c.base.Ncy)), weight(phi*c.base.Ncy)
	if checks.Defined(c.incident) {
		return
	}
	w.x, w.y = weight(phi*k.Msx), weight(phi*k.Msy())
	w.xPulled = w.x / k.mrxTension
	for f := range 2 {
		w.my[f], w.lateral[f] = weight(phi*c.msy(f)), weight(phi*c.least[f])
	}
	for f := range 2 {
		w.inner[f], w.atEnd[0][f], w.atEnd[1][f] = weight(phi*c.inner[f]), weight(phi*c.atEnd[0][f]), weight(phi*c.atEnd[1][f])
	}
	w.shearX, w.shearY = weight(phi*c.shearX().vv), weight(phi*c.shearY().vv)
	w.torsion = weight(phi * k.Mz)
}
