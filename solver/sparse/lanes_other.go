//go:build !amd64

package sparse

func mulRows(out, a []row8, ld int, b []row8, step int) { mulRowsGo(out, a, ld, b, step) }

func subRowsAt(y []row8, at []int32, shift int, a []row8, ld int, c []row8) {
	subRowsAtGo(y, at, shift, a, ld, c)
}

func dotRowsAt(x, a []row8, ld int, y []row8, at []int32) { dotRowsAtGo(x, a, ld, y, at) }
