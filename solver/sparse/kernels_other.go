//go:build !amd64

package sparse

func subColumns(y, a, c []float64, s columns, w int) { subColumnsGo(y, a, c, s, w) }

func finishColumn(l, ld, taken []float64, d, dinv float64) { finishColumnGo(l, ld, taken, d, dinv) }

func forward(x []float64, stride, cols int, own, below []int32, a, xs []float64) {
	forwardGo(x, stride, cols, own, below, a, xs)
}

func backward(x []float64, stride, cols int, own, below []int32, a, dinv, xs []float64) {
	backwardGo(x, stride, cols, own, below, a, dinv, xs)
}

func forwardOne(y []float64, first, width int, below []int32, a []float64) {
	forwardOneGo(y, first, width, below, a)
}

func backwardOne(y, dinv []float64, first, width int, below []int32, a, soon []float64) {
	backwardOneGo(y, dinv, first, width, below, a)
}

// prefetch would ask the memory for a; these processors find out for themselves.
func prefetch(a []float64) {}
