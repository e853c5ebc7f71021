package runs

import (
	"context"
	"fmt"
	"math"
	"strings"

	"leanbay/model/brief"
	"leanbay/optimize"
	"leanbay/optimize/shedspace"
)

// Proof says what was shown about a front by looking at the whole space. Points are counted; a variant that has several names
// counts once in Evaluated.
type Proof struct {
	Proven    bool    `json:"proven"` // no variant of the space dominates one of the front, and none is missing
	Text      string  `json:"text"`
	Size      float64 `json:"size"`       // points of the space
	Known     float64 `json:"known"`      // other names of a variant, or evaluated by the search
	Excluded  float64 `json:"excluded"`   // left out by bounds, with whole branches or one by one
	Screened  float64 `json:"screened"`   // left out in the course of their evaluation
	Evaluated int     `json:"evaluated"`  // beyond what the search evaluated
	LeastMass float64 `json:"least_mass"` // kg: nothing that complies is lighter; 0 where nothing was shown
	// Gap is how far the lightest complying variant lies above LeastMass, as a share of its mass; -1 where none complies.
	Gap float64 `json:"gap"`
}

// The greatest space that a proof looks through, in points, and the steps that it takes towards a lower bound where the space
// is larger. A step is a few thousandths of a second, a tenth where it ends in an analysis.
const (
	proveSize  = 2e6
	floorSteps = 3000
)

// prove decides the space of p as far as it can, beginning with what the search evaluated, and puts the front that it finds
// into res. When ctx ends it keeps what it has.
func prove(ctx context.Context, p *shedspace.Problem, s Settings, seen []optimize.Variant, res *optimize.Result) (*Proof, error) {
	cfg := optimize.Enumeration{Known: seen, Workers: s.workers(), Limit: int(proveSize)}
	size := p.Space().Size()
	if s.Watch != nil {
		cfg.Watch = func(decided float64) { s.Watch(decided, size) }
	}
	if size > proveSize {
		cfg.FloorOnly, cfg.Limit = true, floorSteps
	}
	found, err := optimize.Enumerate(ctx, p, cfg)
	interrupted := err != nil && ctx.Err() != nil && found != nil
	if err != nil && !interrupted {
		return nil, fmt.Errorf("proof: %w", err)
	}
	takeFront(res, found)
	out := &Proof{Proven: found.Proven, Size: size, Known: found.Repeated, Excluded: found.Branches + found.Bounded, Screened: found.Screened, Evaluated: found.Evaluated, Gap: -1}
	if f := found.Floor; f > 0 && !math.IsInf(f, 0) && p.Objectives()[0].Name == string(brief.ObjMass) {
		out.LeastMass = f
	}
	if !math.IsNaN(found.Gap) && (out.LeastMass > 0 || found.Proven) {
		out.Gap = found.Gap
	}
	out.Text = out.words(interrupted)
	return out, nil
}

// takeFront gives the result the front of an enumeration, which holds the search's own where nothing is better.
func takeFront(res *optimize.Result, found *optimize.Proof) {
	settled := map[string]bool{}
	for _, v := range res.Front {
		settled[v.Key] = v.Settled
	}
	res.Front = nil
	for _, v := range found.Front {
		v.Settled = found.Proven || settled[v.Key]
		res.Front = append(res.Front, v)
	}
}

func (p *Proof) decided() float64 {
	return p.Known + p.Excluded + p.Screened + float64(p.Evaluated)
}

// words says what was shown.
func (p *Proof) words(interrupted bool) string {
	var b strings.Builder
	switch {
	case p.Proven:
		fmt.Fprintf(&b, "The front is proven: all %.6g points of the space were decided (%.6g evaluated before or other names of a variant, %.6g excluded by bounds, %.6g in the course of their evaluation, %d evaluated for the proof).",
			p.Size, p.Known, p.Excluded, p.Screened, p.Evaluated)
		if p.Gap < 0 {
			b.WriteString(" No variant of the space complies.")
		}
		return b.String()
	case interrupted:
		fmt.Fprintf(&b, "The proof was interrupted: %.6g of %.6g points were decided, so the front is not proven.", p.decided(), p.Size)
	case p.Size > proveSize:
		fmt.Fprintf(&b, "The space has %.3g points, more than the %.0g that a proof looks through, so the front is not proven; fewer freedoms or a shorter stock in the brief make it smaller.", p.Size, proveSize)
	default:
		fmt.Fprintf(&b, "The front is not proven: %.6g of %.6g points were decided.", p.decided(), p.Size)
	}
	if p.LeastMass > 0 {
		fmt.Fprintf(&b, " Nothing that complies is lighter than %.0f kg", p.LeastMass)
		if p.Gap >= 0 {
			fmt.Fprintf(&b, "; the lightest found lies at most %.1f %% above the best there can be", 100*p.Gap/(1-p.Gap))
		}
		b.WriteString(".")
	}
	return b.String()
}
