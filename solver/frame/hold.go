package frame

import "math"

// heldRows are the rows of an element's sums that hold it still in first order: forces at its ends, and the mean axial force.
const heldRows = sumAxial + 1

func holdPlacesGo(order []int32, basis, force []float64, stride int, sums []row8) {
	for _, k := range order {
		b, at := basis[int(k)*basisNumbers:(int(k)+1)*basisNumbers], 3*int(k)*stride
		for l := range lanes {
			x, y, z := force[at+l], force[at+stride+l], force[at+2*stride+l]
			for end := range 2 {
				sums[end][l] = math.FMA(b[basisEnds+end], x, sums[end][l])
			}
			sums[sumAxial][l] = math.FMA(b[basisAxial], x, sums[sumAxial][l])
			for i := range 4 {
				sums[4+i][l] = math.FMA(b[basisFixed+i], y, sums[4+i][l])
				sums[8+i][l] = math.FMA(b[basisFixed+i], z, sums[8+i][l])
			}
		}
	}
}
