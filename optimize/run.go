package optimize

import "time"

// Config says how to search. The zero value of each field is a usable default.
type Config struct {
	Seed       uint64
	Islands    int // populations that exchange their best variants now and then; 0 is 2
	Population int // variants in each; 0 is 60
	Workers    int // goroutines that evaluate; 0 is the number of processors. It never changes a result.
	Migrate    int // generations between exchanges; 0 is 10
	Stop       Stop
	// Start holds points that the first population contains, such as what was drawn. They are repaired like any other.
	Start [][]int
	// Stones is the number of classes above 0 whose best variants are kept beside the front.
	Stones int
	// Closing is the share of the work done that may be spent, after the search has stopped (by generations, by stagnation or for
	// want of new variants), on looking around the front until it is settled; 0 is none. What is found is looked around in turn.
	Closing float64
	// Named, if set, are the keys of a front's variants that are asked for most: closing looks around them first, in their
	// order. It must be a pure function; unset it is the complying variant with the least first objective.
	Named func(front []Variant) []string
	// Guesses is how many variants a model looks at in each round of breeding on guesses, as a multiple of the population;
	// 0 is 3. More of them save evaluations where the space has many genes, and cost time that has nothing to do with them.
	Guesses int
	// Resume continues a run from its checkpoint; everything but the stop and the workers must be as in that run.
	Resume *Checkpoint

	// Parts that can be switched off, to measure what each contributes. Off is false.
	NoBounds     bool // evaluate also what is proven to be dominated
	NoPolish     bool // no local improvement around the front
	NoHints      bool // local improvement in plain order
	NoScreen     bool // local improvement evaluates in full what it looks at
	NoPairs      bool // no paired steps, neither by operators nor in local improvement
	NoLitters    bool // one selection a generation for real genes
	NoDifference bool // no differential steps of real genes
	NoChase      bool // no chase for what complies once it is mended
	NoRestart    bool // never renew a population that stands still
	NoAdapt      bool // operators at their first rates for ever
	NoGuess      bool // no model of what was evaluated
	NoForecast   bool // no scouts: forecasts are not used
	// Audit evaluates every variant that a bound leaves out or that local improvement leaves half way, outside the counts, and
	// fails the run if one would have entered the front. It is for tests of a Bounder and of a Screener.
	Audit bool
}

// Stop says when to end; zero values do not limit. At least one of them must be set. They are looked at between
// generations; Evaluations is a hard limit that cuts a generation short.
type Stop struct {
	Generations int
	Evaluations int // distinct variants evaluated
	Time        time.Duration
	// Stagnation is the number of generations without growth of the hypervolume (or of the best single objective)
	// after which the search ends. A population is renewed after 15 without a new box: where that matters, give it more than
	// that. Whether the front is settled by then is in the state.
	Stagnation int
}

// Reason says why a run stopped.
type Reason string

// The reasons for stopping.
const (
	Running    Reason = ""
	Generation Reason = "generations"
	Evaluation Reason = "evaluations"
	TimeUp     Reason = "time"
	Stagnation Reason = "stagnation"
	Exhausted  Reason = "exhausted" // no variant was left that had not been looked at
	Cancelled  Reason = "cancelled"
)

// Tiers counts what became of the variants that the search proposed.
type Tiers struct {
	Repeated  int `json:"repeated"`  // proposed again: known already
	Bounded   int `json:"bounded"`   // proven by a bound not to enter the front, not evaluated
	Screened  int `json:"screened"`  // proven in the course of its evaluation not to enter the front, and left there
	Guessed   int `json:"guessed"`   // looked at by a model or a forecast only, to choose what to evaluate; repeated looks count again
	Evaluated int `json:"evaluated"` // evaluated in full
}

// State is a run after a complete generation. Its slices are shared: read only.
type State struct {
	Generation  int
	Evaluations int // distinct variants evaluated so far
	Tiers       Tiers
	Front       []Variant // class 0, none dominated; ordered by objectives
	Stones      []Variant // the best of the classes that Config.Stones asks for
	Lightest    *Variant  // the complying variant with the least first objective; nil if there is none
	Closest     *Variant  // the best variant in the order of the classes; nil only before the first evaluation
	Hypervolume float64   // of Front, up to Reference; 0 for a single objective
	Reference   []float64 // nil until a class 0 variant was found
	Settled     bool      // no single or paired step from any variant of Front improves it
	Fresh       []Variant // evaluated since the state before, in the order in which they were asked for, whatever the workers
	Restarts    int
	Rates       map[string]float64 // share of each operator, mean over the islands
	Populations [][]Variant        // the variants alive, by island
	Reason      Reason

	snapshot func() ([]byte, error)
}

// Result is the last state of a run.
type Result struct{ State }

// Recorder looks at each generation as it ends. It must not change what it sees; an error ends the run.
type Recorder interface {
	Generation(State) error
}

// Checkpoint is what Run needs to go on as if it had not been interrupted: the snapshot of some state, and every
// variant evaluated up to it, which is all Fresh lists of the states up to and with that one, in any order.
type Checkpoint struct {
	Snapshot []byte
	Seen     []Variant
}

// Journal is a Recorder that keeps a Checkpoint in memory.
type Journal struct {
	Checkpoint
}

// Generation implements Recorder.
func (j *Journal) Generation(s State) error {
	snapshot, err := s.Snapshot()
	if err != nil {
		return err
	}
	j.Snapshot = snapshot
	j.Seen = append(j.Seen, s.Fresh...)
	return nil
}

// Snapshot returns the state of the run in a versioned form for Checkpoint, without the list of evaluated variants.
func (s State) Snapshot() ([]byte, error) { return s.snapshot() }
