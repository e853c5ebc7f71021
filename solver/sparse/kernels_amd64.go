package sparse

import "golang.org/x/sys/cpu"

// vectors is whether the processor has the 4-wide instructions of the assembly kernels. Results do not depend on it.
var vectors = cpu.X86.HasAVX

//go:noescape
func subColumnsAVX(y *float64, n int, a, c *float64, stepA, stepC, less, w int)

//go:noescape
func finishColumnAVX(l, ld, taken *float64, n int, d, dinv float64)

func subColumns(y, a, c []float64, s columns, w int) {
	if !vectors {
		subColumnsGo(y, a, c, s, w)
		return
	}
	n := len(y)
	if n == 0 || w == 0 {
		return
	}
	shrunk := (w - 1) * (w - 2) / 2 * s.less
	_, _ = a[(w-1)*s.a-shrunk+n-1], c[(w-1)*s.c-shrunk]
	subColumnsAVX(&y[0], n, &a[0], &c[0], s.a, s.c, s.less, w)
}

func finishColumn(l, ld, taken []float64, d, dinv float64) {
	if !vectors {
		finishColumnGo(l, ld, taken, d, dinv)
		return
	}
	n := len(l)
	if n == 0 {
		return
	}
	_, _ = ld[n-1], taken[n-1]
	finishColumnAVX(&l[0], &ld[0], &taken[0], n, d, dinv)
}

// The block kernels take eight, six, four, two right-hand sides and one.

//go:noescape
func forward8(x *float64, stride int, own *int32, width int, below *int32, m int, a, xs *float64)

//go:noescape
func forward6(x *float64, stride int, own *int32, width int, below *int32, m int, a, xs *float64)

//go:noescape
func forward4(x *float64, stride int, own *int32, width int, below *int32, m int, a, xs *float64)

//go:noescape
func forward2(x *float64, stride int, own *int32, width int, below *int32, m int, a, xs *float64)

//go:noescape
func forward1(x *float64, stride int, own *int32, width int, below *int32, m int, a, xs *float64)

//go:noescape
func backward8(x *float64, stride int, own *int32, width int, below *int32, m int, a, dinv, xs *float64)

//go:noescape
func backward6(x *float64, stride int, own *int32, width int, below *int32, m int, a, dinv, xs *float64)

//go:noescape
func backward4(x *float64, stride int, own *int32, width int, below *int32, m int, a, dinv, xs *float64)

//go:noescape
func backward2(x *float64, stride int, own *int32, width int, below *int32, m int, a, dinv, xs *float64)

//go:noescape
func backward1(x *float64, stride int, own *int32, width int, below *int32, m int, a, dinv, xs *float64)

// forward needs rows that x has and a panel of at least one column that a holds whole; Symbolic sees to both.
func forward(x []float64, stride, cols int, own, below []int32, a, xs []float64) {
	if !vectors {
		forwardGo(x, stride, cols, own, below, a, xs)
		return
	}
	w, m := len(own), len(below)
	_, _ = a[w*(w+m)-w*(w-1)/2-1], xs[w*cols-1]
	switch cols {
	case 8:
		forward8(&x[0], stride, &own[0], w, firstRow(below), m, &a[0], &xs[0])
	case 6:
		forward6(&x[0], stride, &own[0], w, firstRow(below), m, &a[0], &xs[0])
	case 4:
		forward4(&x[0], stride, &own[0], w, firstRow(below), m, &a[0], &xs[0])
	case 2:
		forward2(&x[0], stride, &own[0], w, firstRow(below), m, &a[0], &xs[0])
	default:
		forward1(&x[0], stride, &own[0], w, firstRow(below), m, &a[0], &xs[0])
	}
}

func backward(x []float64, stride, cols int, own, below []int32, a, dinv, xs []float64) {
	if !vectors {
		backwardGo(x, stride, cols, own, below, a, dinv, xs)
		return
	}
	w, m := len(own), len(below)
	_, _, _ = a[w*(w+m)-w*(w-1)/2-1], dinv[w-1], xs[w*cols-1]
	switch cols {
	case 8:
		backward8(&x[0], stride, &own[0], w, firstRow(below), m, &a[0], &dinv[0], &xs[0])
	case 6:
		backward6(&x[0], stride, &own[0], w, firstRow(below), m, &a[0], &dinv[0], &xs[0])
	case 4:
		backward4(&x[0], stride, &own[0], w, firstRow(below), m, &a[0], &dinv[0], &xs[0])
	case 2:
		backward2(&x[0], stride, &own[0], w, firstRow(below), m, &a[0], &dinv[0], &xs[0])
	default:
		backward1(&x[0], stride, &own[0], w, firstRow(below), m, &a[0], &dinv[0], &xs[0])
	}
}

//go:noescape
func forwardOneAVX(y *float64, first, width int, below *int32, m int, a *float64)

//go:noescape
func backwardOneAVX(y, dinv *float64, first, width int, below *int32, m int, a, soon *float64)

func forwardOne(y []float64, first, width int, below []int32, a []float64) {
	if !vectors {
		forwardOneGo(y, first, width, below, a)
		return
	}
	m := len(below)
	_, _ = a[width*(width+m)-width*(width-1)/2-1], y[first+width-1]
	forwardOneAVX(&y[0], first, width, firstRow(below), m, &a[0])
}

// backwardOne asks the memory for soon, the panel that comes a few later, line by line in its course: all lines at once are more than
// a processor keeps count of, and would be forgotten.
func backwardOne(y, dinv []float64, first, width int, below []int32, a, soon []float64) {
	if !vectors {
		backwardOneGo(y, dinv, first, width, below, a)
		return
	}
	m := len(below)
	_, _, _ = a[width*(width+m)-width*(width-1)/2-1], y[first+width-1], dinv[first+width-1]
	backwardOneAVX(&y[0], &dinv[0], first, width, firstRow(below), m, &a[0], &soon[len(soon)-1])
}

// firstRow is the address of a list that may be empty.
func firstRow(rows []int32) *int32 {
	if len(rows) == 0 {
		return nil
	}
	return &rows[0]
}

//go:noescape
func prefetchLines(a *float64, bytes int)

// prefetch asks the memory for a.
func prefetch(a []float64) {
	if len(a) > 0 {
		prefetchLines(&a[0], 8*len(a))
	}
}
