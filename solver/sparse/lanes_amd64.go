package sparse

//go:noescape
func mulRowsAVX(out *row8, n int, a *row8, ld int, b *row8, step int)

//go:noescape
func subRowsAtAVX(y *row8, at *int32, n int, a *row8, ld int, c *row8, w int)

//go:noescape
func dotRowsAtAVX(x *row8, w int, a *row8, ld int, y *row8, at *int32, n int)

func mulRows(out, a []row8, ld int, b []row8, step int) {
	if !vectors {
		mulRowsGo(out, a, ld, b, step)
		return
	}
	if len(out) == 0 {
		return
	}
	_, _ = a[(len(out)-1)*ld], b[(len(out)-1)*step]
	mulRowsAVX(&out[0], len(out), &a[0], ld, &b[0], step)
}

func subRowsAt(y []row8, at []int32, shift int, a []row8, ld int, c []row8) {
	if !vectors {
		subRowsAtGo(y, at, shift, a, ld, c)
		return
	}
	if len(at) == 0 || len(c) == 0 {
		return
	}
	// Row numbers ascend, so that the last is the greatest; Symbolic sees to that.
	_, _ = a[(len(c)-1)*ld+len(at)-1], y[shift+int(at[len(at)-1])]
	subRowsAtAVX(&y[shift], &at[0], len(at), &a[0], ld, &c[0], len(c))
}

func dotRowsAt(x, a []row8, ld int, y []row8, at []int32) {
	if !vectors {
		dotRowsAtGo(x, a, ld, y, at)
		return
	}
	if len(at) == 0 || len(x) == 0 {
		return
	}
	_, _ = a[(len(x)-1)*ld+len(at)-1], y[at[len(at)-1]]
	dotRowsAtAVX(&x[0], len(x), &a[0], ld, &y[0], &at[0], len(at))
}
