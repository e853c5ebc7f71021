//go:build !amd64

package frame

func addPicked(x []row8, a []float64, y []row8, at []int32) { addPickedGo(x, a, y, at) }

func weighPlaces(basis []float64, places []int32, f, sums []row8) {
	weighPlacesGo(basis, places, f, sums)
}

func dotRows(out *row8, a, b []row8) { dotRowsGo(out, a, b) }

func addRows(x []row8, s *row8, y []row8) { addRowsGo(x, s, y) }

func addRowsAt(x []row8, at []int32, y []row8) { addRowsAtGo(x, at, y) }

func pickRows(x []row8, a []float64, y []row8, at []int32) { pickRowsGo(x, a, y, at) }

func peakRows(x []row8) row8 { return peakRowsGo(x) }

func subRows(x, a, b []row8) { subRowsGo(x, a, b) }

func balanceRows(b, a, g []row8, dof []int32) (worst, total row8) {
	return balanceRowsGo(b, a, g, dof)
}

func spreadRows(out *[lanes][]float64, x []row8, step int) { spreadRowsGo(out, x, step) }

func addTimes(y []float64, c float64, x []float64) { addTimesGo(y, c, x) }
