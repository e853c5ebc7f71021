package optimize

import "math/rand/v2"

// Streams keep generators for different purposes apart; they stand in the place of a slot, above every slot number.
const (
	streamSurvive = 1<<32 - 1 - iota
	streamMigrate
	streamScout // and below, one for each round
)

// generator returns the generator of one slot: a function of (seed, population, generation, slot) and nothing else.
func generator(seed uint64, island, generation, slot int) *rand.Rand {
	return rand.New(rand.NewPCG(mix(seed^mix(uint64(island)+1)), mix(uint64(generation)<<32|uint64(uint32(slot)))))
}

// mix is the finaliser of SplitMix64 (Steele, Lea, Flood 2014): near inputs give unrelated outputs.
func mix(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}
