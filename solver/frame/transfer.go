package frame

// transfer takes the state at the start of a stretch, (v/L, θ, V·L²/EI, M·L/EI) with a length L that is the same for all its
// strips, to that at its end: m·state + q.
type transfer struct {
	m [4][4]float64
	q [4]float64
}

// transfer is the transfer matrix of the strip in plane p, in terms of length.
func (st *strip) transfer(p int, ei, shear, mu, length float64) (t transfer) {
	th := newTheory(&st.n, ei, shear, mu, st.l)
	axis := deflDOF[p]
	if mu != 0 {
		for start := range 4 {
			var c column
			*[4]*float64{&c.v[0], &c.t[0], &c.q[0], &c.m[0]}[start] = 1
			th.solve(&c, 0, 0)
			for row, a := range [4]float64{sum(&c.v, th.terms), sum(&c.t, th.terms), sum(&c.q, th.terms), sum(&c.m, th.terms)} {
				t.m[row][start] = a
			}
		}
	} else {
		scale := st.l * st.l * st.l / ei
		V, M, T, Q := th.arriveAll(st.q0[axis]*scale, (st.q1[axis]-st.q0[axis])*scale)
		t.m = [4][4]float64{{1, T.v, V.v, M.v}, {0, T.t, V.t, M.t}, {0, 0, 1, 0}, {0, T.m, V.m, M.m}}
		t.q = [4]float64{Q.v, Q.t, Q.q, Q.m}
	}
	r := st.l / length
	d := [4]float64{r, 1, 1 / (r * r), 1 / r}
	for i := range t.m {
		t.q[i] *= d[i]
		for j := range t.m[i] {
			t.m[i][j] *= d[i] / d[j]
		}
	}
	return t
}

// after is b followed by a. What does not vibrate keeps its shear, and takes all deflections on as they are.
func (a *transfer) after(b *transfer, still bool) (c transfer) {
	c.q = a.q
	if still {
		c.m[0][0], c.m[2][2] = 1, 1
		c.q[2] += b.q[2]
		c.q[0] += b.q[0]
		for _, i := range [3]int{0, 1, 3} {
			x, y, z := a.m[i][1], a.m[i][2], a.m[i][3]
			c.q[i] += x * b.q[1]
			c.q[i] += y * b.q[2]
			c.q[i] += z * b.q[3]
			c.m[i][1] = x*b.m[1][1] + z*b.m[3][1]
			c.m[i][2] = x*b.m[1][2] + y + z*b.m[3][2]
			c.m[i][3] = x*b.m[1][3] + z*b.m[3][3]
		}
		for j := 1; j < 4; j++ {
			c.m[0][j] += b.m[0][j]
		}
		return c
	}
	for i := range 4 {
		for k := range 4 {
			x := a.m[i][k]
			c.q[i] += x * b.q[k]
			for j := range 4 {
				c.m[i][j] += x * b.m[k][j]
			}
		}
	}
	return c
}

// link turns the transfer over length l into stiffness and fixed-end forces.
func (a *transfer) link(ei, l float64) link {
	sub := func(i, j int) mat2 { return mat2{{a.m[i][j], a.m[i][j+1]}, {a.m[i+1][j], a.m[i+1][j+1]}} }
	taa, tab, tbb := sub(0, 0), sub(0, 2), sub(2, 2)
	inv := tab.inverse()
	k := newLink(&inv, &tbb, &taa)
	k.fi = inv.vec([2]float64{a.q[0], a.q[1]})
	back := tbb.vec(k.fi)
	k.fj = [2]float64{a.q[2] - back[0], a.q[3] - back[1]}
	k.dimension(ei, l)
	return k
}
