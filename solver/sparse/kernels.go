package sparse

import "math"

// block is the number of right-hand sides that are solved at a time: the rows of a block are two 4-wide vectors, and the
// vectors of six columns fit in the processor's registers.
const block = 8

// columns says where the columns of a matrix A and the coefficients c of a product A c stand: the second column begins a after the
// first, the second coefficient c after the first, and both steps shrink by less from column to column, as in a panel.
type columns struct{ a, c, less int }

// panelColumns are those of a panel of so many rows, coefficients standing in the places of one of its rows.
func panelColumns(height int) columns { return columns{height - 1, height - 1, 1} }

// subColumnsGo computes y -= A c for w columns of len(y) rows. Each y[i] takes its terms in the order of the columns. The
// conversions here and below forbid fused operations, so that all processors have the same bits.
func subColumnsGo(y, a, c []float64, s columns, w int) {
	n := len(y)
	ia, ic, k := 0, 0, 0
	next := func() ([]float64, float64) {
		col, by := a[ia:][:n], c[ic]
		ia, ic, k = ia+s.a-k*s.less, ic+s.c-k*s.less, k+1
		return col, by
	}
	for k+4 <= w {
		a0, c0 := next()
		a1, c1 := next()
		a2, c2 := next()
		a3, c3 := next()
		for i := range y {
			y[i] = y[i] - float64(a0[i]*c0) - float64(a1[i]*c1) - float64(a2[i]*c2) - float64(a3[i]*c3)
		}
	}
	for k < w {
		a0, c0 := next()
		for i := range y {
			y[i] -= float64(a0[i] * c0)
		}
	}
}

// finishColumnGo scales a column of the factor by its inverse pivot, puts l d into ld, and adds |l (l d)| to taken.
func finishColumnGo(l, ld, taken []float64, d, dinv float64) {
	ld, taken = ld[:len(l)], taken[:len(l)]
	for i, v := range l {
		v *= dinv
		t := v * d
		l[i], ld[i] = v, t
		taken[i] += math.Abs(v * t)
	}
}

// row8 is one row of a block of right-hand sides.
type row8 = [block]float64

// subRow computes y -= l x.
func subRow(y, x []float64, l float64) {
	if len(y) == block {
		y, x := (*row8)(y), (*row8)(x)
		y[0] -= float64(l * x[0])
		y[1] -= float64(l * x[1])
		y[2] -= float64(l * x[2])
		y[3] -= float64(l * x[3])
		y[4] -= float64(l * x[4])
		y[5] -= float64(l * x[5])
		y[6] -= float64(l * x[6])
		y[7] -= float64(l * x[7])
		return
	}
	for i, v := range x[:len(y)] {
		y[i] -= float64(l * v)
	}
}

// forwardGo takes one panel, whose entries are a, off cols right-hand sides: the rows named by own are solved with the unit lower
// triangle at its head, then the rows named by below lose its lower part times those. Row r of the right-hand sides begins
// at x[r*stride]. xs has room for the panel's own rows.
func forwardGo(x []float64, stride, cols int, own, below []int32, a, xs []float64) {
	width, step := len(own), len(own)+len(below)-1
	take := func(r int32, i, n int) []float64 {
		row := x[int(r)*stride:][:cols]
		at := i
		for k := range n {
			subRow(row, xs[k*cols:(k+1)*cols], a[at])
			at += step - k
		}
		return row
	}
	for i, r := range own {
		copy(xs[i*cols:], take(r, i, i))
	}
	for q, r := range below {
		take(r, width+q, width)
	}
}

// backwardGo is the transpose of forwardGo, with the division by the pivots before it.
func backwardGo(x []float64, stride, cols int, own, below []int32, a, dinv, xs []float64) {
	width, h := len(own), len(own)+len(below)
	end := len(a)
	for k := width - 1; k >= 0; k-- {
		col := a[end-(h-k) : end]
		end -= h - k
		xk := x[int(own[k])*stride:][:cols]
		for i := range xk {
			xk[i] *= dinv[k]
		}
		for q, r := range below {
			subRow(xk, x[int(r)*stride:][:cols], col[width-k+q])
		}
		for i := width - 1; i > k; i-- {
			subRow(xk, xs[i*cols:(i+1)*cols], col[i-k])
		}
		copy(xs[k*cols:(k+1)*cols], xk)
	}
}

// forwardOneGo is forwardGo for one right-hand side y in elimination order: the panel's own rows are width from first on.
func forwardOneGo(y []float64, first, width int, below []int32, a []float64) {
	own := y[first : first+width]
	for k, x := range own {
		for i, l := range a[1 : width-k] {
			own[k+1+i] -= float64(l * x)
		}
		for q, r := range below {
			y[r] -= float64(a[width-k+q] * x)
		}
		a = a[width+len(below)-k:]
	}
}

// backwardOneGo is the transpose of forwardOneGo, with the division by the pivots before it.
func backwardOneGo(y, dinv []float64, first, width int, below []int32, a []float64) {
	h := width + len(below)
	end := len(a)
	for k := width - 1; k >= 0; k-- {
		col := a[end-(h-k) : end]
		end -= h - k
		x := y[first+k] * dinv[first+k]
		for q, r := range below {
			x -= float64(col[width-k+q] * y[r])
		}
		for i := width - 1; i > k; i-- {
			x -= float64(col[i-k] * y[first+i])
		}
		y[first+k] = x
	}
}
