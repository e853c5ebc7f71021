package sparse

import (
	"math/rand/v2"
	"testing"
)

// The kernels that the machine runs must have the bits of the portable ones. On a machine without vectors both are the same
// code and this holds trivially; the amd64 machines that run these tests have them.
func TestKernelsHaveTheBitsOfPortableCode(t *testing.T) {
	rng := newRand(41)
	for range 400 {
		n, w := rng.IntN(40), rng.IntN(20)
		step := n + w + rng.IntN(5)
		a, c := randomBlock(rng, step*(w+1)+n), randomBlock(rng, (step+3)*(w+1))
		y := randomBlock(rng, n+1) // one more, which must stay
		z := append([]float64(nil), y...)
		s := panelColumns(step + 1)
		if rng.IntN(2) == 0 {
			s = columns{step, 1 + rng.IntN(3), 0}
		}
		subColumns(y[:n], a, c, s, w)
		subColumnsGo(z[:n], a, c, s, w)
		assertSameBits(t, "subColumns", y, z)
		var got, want [3][]float64
		for i := range got {
			got[i] = randomBlock(rng, n+1)
			want[i] = append([]float64(nil), got[i]...)
		}
		d := rng.Float64() - 0.5
		finishColumn(got[0][:n], got[1], got[2], d, 1/d)
		finishColumnGo(want[0][:n], want[1], want[2], d, 1/d)
		for i := range got {
			assertSameBits(t, "finishColumn", got[i], want[i])
		}
	}
	for range 2000 {
		q := randomPanel(rng)
		for _, cols := range []int{1, 2, 4, 6, 8} {
			stride := cols + rng.IntN(4)
			x := randomBlock(rng, q.n*stride)
			z := append([]float64(nil), x...)
			xs := make([]float64, q.width*cols)
			own := make([]int32, q.width) // where the own rows stand is free in a block: here from the last one down
			for k := range own {
				own[k] = int32(q.first + q.width - 1 - k)
			}
			forward(x, stride, cols, own, q.below, q.a, xs)
			forwardGo(z, stride, cols, own, q.below, q.a, xs)
			assertSameBits(t, "forward", x, z)
			backward(x, stride, cols, own, q.below, q.a, q.dinv[q.first:q.first+q.width], xs)
			backwardGo(z, stride, cols, own, q.below, q.a, q.dinv[q.first:q.first+q.width], xs)
			assertSameBits(t, "backward", x, z)
		}
		y := randomBlock(rng, q.n)
		z := append([]float64(nil), y...)
		forwardOne(y, q.first, q.width, q.below, q.a)
		forwardOneGo(z, q.first, q.width, q.below, q.a)
		assertSameBits(t, "forwardOne", y, z)
		backwardOne(y, q.dinv, q.first, q.width, q.below, q.a, q.a)
		backwardOneGo(z, q.dinv, q.first, q.width, q.below, q.a)
		assertSameBits(t, "backwardOne", y, z)
	}
}

// testPanel is a panel of random size and entries.
type testPanel struct {
	n, first, width int
	below           []int32
	a, dinv         []float64 // the panel's entries, exactly; a pivot for each row
}

func randomPanel(rng *rand.Rand) *testPanel {
	q := &testPanel{n: 70, first: rng.IntN(5), width: 1 + rng.IntN(18)}
	m := rng.IntN(32)
	q.a = randomBlock(rng, q.width*(q.width+m)-q.width*(q.width-1)/2)
	q.dinv = randomBlock(rng, q.n)
	for _, r := range rng.Perm(q.n - q.first - q.width)[:m] {
		q.below = append(q.below, int32(q.first+q.width+r))
	}
	return q
}

func assertSameBits(t *testing.T, what string, got, want []float64) {
	t.Helper()
	for i := range got {
		if got[i] != want[i] {
			t.Fatalf("%s: entry %d is %v, portable code has %v", what, i, got[i], want[i])
		}
	}
}
