package sparse

import "golang.org/x/sys/cpu"

// vectors is whether the processor has the 4-wide instructions of the assembly kernels. Results do not depend on it.
var vectors = cpu.X86.HasAVX

//go:noescape
func subColumnsAVX(y *float64, n int, a *float64, ld int, c *float64, w int)

//go:noescape
func forwardAVX(y *float64, rows *int32, m int, a *float64, ld, first, width int)

//go:noescape
func backwardAVX(y *float64, rows *int32, m int, a, dinv *float64, ld, first, width int)

func subColumns(y, a []float64, ld int, c []float64) {
	if !vectors {
		subColumnsGo(y, a, ld, c)
		return
	}
	if len(y) == 0 || len(c) == 0 {
		return
	}
	_ = a[(len(c)-1)*ld+len(y)-1]
	subColumnsAVX(&y[0], len(y), &a[0], ld, &c[0], len(c))
}

// forward needs rows below p.N and 0 < width <= ld; Symbolic sees to both.
func forward(y []float64, rows []int32, a []float64, ld, first, width int) {
	if !vectors {
		forwardGo(y, rows, a, ld, first, width)
		return
	}
	_, _ = a[width*ld-1], y[(first+width)*block-1]
	forwardAVX(&y[0], firstRow(rows), len(rows), &a[0], ld, first, width)
}

func backward(y []float64, rows []int32, a, dinv []float64, ld, first, width int) {
	if !vectors {
		backwardGo(y, rows, a, dinv, ld, first, width)
		return
	}
	_, _, _ = a[width*ld-1], y[(first+width)*block-1], dinv[width-1]
	backwardAVX(&y[0], firstRow(rows), len(rows), &a[0], &dinv[0], ld, first, width)
}

// firstRow is the address of a list that may be empty.
func firstRow(rows []int32) *int32 {
	if len(rows) == 0 {
		return nil
	}
	return &rows[0]
}
