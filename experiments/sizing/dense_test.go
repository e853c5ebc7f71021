package sizing

import "math"

// denseAnalyser solves the stiffness equations of the bars by Gaussian elimination on a full matrix, in the test's own
// words: an independent check of the analysis.
type denseAnalyser struct{ truss *Truss }

func (d denseAnalyser) analyse(areas []float64, r *response) error {
	t := d.truss
	n := 3 * len(t.Nodes)
	k := make([][]float64, n)
	for i := range k {
		k[i] = make([]float64, n+len(t.Cases))
	}
	group := t.groupOf()
	axis := func(m int) (c [3]float64, l float64) {
		a, b := t.Nodes[t.Members[m][0]], t.Nodes[t.Members[m][1]]
		l = t.length(m)
		for x := range 3 {
			c[x] = (b[x] - a[x]) / l
		}
		return c, l
	}
	for m, ends := range t.Members {
		c, l := axis(m)
		ea := t.E * areas[group[m]] / l
		for x := range 3 {
			for y := range 3 {
				s := ea * c[x] * c[y]
				i, j := 3*ends[0], 3*ends[1]
				k[i+x][i+y] += s
				k[j+x][j+y] += s
				k[i+x][j+y] -= s
				k[j+x][i+y] -= s
			}
		}
	}
	for c, lc := range t.Cases {
		for _, l := range lc.Loads {
			for x := range 3 {
				k[3*l.Node+x][n+c] += l.Force[x]
			}
		}
	}
	for i := range n {
		if t.Held[i/3][i%3] {
			clear(k[i])
			for j := range n {
				k[j][i] = 0
			}
			k[i][i] = 1
		}
	}
	r.reset(len(t.Groups))
	for p := range n {
		best := p
		for i := p; i < n; i++ {
			if math.Abs(k[i][p]) > math.Abs(k[best][p]) {
				best = i
			}
		}
		k[p], k[best] = k[best], k[p]
		if math.Abs(k[p][p]) < 1e-9 {
			r.stable = false
			return nil
		}
		for i := range n {
			if f := k[i][p] / k[p][p]; i != p && f != 0 {
				for j := p; j < len(k[i]); j++ {
					k[i][j] -= f * k[p][j]
				}
			}
		}
	}
	for c := range t.Cases {
		u := func(node, x int) float64 { return k[3*node+x][n+c] / k[3*node+x][3*node+x] }
		for m, ends := range t.Members {
			e, l := axis(m)
			stretch := 0.0
			for x := range 3 {
				stretch += e[x] * (u(ends[1], x) - u(ends[0], x))
			}
			t.addStress(r, group[m], t.E*stretch/l)
		}
		t.addDisplacement(r, u)
	}
	return nil
}
