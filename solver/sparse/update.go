package sparse

import (
	"fmt"
	"math"
)

// Update changes the factor of K into that of K + sigma w wᵀ, w having the entries w at the unknowns idx (caller's
// numbering, each at most once) and zeros elsewhere: a rod that comes in (sigma > 0) or goes out (sigma < 0). The
// unknowns of idx must all be coupled in the pattern, as the freedoms of one element are; then L keeps its structure, and
// only the columns on the path from the first of them to the root of the tree change.
//
// It returns a *PivotError if a pivot vanishes on the way, as when the last brace of a bay is taken out; the factor is then
// lost until the next Refactor. Taking out most of a stiffness leaves round-off of the size of what was there: refactor
// when that matters. It panics on indices out of range, and returns an error if the pattern does not couple them.
// Source: P. E. Gill, G. H. Golub, W. Murray, M. A. Saunders, Methods for modifying matrix factorizations, Math. Comp. 28
// (1974) 505-535, method C1; T. A. Davis, W. W. Hager, Modifying a sparse Cholesky factorization, SIAM J. Matrix Anal. Appl.
// 20 (1999) 606-627 (the path).
func (f *Factor) Update(idx []int32, w []float64, sigma float64) error {
	f.mustBeValid("Update")
	if len(idx) != len(w) {
		panic(fmt.Sprintf("sparse: Update: %d indices and %d values", len(idx), len(w)))
	}
	first, err := f.loadUpdate(idx, w)
	if err != nil || first < 0 || sigma == 0 {
		f.dropUpdate(idx)
		return err
	}
	err = f.updatePath(first, sigma)
	if err != nil {
		f.valid = false
		clear(f.w)
	}
	return err
}

// loadUpdate puts w into f.w in elimination order and returns its first column, or -1 if w is zero.
func (f *Factor) loadUpdate(idx []int32, w []float64) (first int32, err error) {
	s := f.sym
	first = -1
	for k, i := range idx {
		if i < 0 || int(i) >= s.n {
			panic(fmt.Sprintf("sparse: Update: index %d is outside 0..%d", i, s.n-1))
		}
		j := s.inv[i]
		f.w[j] += w[k]
		if w[k] != 0 && (first < 0 || j < first) {
			first = j
		}
	}
	for k, i := range idx {
		if w[k] != 0 && s.inv[i] != first && !s.coupled(first, s.inv[i]) {
			return -1, fmt.Errorf("sparse: Update: unknowns %d and %d are not coupled in the pattern; add them to it or refactor",
				s.perm[first], i)
		}
	}
	return first, nil
}

func (f *Factor) dropUpdate(idx []int32) {
	for _, i := range idx {
		f.w[f.sym.inv[i]] = 0
	}
}

// coupled tells whether row i > j is in the structure of column j (as stored).
func (s *Symbolic) coupled(j, i int32) bool {
	k := s.superOf[j]
	if p := &s.super[k]; i < p.first+p.width {
		return true
	}
	for _, r := range s.rowsOf(k) {
		if r == i {
			return true
		}
	}
	return false
}

// updatePath runs method C1 along the path of the tree that starts at column j. f.w is zero when it has succeeded.
func (f *Factor) updatePath(j int32, alpha float64) error {
	s := f.sym
	for j >= 0 {
		k := s.superOf[j]
		p := &s.super[k]
		lx := f.lx[p.base : int(p.base)+p.size()]
		rows := s.rowsOf(k)
		for local := int(j - p.first); local < int(p.width); local++ {
			gj := int(p.first) + local
			wj := f.w[gj]
			if wj == 0 {
				continue
			}
			f.w[gj] = 0
			beta, err := f.updatePivot(gj, wj, &alpha)
			if err != nil {
				return err
			}
			col := lx[p.rise(local):]
			head := f.w[p.first : p.first+p.width]
			for i := local + 1; i < int(p.width); i++ {
				head[i] -= float64(wj * col[i])
				col[i] += float64(beta * head[i])
			}
			for q, r := range rows {
				at := int(p.width) + q
				f.w[r] -= float64(wj * col[at])
				col[at] += float64(beta * f.w[r])
			}
		}
		j = -1
		if len(rows) > 0 {
			j = rows[0]
		}
	}
	return nil
}

// updatePivot changes pivot j for a vector whose entry there is wj, and returns the factor for its column of L.
func (f *Factor) updatePivot(j int, wj float64, alpha *float64) (beta float64, err error) {
	old := f.d[j]
	add := *alpha * wj * wj
	d := old + float64(add)
	f.grow[j] += math.Abs(add)
	if !(math.Abs(d) > f.Null*f.grow[j]) || math.IsInf(d, 0) {
		return 0, &PivotError{Column: int(f.sym.perm[j]), Pivot: d, Scale: f.grow[j]}
	}
	if old < 0 && d > 0 {
		f.neg, f.pos = f.neg-1, f.pos+1
	} else if old > 0 && d < 0 {
		f.neg, f.pos = f.neg+1, f.pos-1
	}
	beta = *alpha * wj / d
	*alpha *= old / d
	f.d[j], f.dinv[j] = d, 1/d
	return beta, nil
}
