package catalog

// The trade's units at the border, in SI.

// mm turns millimetres into metres.
func mm(v float64) float64 { return v / 1000 }

// mpa turns megapascals into pascals.
func mpa(v float64) float64 { return v * 1e6 }
