package sparse

import "testing"

// The kernels that the machine runs must have the bits of the portable ones. On a machine without vectors both are the same
// code and this holds trivially; the amd64 machines that run these tests have them.
func TestKernelsHaveTheBitsOfPortableCode(t *testing.T) {
	rng := newRand(41)
	for range 400 {
		n, w := rng.IntN(40), rng.IntN(20)
		ld := n + rng.IntN(5)
		a, c := randomBlock(rng, ld*w+n), randomBlock(rng, w)
		y := randomBlock(rng, n+1) // one more, which must stay
		z := append([]float64(nil), y...)
		subColumns(y[:n], a, ld, c)
		subColumnsGo(z[:n], a, ld, c)
		assertSameBits(t, "subColumns", y, z)
	}
	for range 400 {
		width, m := 1+rng.IntN(14), rng.IntN(20)
		ld := (width + m + 3) / 4 * 4
		first, n := rng.IntN(5), 60
		a, dinv := randomBlock(rng, ld*width), randomBlock(rng, width)
		rows := make([]int32, m)
		for q, r := range rng.Perm(n - first - width)[:m] {
			rows[q] = int32(first + width + r)
		}
		y := randomBlock(rng, n*block)
		z := append([]float64(nil), y...)
		forward(y, rows, a, ld, first, width)
		forwardGo(z, rows, a, ld, first, width)
		assertSameBits(t, "forward", y, z)
		backward(y, rows, a, dinv, ld, first, width)
		backwardGo(z, rows, a, dinv, ld, first, width)
		assertSameBits(t, "backward", y, z)
	}
}

func assertSameBits(t *testing.T, what string, got, want []float64) {
	t.Helper()
	for i := range got {
		if got[i] != want[i] {
			t.Fatalf("%s: entry %d is %v, portable code has %v", what, i, got[i], want[i])
		}
	}
}
