package frame

// laneMix is Anderson's acceleration (see mixing) of eight iterations side by side. Every lane begins anew by itself; steps go
// round through the same places.
type laneMix struct {
	round int
	kept  [lanes]int
	z, dx []row8 // the last corrections and steps
	dz    [mixDepth][]row8
	steps [mixDepth][]row8
	gram  [mixDepth][mixDepth]row8
	rhs   [mixDepth]row8
}

func (m *laneMix) begin(n int) {
	m.round, m.kept = 0, [lanes]int{}
	m.z, m.dx = sized(m.z, n), sized(m.dx, n)
	for k := range mixDepth { // written before they are read
		m.dz[k], m.steps[k] = sized(m.dz[k], n), sized(m.steps[k], n)
	}
}

// advance adds the mixed steps for the corrections s.b to s.x, in lanes that take one.
func (m *laneMix) advance(s *abreast) {
	m.remember(s)
	m.z, s.b = s.b, m.z
	var weight [mixDepth]row8
	var takes row8
	for l := range s.count {
		ln := &s.lane[l]
		if !ln.running || ln.idle {
			continue // and stands still
		}
		takes[l] = 1
		if ln.step == 0 {
			m.kept[l] = 0
		} else {
			m.kept[l] = min(m.kept[l]+1, mixDepth)
		}
		ln.step++
		m.weigh(l, &weight)
	}
	for from := 0; from < len(m.z); from += mixRows {
		to := min(from+mixRows, len(m.z))
		dx := m.dx[from:to]
		copy(dx, m.z[from:to])
		for k := range mixDepth {
			if weight[k] != (row8{}) {
				addRows(dx, &weight[k], m.steps[k][from:to])
				addRows(dx, &weight[k], m.dz[k][from:to])
			}
		}
		addRows(s.x[from:to], &takes, dx)
	}
	m.round++
}

// mixRows is how many rows are mixed at a time: a dozen vectors' parts of 32 rows lie in the first-level cache.
const mixRows = 32

// remember stores the last steps and the changes of the corrections that they made, in the place of the oldest.
func (m *laneMix) remember(s *abreast) {
	if m.round == 0 {
		return
	}
	at := (m.round - 1) % mixDepth
	m.steps[at], m.dx = m.dx, m.steps[at]
	dz, kept := m.dz[at], min(m.round, mixDepth)
	m.gram[at], m.rhs = [mixDepth]row8{}, [mixDepth]row8{}
	for from := 0; from < len(dz); from += mixRows {
		to := min(from+mixRows, len(dz))
		subRows(dz[from:to], s.b[from:to], m.z[from:to])
		for k := range kept {
			dotRows(&m.gram[at][k], dz[from:to], m.dz[k][from:to])
			dotRows(&m.rhs[k], m.dz[k][from:to], s.b[from:to])
		}
	}
	for k := range kept {
		m.gram[k][at] = m.gram[at][k]
	}
}

// weigh finds the weights of the remembered changes that make the correction of lane l least, negative.
func (m *laneMix) weigh(l int, weight *[mixDepth]row8) {
	p := m.kept[l]
	var at [mixDepth]int
	var a [mixDepth * mixDepth]float64
	var x [mixDepth]float64
	most := 0.0
	for i := range p {
		at[i] = (m.round - p + i + mixDepth) % mixDepth
		for j := range i + 1 {
			a[i*p+j] = m.gram[at[i]][at[j]][l]
		}
		most = max(most, a[i*p+i])
		x[i] = m.rhs[at[i]][l]
	}
	if p == 0 || !(most > 0) {
		m.kept[l] = 0
		return
	}
	for i := range p {
		a[i*p+i] += 1e-14 * most
	}
	if !cholesky(a[:p*p], p, 1e-15*most) {
		m.kept[l] = 0
		return
	}
	cholSolve(a[:p*p], x[:p], p)
	for i := range p {
		weight[at[i]][l] = -x[i]
	}
}
