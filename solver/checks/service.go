package checks

import "math"

// Deflection is the ratio of a movement to its limit (same unit, either sign of value): 1 is at the limit. It panics if
// limit is not positive.
func Deflection(limit, value float64) float64 {
	if !(limit > 0) {
		panic("checks: a deflection limit must be positive")
	}
	return math.Abs(value) / limit
}
