// Package runs carries out a search on a brief and writes down what it found.
//
// In: a brief and settings. Out: the run file, and the front as a document (front.json) that plots and reports read. It
// draws nothing and prints nothing.
package runs

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sync/atomic"
	"time"

	"golang.org/x/sync/errgroup"

	"leanbay/experiments/store"
	"leanbay/model/brief"
	"leanbay/optimize"
	"leanbay/optimize/shedspace"
	"leanbay/solver"
)

// Version is the program's version, written into every result.
const Version = "0.1"

// Settings of a search. Zero values take the defaults of optimize.Config.
type Settings struct {
	Seed        uint64 `json:"seed"`
	Generations int    `json:"generations"`
	Population  int    `json:"population"`
	Islands     int    `json:"islands"`
	Evaluations int    `json:"evaluations"`
	Stagnation  int    `json:"stagnation"`
	// Strengthen is how many designs are judged first, in mending the drawing step by step, for the search to start from. They
	// count among Evaluations.
	Strengthen int `json:"strengthen,omitempty"`
	// Closing is the share of the search's work that may be spent afterwards on looking around the front, what is named first.
	Closing    float64  `json:"closing,omitempty"`
	Objectives []string `json:"objectives"`
	Limits     []string `json:"limits,omitempty"` // hard limits beside the brief's (shedspace.Wishes)
	Workers    int      `json:"-"`                // never part of a result
	// Time ends the search; it is no part of the run's identity: the count of evaluations at that moment replays it.
	Time time.Duration `json:"-"`
	// Prove goes through the whole space after the search; Watch, if set, is told how far that is.
	Prove bool                          `json:"-"`
	Watch func(decided, points float64) `json:"-"`
	// Mending, if set, hears how far the mending of the drawing is.
	Mending func(shedspace.Mended) `json:"-"`
	// Review says which variants are judged again under what-ifs (ReviewNamed, ReviewAll, ReviewNone; empty is none).
	Review string `json:"-"`
	// Told, if set, hears how many variants of the final front are confirmed, and then judged under what-ifs, perhaps from several
	// workers at once.
	Told func(what string, done, of int) `json:"-"`
}

func (s *Settings) tell(what string, done, of int) {
	if s.Told != nil {
		s.Told(what, done, of)
	}
}

func (s *Settings) workers() int {
	if s.Workers > 0 {
		return s.Workers
	}
	return runtime.NumCPU()
}

// Names of the files in the output folder.
const (
	RunFile   = "run.db"
	FrontFile = "front.json"
)

// ErrExists is wrapped where the output folder already holds a run that these settings do not continue.
var ErrExists = errors.New("the folder already holds a run")

// Optimise searches b and writes the run file into dir. A folder that holds the same run (brief, seed, settings) is
// continued. When ctx ends, what was found is kept and returned. look sees every generation.
func Optimise(ctx context.Context, b *brief.Brief, dir string, s Settings, look func(optimize.State)) (*Front, error) {
	p, err := shedspace.NewWith(b, shedspace.Wishes{Objectives: s.Objectives, Limits: s.Limits})
	if err != nil {
		return nil, err
	}
	cfg := optimize.Config{
		Seed: s.Seed, Population: s.Population, Islands: s.Islands, Workers: s.Workers, Start: p.Start(), Stones: 1, Closing: s.Closing, Named: namedFirst(p),
		Stop: optimize.Stop{Generations: s.Generations, Evaluations: s.Evaluations, Stagnation: s.Stagnation, Time: s.Time},
	}
	file, err := openRun(ctx, filepath.Join(dir, RunFile), b, s, &cfg)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	first, err := strengthen(ctx, p, s, &cfg)
	if err != nil {
		return nil, err
	}
	res, err := optimize.Run(ctx, p, cfg, file, lookOnly(look))
	if err != nil {
		return nil, err
	}
	return conclude(ctx, b, p, s, file, res, first)
}

// strengthen mends the drawing step by step, for the search to start from, and takes what that costs from its limits. It
// returns how many designs were judged. A resumed run repeats it, which changes nothing but the count.
func strengthen(ctx context.Context, p *shedspace.Problem, s Settings, cfg *optimize.Config) (int, error) {
	budget := s.Strengthen
	if s.Evaluations > 0 {
		budget = min(budget, s.Evaluations-1)
	}
	if budget <= 0 {
		return 0, nil
	}
	began := time.Now()
	if s.Time > 0 {
		short, cancel := context.WithTimeout(ctx, s.Time)
		defer cancel()
		ctx = short
	}
	points, spent, err := p.Repaired(ctx, shedspace.Mending{Budget: budget, Workers: s.workers(), Watch: s.Mending})
	if err != nil {
		return 0, err
	}
	cfg.Start = append(points, cfg.Start...)
	if s.Evaluations > 0 {
		cfg.Stop.Evaluations -= spent
	}
	if s.Time > 0 {
		cfg.Stop.Time = max(s.Time-time.Since(began), 1)
	}
	return spent, nil
}

// conclude proves the front if that was asked for, assesses it and explains it.
func conclude(ctx context.Context, b *brief.Brief, p *shedspace.Problem, s Settings, file *store.Store, res *optimize.Result, first int) (*Front, error) {
	all, err := file.Checkpoint(context.WithoutCancel(ctx))
	if err != nil {
		return nil, err
	}
	var proof *Proof
	if s.Prove && res.Reason != optimize.Cancelled {
		if proof, err = prove(ctx, p, s, all.Seen, res); err != nil {
			return nil, err
		}
	}
	f, err := NewFront(b, p, s, res)
	if err != nil {
		return nil, err
	}
	points := map[string][]int{}
	for _, v := range res.Front {
		points[v.Key] = v.Point
	}
	f.Evaluations += first
	f.Proof, f.StoppedText, f.Tiers = proof, stopText(res, first), tierText(res, first)
	if f.Explain, err = explain(p, f, points, all.Seen, s.workers()); err != nil {
		return nil, err
	}
	return f, reviewFront(ctx, p, f, points, s)
}

// tierText says in words what became of the variants that the search proposed.
func tierText(res *optimize.Result, first int) string {
	t := res.Tiers
	settled := 0
	for _, v := range res.Front {
		if v.Settled {
			settled++
		}
	}
	text := ""
	if first > 0 {
		text = fmt.Sprintf("First %d designs were judged in mending the drawing step by step. ", first)
	}
	return text + fmt.Sprintf("Of the variants proposed, %d were known already (the same structure, also under another name), %d were excluded by bounds, %d in the course of their evaluation, and %d evaluated; a model looked at %d to choose among them. Populations were renewed %d times; %d of %d variants of the front are locally optimal: no single or paired step improves them.",
		t.Repeated, t.Bounded, t.Screened, t.Evaluated, t.Guessed, res.Restarts, settled, len(res.Front))
}

// stopText says in words why the search ended.
func stopText(res *optimize.Result, first int) string {
	switch res.Reason {
	case optimize.Generation:
		return "the limit on generations was reached"
	case optimize.Evaluation:
		return "the limit on evaluations was reached"
	case optimize.TimeUp:
		return fmt.Sprintf("the time was up; --evaluations %d --strengthen %d instead of --time gives the same result", res.Evaluations+first, first)
	case optimize.Stagnation:
		if res.Settled {
			return "the front stood still, and no single or paired step from it improves it"
		}
		return "the front stood still; not every step from it was looked at"
	case optimize.Exhausted:
		return "no variant was left that had not been looked at"
	case optimize.Cancelled:
		return "it was interrupted; the same call goes on from here"
	}
	return string(res.Reason)
}

// lookOnly makes a recorder of a function.
type lookOnly func(optimize.State)

// Generation implements optimize.Recorder.
func (l lookOnly) Generation(s optimize.State) error {
	if l != nil {
		l(s)
	}
	return nil
}

// openRun makes the run file, or opens it where it holds the same run and sets the checkpoint to go on from.
func openRun(ctx context.Context, path string, b *brief.Brief, s Settings, cfg *optimize.Config) (*store.Store, error) {
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return nil, err
	}
	text, err := json.Marshal(s)
	if err != nil {
		return nil, err
	}
	want := store.Run{Brief: b.Name, BriefHash: b.Hash(), Seed: s.Seed, Config: string(text), Program: Version}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return store.Create(ctx, path, want)
	}
	file, have, err := store.Open(ctx, path)
	if err != nil {
		return nil, err
	}
	if have != want {
		return nil, errors.Join(fmt.Errorf("%w with another brief, seed or settings: %s; choose another folder with --out, or move it away", ErrExists, path), file.Close())
	}
	cfg.Resume, err = file.Checkpoint(ctx)
	return file, err
}

// Front is the answer of a run: the content of front.json. Masses are in kg.
type Front struct {
	Brief       string            `json:"brief"`
	BriefHash   string            `json:"brief_hash"`
	Seed        uint64            `json:"seed"`
	Version     string            `json:"version"`
	Caution     string            `json:"caution"`
	Actions     string            `json:"actions"`
	Overrides   string            `json:"overrides,omitempty"` // hash of the certifier's own coefficients
	Settings    Settings          `json:"settings"`
	Evaluations int               `json:"evaluations"`
	Generations int               `json:"generations"`
	Stopped     optimize.Reason   `json:"stopped_because"`
	StoppedText string            `json:"stopped_in_words"`
	Tiers       string            `json:"tiers"` // what became of the variants that the search proposed, in words
	Proof       *Proof            `json:"proof,omitempty"`
	Explain     *Explain          `json:"explain,omitempty"`
	Proposal    Scores            `json:"proposal"`
	Braced      *Scores           `json:"proposal_braced,omitempty"`
	BracedBy    []string          `json:"proposal_braced_by,omitempty"`
	Figures     []Figure          `json:"figures,omitempty"` // what variants' objectives are
	Prices      *Prices           `json:"prices,omitempty"`  // where cost is among them
	Variants    []Variant         `json:"variants"`
	Points      map[string]string `json:"points"` // lightest, reserve_5, knee: keys of variants
	NotCovered  []string          `json:"not_covered"`
}

// Scores are the figures of one design.
type Scores struct {
	Mass        float64            `json:"mass"`
	MassByGroup map[string]float64 `json:"mass_by_group"`
	Utilisation float64            `json:"utilisation"`
	Complies    bool               `json:"complies"`
	Stable      bool               `json:"stable"` // else the utilisation is only that of what could be checked
	Verdict     string             `json:"verdict"`
	LambdaC     float64            `json:"lambda_c,omitempty"`
	Governing   *Governing         `json:"governing,omitempty"`
	Service     []ServiceScore     `json:"service,omitempty"`
	Findings    []string           `json:"findings,omitempty"`
	// Objectives are the figures that the search minimised or limited, as Front.Figures describes them; none of a design that
	// is not stable.
	Objectives map[string]float64 `json:"objectives,omitempty"`
}

// Governing is the check that decides.
type Governing struct {
	Member      string  `json:"member"`
	Clause      string  `json:"clause"`
	Check       string  `json:"check"`
	Combination string  `json:"combination"`
	Utilisation float64 `json:"utilisation"`
}

// ServiceScore is one deflection limit; lengths in mm.
type ServiceScore struct {
	Limit       string  `json:"limit"`
	Where       string  `json:"where"`
	Combination string  `json:"combination"`
	Value       float64 `json:"value_mm"`
	Allowed     float64 `json:"allowed_mm"`
	Utilisation float64 `json:"utilisation"`
}

// Variant is one design of the front.
type Variant struct {
	Key     string            `json:"key"`
	Settled bool              `json:"locally_optimal"`
	Design  map[string]string `json:"design"`
	// Review is how the variant fares under what-ifs, where that was asked.
	Review *Review `json:"review,omitempty"`
	Scores
}

// NewFront assesses every variant of a result in full and picks the named points.
func NewFront(b *brief.Brief, p *shedspace.Problem, s Settings, res *optimize.Result) (*Front, error) {
	name, overrides := p.Pack()
	f := &Front{
		Brief: b.Name, BriefHash: b.Hash(), Seed: s.Seed, Version: Version, Caution: solver.Caution, Actions: name, Overrides: overrides,
		Settings: s, Evaluations: res.Evaluations, Generations: res.Generation, Stopped: res.Reason, NotCovered: NotCovered(p),
	}
	f.Figures, f.Prices = figuresOf(p)
	var drawn, braced *shedspace.Assessment
	var by []string
	var group errgroup.Group
	group.SetLimit(s.workers())
	group.Go(func() (err error) {
		drawn, err = p.AssessProposal()
		return err
	})
	group.Go(func() (err error) {
		braced, by, err = p.AssessBraced()
		return err
	})
	err := group.Wait()
	if err != nil {
		return nil, err
	}
	if f.Proposal, err = valued(p, drawn); err != nil {
		return nil, err
	}
	if len(by) > 0 {
		sc, err := valued(p, braced)
		if err != nil {
			return nil, err
		}
		f.Braced, f.BracedBy = &sc, by
	}
	if f.Variants, err = confirm(p, s, res.Front); err != nil {
		return nil, err
	}
	f.Points = namedPoints(f.Variants)
	return f, nil
}

// confirm assesses the variants of a front carefully, side by side.
func confirm(p *shedspace.Problem, s Settings, front []optimize.Variant) ([]Variant, error) {
	out := make([]Variant, len(front))
	scorers := make([]*shedspace.Scorer, min(s.workers(), len(front)))
	for i := range scorers {
		scorers[i] = p.NewScorer()
	}
	var done atomic.Int64
	err := optimize.Share(context.Background(), scorers, len(front), func(scorer *shedspace.Scorer, i int) error {
		v := &front[i]
		d, _ := p.Decode(v.Point)
		a, err := scorer.Assess(d)
		if err != nil {
			return err
		}
		scores, err := valued(p, a)
		if err != nil {
			return err
		}
		out[i] = Variant{Key: v.Key, Settled: v.Settled, Design: p.DesignText(v.Point), Scores: scores}
		s.tell("confirmed", int(done.Add(1)), len(front))
		return nil
	})
	return out, err
}

// NewScores takes the figures out of an assessment.
func NewScores(a *shedspace.Assessment) Scores {
	s := Scores{Mass: a.Mass.Total, MassByGroup: map[string]float64{}, Utilisation: a.U, Complies: a.Complies, Stable: a.Class < shedspace.ClassUnstable, Verdict: a.Verdict(), LambdaC: a.LambdaC}
	for g, kg := range a.Mass.Groups {
		s.MassByGroup[string(g)] = kg
	}
	s.MassByGroup["base plates"] = a.Mass.BasePlates
	s.MassByGroup["connections, allowance"] = a.Mass.Connections
	if g := a.Governing; g != nil {
		s.Governing = &Governing{Member: g.Member, Clause: g.Clause, Check: g.Name, Combination: g.Combination, Utilisation: g.Utilisation}
	}
	for _, r := range a.Service {
		s.Service = append(s.Service, ServiceScore{r.Limit, r.Where, r.Combination, r.Value * 1e3, r.Allowed * 1e3, r.Utilisation})
	}
	for _, fd := range a.Findings {
		s.Findings = append(s.Findings, fd.Text)
	}
	return s
}

// namedPoints picks the lightest complying variant, the lightest with U ≤ 0.95, and the knee: the complying variant
// farthest from the straight line between the ends of the complying front, both axes scaled to it.
func namedPoints(vs []Variant) map[string]string {
	out := map[string]string{}
	var ok []Variant
	for _, v := range vs {
		if v.Complies {
			ok = append(ok, v)
		}
	}
	if len(ok) == 0 {
		return out
	}
	lightest, reserve := -1, -1
	for i, v := range ok {
		if lightest < 0 || v.Mass < ok[lightest].Mass {
			lightest = i
		}
		if v.Utilisation <= 0.95 && (reserve < 0 || v.Mass < ok[reserve].Mass) {
			reserve = i
		}
	}
	out["lightest"] = ok[lightest].Key
	if reserve >= 0 {
		out["reserve_5"] = ok[reserve].Key
	}
	out["knee"] = ok[knee(ok)].Key
	return out
}

// namedFirst are the keys of the named points of a search's front, the lightest first. Where mass is no objective the first
// objective stands for it.
func namedFirst(p *shedspace.Problem) func([]optimize.Variant) []string {
	mass := max(0, slices.IndexFunc(p.Objectives(), func(o optimize.Objective) bool { return o.Name == string(brief.ObjMass) }))
	return func(front []optimize.Variant) []string {
		vs := make([]Variant, len(front))
		for i, v := range front {
			vs[i] = Variant{Key: v.Key, Scores: Scores{Complies: v.Score.Complies, Mass: v.Score.Objectives[mass], Utilisation: v.Score.Tie}}
		}
		points := namedPoints(vs)
		var out []string
		for _, name := range []string{"lightest", "reserve_5", "knee"} {
			if key, ok := points[name]; ok {
				out = append(out, key)
			}
		}
		return out
	}
}

// knee is the index of the variant farthest below the line between the lightest and the least utilised one.
func knee(vs []Variant) int {
	lo, hi := 0, 0
	for i, v := range vs {
		if v.Mass < vs[lo].Mass {
			lo = i
		}
		if v.Utilisation < vs[hi].Utilisation || v.Utilisation == vs[hi].Utilisation && v.Mass < vs[hi].Mass {
			hi = i
		}
	}
	dm, du := vs[hi].Mass-vs[lo].Mass, vs[lo].Utilisation-vs[hi].Utilisation
	best, far := lo, 0.0
	for i, v := range vs {
		if dm <= 0 || du <= 0 {
			break
		}
		// 1 on the line between the ends, less below it.
		if d := 1 - (v.Mass-vs[lo].Mass)/dm - (v.Utilisation-vs[hi].Utilisation)/du; d > far {
			best, far = i, d
		}
	}
	return best
}

// Write puts the front into dir as front.json, whole or not at all.
func (f *Front) Write(dir string) error {
	data, err := json.MarshalIndent(f, "", "  ")
	if err != nil {
		return err
	}
	tmp := filepath.Join(dir, FrontFile+".part")
	if err := os.WriteFile(tmp, append(data, '\n'), 0o666); err != nil {
		return err
	}
	return os.Rename(tmp, filepath.Join(dir, FrontFile))
}

// Variant finds a variant by its key; nil if there is none.
func (f *Front) Variant(key string) *Variant {
	for i := range f.Variants {
		if f.Variants[i].Key == key {
			return &f.Variants[i]
		}
	}
	return nil
}
