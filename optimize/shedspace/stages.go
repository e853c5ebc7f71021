package shedspace

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/optimize"
	"leanbay/solver"
	"leanbay/solver/frame"
)

var _ optimize.Screener = (*evaluator)(nil)

// Whether a design can enter a front needs a fraction of its evaluation: its mass is known without analysis, and the greatest
// utilisation is no less than any that some check finds under some combination. So an evaluation is gone through in stages, a
// few combinations in the whole shed first, of strength and of service, then a few for inner frames alone, then all of service,
// and ends with the first that excludes the design. What no stage excludes is evaluated as always.
//
// A stage decides nothing that the evaluation would not. Its answers are quick ones of another grouping of combinations than the
// evaluation's, each within quickShare of the careful answer, so within 2 quickShare of each other; stageShare more is taken
// off, and what then excludes a design excludes its evaluation too. Which combinations come first is learnt from what excluded
// designs before: that changes the time only.

const (
	// stageShare is taken off utilisations of stages, and added to what a hard limit of service must be exceeded by.
	stageShare = partShare
	// telling is how many combinations a stage asks: as many as quick answers take side by side.
	telling = 8
	// forget is what is left of a combination's tellings at the next one.
	forget = 0.98
)

// tellings learns which combinations exclude designs: a weight for each of the brief's combinations.
type tellings []float64

// first are the combinations of a list that told most, in the order of the list where they told alike.
func (t tellings) first(list []int) []int {
	out := slices.Clone(list)
	slices.SortStableFunc(out, func(i, j int) int { return sign(t[j] - t[i]) })
	return out[:min(telling, len(out))]
}

// tell notes that a combination excluded a design.
func (t tellings) tell(combination int) {
	for i := range t {
		t[i] *= forget
	}
	t[combination]++
}

// stages is the screening of one design.
type stages struct {
	e    *evaluator
	a    *Assessment // what is known without analysis
	m    *shed.Model
	most float64                  // a utilisation that excludes the design
	no   func(a *Assessment) bool // says whether what is known excludes it
}

// Screen implements optimize.Screener.
func (e *evaluator) Screen(_ context.Context, point []int, key string, excluded func([]float64) bool) (optimize.Score, bool, error) {
	p := e.p
	d, _ := p.Decode(point)
	s := &stages{e: e, a: p.outline(d)}
	s.no = func(a *Assessment) bool { return excluded(p.boundBy(a, 0).Objectives) }
	if excluded(p.never().Objectives) { // else there is no front yet, and even what fails is worth its score
		out, err := s.exclude()
		if err != nil {
			return optimize.Score{}, false, fmt.Errorf("variant %s: %w", key, err)
		}
		if out {
			e.left++
			return optimize.Score{}, false, nil
		}
	}
	if s.m == nil {
		s.m = e.j.model(d, p.setupOf(d))
	}
	if err := e.j.assessModel(s.m, p.setupOf(d), &e.a); err != nil {
		return optimize.Score{}, false, fmt.Errorf("variant %s: %w", key, err)
	}
	score := p.scoreOf(&e.a)
	keep := score.Class == ClassRanked && !excluded(score.Objectives)
	if !keep {
		e.learn(&e.a)
	}
	return score, keep, nil
}

// exclude goes through the stages.
func (s *stages) exclude() (bool, error) {
	if s.no(s.a) {
		return true, nil
	}
	s.most = s.limit()
	j, p := s.e.j, s.e.p
	j.set = p.setupOf(s.a.Design)
	s.m = j.model(s.a.Design, j.set)
	if err := j.loadWhole(s.m); err != nil {
		return false, err
	}
	for _, stage := range []func() (bool, error){s.wholeShed, s.innerFrames, s.service} {
		if out, err := stage(); out || err != nil {
			return out, err
		}
	}
	return false, nil
}

// limit is the least utilisation that excludes the design, or a little more. One above stoneLimit always does.
func (s *stages) limit() float64 {
	with := *s.a
	with.Groups = append(slices.Clone(s.a.Groups), GroupResult{Group: string(brief.GroupRafter)})
	u := &with.Groups[len(s.a.Groups)].Utilisation
	low, high := 0.0, stoneLimit*(1+roundOff)
	for high-low > roundOff {
		if *u = (low + high) / 2; s.no(&with) {
			high = *u
		} else {
			low = *u
		}
	}
	return high
}

// wholeShed analyses the whole shed under a few combinations of strength and, where breaking a limit of service is a matter of
// class, of service.
func (s *stages) wholeShed() (bool, error) {
	p, j, t := s.e.p, s.e.j, s.e.tells[0]
	list := p.bench.strength
	if p.Brief.Limits.ServiceHard && p.Brief.Proposal.Bases.ServiceSpring == 0 {
		list = p.bench.inWhole
	}
	list = t.first(list)
	slices.SortStableFunc(list, func(x, y int) int { return p.serves(x) - p.serves(y) })
	strength := len(list)
	for strength > 0 && p.serves(list[strength-1]) > 0 {
		strength--
	}
	out, err := s.ask(&j.whole, t, list, strength, frame.TensionOnlySecondOrder, j.allMembers(&s.m.Structure))
	if out || err != nil || strength == len(list) {
		return out, err
	}
	with := *s.a
	j.serviceLimits(s.m, &with)
	return s.broken(&with), nil
}

// serves is 1 for a combination of service, 0 for one of strength.
func (p *Problem) serves(combination int) int {
	if p.bench.combinations[combination].State == solver.Service {
		return 1
	}
	return 0
}

// innerFrames analyses inner frames alone under a few combinations.
func (s *stages) innerFrames() (bool, error) {
	p, j := s.e.p, s.e.j
	if p.Brief.Limits.InnerFrames == brief.WholeShed || len(p.Shed.Frames) < 3 {
		return false, nil
	}
	plane, index := j.planeFrames(s.m)
	if err := j.loadAlone(plane); err != nil {
		return false, err
	}
	list := s.e.tells[1].first(p.bench.planar)
	return s.ask(&j.alone, s.e.tells[1], list, len(list), frame.SecondOrder, innerPlaces(s.m, index, nil))
}

// ask says whether one of some combinations excludes the design: it has no stable answer, or, among the first of them, which
// are of strength, uses a member too much.
func (s *stages) ask(c *compiled, t tellings, list []int, strength int, kind frame.Analysis, members []memberPlace) (bool, error) {
	j := s.e.j
	found, err := j.firstTrouble(c, s.m.Structure.Combinations, list, kind)
	if err != nil {
		return false, err
	}
	if found < 0 {
		j.combos, j.res = j.combos[:strength], j.res[:strength]
		found = s.worst(members)
		j.combos, j.res = j.combos[:len(list)], j.res[:len(list)]
	}
	if found < 0 {
		return false, nil
	}
	t.tell(list[found])
	return true, nil
}

// firstTrouble runs the combinations of a list until one has no stable answer, and returns its place in the list; -1 if all
// are stable.
func (j *judge) firstTrouble(c *compiled, all []solver.Combination, list []int, kind frame.Analysis) (int, error) {
	fails := -1
	combos := j.inHand(all, list)
	err := c.work.AnalyseEach(c.combinations(combos), kind, j.res, func(i int) bool {
		if !j.res[i].Stable {
			fails = i
		}
		return fails >= 0
	})
	return fails, err
}

// worst looks for a member that is used more than the design may be, and returns the combination's place in the list in hand;
// -1 if there is none. Groups begin at what they may be used, so that checks below that are not made.
func (s *stages) worst(members []memberPlace) int {
	j, most := s.e.j, s.most/(1-stageShare)
	var found Assessment
	for _, at := range members {
		g := &found.Groups[found.groupIndex(s.m.Structure.Members[at.member].Group)]
		g.Utilisation, g.Member = most, "-"
		if isSecondary[g.Group] {
			g.Utilisation = math.Max(most, outsideRules) // those count only above 1: they are left to the evaluation
		}
	}
	j.enclose(&s.m.Structure, members, false, &found)
	j.hold(len(found.Groups))
	j.suspects = j.suspects[:0]
	for _, e := range j.enclosed {
		if e.bound > found.Groups[e.group].Utilisation {
			j.suspect(members, e, &found)
		}
	}
	slices.SortStableFunc(j.suspects, func(x, y suspect) int { return sign(y.bound - x.bound) })
	for _, x := range j.suspects {
		before := found.Groups[x.group].Utilisation
		j.question(&s.m.Structure, members, x, false, &found)
		if found.Groups[x.group].Utilisation > before {
			return x.combination
		}
	}
	return -1
}

// service analyses the service combinations, where breaking a limit is a matter of class.
func (s *stages) service() (bool, error) {
	p, j := s.e.p, s.e.j
	if !p.Brief.Limits.ServiceHard {
		return false, nil
	}
	with := *s.a
	if err := j.serviceChecks(s.m, false, &with); err != nil {
		return false, err
	}
	return s.broken(&with), nil
}

// broken says whether limits of service exclude the design; what lies on a limit is left to the evaluation.
func (s *stages) broken(a *Assessment) bool {
	worst := -1
	for i := range a.Service {
		a.Service[i].Utilisation *= 1 - stageShare
		if worst < 0 || a.Service[i].Utilisation > a.Service[worst].Utilisation {
			worst = i
		}
	}
	if !s.no(a) {
		return false
	}
	if worst >= 0 {
		s.e.tell(0, a.Service[worst].Combination)
	}
	return true
}

// learn notes which combinations tell of a design that was evaluated after all and is excluded.
func (e *evaluator) learn(a *Assessment) {
	if g := a.Governing; g != nil && g.Alone {
		e.tell(1, g.Combination)
	} else if g != nil {
		e.tell(0, g.Combination)
	}
	for _, text := range a.Trouble {
		id, _, _ := strings.Cut(text, ": ")
		e.tell(0, id)
	}
}

// tell notes that a combination, by its name, excluded a design in the whole shed (0) or with its frames alone (1).
func (e *evaluator) tell(of int, id string) {
	if k := slices.IndexFunc(e.p.bench.combinations, func(c solver.Combination) bool { return c.ID == id }); k >= 0 {
		e.tells[of].tell(k)
	}
}
