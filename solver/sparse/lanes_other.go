//go:build !amd64

package sparse

func mulRows(out, a []row8, step, less int, b []row8, jump int) {
	mulRowsGo(out, a, step, less, b, jump)
}

func subRowsAt(y []row8, at []int32, shift int, a []row8, step int, c []row8) {
	subRowsAtGo(y, at, shift, a, step, c)
}

func dotRowsAt(x, a []row8, step int, y []row8, at []int32) { dotRowsAtGo(x, a, step, y, at) }
