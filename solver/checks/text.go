package checks

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strings"
)

// WriteText prints the steps so that they can be followed by hand: clause, symbol = formula = numbers = value, and the
// certainty mark where the coefficient has one. A step with no symbol is a heading.
func (w *Working) WriteText(out io.Writer) error {
	if w == nil {
		return nil
	}
	b := bufio.NewWriter(out)
	last := ""
	for _, s := range w.Steps {
		if s.Symbol == "" {
			fmt.Fprintf(b, "\n%s\n", s.Formula)
			last = ""
			continue
		}
		clause := s.Clause
		if clause == last {
			clause = ""
		} else {
			last = clause
		}
		fmt.Fprintf(b, "  %-24s %s\n", clause, s.line())
	}
	return b.Flush()
}

// Heading starts a new part of the working; it does nothing on a nil receiver.
func (w *Working) Heading(title string) {
	if w != nil {
		w.Steps = append(w.Steps, Step{Formula: title})
	}
}

// line is one step without its clause.
func (s Step) line() string {
	parts := []string{s.Symbol}
	if s.Formula != "" {
		parts = append(parts, s.Formula)
	}
	if s.Numbers != "" {
		parts = append(parts, s.Numbers)
	}
	if !math.IsNaN(s.Value) {
		parts = append(parts, strings.TrimSpace(Figure(s.Value)+" "+unitText(s.Unit)))
	}
	line := strings.Join(parts, " = ")
	if s.Mark != "" {
		line += "  [" + s.Mark + "]"
	}
	return line
}

// unitText leaves out the dash of a pure number.
func unitText(u string) string {
	if u == "-" {
		return ""
	}
	return u
}

// Figure prints v with four significant digits and without an exponent below ten million.
func Figure(v float64) string {
	a := math.Abs(v)
	switch {
	case math.IsInf(v, 0) || math.IsNaN(v):
		return fmt.Sprint(v)
	case a == 0:
		return "0"
	case a >= 1e7 || a < 1e-4:
		return fmt.Sprintf("%.4g", v)
	}
	digits := 3 - int(math.Floor(math.Log10(a)))
	if digits < 0 {
		digits = 0
	}
	return fmt.Sprintf("%.*f", digits, v)
}
