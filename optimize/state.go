package optimize

import (
	"encoding/json"
	"errors"
	"fmt"
	"hash/fnv"
	"slices"
)

// state describes the run as it stands between generations.
func (e *engine) state() State {
	front := slices.Clone(e.archive.Front())
	settled := len(front) > 0
	for i := range front {
		front[i].Settled = e.polish.settled(front[i].Key)
		settled = settled && front[i].Settled
	}
	s := State{
		Generation: e.generation, Evaluations: len(e.seen), Tiers: e.tiers,
		Front: front, Stones: slices.Clone(e.archive.Stones()), Closest: e.archive.Closest(),
		Hypervolume: e.progress.Volume, Reference: e.progress.Reference, Settled: settled,
		Fresh: slices.Clone(e.fresh), Restarts: e.restarts, Rates: e.shares(), Reason: e.reason,
		Populations: slices.Clone(e.members),
	}
	for i := range front {
		if front[i].Score.Complies {
			s.Lightest = &front[i]
			break
		}
	}
	snap := e.snapshot()
	s.snapshot = func() ([]byte, error) { return json.Marshal(snap) }
	return s
}

// shares returns the mean share of each operator over the islands.
func (e *engine) shares() map[string]float64 {
	out := map[string]float64{}
	n := float64(len(e.islands))
	for _, here := range e.islands {
		for i, o := range e.vary.cross {
			out["cross "+o.name] += here.cross.share(i) / n
		}
		for i, o := range e.vary.mutate {
			out["mutate "+o.name] += here.mutate.share(i) / n
		}
		if e.guesses != nil {
			out["bred on guesses"] += here.origin.share(bredOnGuesses) / n
		}
	}
	return out
}

// snapshotVersion changes whenever a snapshot of an older binary could not be continued bit for bit.
const snapshotVersion = 2 // a field that is added, and left out by runs that do not need it, does not change it

// snapshot is the run between two generations, without the evaluated variants: those are named by key. The archive is
// not in it: it follows from what was seen.
type snapshot struct {
	Version     int              `json:"version"`
	Seed        uint64           `json:"seed"`
	Islands     int              `json:"islands"`
	Population  int              `json:"population"`
	Migrate     int              `json:"migrate"`
	Guesses     int              `json:"guesses"`
	Space       uint64           `json:"space"` // a sum over the genes and the objectives
	Generation  int              `json:"generation"`
	Evaluations int              `json:"evaluations"`
	Latest      []string         `json:"latest,omitempty"` // keys, for the next model
	Tiers       Tiers            `json:"tiers"`
	Restarts    int              `json:"restarts"`
	Idle        int              `json:"idle"`
	Progress    progress         `json:"progress"`
	Polish      map[string]int   `json:"polish"`
	Screened    []byte           `json:"screened,omitempty"`
	Closing     *closing         `json:"closing,omitempty"`
	Scouting    *scouting        `json:"scouting,omitempty"` // nil without forecasts
	Parts       []islandSnapshot `json:"parts"`
}

type islandSnapshot struct {
	Members []string `json:"members"`
	Inject  []string `json:"inject,omitempty"`
	Renew   bool     `json:"renew,omitempty"`
	Cross   rates    `json:"cross"`
	Mutate  rates    `json:"mutate"`
	Origin  rates    `json:"origin"`
	Scout   *scout   `json:"scout,omitempty"`
}

func (e *engine) snapshot() snapshot {
	s := snapshot{
		Version: snapshotVersion, Seed: e.cfg.Seed, Islands: e.cfg.Islands, Population: e.cfg.Population,
		Migrate: e.cfg.Migrate, Guesses: e.cfg.Guesses, Space: e.fingerprint(), Generation: e.generation, Evaluations: len(e.seen),
		Tiers: e.tiers, Restarts: e.restarts, Idle: e.idle, Progress: *e.progress, Polish: map[string]int{},
	}
	s.Progress.Filled = slices.Clone(s.Progress.Filled)
	if e.guesses != nil {
		s.Latest = slices.Clone(e.latest)
	}
	for k, at := range e.polish.at {
		s.Polish[k] = at
	}
	s.Screened = e.screened.bytes()
	if e.closing != nil {
		now := *e.closing
		s.Closing = &now
	}
	if e.forecaster != nil {
		shared := e.scouting
		shared.Started = slices.Clone(shared.Started)
		s.Scouting = &shared
	}
	for i, here := range e.islands {
		p := islandSnapshot{Members: keys(e.members[i]), Inject: keys(here.inject), Renew: here.renew}
		p.Cross.Worth, p.Mutate.Worth = slices.Clone(here.cross.Worth), slices.Clone(here.mutate.Worth)
		p.Origin.Worth = slices.Clone(here.origin.Worth)
		if here.scout != nil {
			p.Scout = here.scout.clone()
		}
		s.Parts = append(s.Parts, p)
	}
	return s
}

func keys(vs []Variant) []string {
	out := make([]string, len(vs))
	for i := range vs {
		out[i] = vs[i].Key
	}
	return out
}

// fingerprint tells spaces apart: a checkpoint is refused by a run of another space or other objectives.
func (e *engine) fingerprint() uint64 {
	h := fnv.New64a()
	for _, g := range e.space.Genes {
		fmt.Fprintf(h, "%q %q %d %v %q %v\n", g.Name, g.Options, g.Levels, g.Family, g.Block, g.Ordered)
	}
	for _, o := range e.progress.objectives {
		fmt.Fprintf(h, "%+v\n", o)
	}
	return h.Sum64()
}

// resume takes up a run where a checkpoint was made.
func (e *engine) resume(c *Checkpoint) error {
	var s snapshot
	if err := json.Unmarshal(c.Snapshot, &s); err != nil {
		return fmt.Errorf("optimize: the checkpoint cannot be read: %w; start afresh", err)
	}
	if err := e.fits(&s); err != nil {
		return err
	}
	for _, v := range c.Seen {
		v.Settled = false
		e.seen[v.Key] = v
	}
	if len(e.seen) != s.Evaluations {
		return fmt.Errorf("optimize: the checkpoint counts %d evaluated variants, %d were given; give every variant up to its generation, and none after", s.Evaluations, len(e.seen))
	}
	e.latest = s.Latest
	for _, k := range s.Latest {
		if _, ok := e.seen[k]; !ok {
			return missing(k)
		}
	}
	for _, v := range e.seen { // in any order: the archive does not depend on it
		e.archive.Add(v)
	}
	e.generation, e.tiers, e.restarts, e.idle = s.Generation, s.Tiers, s.Restarts, s.Idle
	objectives := e.progress.objectives
	*e.progress = s.Progress
	e.progress.objectives = objectives
	e.polish.at, e.closing = s.Polish, s.Closing
	if e.screened = keySetOf(s.Screened); e.screened == nil {
		return errors.New("optimize: the checkpoint's list of screened variants is damaged; start afresh")
	}
	if s.Scouting != nil {
		e.scouting = *s.Scouting
	}
	for i, p := range s.Parts {
		if err := e.resumeIsland(i, p); err != nil {
			return err
		}
	}
	if err := e.prepare(); err != nil {
		return err
	}
	e.last = e.state()
	return nil
}

// fits refuses a checkpoint of another run.
func (e *engine) fits(s *snapshot) error {
	switch {
	case s.Version != snapshotVersion:
		return fmt.Errorf("optimize: the checkpoint has version %d, this binary continues version %d; finish the run with the binary that began it", s.Version, snapshotVersion)
	case s.Seed != e.cfg.Seed || s.Islands != e.cfg.Islands || s.Population != e.cfg.Population || s.Migrate != e.cfg.Migrate || s.Guesses != e.cfg.Guesses:
		return fmt.Errorf("optimize: the checkpoint is of seed %d, %d islands of %d, migration every %d, guesses %d; the run asks for seed %d, %d of %d, every %d, guesses %d",
			s.Seed, s.Islands, s.Population, s.Migrate, s.Guesses, e.cfg.Seed, e.cfg.Islands, e.cfg.Population, e.cfg.Migrate, e.cfg.Guesses)
	case s.Space != e.fingerprint():
		return errors.New("optimize: the checkpoint is of another space or other objectives; the brief was changed: start afresh")
	case (s.Scouting != nil) != (e.forecaster != nil):
		return errors.New("optimize: the checkpoint is of a run with forecasts and this one has none, or the other way round; start afresh")
	case len(s.Parts) != e.cfg.Islands:
		return fmt.Errorf("optimize: the checkpoint has %d islands of %d; start afresh", len(s.Parts), e.cfg.Islands)
	}
	return nil
}

func missing(key string) error {
	return fmt.Errorf("optimize: the checkpoint names variant %q, which was not given among those evaluated", key)
}

func (e *engine) resumeIsland(i int, p islandSnapshot) error {
	here := e.islands[i]
	if len(p.Cross.Worth) != len(here.cross.Worth) || len(p.Mutate.Worth) != len(here.mutate.Worth) || len(p.Origin.Worth) != origins || len(p.Members) == 0 {
		return fmt.Errorf("optimize: island %d of the checkpoint is damaged; start afresh", i)
	}
	if (p.Scout != nil) != (here.scout != nil) {
		return fmt.Errorf("optimize: island %d of the checkpoint is damaged; start afresh", i)
	}
	if p.Scout != nil {
		for _, k := range p.Scout.Own {
			if _, ok := e.seen[k]; !ok {
				return missing(k)
			}
		}
		here.scout = p.Scout
	}
	here.cross.Worth, here.mutate.Worth, here.origin.Worth, here.renew = p.Cross.Worth, p.Mutate.Worth, p.Origin.Worth, p.Renew
	for _, list := range []struct {
		keys []string
		to   *[]Variant
	}{{p.Members, &e.members[i]}, {p.Inject, &here.inject}} {
		for _, k := range list.keys {
			v, ok := e.seen[k]
			if !ok {
				return missing(k)
			}
			*list.to = append(*list.to, v)
		}
	}
	return nil
}
