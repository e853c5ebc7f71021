package shedspace

import (
	"fmt"
	"math"
	"slices"

	"leanbay/model/brief"
	"leanbay/model/joints"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/checks"
	"leanbay/solver/checks/as4100"
	"leanbay/solver/frame"
)

// judge analyses and checks designs; each worker has its own. What it keeps between designs is storage and symbolic
// factors, never numbers: an assessment is a pure function of the design.
type judge struct {
	p          *Problem
	whole      compiled
	alone      compiled
	sprung     compiled // the whole shed with the springs that bases have in service
	part       compiled // a piece of a shed that designs share
	caps       map[shed.Steel]*as4100.Capacity
	curve      solver.Diagram
	bows       []frame.Bow
	doubts     []doubt
	limitNames limitNames
	along      []solver.Moment
	room       planeRoom // storage of inner frames and of cases, in the search
	models     int       // counts what was built
	loaded     int       // which of them the whole shed was loaded from last
	cases      shed.LoadRoom
	board      board
	listed     []memberPlace // members that are checked, in one list or another
	inner      []int         // see innerOnly
	fits       joints.Fitter
	seater     joints.Seater
	checkers   []*as4100.Checker // of the members whose combinations are screened, by their place in the model
	ready      []bool            // of them, those prepared for the model in hand
	enclosed   []enclosure
	places     []int // of their members in the analysed structure
	widest     []frame.Extent
	suspects   []suspect
	holders    []holder             // by group
	asked      []bool               // groups of which a member was checked
	combos     []solver.Combination // in hand
	res        []frame.Result       // their answers
	answers    []frame.Result       // storage of answers: of those in hand, then of service combinations that wait
	unstable   []int                // which of these that wait have no stable answer, as they were come to
	joints     *joints.Collector    // of a full assessment; nil in the search
	seats      []joints.Seat        // where forces press on webs in the design in hand
	set        *setup               // of the design in hand
	brief      bool                 // stop at what decides the class: for the search, where a design that fails clearly needs no more
	quick      bool                 // analyse quickly, within quickShare of the careful answer
	figures    bool                 // leave out what no figure of a variant needs: connections, footings, feet, holding forces, floors' frequencies
	laps       *laps                // a stopwatch; nil but for Profile
}

// compiled is a workspace for structures that come one after the other, with the topologies used lately: the search goes to and fro
// between a few.
type compiled struct {
	work    *frame.Workspace
	started bool           // careful answers start from quick ones
	kept    []*frame.Model // the last used first
	posing
}

// keptTopologies bounds how many a judge keeps.
const keptTopologies = 12

func newJudge(p *Problem) *judge {
	return &judge{p: p, caps: map[shed.Steel]*as4100.Capacity{}, limitNames: namesOf(&p.Brief.Limits)}
}

// newStartedJudge is newJudge for careful assessments that start from quick answers. What holds quick answers to careful ones is judged
// without.
func newStartedJudge(p *Problem) *judge {
	j := newJudge(p)
	for _, c := range []*compiled{&j.whole, &j.alone, &j.sprung} {
		c.started = true
	}
	return j
}

// load makes c ready for a structure, compiling it if its topology is new. Answers of the one before are no longer good.
func (c *compiled) load(s *solver.Structure, quick bool) error { return c.loadUnder(s, nil, quick) }

// loadUnder is load for the selected cases alone.
func (c *compiled) loadUnder(s *solver.Structure, under *selection, quick bool) error {
	s = c.of(s, under)
	if err := c.use(s, quick); err != nil {
		return err
	}
	return c.work.Load(s)
}

// loadPart is load for a structure that is part of the one loaded in whole.
func (c *compiled) loadPart(s *solver.Structure, whole *compiled, part *frame.Part, quick bool) error {
	c.of(s, nil)
	if err := c.use(s, quick); err != nil {
		return err
	}
	return c.work.LoadPart(s, whole.work, part)
}

// use makes the workspace one for structures of s's topology.
func (c *compiled) use(s *solver.Structure, quick bool) error {
	at := slices.IndexFunc(c.kept, func(m *frame.Model) bool { return m.SameTopology(s) })
	if at < 0 {
		m, err := frame.Compile(s)
		if err != nil {
			return err
		}
		if at = len(c.kept); at == keptTopologies {
			at--
			c.kept = c.kept[:at]
		}
		c.kept = append(c.kept, m)
	}
	m := c.kept[at]
	copy(c.kept[1:at+1], c.kept[:at])
	c.kept[0] = m
	if c.work == nil {
		c.work = m.NewWorkspace()
	}
	c.work.Use(m)
	c.work.Quick, c.work.StartQuick = quick, c.started
	return nil
}

// assess judges one design: mass, findings, analysis of every combination, checks, service.
func (j *judge) assess(d *shed.Design, set *setup) (*Assessment, error) {
	a := &Assessment{}
	if err := j.assessModel(j.model(d, set), set, a); err != nil {
		return nil, err
	}
	return a, nil
}

// model builds a design's structure with its loads. In the search it is gone when the next is built.
func (j *judge) model(d *shed.Design, set *setup) *shed.Model {
	var m *shed.Model
	room := &shed.LoadRoom{}
	if j.brief {
		m, room = j.board.model(j.p.Shed, d), &j.cases
		room.Tabled = true
	} else {
		m = j.p.Shed.Build(d)
	}
	setEffectiveLengths(m)
	m.LoadIn(room, set.loads, set.joistMass)
	j.models++
	return m
}

// assessModel judges what model built, in an assessment whose storage serves again. In the search it has no key, and its rules no
// texts.
func (j *judge) assessModel(m *shed.Model, set *setup, a *Assessment) error {
	j.laps.end("structure and loads")
	a.begin(m.Design)
	a.secondaries, a.Findings = set.secondaries.Sections, m.Findings
	m.MassIn(&a.Mass, a.secondaries)
	for i := range set.secondaries.Results {
		r := &set.secondaries.Results[i]
		a.note(r.Group, r.Member, "", false, r.Result)
	}
	if j.fits.Words = !j.brief; !j.brief {
		a.Key = j.p.Key(m.Design)
	}
	a.Rules = j.p.rules(m, &j.fits, a.Rules)
	j.set = set
	j.findSeats(m)
	j.laps.end("mass and rules")
	if err := j.startJoints(m, set); err != nil {
		return fmt.Errorf("%s: %w", j.p.Key(m.Design), err)
	}
	if err := j.loadWhole(m); err != nil {
		return fmt.Errorf("the structure of %s: %w", j.p.Key(m.Design), err)
	}
	j.laps.end("load and assemble")
	if err := j.analyseWhole(m, a); err != nil {
		return err
	}
	a.Combinations = len(j.combos)
	j.laps.end("analysis")
	if a.Mechanism == "" && len(a.Trouble) == 0 {
		if err := j.judgeStable(m, a); err != nil {
			return err
		}
	}
	j.p.score(a)
	j.laps.end("score")
	return nil
}

// judgeStable checks what stands: members in the whole shed, buckling, inner frames alone, service.
func (j *judge) judgeStable(m *shed.Model, a *Assessment) error {
	j.checkMembers(&m.Structure, j.allMembers(&m.Structure), false, a)
	j.checkSeats(m, &m.Structure, nil, a)
	a.noteWhole()
	j.laps.end("checks")
	if !j.brief && !j.figures {
		a.Feet = footReactions(m, j.res, j.combos)
	}
	if j.joints != nil {
		j.gather(&m.Structure, nil)
		j.holdingForce(m, &a.Holding)
	}
	if j.brief && a.clearlyFails() {
		return nil
	}
	if err := j.buckling(m, a); err != nil {
		return err
	}
	j.laps.end("buckling")
	if j.p.Brief.Limits.InnerFrames != brief.WholeShed {
		if err := j.innerFramesAlone(m, a); err != nil {
			return err
		}
		j.laps.end("inner frames alone")
	}
	if err := j.serviceChecks(m, true, a); err != nil {
		return err
	}
	j.laps.end("service")
	return j.finishJoints(m, a)
}

// loadWhole makes the whole shed ready; in the search under the cases of strength and service alone.
func (j *judge) loadWhole(m *shed.Model) error {
	j.loaded = j.models
	if j.brief {
		return j.whole.loadUnder(&m.Structure, j.p.bench.wholeCases, j.quick)
	}
	return j.whole.load(&m.Structure, j.quick)
}

// analyseWhole runs the combinations of strength in the whole shed. Those of service, where bases have no springs then, come with
// them: they act on the same structure, so that factors are made once and lanes are fuller. Their answers wait behind those in hand
// for waitingService.
func (j *judge) analyseWhole(m *shed.Model, a *Assessment) error {
	b := j.p.bench
	list, strength := b.strength, len(b.strength)
	if j.p.Brief.Proposal.Bases.ServiceSpring == 0 {
		list = b.inWhole
	}
	j.unstable = j.unstable[:0]
	combos := j.inHand(m.Structure.Combinations, list)
	err := j.whole.work.AnalyseEach(j.whole.combinations(combos), frame.TensionOnlySecondOrder, j.res, func(i int) bool {
		if i < strength {
			return j.noteAnswer(i, a)
		}
		if !j.res[i].Stable {
			j.unstable = append(j.unstable, i-strength)
		}
		return false
	})
	j.combos, j.res = j.combos[:strength], j.res[:strength]
	return err
}

// waitingService takes up the service combinations that analyseWhole answered, and notes those without a stable answer.
func (j *judge) waitingService(m *shed.Model, a *Assessment) {
	b := j.p.bench
	j.inHand(m.Structure.Combinations, b.service)
	j.res = j.answers[len(b.strength):len(b.inWhole)]
	for i := range j.res {
		a.Iterations += j.res[i].Iterations
	}
	for _, i := range j.unstable {
		if j.noteUnstable(i, a) {
			return
		}
	}
}

// analyse runs the combinations of a list and notes those that have no stable answer.
func (j *judge) analyse(c *compiled, all []solver.Combination, list []int, kind frame.Analysis, a *Assessment) error {
	combos := j.inHand(all, list)
	return c.work.AnalyseEach(c.combinations(combos), kind, j.res, func(i int) bool { return j.noteAnswer(i, a) })
}

// noteAnswer takes notice of combination i of those in hand; it returns true if no more are wanted.
func (j *judge) noteAnswer(i int, a *Assessment) bool {
	a.Iterations += j.res[i].Iterations
	return !j.res[i].Stable && j.noteUnstable(i, a)
}

// noteUnstable notes a combination without a stable answer; it returns true if no more are wanted.
func (j *judge) noteUnstable(i int, a *Assessment) bool {
	r := &j.res[i]
	a.Stable = false
	if len(r.Mechanisms) > 0 {
		a.Mechanism = r.Mechanisms[0].Text
		return true // the rest would say the same
	}
	a.Trouble = append(a.Trouble, j.combos[i].ID+": "+firstOr(r.Notes, "no stable answer"))
	return len(a.Trouble) == enoughTrouble
}

// inHand takes up the combinations of a list, with room for their answers, and returns them.
func (j *judge) inHand(all []solver.Combination, list []int) []solver.Combination {
	j.combos = j.combos[:0]
	for _, i := range list {
		j.combos = append(j.combos, all[i])
	}
	for len(j.answers) < len(list) {
		j.answers = append(j.answers, frame.Result{})
	}
	j.res = j.answers[:len(list)]
	return j.combos
}

// enoughTrouble is the number of combinations without a stable answer after which the others are not looked at.
const enoughTrouble = 3

func firstOr(list []string, other string) string {
	if len(list) > 0 {
		return list[len(list)-1]
	}
	return other
}

// capacity is the section's capacity, computed once per worker: it depends on section and grade alone.
func (j *judge) capacity(s shed.Steel) (*as4100.Capacity, error) {
	if c, ok := j.caps[s]; ok {
		return c, nil
	}
	c, err := j.p.bench.rules.New(s.Section, s.Grade)
	if err == nil {
		j.caps[s] = c
	}
	return c, err
}

// prepare makes a checker ready for a member; false for one that has no section, or that the rules do not cover, which it notes.
func (j *judge) prepare(check *as4100.Checker, m *solver.Member, alone bool, a *Assessment) bool {
	if m.Section == nil {
		return false
	}
	c, err := j.capacity(shed.Steel{Section: m.Section, Grade: m.Grade})
	if err == nil {
		err = check.Prepare(c, m, as4100.Options{})
	}
	if err != nil { // it cannot be shown to comply
		a.note(m.Group, m.ID, "", alone, checks.Result{Name: err.Error(), Clause: "outside the rules", Utilisation: outsideRules, Raw: outsideRules, Station: math.NaN(), Combination: -1})
	}
	return err == nil
}

// outsideRules is the utilisation of a member that the code's rules do not cover: as bad as twice too weak.
const outsideRules = 2.0

// buckling finds the least load factor under the combination that presses hardest on the feet, and compares it with the
// brief's limits. The others of the same kind have less load on the same stiffness.
func (j *judge) buckling(m *shed.Model, a *Assessment) error {
	worst, most := -1, 0.0
	for k := range j.combos {
		sum := 0.0
		for _, f := range m.Bases {
			sum += math.Max(0, j.res[k].Reactions[6*f.Node+int(solver.UZ)])
		}
		if sum > most*(1+quickShare) { // of equal ones the first, however well they are balanced
			worst, most = k, sum
		}
	}
	if worst < 0 {
		return nil
	}
	limit := j.p.Brief.Limits.LambdaRefuse
	if j.brief {
		if ok, err := j.whole.work.Withstands(&j.res[worst], limit); ok || err != nil {
			return err
		}
	}
	modes, err := j.whole.work.Buckling(&j.res[worst], 1)
	if err != nil || len(modes) == 0 {
		return err
	}
	a.LambdaC, a.LambdaIn = modes[0].Factor, j.combos[worst].ID
	if a.LambdaC < limit {
		u := limit / a.LambdaC
		a.note("stability", "the whole shed", a.LambdaIn, false, checks.Result{
			Name: fmt.Sprintf("elastic buckling load factor at least %.1f", limit), Clause: "AS 4100 4.4.2.1, 4.7; the brief's limit",
			Utilisation: u, Raw: u, Station: math.NaN(), Combination: worst, Demand: limit, Capacity: a.LambdaC,
		})
	}
	return nil
}

// footReactions collects the envelope of every base.
func footReactions(m *shed.Model, res []frame.Result, combos []solver.Combination) []FootReactions {
	var out []FootReactions
	for _, f := range m.Bases {
		r := FootReactions{Name: m.Structure.Nodes[f.Node].Name}
		for k := range combos {
			v := res[k].Reactions[6*f.Node : 6*f.Node+6]
			if v[solver.UZ] > r.Up {
				r.Up, r.UpIn = v[solver.UZ], combos[k].ID
			}
			if -v[solver.UZ] > r.Down {
				r.Down, r.DownIn = -v[solver.UZ], combos[k].ID
			}
			r.AlongX = math.Max(r.AlongX, math.Abs(v[solver.UX]))
			r.AcrossY = math.Max(r.AcrossY, math.Abs(v[solver.UY]))
			r.MomentX = math.Max(r.MomentX, math.Abs(v[solver.RX]))
			r.MomentY = math.Max(r.MomentY, math.Abs(v[solver.RY]))
		}
		out = append(out, r)
	}
	return out
}

// quickShare is how far a quick utilisation may lie from the careful one (relative above 1): less than any coefficient of
// the codes is known to, and a fiftieth of the step by which fronts are measured.
const quickShare = 1e-4
