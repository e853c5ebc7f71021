// Package checks holds what every code pack shares: a check's result, and the working that a checker can follow.
//
// In: nothing but numbers from the packs. Out: results and recorded working. It knows no code's clauses; those are in
// solver/checks/as4100 and solver/checks/asnzs4600.
package checks

// Result is one check of one member (or part) under one combination. The zero value means "not checked".
type Result struct {
	Name        string  // "compression", "bending", …
	Clause      string  // "AS 4100 8.4.5.1"
	Utilisation float64 // radial: the factor by which the design actions must be divided to reach the limit surface
	Raw         float64 // the code's own sum, for the working
	Station     float64 // m from the member's start; NaN if it has none
	Combination int     // index in Structure.Combinations; -1 if it has none
	Demand      float64 // N or N·m where a single number says it; else 0
	Capacity    float64
}

// Step is one line of working: what is computed, by which clause, with the numbers in.
type Step struct {
	Clause  string  // "AS 4100 6.3.3"
	Symbol  string  // "alpha_c"
	Formula string  // in the code's symbols
	Numbers string  // the same with the numbers in, trade units
	Value   float64 // in Unit
	Unit    string  // "kN", "kN·m", "-"
	Mark    string  // certainty of the coefficient, where it is not plain arithmetic
}

// Working records steps. A nil *Working records nothing and costs nothing, so that one function serves the search and
// the report: guard anything that formats with `if w != nil`.
type Working struct {
	Steps []Step
}

// Add appends a step; it does nothing on a nil receiver.
func (w *Working) Add(s Step) {
	if w != nil {
		w.Steps = append(w.Steps, s)
	}
}
