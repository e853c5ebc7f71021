package optimize

import (
	"bytes"
	"crypto/sha256"
	"slices"
)

// A closing round looks at about closingRound neighbours' worth of work (in parts of an evaluation, see screenedPart) between
// two records of the run.
const closingRound = 256

// closing is the closer look around the front after a search has stopped, with what it needs to go on after an interruption.
type closing struct {
	Reason     Reason `json:"reason"`     // why the search stopped,
	Generation int    `json:"generation"` // when,
	Since      int    `json:"since"`      // and after how many generations without progress
	Left       int    `json:"left"`       // work that may still be done, in parts of an evaluation
}

// close looks around the front of a search that has stopped by itself, round by round, until the front is settled or the
// share of work is used. Each round is recorded like a generation.
func (e *engine) close() error {
	if e.closing == nil && e.closes() {
		work := screenedPart*len(e.seen) + e.tiers.Screened
		e.closing = &closing{e.reason, e.generation, e.progress.Since, int(e.cfg.Closing * float64(work))}
	}
	for e.closing != nil && e.closing.Left > 0 && !e.frontSettled() {
		used, err := e.lookAround(min(closingRound, e.closing.Left), e.namedFirst())
		if err != nil {
			return err
		}
		e.closing.Left -= used
		e.generation++
		e.progress.look(e)
		e.reason = Running
		if used == 0 || e.closing.Left <= 0 || e.frontSettled() {
			e.closing.Left, e.reason = 0, e.closing.Reason
		}
		if e.record(); e.err != nil {
			return e.err
		}
	}
	return nil
}

// closes says whether the search has stopped by itself, and has something to look around.
func (e *engine) closes() bool {
	own := e.reason == Stagnation || e.reason == Generation || e.reason == Exhausted
	return own && e.cfg.Closing > 0 && e.polishes() && !e.frontSettled()
}

// goesOnClosing says whether a resumed run had stopped, and would under its limits now; if it would not, the search goes on.
func (e *engine) goesOnClosing() bool {
	c, s := e.closing, e.cfg.Stop
	if c == nil {
		return false
	}
	stopped := c.Reason == Exhausted || c.Reason == Generation && s.Generations > 0 && c.Generation >= s.Generations ||
		c.Reason == Stagnation && s.Stagnation > 0 && c.Since >= s.Stagnation
	if !stopped {
		e.closing = nil
	}
	return stopped
}

// frontSettled says that every move from every variant of the front was looked at.
func (e *engine) frontSettled() bool {
	return !slices.ContainsFunc(e.archive.Front(), func(v Variant) bool { return !e.polish.settled(v.Key) })
}

// namedFirst are the variants that are looked around first.
func (e *engine) namedFirst() []string {
	front := e.archive.Front()
	if e.cfg.Named != nil {
		return e.cfg.Named(front)
	}
	if l := e.archive.Lightest(); l != nil {
		return []string{l.Key}
	}
	return nil
}

// keySet remembers keys by half of their SHA-256 sums: of a million keys two are alike with a probability below 1e-26.
type keySet map[keySum]struct{}

type keySum [sha256.Size / 2]byte

func sumOf(key string) keySum {
	sum := sha256.Sum256([]byte(key))
	return keySum(sum[:])
}

func (s keySet) add(key string) { s[sumOf(key)] = struct{}{} }

func (s keySet) has(key string) bool {
	_, ok := s[sumOf(key)]
	return ok
}

// bytes lists the sums in order.
func (s keySet) bytes() []byte {
	sums := make([]keySum, 0, len(s))
	for k := range s {
		sums = append(sums, k)
	}
	slices.SortFunc(sums, func(a, b keySum) int { return bytes.Compare(a[:], b[:]) })
	out := make([]byte, 0, len(sums)*len(keySum{}))
	for _, k := range sums {
		out = append(out, k[:]...)
	}
	return out
}

// keySetOf reads what bytes wrote; nil if it is not that.
func keySetOf(b []byte) keySet {
	n := len(keySum{})
	if len(b)%n != 0 {
		return nil
	}
	out := keySet{}
	for ; len(b) > 0; b = b[n:] {
		out[keySum(b[:n])] = struct{}{}
	}
	return out
}
