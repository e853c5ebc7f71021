package frame

import "golang.org/x/sys/cpu"

// vectors is whether the processor has the 4-wide instructions of the lane kernels. Results do not depend on it.
var vectors = cpu.X86.HasAVX && cpu.X86.HasFMA

//go:noescape
func dotRowsAVX(out, a, b *float64, n int)

//go:noescape
func addRowsAVX(x, s, y *float64, n int)

//go:noescape
func pickRowsAVX(x, a, y *float64, at *int32, picks, n, m, add int)

//go:noescape
func weighPlacesAVX(basis *float64, places *int32, n int, f, sums *float64)

//go:noescape
func addRowsAtAVX(x *float64, at *int32, n int, y *float64)

//go:noescape
func peakRowsAVX(out, x *float64, n int)

//go:noescape
func subRowsAVX(x, a, b *float64, n int)

//go:noescape
func balanceRowsAVX(b, a, less *float64, dof *int32, n int, out *float64)

//go:noescape
func spreadRowsAVX(out *[lanes]*float64, x *float64, step, n int)

//go:noescape
func addTimesAVX(y *float64, c float64, x *float64, n int)

// addPicked is pickRows added to x.
func addPicked(x []row8, a []float64, y []row8, at []int32) {
	if !vectors || len(x) == 0 || len(at) == 0 {
		addPickedGo(x, a, y, at)
		return
	}
	_, _ = a[len(x)*len(y)-1], y[at[len(at)-1]]
	pickRowsAVX(&x[0][0], &a[0], &y[0][0], &at[0], len(at), len(x), len(y), 1)
}

// weighPlaces adds to the sums of an element what the forces f at some places do, three rows a place, given the basis of every place.
func weighPlaces(basis []float64, places []int32, f, sums []row8) {
	if !vectors || len(places) == 0 {
		weighPlacesGo(basis, places, f, sums)
		return
	}
	_, _ = reachPlaces(basis, places, f), sums[sumRows-1]
	weighPlacesAVX(&basis[0], &places[0], len(places), &f[0][0], &sums[0][0])
}

// reachPlaces panics if some place has no basis or no force.
func reachPlaces(basis []float64, places []int32, f []row8) bool {
	most := uint32(0) // a negative number is none of a place, and large
	for _, k := range places {
		most = max(most, uint32(k))
	}
	_, _ = basis[int(most+1)*basisNumbers-1], f[3*int(most)+2]
	return true
}

// dotRows adds the sums of a·b to out, lane by lane.
func dotRows(out *row8, a, b []row8) {
	if !vectors || len(a) == 0 {
		dotRowsGo(out, a, b)
		return
	}
	_ = b[len(a)-1]
	dotRowsAVX(&out[0], &a[0][0], &b[0][0], len(a))
}

// addRows adds s·y to x, lane by lane.
func addRows(x []row8, s *row8, y []row8) {
	if !vectors || len(x) == 0 {
		addRowsGo(x, s, y)
		return
	}
	_ = y[len(x)-1]
	addRowsAVX(&x[0][0], &s[0], &y[0][0], len(x))
}

// addRowsAt adds the rows of y to those of x that at names; a negative one goes nowhere.
func addRowsAt(x []row8, at []int32, y []row8) {
	if !vectors || len(at) == 0 {
		addRowsAtGo(x, at, y)
		return
	}
	_ = y[len(at)-1]
	addRowsAtAVX(&x[0][0], &at[0], len(at), &y[0][0])
}

// pickRows sets x to A·y with the columns of A and the rows of y that at names: A is len(x) by len(y), row by row.
func pickRows(x []row8, a []float64, y []row8, at []int32) {
	if !vectors || len(x) == 0 || len(at) == 0 {
		pickRowsGo(x, a, y, at)
		return
	}
	// Column numbers ascend, so that the last is the greatest.
	_, _ = a[len(x)*len(y)-1], y[at[len(at)-1]]
	pickRowsAVX(&x[0][0], &a[0], &y[0][0], &at[0], len(at), len(x), len(y), 0)
}

// peakRows returns the greatest magnitudes in x, lane by lane; what is not a number does not count.
func peakRows(x []row8) (peak row8) {
	if !vectors || len(x) == 0 {
		return peakRowsGo(x)
	}
	peakRowsAVX(&peak[0], &x[0][0], len(x))
	return peak
}

// subRows sets x to a - b.
func subRows(x, a, b []row8) {
	if !vectors || len(x) == 0 {
		subRowsGo(x, a, b)
		return
	}
	_, _ = a[len(x)-1], b[len(x)-1]
	subRowsAVX(&x[0][0], &a[0][0], &b[0][0], len(x))
}

// balanceRows sets the rows of b that dof names to a - g, and returns their greatest and their summed magnitudes, lane by lane.
func balanceRows(b, a, g []row8, dof []int32) (worst, total row8) {
	if !vectors || len(dof) == 0 || len(b) == 0 {
		return balanceRowsGo(b, a, g, dof)
	}
	_, _ = a[len(dof)-1], g[len(dof)-1]
	var out [2]row8
	balanceRowsAVX(&b[0][0], &a[0][0], &g[0][0], &dof[0], len(dof), &out[0][0])
	return out[0], out[1]
}

// spreadRows writes every step-th row of x to the lanes' lists, which are of one length.
func spreadRows(out *[lanes][]float64, x []row8, step int) {
	n := len(out[0])
	if !vectors || n < 4 {
		spreadRowsGo(out, x, step)
		return
	}
	_ = x[(n-1)*step]
	var at [lanes]*float64
	for l := range out {
		at[l] = &out[l][:n][0]
	}
	spreadRowsAVX(&at, &x[0][0], step, n/4)
	for i := n &^ 3; i < n; i++ {
		for l, v := range x[i*step] {
			out[l][i] = v
		}
	}
}

// addTimes adds c·x to y, as far as y goes.
func addTimes(y []float64, c float64, x []float64) {
	x = x[:len(y)]
	n := len(y) &^ 3
	if !vectors || n == 0 {
		addTimesGo(y, c, x)
		return
	}
	addTimesAVX(&y[0], c, &x[0], n/4)
	addTimesGo(y[n:], c, x[n:])
}
