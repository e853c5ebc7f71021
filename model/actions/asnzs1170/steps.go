package asnzs1170

import (
	"leanbay/model/actions"
	"leanbay/solver/checks"
)

// step records a line of working. name is the coefficient whose clause and mark it carries; "" is plain arithmetic.
// numbers is called only when there is a recorder.
func (t *Table) step(w *actions.Working, name, symbol, formula string, value float64, unit string, numbers func() string) {
	if w == nil {
		return
	}
	s := checks.Step{Symbol: symbol, Formula: formula, Value: value, Unit: unit}
	if name != "" {
		clause, mark := t.source(name)
		s.Clause, s.Mark = clause, string(mark)
	}
	if numbers != nil {
		s.Numbers = numbers()
	}
	w.Add(s)
}
