//go:build !amd64

package frame

func holdPlaces(order []int32, basis, force []float64, stride int, sums []row8) {
	holdPlacesGo(order, basis, force, stride, sums)
}
