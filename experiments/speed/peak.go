package speed

import "runtime"

// Peak is what a core can do at most.
type Peak struct {
	Rate   float64 `json:"flop_per_second"`
	Method string  `json:"method"`
}

const goMethod = "multiplications and additions of single doubles, eight independent chains, compiled portable code"

// spinRounds is a stretch of about a millisecond, too short for other work to cut into every time.
const spinRounds = 100_000

// MeasurePeak returns the greatest rate of many short stretches.
func MeasurePeak() Peak {
	p := Peak{Method: peakMethod()}
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	for range 60 {
		start := now()
		ops := spin(spinRounds)
		p.Rate = max(p.Rate, float64(ops*spinRounds)/(now()-start).Seconds())
	}
	return p
}

// sink keeps the portable loop from being optimised away.
var sink float64

// spinGo is the portable loop: 16 operations a round.
func spinGo(rounds int) int {
	a, b, c, d := 1.0, 1.0, 1.0, 1.0
	e, f, g, h := 0.0, 0.0, 0.0, 0.0
	m, s := 1.0+1e-12, 1e-3
	for range rounds {
		a, b, c, d = a*m, b*m, c*m, d*m
		e, f, g, h = e+s, f+s, g+s, h+s
		a, b, c, d = a*m, b*m, c*m, d*m
		e, f, g, h = e+s, f+s, g+s, h+s
	}
	sink = a + b + c + d + e + f + g + h
	return 16
}
