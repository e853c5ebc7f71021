package frame

import (
	"math"
	"slices"
)

// lanes is how many combinations go side by side through the quick rounds of second order: two 4-wide vectors, and as many
// right-hand sides as the sparse solver takes at a time.
const lanes = 8

// row8 is one number of every lane.
type row8 = [lanes]float64

// Rows of an element's sums under the weighed cases: what its loads do to it.
const (
	sumAxial   = 12 // expansion of N less the pull at end i; before it fixed-end forces: N, T, then V·L and M of both planes
	sumInner   = 18 // work on the inner polynomials, per plane
	sumDrop    = 26 // N at end j less that at end i
	sumWeighed = 27 // rows that are linear in the loads
	sumSwing   = 27 // how much N may vary about its mean
	sumRows    = 28
)

// plainRows are the rows that a load has which is even all along an element: own weight.
var plainRows = []int{0, 1, 4, 5, 6, 7, 8, 9, 10, 11, sumAxial, sumAxial + 1, sumInner, sumInner + inners, sumDrop}

// otherRows are the weighed rows that are not among them.
var otherRows = func() (list []int) {
	for k := range sumWeighed {
		if !slices.Contains(plainRows, k) {
			list = append(list, k)
		}
	}
	return list
}()

// Numbers of an element: its axes come first, row by row.
const (
	scStretch = 9  // EA/L, joints condensed
	scTwist   = 10 // GJ/L likewise
	scInverse = 11 // 1/L
	scReach   = 12 // L²/EI of the weaker plane
	scNumbers = 13
)

// Rows of an element's axial forces: that of the answer, just beyond end i, and the least that the factor in hand was made for. Of a
// bar they come after whether it acts.
const (
	pullLow  = 1
	pullRows = 2
	actPull  = 1
	actLow   = 2
	actRows  = 3
)

// Numbers of an element's plane.
const (
	spHold    = 0 // EI/L²
	spInverse = 1 // 1/L
	spStiff   = 2 // EI/L
	spLength  = 3 // L
	spJoint   = 4 // per end, see below
	spNumbers = spJoint + 2*jointNumbers
)

// Numbers of the joint at an end of a plane.
const (
	jointTurns   = 0 // 1 if it turns
	jointSpring  = 1 // N·m/rad
	jointRigid   = 2 // 1 if it does not
	jointNumbers = 3
)

// stiffRows are the rows of a plane's stiffness: a lower triangle of s = vi/L - vj/L, θi and θj.
const stiffRows = 6

// Rows of scratch of one element.
const (
	tBend  = 0 // v/L and slope at ends i and j, per plane
	tAxial = 8 // forces of the nodes on both ends
	tTwist = 10
	tMean  = 12
	tForce = 13 // V·L and M at ends i and j, per plane
	tRows  = 21
)

// Rows of what is known roughly of an element's loads, per plane.
const (
	roughHigh  = 0 // bound of a simple beam's moment, positive
	roughLow   = 1 // negative
	roughShear = 2 // sum of magnitudes
	roughRows  = 6
)

// roughNumbers are the numbers of an even load: where it acts, and its force in both planes.
const roughNumbers = 3

// Rows of a member's bounds: those of Extent in its order, then the greatest |N|·L²/8EI.
const (
	roughReach  = 9
	extentRows  = 10
	srEighth    = 6 // L²/8EI per plane, behind the axes of both planes
	roughNumber = 8
)

// Rows in which the elements of a round note what their answers are worth.
const (
	accSize   = 0 // greatest force or moment
	accReach  = 1 // greatest |N|·L²/EI
	accPivot  = 2 // least pivot inside elements
	accMargin = 3 // least axial force above that of the factor
	accRows   = 4
)

// lesser and greater are as the processor's: the second if one is not a number.
func lesser(a, b float64) float64 {
	if a < b {
		return a
	}
	return b
}

func greater(a, b float64) float64 {
	if a > b {
		return a
	}
	return b
}

func addPickedGo(x []row8, a []float64, y []row8, at []int32) {
	m := len(y)
	for i := range x {
		row := a[i*m : i*m+m]
		for l := range lanes {
			t := x[i][l]
			for _, k := range at {
				t += float64(row[k] * y[k][l])
			}
			x[i][l] = t
		}
	}
}

func dotRowsGo(out *row8, a, b []row8) {
	for i := range a {
		for l := range lanes {
			out[l] += float64(a[i][l] * b[i][l])
		}
	}
}

func addRowsGo(x []row8, s *row8, y []row8) {
	for i := range x {
		for l := range lanes {
			x[i][l] += float64(s[l] * y[i][l])
		}
	}
}

func addRowsAtGo(x []row8, at []int32, y []row8) {
	for i, p := range at {
		if p >= 0 {
			for l := range lanes {
				x[p][l] += y[i][l]
			}
		}
	}
}

func pickRowsGo(x []row8, a []float64, y []row8, at []int32) {
	clear(x)
	addPickedGo(x, a, y, at)
}

// peakRowsGo returns the greatest magnitudes in x.
func peakRowsGo(x []row8) (peak row8) {
	for i := range x {
		for l := range lanes {
			peak[l] = greater(peak[l], math.Abs(x[i][l]))
		}
	}
	return peak
}

func subRowsGo(x, a, b []row8) {
	for i := range x {
		for l := range lanes {
			x[i][l] = a[i][l] - b[i][l]
		}
	}
}

func balanceRowsGo(b, a, g []row8, dof []int32) (worst, total row8) {
	for k, d := range dof {
		if d < 0 {
			continue
		}
		for l := range lanes {
			out := a[k][l] - g[k][l]
			b[d][l] = out
			worst[l] = greater(worst[l], math.Abs(out))
			total[l] += math.Abs(out)
		}
	}
	return worst, total
}

func spreadRowsGo(out *[lanes][]float64, x []row8, step int) {
	for l := range out {
		for i := range out[l] {
			out[l][i] = x[i*step][l]
		}
	}
}

func addTimesGo(y []float64, c float64, x []float64) {
	for i := range y {
		y[i] += float64(c * x[i])
	}
}

// placeRow says where a force at a place goes: its part along an axis, times a number of its basis, to a row of the sums.
type placeRow struct{ row, number, axis int }

var placeRows = func() (rows []placeRow) {
	rows = []placeRow{{0, basisEnds, 0}, {1, basisEnds + 1, 0}, {sumDrop, basisDrop, 0}}
	for j := range axials {
		rows = append(rows, placeRow{sumAxial + j, basisAxial + j, 0})
	}
	for plane := range 2 {
		for k := range 4 {
			rows = append(rows, placeRow{4 + 4*plane + k, basisFixed + k, 1 + plane})
		}
		for k := range inners {
			rows = append(rows, placeRow{sumInner + inners*plane + k, basisInner + k, 1 + plane})
		}
	}
	return rows
}()

func weighPlacesGo(basis []float64, places []int32, f, sums []row8) {
	for _, k := range places {
		b, at := basis[int(k)*basisNumbers:(int(k)+1)*basisNumbers], f[3*k:3*k+3]
		for _, o := range placeRows {
			for l := range lanes {
				sums[o.row][l] = math.FMA(b[o.number], at[o.axis][l], sums[o.row][l])
			}
		}
	}
}
