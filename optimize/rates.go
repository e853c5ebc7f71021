package optimize

import "math/rand/v2"

// rateFloor is the share that every operator keeps, so that one that fails now can be found useful later; fineFloor is that of
// real genes, where a step into a better basin is rare and what only spreads the front survives more often. rateMemory is how much of an operator's worth is carried over a generation.
const (
	rateFloor  = 0.05
	fineFloor  = 0.15
	rateMemory = 0.8
)

// rates holds the worth of each operator of one island: the smoothed share of its children that survived.
type rates struct {
	Worth []float64 `json:"worth"`
	floor float64
	used  []int
	won   []int
}

// newRates holds n operators; floor times n is at most 1.
func newRates(n int, floor float64) rates {
	r := rates{Worth: make([]float64, n), floor: floor}
	for i := range r.Worth {
		r.Worth[i] = 0.5
	}
	r.begin()
	return r
}

// begin clears the counts of a generation.
func (r *rates) begin() {
	r.used, r.won = make([]int, len(r.Worth)), make([]int, len(r.Worth))
}

// share returns the chance of operator i.
func (r *rates) share(i int) float64 {
	sum := 0.0
	for _, w := range r.Worth {
		sum += w
	}
	n := float64(len(r.Worth))
	if sum == 0 {
		return 1 / n
	}
	return r.floor + (1-n*r.floor)*r.Worth[i]/sum
}

func (r *rates) pick(rng *rand.Rand) int {
	u := rng.Float64()
	for i := range r.Worth {
		if u -= r.share(i); u < 0 {
			return i
		}
	}
	return len(r.Worth) - 1
}

// count notes that operator i made a child, and whether it survived.
func (r *rates) count(i int, survived bool) {
	if i < 0 {
		return
	}
	r.used[i]++
	if survived {
		r.won[i]++
	}
}

// learn ends a generation.
func (r *rates) learn() {
	for i, n := range r.used {
		if n > 0 {
			r.Worth[i] = float64(rateMemory*r.Worth[i]) + float64((1-rateMemory)*float64(r.won[i])/float64(n))
		}
	}
}
