package frame

// In lanes the deflection of a smooth element in a plane is taken apart otherwise than in packed: into the turn of its chord ψ, an even
// and an odd bow β and γ, and the inner polynomials. With v/L and θ at ends i and j
//
//	ψ = vj - vi   β = (θi + θj)/2 - ψ   γ = (θj - θi)/2
//
// their slopes are 1 and the Legendre polynomials P2 and P1. Bending then is 6β² + 2γ² times EI/L, and most of what an even axial force
// does falls away by orthogonality.
const (
	chordTurn  = 0
	bowEven    = 1
	bowOdd     = 2
	bowInner   = 3 // the first of the inner polynomials
	bows       = bowInner + inners
	chordTerms = bows*(bows+1)/2 - 1 // of the triangle without its first entry, which is the mean of the axial force
	bendEven   = 12                  // forces of a unit β over EI/L
	bendOdd    = 4
)

// chordTerm is the place of parts a and b, not both the turn, among the terms.
func chordTerm(a, b int) int { return triangle(max(a, b), min(a, b)) - 1 }

// chordVarying[j] is what term j of the expansion of the axial force does to them: ∫ P_j·φ_a'·φ_b' dξ over 0..1.
var chordVarying = func() (g [axials][chordTerms]float64) {
	for _, q := range gauss8 {
		p := legendre(q.x)
		slope := [bows]float64{1, p[2], p[1]}
		for k := range inners {
			slope[bowInner+k] = innerScale[k] * rise(&p, k+2)
		}
		for j := range g {
			for a := 1; a < bows; a++ {
				for b := range a + 1 {
					g[j][chordTerm(a, b)] += q.w * p[j] * slope[a] * slope[b]
				}
			}
		}
	}
	for j := range g {
		for n, v := range g[j] {
			if v*v < 1e-28 { // what is nothing but round-off is nothing
				g[j][n] = 0
			}
		}
	}
	return g
}()

// chordVariation is smoothSum.settle for these parts.
func (s *smoothLoad) chordVariation() (v [chordTerms]float64) {
	for j := 1; j < axials; j++ {
		if c := s.axial[j]; c != 0 {
			for n, g := range &chordVarying[j] {
				v[n] += c * g
			}
		}
	}
	return v
}
