package sparse_test

import (
	"fmt"

	"leanbay/solver/sparse"
)

// Three masses of 1 on springs of 2 between two walls: the pattern is analysed once, then values and loads may change.
func Example() {
	pattern := sparse.NewPatternFromCliques(3, [][]int32{{0, 1}, {1, 2}})
	k := make([]float64, pattern.NNZ())
	m := make([]float64, pattern.NNZ())
	for i := range 3 {
		k[pattern.Index(i, i)] = 4
		m[pattern.Index(i, i)] = 1
	}
	k[pattern.Index(0, 1)] = -2
	k[pattern.Index(1, 2)] = -2

	symbolic := sparse.Analyze(pattern)
	factor := sparse.NewFactor(symbolic)
	if err := factor.Refactor(k); err != nil {
		fmt.Println(err)
		return
	}
	x := []float64{0, 4, 0} // a load of 4 in the middle
	factor.Solve(x, 1)
	fmt.Printf("deflections %.1f\n", x)

	var eigen sparse.Eigen
	count := sparse.NewSturm(sparse.NewFactor(symbolic), k, m).Negative
	modes, err := eigen.Lowest(factor, k, m, sparse.EigenOptions{Modes: 2, Count: count})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("squared frequencies %.4f, proved %v\n", modes.Values, modes.Proved)
	// By hand: u = (1, 2, 1) and 2(2 - 2 cos(kπ/4)) = 1.1716, 4.

	// Output:
	// deflections [1.0 2.0 1.0]
	// squared frequencies [1.1716 4.0000], proved true
}
