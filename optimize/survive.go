package optimize

import (
	"math/rand/v2"
	"slices"
)

// survivors returns the n best of vs, which must be distinct and in the order of compareVariants: whole layers first;
// of the layer that does not fit, by crowding for up to two objectives, by reference directions for more.
func survivors(vs []Variant, n int, directions [][]float64, rng *rand.Rand) []Variant {
	if len(vs) <= n {
		return vs
	}
	var chosen []int
	for _, layer := range layers(vs) {
		room := n - len(chosen)
		if room == 0 {
			break
		}
		if len(layer) > room {
			layer = thin(vs, chosen, layer, room, directions, rng)
		}
		chosen = append(chosen, layer...)
	}
	slices.Sort(chosen)
	out := make([]Variant, len(chosen))
	for k, i := range chosen {
		out[k] = vs[i]
	}
	return out
}

// thin chooses room variants of a layer.
func thin(vs []Variant, chosen, layer []int, room int, directions [][]float64, rng *rand.Rand) []int {
	switch {
	case vs[layer[0]].Score.Class > 0 || directions == nil && len(vs[layer[0]].Score.Objectives) < 2:
		return layer[:room]
	case directions != nil:
		return niches(vs, chosen, layer, room, directions, rng)
	}
	return thinByCrowding(vs, layer, room)
}

// standing is a variant's place in its population, for the choice of parents.
type standing struct {
	layer    int
	crowding float64
}

// standings ranks a population.
func standings(vs []Variant, directions [][]float64) []standing {
	out := make([]standing, len(vs))
	for l, layer := range layers(vs) {
		var d []float64
		if directions == nil { // reference directions already spread the survivors: parents of a layer are alike
			d = crowding(vs, layer)
		}
		for k, i := range layer {
			out[i].layer = l
			if d != nil {
				out[i].crowding = d[k]
			}
		}
	}
	return out
}

// tournament returns the better of two members drawn at random.
func tournament(s []standing, rng *rand.Rand) int {
	a, b := rng.IntN(len(s)), rng.IntN(len(s))
	if s[b].layer < s[a].layer || s[b].layer == s[a].layer && s[b].crowding > s[a].crowding {
		return b
	}
	return a
}
