package sparse

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// FuzzFactor holds the sparse factor against gonum's dense routines on matrices of small whole numbers, where singular means
// exactly singular. The bytes are: order, seed of the elimination order, then entries (row, column, value).
func FuzzFactor(f *testing.F) {
	f.Add([]byte{3, 0, 0, 0, 4, 1, 1, 4, 2, 2, 4, 0, 1, 1, 1, 2, 255})
	f.Add([]byte{2, 1, 0, 0, 1, 0, 1, 1, 1, 1, 1}) // singular
	f.Add([]byte{2, 0, 0, 1, 1})                   // zero diagonal, not singular
	f.Add([]byte{1, 0})                            // zero
	f.Add([]byte{4, 9, 0, 0, 250, 1, 1, 7, 2, 2, 9, 3, 3, 200, 0, 3, 2, 1, 2, 3})
	f.Add([]byte{12, 5, 0, 0, 9, 1, 1, 9, 2, 2, 9, 3, 3, 9, 4, 4, 9, 5, 5, 9, 6, 6, 9, 7, 7, 9, 8, 8, 9, 9, 9, 9, 10, 10, 9, 11, 11, 9, 0, 11, 3,
		2, 7, 1, 3, 9, 254, 5, 6, 2, 6, 7, 1, 1, 2, 1})
	f.Fuzz(func(t *testing.T, data []byte) {
		p, val, perm := decodeMatrix(data)
		if p == nil {
			return
		}
		fac := NewFactor(AnalyzeWith(p, perm))
		err := fac.Refactor(val)
		a := dense(p, val)
		values := eigenvalues(t, a)
		if err != nil {
			checkBreakdown(t, err, a, fac)
			return
		}
		checkInertia(t, fac, values)
		checkSolution(t, p, val, fac, values)
	})
}

func decodeMatrix(data []byte) (*Pattern, []float64, []int) {
	if len(data) < 2 || data[0] == 0 || data[0] > 40 {
		return nil, nil, nil
	}
	n := int(data[0])
	entries := data[2:]
	p := NewPattern(n, func(yield func(i, j int) bool) {
		for k := 0; k+2 < len(entries); k += 3 {
			if !yield(int(entries[k])%n, int(entries[k+1])%n) {
				return
			}
		}
	})
	val := make([]float64, p.NNZ())
	for k := 0; k+2 < len(entries); k += 3 {
		val[p.Index(int(entries[k])%n, int(entries[k+1])%n)] = float64(int8(entries[k+2]))
	}
	return p, val, newRand(uint64(data[1])).Perm(n)
}

// checkBreakdown: the leading part of the matrix, up to the reported unknown in elimination order, must be singular.
func checkBreakdown(t *testing.T, err error, a *mat.SymDense, f *Factor) {
	var pe *PivotError
	if !errors.As(err, &pe) {
		t.Fatalf("breakdown without a PivotError: %v", err)
	}
	perm := f.sym.perm
	k := int(f.sym.inv[pe.Column]) + 1
	lead := mat.NewSymDense(k, nil)
	for i := range k {
		for j := range i + 1 {
			lead.SetSym(i, j, a.At(int(perm[i]), int(perm[j])))
		}
	}
	least, most := math.Inf(1), 0.0
	for _, v := range eigenvalues(t, lead) {
		least, most = min(least, abs(v)), max(most, abs(v))
	}
	if least > 1e-9*most {
		t.Errorf("%v, but the leading part of order %d has eigenvalues from %.3g to %.3g in magnitude", err, k, least, most)
	}
}

func checkInertia(t *testing.T, f *Factor, values []float64) {
	var neg, near int
	most := max(abs(values[0]), abs(values[len(values)-1]))
	for _, v := range values {
		switch {
		case abs(v) < 1e-8*most:
			near++
		case v < 0:
			neg++
		}
	}
	if growth(f) > 1e6 {
		return // tiny pivots on the way: without pivoting signs of near-null values are not certain
	}
	got, zero, pos := f.Inertia()
	if got < neg || got > neg+near || zero != 0 || got+pos != len(values) {
		t.Errorf("inertia (%d, %d, %d), gonum has %d negative and %d near zero of %d", got, zero, pos, neg, near, len(values))
	}
}

// growth is the largest amount that cancelled in a pivot, relative to the largest entry of a matrix of small numbers.
func growth(f *Factor) float64 {
	var most float64
	for k, g := range f.grow {
		most = max(most, g/128, g/abs(f.d[k]))
	}
	return most
}

func checkSolution(t *testing.T, p *Pattern, val []float64, f *Factor, values []float64) {
	const nrhs = 3
	want := randomBlock(newRand(uint64(p.N)), p.N*nrhs)
	b := make([]float64, len(want))
	p.Mul(b, val, want, nrhs)
	f.Solve(b, nrhs)
	least, most := math.Inf(1), 0.0
	for _, v := range values {
		least, most = min(least, abs(v)), max(most, abs(v))
	}
	var diff float64
	for i := range b {
		diff = max(diff, abs(b[i]-want[i]))
	}
	if limit := 1e-13 * growth(f) * growth(f) * most / least * float64(p.N); diff > limit && limit < 1 {
		t.Errorf("solution differs by %.3g, limit %.3g", diff, limit)
	}
}
