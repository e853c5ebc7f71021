package optimize

import (
	"context"
	"fmt"
	"math"
)

// Gene is one decision: an index into an ordered list of options.
type Gene struct {
	Name    string
	Options []string // names of the options, in order (sections by mass, positions by step)
	// Levels is the number of options where they have no names; it is read only if Options is empty. A gene of more than
	// 256 unnamed levels is taken as a finely divided real number and varied as one.
	Levels int
	// Family groups the options (a section's family, a brace's kind): jumps go within a family or to the like place of
	// another one. Nil is one family; otherwise it has one entry for each option.
	Family []int
	// Block names the part of the design that the gene belongs to (a frame line, a bay). Block crossover exchanges whole
	// blocks; blocks of the same layout can be copied onto one another. Empty is a block of its own.
	Block string
	// Kin names genes that may gain from taking the same option, because fewer distinct ones count (one section bought
	// instead of two). Empty is none: without such a gain the move only narrows the search.
	Kin string
	// Values, if given, is a positive number for each option that its effects go with (an area, a stiffness): models of
	// what was evaluated interpolate by it instead of by the place in the list.
	Values []float64
	// Ordered says that a neighbouring option is a small change. Options without order are only exchanged by jumps.
	Ordered bool
}

// Count returns the number of options.
func (g *Gene) Count() int {
	if len(g.Options) > 0 {
		return len(g.Options)
	}
	return g.Levels
}

// fineLevels is the number of unnamed levels beyond which a gene is varied like a real number: above it, single steps
// are too small to matter.
const fineLevels = 256

func (g *Gene) fine() bool { return len(g.Options) == 0 && g.Levels > fineLevels }

// Space is the list of genes. A point is one index for each gene, 0 to Count-1.
type Space struct {
	Genes []Gene
}

// Size returns the number of points, as a float because it can exceed any integer.
func (s *Space) Size() float64 {
	n := 1.0
	for i := range s.Genes {
		n *= float64(s.Genes[i].Count())
	}
	return n
}

// Validate reports the first gene that cannot be used: no option, families that do not match the options.
func (s *Space) Validate() error {
	if len(s.Genes) == 0 {
		return fmt.Errorf("optimize: the space has no genes: nothing may vary; free at least one variable")
	}
	for i := range s.Genes {
		g := &s.Genes[i]
		if g.Count() < 1 {
			return fmt.Errorf("optimize: gene %d (%s) has no options; give it at least one", i, g.Name)
		}
		if g.Family != nil && len(g.Family) != g.Count() {
			return fmt.Errorf("optimize: gene %d (%s) has %d options but %d family entries; give one for each option", i, g.Name, g.Count(), len(g.Family))
		}
	}
	return nil
}

// Score is what an evaluation says about a variant. Lower is better everywhere.
type Score struct {
	// Objectives has one finite value for each objective of the problem. It may be nil where Class > 0.
	Objectives []float64 `json:"o,omitempty"`
	// Class 0 is compared by its objectives. Higher classes are worse than every lower one, whatever their objectives
	// (failing, not converged, mechanism); within a class, less Violation is better, then less Tie.
	Class     int     `json:"c,omitempty"`
	Violation float64 `json:"v,omitempty"` // graded measure of how far from class 0, ≥ 0
	Tie       float64 `json:"t,omitempty"`
	// Complies says that the variant meets every limit. A class 0 variant that does not comply is a stepping stone on
	// the front: it is kept, and shown apart.
	Complies bool `json:"ok,omitempty"`
	// Pending says that some objectives are as good as any variant's can be, because the true ones cost much to find: a
	// Completer finds them if the variant could then enter the front.
	Pending bool `json:"w,omitempty"`
	// Measures are optional: positive quantities that change smoothly with the design and that a Guesser can make a
	// score of, such as the utilisation of each group. Where given they have the same length for every variant; a negative
	// one is not known (a part that this design does not have, a check that was not reached).
	Measures []float64 `json:"m,omitempty"`
}

// Objective describes one objective; all are minimised.
type Objective struct {
	Name string
	Unit string
	// Box is the size of a step that matters (0.5 % of mass, 0.005 of utilisation). It measures progress only: nothing
	// is rounded into or out of the front. 0 means a thousandth of the range first seen.
	Box float64
	// Reference is the coordinate of the hypervolume's reference point. 0 means: 1.1 times the greatest value of the
	// first generation that has a class 0 variant (from its least value up).
	Reference float64
}

// Problem is what is searched. Its methods, and those of the interfaces beside it, are called from several goroutines at
// once: what they share must not change. Only an Evaluator belongs to one worker.
type Problem interface {
	Space() *Space
	Objectives() []Objective
	// Canonical repairs p by stated rules and names the variant. It never fails. Points with equal keys are one variant
	// and have equal repaired points; repairing a repaired point changes nothing. It must not keep or change p.
	Canonical(p []int) (key string, repaired []int)
	// NewEvaluator returns an evaluator for one worker.
	NewEvaluator() Evaluator
}

// Evaluator scores variants; one worker owns it. An error ends the whole run: what cannot be analysed is no error, it is
// a variant of a higher class.
type Evaluator interface {
	// Evaluate is a pure function of key; p is the repaired point, and must not be kept or changed.
	Evaluate(ctx context.Context, p []int, key string) (Score, error)
}

// Bound is a proven statement about a variant that was not evaluated.
type Bound struct {
	Objectives   []float64 // none of the variant's objectives is less than its entry here
	CannotComply bool      // true only if it is proven that the variant does not comply
	// Complying, where above 0, is a bound of the first objective for those that comply, of a branch of variants.
	Complying float64
}

// Bounder is a Problem that can bound a variant's objectives cheaply, without evaluating it. A variant whose bound is
// dominated by the front cannot enter it and is not evaluated.
type Bounder interface {
	Bound(p []int, key string) Bound
}

// PartialBounder is a Problem that can bound, at once, every point that shares its first fixed genes with p. Exhaustive
// search leaves out whole branches by it, and reports an honest lower bound where it cannot finish.
type PartialBounder interface {
	BoundPartial(p []int, fixed int) Bound
}

// Completer is an Evaluator that leaves dear objectives of some scores pending, at values that none is below, and completes
// them on request. A pending variant that the front dominates even so cannot enter it and stays pending. Completing is a pure
// function of the key, and never lowers an objective.
type Completer interface {
	Complete(ctx context.Context, p []int, key string, s Score) (Score, error)
}

// Screener is an Evaluator that can go through an evaluation part by part and leave it as soon as what it found excludes the
// variant: most evaluations near a good front end after a fraction of them.
type Screener interface {
	// Screen returns the score and true, or false where the variant is of a class above 0 or excluded says so of its objectives.
	// excluded may be asked of any bounds of the objectives: what it says of a bound holds of everything that is nowhere less.
	// What is returned is a function of key and of excluded, whatever was screened before: only the time may depend on that. A
	// score of false is not used.
	Screen(ctx context.Context, p []int, key string, excluded func(objectives []float64) bool) (Score, bool, error)
}

// Hinter is an Evaluator that can say where a variant should change: one number for each gene, positive where the gene
// should step up, negative where it could step down; the larger the magnitude, the sooner it is tried. It is a pure
// function of the key; s is the variant's score. Hints set the order in which local improvement looks around and what a chase
// tries, never what is accepted. Nil says nothing.
type Hinter interface {
	Hint(ctx context.Context, p []int, key string, s Score) ([]float64, error)
}

// Guesser is a Problem that can say which score a variant with the given measures would have. From the measures of what
// was evaluated the search then models those of other variants, and evaluates first what promises most.
type Guesser interface {
	Guess(p []int, key string, measures []float64) Score
}

// Variant is an evaluated point.
type Variant struct {
	Key   string `json:"k"`
	Point []int  `json:"p"`
	Score Score  `json:"s"`
	// Settled says that every single step and every paired step from here was looked at and none improves on it. It is
	// set only in the states and results of a run.
	Settled bool `json:"settled,omitempty"`
}

// checkScore refuses a score that cannot be ranked.
func checkScore(s Score, objectives int, key string) error {
	if len(s.Objectives) != objectives && !(s.Class > 0 && s.Objectives == nil) {
		return fmt.Errorf("optimize: variant %q has %d objectives, the problem names %d; mend the evaluator", key, len(s.Objectives), objectives)
	}
	for i, v := range s.Objectives {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("optimize: variant %q: objective %d is %v; give a variant that cannot be analysed a class above 0", key, i, v)
		}
	}
	if s.Class < 0 || math.IsNaN(s.Violation) || math.IsInf(s.Violation, 0) || math.IsNaN(s.Tie) || math.IsInf(s.Tie, 0) {
		return fmt.Errorf("optimize: variant %q: class %d, violation %v, tie %v; the class is 0 or more, the others finite", key, s.Class, s.Violation, s.Tie)
	}
	return nil
}
