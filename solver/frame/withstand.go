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
		w.combineSmooth()
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
