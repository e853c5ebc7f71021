package sparse

//go:noescape
func mulRowsAVX(out *row8, n int, a *row8, step, less int, b *row8, jump int)

//go:noescape
func subRowsAtAVX(y *row8, at *int32, n int, a *row8, step int, c *row8, w int)

//go:noescape
func dotRowsAtAVX(x *row8, w int, a *row8, step int, y *row8, at *int32, n int)

func mulRows(out, a []row8, step, less int, b []row8, jump int) {
	if !vectors {
		mulRowsGo(out, a, step, less, b, jump)
		return
	}
	n := len(out)
	if n == 0 {
		return
	}
	_, _ = a[(n-1)*step-less*((n-1)*(n-2)/2)], b[(n-1)*jump]
	mulRowsAVX(&out[0], n, &a[0], step, less, &b[0], jump)
}

func subRowsAt(y []row8, at []int32, shift int, a []row8, step int, c []row8) {
	if !vectors {
		subRowsAtGo(y, at, shift, a, step, c)
		return
	}
	if len(at) == 0 || len(c) == 0 {
		return
	}
	// Row numbers ascend, so that the last is the greatest; Symbolic sees to that.
	_, _ = a[lastColumn(step, len(c))+len(at)-1], y[shift+int(at[len(at)-1])]
	subRowsAtAVX(&y[shift], &at[0], len(at), &a[0], step, &c[0], len(c))
}

func dotRowsAt(x, a []row8, step int, y []row8, at []int32) {
	if !vectors {
		dotRowsAtGo(x, a, step, y, at)
		return
	}
	if len(at) == 0 || len(x) == 0 {
		return
	}
	_, _ = a[lastColumn(step, len(x))+len(at)-1], y[at[len(at)-1]]
	dotRowsAtAVX(&x[0], len(x), &a[0], step, &y[0], &at[0], len(at))
}
