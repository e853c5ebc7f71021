package shedspace

import (
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"time"

	"leanbay/model/shed"
	"leanbay/solver"
)

// Lap is one phase of the evaluation of a design, and the time that it took.
type Lap struct {
	Phase string
	Time  time.Duration
}

// laps is a stopwatch over the phases of one evaluation. A nil one does nothing: the search pays nothing for it.
type laps struct {
	now  func() time.Duration
	last time.Duration
	list []Lap
}

// end closes a phase: what has passed since the phase before it.
func (l *laps) end(phase string) {
	if l == nil {
		return
	}
	now := l.now()
	l.list = append(l.list, Lap{phase, now - l.last})
	l.last = now
}

// Profile is what one design costs the search.
type Profile struct {
	Structure    *solver.Structure    // of the design, loaded
	Combinations []solver.Combination // those of strength, analysed in the whole shed
	Planar       int                  // of them analysed for inner frames alone
	Service      int
	Laps         []Lap         // the shortest time of each phase
	Total        time.Duration // the shortest whole evaluation
}

// Profile evaluates a design as the search does, topology known, and times its phases by the clock now: the shortest of repeat
// times.
func (p *Problem) Profile(d *shed.Design, repeat int, now func() time.Duration) (*Profile, error) {
	j := newJudge(p)
	j.brief, j.quick = true, true
	set := p.setupOf(d)
	if _, err := j.assess(d, set); err != nil { // the first meets a new topology
		return nil, err
	}
	out := &Profile{Planar: len(p.bench.planar), Service: len(p.bench.service)}
	for n := range max(1, repeat) {
		start := now()
		j.laps = &laps{now: now, last: start}
		if _, err := j.assess(d, set); err != nil {
			return nil, err
		}
		total := now() - start
		if n == 0 {
			out.Laps, out.Total = j.laps.list, total
			continue
		}
		out.Total = min(out.Total, total)
		for i, l := range j.laps.list {
			out.Laps[i].Time = min(out.Laps[i].Time, l.Time)
		}
	}
	m := p.Shed.Build(d)
	setEffectiveLengths(m)
	m.Load(set.loads, set.joistMass)
	out.Structure = &m.Structure
	for _, i := range p.bench.strength {
		out.Combinations = append(out.Combinations, m.Structure.Combinations[i])
	}
	return out, nil
}

// sturdyTries is the number of designs among which Sturdy looks.
const sturdyTries = 60

// Sturdy is a design that the search judges to the end, with no check that fails clearly on the way: the first such one of what
// was drawn and braced, with heavier steel here and there. It is the same for every call.
func (p *Problem) Sturdy() (*shed.Design, error) {
	j := newJudge(p)
	j.brief, j.quick = true, true
	list, err := p.heavier(sturdyTries)
	if err != nil {
		return nil, err
	}
	for _, d := range list {
		a, err := j.assess(d, p.setupOf(d))
		if err != nil {
			return nil, err
		}
		if len(a.Service) > 0 && a.Class < ClassUnstable && !a.clearlyFails() {
			return d, nil
		}
	}
	return nil, fmt.Errorf("%s: %w", p.Brief.Name, errNoSturdy)
}

var errNoSturdy = errors.New("no design near the proposal is judged to the end; give the proposal heavier steel")

// heavier are what was drawn, as it is and braced, and braced ones whose steel is heavier, or here and there lighter, at random.
func (p *Problem) heavier(n int) ([]*shed.Design, error) {
	braced, _, err := p.Braced()
	if err != nil {
		return nil, err
	}
	out := []*shed.Design{p.Drawn, braced}
	rng := rand.New(rand.NewPCG(7, 9))
	for len(out) < n {
		pt := make([]int, len(p.genes))
		for k := range pt {
			pt[k] = rng.IntN(len(p.genes[k].Options))
		}
		other, _ := p.Decode(pt)
		d := *braced
		d.Steel = maps.Clone(braced.Steel)
		for g, s := range other.Steel {
			if have := d.Of(g); have.Section != nil && s.Section != nil && s.Section.Props.Ix > 0.8*have.Section.Props.Ix {
				d.Steel[g] = s
			}
		}
		out = append(out, &d)
	}
	return out, nil
}
