//go:build !amd64

package frame

func mulRows(x []row8, a []float64, y []row8) { mulRowsGo(x, a, y) }

func dotRows(out *row8, a, b []row8) { dotRowsGo(out, a, b) }

func addRows(x []row8, s *row8, y []row8) { addRowsGo(x, s, y) }

func addRowsAt(x []row8, at []int32, y []row8) { addRowsAtGo(x, at, y) }

func pickRows(x []row8, a []float64, y []row8, at []int32) { pickRowsGo(x, a, y, at) }
