package checks

import "math"

// AnswerUtilisation is one combined check in the neutral form of a capacity answer: the code's own sum and the radial value
// beside it (the factor by which all actions together are to be divided to meet the limit). The sum is absent where the axial
// force alone exhausts it.
type AnswerUtilisation struct {
	Clause string   `json:"clause"`
	Form   string   `json:"form,omitempty"`
	Value  *float64 `json:"value,omitempty"`
	Radial *float64 `json:"radial"`
}

// Present is a value for an answer, to six figures; nil if it is absent (NaN) or infinite. Six figures are beyond any
// coefficient's certainty.
func Present(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	r := SixFigures(v)
	return &r
}

// SixFigures rounds to six significant figures; below 1e-12 of any unit there is nothing.
func SixFigures(v float64) float64 {
	if math.Abs(v) < 1e-12 {
		return 0
	}
	p := math.Pow10(5 - int(math.Floor(math.Log10(math.Abs(v)))))
	return math.Round(v*p) / p
}
