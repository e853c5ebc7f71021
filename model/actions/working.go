package actions

import "leanbay/solver/checks"

// Step is one line of a pack's working under the heading of its part.
type Step struct {
	Part string // "Wind on the south wall"
	checks.Step
}

// Working records how actions were found, in reading order. A nil *Working records nothing and costs nothing: guard what
// formats with `if w != nil`.
type Working struct {
	Steps []Step
	// Used lists the coefficients that were read, in the order of their first use.
	Used []string

	part string
	seen map[string]bool
}

// Part starts a new heading.
func (w *Working) Part(title string) {
	if w != nil {
		w.part = title
	}
}

// Add appends a step under the present heading.
func (w *Working) Add(s checks.Step) {
	if w != nil {
		w.Steps = append(w.Steps, Step{Part: w.part, Step: s})
	}
}

// Use notes that a coefficient was read.
func (w *Working) Use(name string) {
	if w == nil || w.seen[name] {
		return
	}
	if w.seen == nil {
		w.seen = map[string]bool{}
	}
	w.seen[name] = true
	w.Used = append(w.Used, name)
}
