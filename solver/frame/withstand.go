package frame

// withstandSlack is by how much a load factor must be passed, since smooth elements are stiffer than exact ones by some
// millionths.
const withstandSlack = 1e-3

// Withstands tells whether no elastic buckling load factor of the state r lies below factor: by one count of eigenvalues,
// where Buckling would seek the lowest. One-way elements that are slack and do not stand ready take no part; false therefore
// means only that Buckling is to be asked, which then knows how far to look.
func (w *Workspace) Withstands(r *Result, factor float64) (bool, error) {
	if r.w != w || r.load != w.loadNo || !r.Stable {
		return false, errStale
	}
	w.factors = append(w.factors[:0], r.factors...)
	w.so.gathered = false
	if w.Quick {
		w.combineAxial()
	}
	p := pencil{w: w, fill: func(x float64) int {
		return w.fillExact(func(e int, st *state) bool {
			if r.Slack[e] {
				*st = w.els[e].linear
				return r.Touching[e]
			}
			w.stateTimes(e, r.axialOf(e), x, st)
			return true
		})
	}}
	factor *= 1 + withstandSlack
	below, err := p.count(factor)
	if err == nil && below > 0 {
		w.so.buckling.r, w.so.buckling.below = r, factor
	}
	return below == 0, err
}

// combineAxial is combineSmooth for what stateTimes takes of smooth elements: their axial forces.
func (w *Workspace) combineAxial() {
	sums := sized(w.so.smooth, len(w.els))
	w.so.smooth = sums
	for e := range sums {
		sums[e].axial, sums[e].drop = [axials]float64{}, 0
	}
	for c, factor := range w.factors {
		if factor == 0 {
			continue
		}
		for i := w.loads.caseAt[c]; i < w.loads.caseAt[c+1]; i++ {
			s, o := &sums[w.loads.fixed[i].element], &w.loads.smooth[i]
			s.drop += factor * o.drop
			for k := range s.axial {
				s.axial[k] += factor * o.axial[k]
			}
		}
	}
	w.loads.places.addAxial(w.factors, sums)
}

// addAxial adds what the forces along elements do to axial forces under the factors of the cases.
func (p *placeSet) addAxial(factors []float64, sums []smoothSum) {
	if !p.on {
		return
	}
	for k := range p.list {
		row, f := p.force[3*k*p.nc:][:len(factors)], 0.0
		for c, factor := range factors {
			f += factor * row[c]
		}
		if f == 0 {
			continue
		}
		s, b := &sums[p.list[k].element], p.basis[k*basisNumbers:(k+1)*basisNumbers]
		s.drop += f * b[basisDrop]
		for i := range s.axial {
			s.axial[i] += f * b[basisAxial+i]
		}
	}
}

// stateTimes computes the stiffness of element e under lambda times the axial force that begins with n at end i.
func (w *Workspace) stateTimes(e int, n, lambda float64, st *state) {
	el := &w.els[e]
	if w.Quick {
		s := w.so.smooth[e]
		s.scaleAxial(lambda)
		s.settle()
		if el.smoothable(lambda*n, &s.smoothLoad) {
			var f [12]float64
			*st = el.linear
			el.smoothState(lambda*n, &s, st, &f)
			return
		}
	}
	if !w.so.gathered {
		w.gatherAll()
	}
	w.exactState(e, n, lambda, 0, st)
}

// scaleAxial leaves of s the axial forces, times lambda.
func (s *smoothLoad) scaleAxial(lambda float64) {
	for k := range s.axial {
		s.axial[k] *= lambda
	}
	s.drop *= lambda
	s.inner = [2][inners]float64{}
}
