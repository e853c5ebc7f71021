//go:build !amd64

package sparse

func subColumns(y, a []float64, ld int, c []float64) { subColumnsGo(y, a, ld, c) }

func forward(y []float64, rows []int32, a []float64, ld, first, width int) {
	forwardGo(y, rows, a, ld, first, width)
}

func backward(y []float64, rows []int32, a, dinv []float64, ld, first, width int) {
	backwardGo(y, rows, a, dinv, ld, first, width)
}
