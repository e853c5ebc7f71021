package frame

//go:noescape
func holdPlacesAVX(order *int32, n int, basis, force *float64, stride int, sums *float64)

// holdPlaces adds to the first heldRows of an element's sums what forces at its places do: those of eight cases, that at place k along
// axis i from force[(3·k+i)·stride] on. Of the places it takes those in order.
func holdPlaces(order []int32, basis, force []float64, stride int, sums []row8) {
	if len(order) == 0 {
		return
	}
	if !vectors {
		holdPlacesGo(order, basis, force, stride, sums)
		return
	}
	_ = sums[heldRows-1]
	for _, k := range order {
		_, _ = basis[(int(k)+1)*basisNumbers-1], force[(3*int(k)+2)*stride+lanes-1]
	}
	holdPlacesAVX(&order[0], len(order), &basis[0], &force[0], stride, &sums[0][0])
}
