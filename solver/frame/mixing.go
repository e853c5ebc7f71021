package frame

// mixing is Anderson's acceleration of a fixed-point iteration (Journal of the ACM 12, 1965): the next step is taken from the
// combination of the last corrections that is least. Where axial forces depend strongly on displacements plain corrections
// settle slowly or swing; this acts on them as a few steps of GMRES do, and costs some dot products.
type mixing struct {
	kept  int
	z, dx []float64 // the last correction and step
	dz    [mixDepth][]float64
	step  [mixDepth][]float64
	gram  [mixDepth * mixDepth]float64
	rhs   [mixDepth]float64
}

// mixDepth is the number of earlier steps that are combined.
const mixDepth = 4

// advance adds to x the mixed step for the correction z; step 0 begins anew.
func (m *mixing) advance(x, z []float64, step int) {
	n := len(z)
	if step == 0 {
		m.kept = 0
	} else {
		m.remember(z)
	}
	m.z, m.dx = append(m.z[:0], z...), append(m.dx[:0], z...)
	if m.kept > 0 {
		m.weigh(z)
		for a := range m.kept {
			g, dz, dx := m.rhs[a], m.dz[a], m.step[a]
			for i := range n {
				m.dx[i] -= g * (dx[i] + dz[i])
			}
		}
	}
	for i, v := range m.dx {
		x[i] += v
	}
}

// remember stores the last step and the change of the correction that it made, dropping the oldest.
func (m *mixing) remember(z []float64) {
	at := m.kept
	if at == mixDepth {
		at = mixDepth - 1
		dz, step := m.dz[0], m.step[0]
		copy(m.dz[:], m.dz[1:])
		copy(m.step[:], m.step[1:])
		m.dz[at], m.step[at] = dz, step
	}
	m.dz[at], m.step[at] = append(m.dz[at][:0], z...), append(m.step[at][:0], m.dx...)
	for i, v := range m.z {
		m.dz[at][i] -= v
	}
	m.kept = at + 1
}

// weigh finds the weights of the remembered changes that make the correction least: rhs.
func (m *mixing) weigh(z []float64) {
	p := m.kept
	most := 0.0
	for a := range p {
		for b := range a + 1 {
			m.gram[a*p+b] = dot(m.dz[a], m.dz[b])
		}
		most = max(most, m.gram[a*p+a])
		m.rhs[a] = dot(m.dz[a], z)
	}
	if most == 0 {
		m.kept = 0
		return
	}
	for a := range p {
		m.gram[a*p+a] += 1e-14 * most
	}
	if !cholesky(m.gram[:p*p], p, 1e-15*most) {
		m.kept = 0
		return
	}
	cholSolve(m.gram[:p*p], m.rhs[:p], p)
}
