package checks

import "math"

// Trade units for the working: inside everything is N, m, Pa.

// KN converts newtons to kilonewtons.
func KN(n float64) float64 { return n / 1e3 }

// KNm converts newton metres to kilonewton metres.
func KNm(nm float64) float64 { return nm / 1e3 }

// MPa converts pascals to megapascals.
func MPa(pa float64) float64 { return pa / 1e6 }

// MM converts metres to millimetres.
func MM(m float64) float64 { return m * 1e3 }

// MM2 converts square metres to square millimetres.
func MM2(m2 float64) float64 { return m2 * 1e6 }

// MM3 converts cubic metres to cubic millimetres.
func MM3(m3 float64) float64 { return m3 * 1e9 }

// MM4 converts m⁴ to mm⁴.
func MM4(m4 float64) float64 { return m4 * 1e12 }

// MM6 converts m⁶ to mm⁶.
func MM6(m6 float64) float64 { return m6 * 1e18 }

// Defined reports whether the code gives a value: packs return NaN for a quantity that it does not define.
func Defined(v float64) bool { return !math.IsNaN(v) }
