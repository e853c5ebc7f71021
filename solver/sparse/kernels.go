package sparse

// block is the number of right-hand sides that are solved at a time: the rows of a block are two 4-wide vectors, and the
// vectors of six columns fit in the processor's registers.
const block = 8

// subColumnsGo computes y -= A c where A is len(y) x len(c), by columns of stride ld; each y[i] takes its terms in the
// order of the columns. The conversions here and below forbid fused operations, so that all processors have the same bits.
func subColumnsGo(y, a []float64, ld int, c []float64) {
	n := len(y)
	k := 0
	for ; k+4 <= len(c); k += 4 {
		c0, c1, c2, c3 := c[k], c[k+1], c[k+2], c[k+3]
		a0 := a[k*ld:][:n]
		a1 := a[(k+1)*ld:][:n]
		a2 := a[(k+2)*ld:][:n]
		a3 := a[(k+3)*ld:][:n]
		for i := range y {
			y[i] = y[i] - float64(a0[i]*c0) - float64(a1[i]*c1) - float64(a2[i]*c2) - float64(a3[i]*c3)
		}
	}
	for ; k+2 <= len(c); k += 2 {
		c0, c1 := c[k], c[k+1]
		a0 := a[k*ld:][:n]
		a1 := a[(k+1)*ld:][:n]
		for i := range y {
			y[i] = y[i] - float64(a0[i]*c0) - float64(a1[i]*c1)
		}
	}
	for ; k < len(c); k++ {
		c0 := c[k]
		a0 := a[k*ld:][:n]
		for i := range y {
			y[i] -= float64(a0[i] * c0)
		}
	}
}

func scaleColumn(y []float64, by float64) {
	for i := range y {
		y[i] *= by
	}
}

// row8 is one row of a block of right-hand sides.
type row8 = [block]float64

// subRow computes y -= l x.
func subRow(y, x *row8, l float64) {
	y[0] -= float64(l * x[0])
	y[1] -= float64(l * x[1])
	y[2] -= float64(l * x[2])
	y[3] -= float64(l * x[3])
	y[4] -= float64(l * x[4])
	y[5] -= float64(l * x[5])
	y[6] -= float64(l * x[6])
	y[7] -= float64(l * x[7])
}

// forwardGo solves with one panel: x (width rows of a block) is solved with the unit lower triangle at the panel's head,
// then the rows of y named by rows lose the panel's lower part times x.
func forwardGo(y []float64, rows []int32, a []float64, ld, first, width int) {
	x := y[first*block : (first+width)*block]
	for i := 1; i < width; i++ {
		xi := (*row8)(x[i*block:])
		for k := range i {
			subRow(xi, (*row8)(x[k*block:]), a[k*ld+i])
		}
	}
	for q, r := range rows {
		yr := (*row8)(y[int(r)*block:])
		for k := range width {
			subRow(yr, (*row8)(x[k*block:]), a[k*ld+width+q])
		}
	}
}

// backwardGo is the transpose of forwardGo, with the division by the pivots before it.
func backwardGo(y []float64, rows []int32, a, dinv []float64, ld, first, width int) {
	x := y[first*block : (first+width)*block]
	for k := width - 1; k >= 0; k-- {
		xk := (*row8)(x[k*block:])
		for i := range xk {
			xk[i] *= dinv[k]
		}
		col := a[k*ld:]
		for q, r := range rows {
			subRow(xk, (*row8)(y[int(r)*block:]), col[width+q])
		}
		for i := width - 1; i > k; i-- {
			subRow(xk, (*row8)(x[i*block:]), col[i])
		}
	}
}
