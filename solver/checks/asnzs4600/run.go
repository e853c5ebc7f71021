package asnzs4600

import (
	"fmt"
	"math"

	"leanbay/catalog"
	"leanbay/solver/checks"
)

// Gravity is standard gravity (m/s²), for own weights.
const Gravity = 9.80665

// Run is one line of secondary steel to be designed: a purlin, girt, joist or jamb over one or more spans.
type Run struct {
	Role       string    // for messages: "purlin"
	Spans      []float64 // m
	Simple     bool      // each span by itself; else continuous
	Lap        float64   // m, whole length of the lap over each interior support of a continuous run; 0: one length, no laps
	Bridging   int       // rows of bridging in each span, equally spaced; each holds both flanges sideways and against twist
	SheetHolds bool      // the outer flange is held sideways all along (only where the brief says so)
	Sheeting   *Sheeting // the R-factor, for cases of outward load without axial force; nil: not used
	Bearing    float64   // m, bearing length where the member sits on its flange; 0: bolted to cleats
	Cases      []RunCase
}

// RunCase is one combination on a run.
type RunCase struct {
	Name     string
	Loads    []LineLoad // N/m, inwards, own weight not included
	OwnIn    float64    // factor on the own weight, acting inwards (N/m = factor × mass × gravity)
	Along    float64    // N/m in the plane of the sheeting (down the slope), own weight not included
	OwnAlong float64    // factor on the own weight, acting along
	Axial    float64    // N, positive in tension
	Service  bool       // deflection is checked and nothing else
	Deflect  float64    // span/Deflect is the limit of a service case
}

// RunResult is a run checked with one section.
type RunResult struct {
	Section     *catalog.Section
	Utilisation float64
	Governing   checks.Result
	Results     []checks.Result // the worst of each kind, in a fixed order
	Reactions   [][]float64     // by case, by support: N, positive where the support pushes outwards
	Mass        float64         // kg, laps included
	Mark        string          // where the buckling stresses come from
}

// Complies reports whether every check is within its limit; nothing is rounded.
func (r *RunResult) Complies() bool { return r.Utilisation <= 1 }

// The kinds of check of a run, in the order of RunResult.Results.
const (
	checkBending = iota
	checkShear
	checkCrippling
	checkDeflection
	numChecks
)

// checkNames are the names and clauses of the kinds.
var checkNames = [numChecks][2]string{
	{"bending and axial force", "AS/NZS 4600 7.2.2, 3.5"},
	{"bending and shear", "AS/NZS 4600 7.2.3, 3.3.5"},
	{"bending and web crippling", "AS/NZS 4600 3.3.6, 3.3.7"},
	{"deflection", "AS/NZS 1170.0 Table C1, brief"},
}

// runner is the work on one run with one section.
type runner struct {
	*Code
	run   *Run
	r     *Resistance
	w     *checks.Working
	worst [numChecks]checks.Result
	why   [numChecks]func() // writes the working of the worst; set only where there is a recorder
	c     int               // case
}

// CheckRun checks a run with the section and grade of r. An error means that the run cannot be solved, or that a rule it
// asks for (R) does not apply to it; a web outside the rule of crippling counts as twice too weak.
func (c *Code) CheckRun(run *Run, r *Resistance, w *checks.Working) (*RunResult, error) {
	if len(run.Cases) == 0 || len(run.Spans) == 0 {
		return nil, fmt.Errorf("%s: a run needs spans and cases; it has %d and %d", run.Role, len(run.Spans), len(run.Cases))
	}
	k := &runner{Code: c, run: run, r: r.eitherWay(), w: w}
	out := &RunResult{Section: r.Section, Mark: FiniteStrip}
	for i := range run.Cases {
		k.c = i
		reactions, err := k.one(&run.Cases[i])
		if err != nil {
			return nil, fmt.Errorf("%s %s, %s: %w", run.Role, r.Section.Name, run.Cases[i].Name, err)
		}
		out.Reactions = append(out.Reactions, reactions)
	}
	for _, work := range k.why {
		if work != nil {
			work()
		}
	}
	steel := total(run.Spans)
	if !run.Simple {
		steel += run.Lap * float64(len(run.Spans)-1)
	}
	out.Mass = steel * r.Section.Props.Mass
	for i, q := range k.worst {
		if q.Name == "" {
			continue
		}
		out.Results = append(out.Results, q)
		if q.Utilisation >= out.Utilisation {
			out.Utilisation, out.Governing = q.Utilisation, k.worst[i]
		}
	}
	return out, nil
}

// total is the length of all spans.
func total(spans []float64) (l float64) {
	for _, s := range spans {
		l += s
	}
	return l
}

// note keeps the worst result of a kind, and reports whether its working is to be kept with it.
func (k *runner) note(kind int, u, raw, x, demand, capacity float64) (explain bool) {
	q := &k.worst[kind]
	if q.Name != "" && u <= q.Utilisation {
		return false
	}
	*q = checks.Result{Name: checkNames[kind][0], Clause: checkNames[kind][1], Utilisation: u, Raw: raw, Station: x,
		Combination: k.c, Demand: demand, Capacity: capacity}
	return k.w != nil
}

// explain keeps the working of the worst of a kind, under a heading that names case and station.
func (k *runner) explain(kind int, x float64, what string, work func(w *checks.Working)) {
	name := k.run.Cases[k.c].Name
	k.why[kind] = func() {
		k.w.Heading(fmt.Sprintf("%s %s, %s: %s, at %.3f m: %s", k.run.Role, k.r.Section.Name, checkNames[kind][0], name, x, what))
		work(k.w)
		q := &k.worst[kind]
		k.w.Add(checks.Step{Clause: q.Clause, Symbol: "utilisation", Formula: "actions divided by it meet the limit", Value: q.Utilisation, Unit: "-"})
	}
}

// one solves and checks one case and returns the reactions.
func (k *runner) one(cs *RunCase) ([]float64, error) {
	own := k.r.Section.Props.Mass * Gravity
	loads := append(append([]LineLoad(nil), cs.Loads...), LineLoad{0, total(k.run.Spans), cs.OwnIn * own})
	ei := k.at(ModulusE) * k.r.Section.Props.Ix
	if !k.run.Simple {
		b := &Beam{Spans: k.run.Spans, Lap: k.run.Lap, EI: ei}
		resp, err := b.Solve(loads)
		if err != nil {
			return nil, err
		}
		return resp.Reactions, k.check(cs, b, resp, 0, own)
	}
	reactions := make([]float64, len(k.run.Spans)+1)
	start := 0.0
	for i, s := range k.run.Spans {
		b := &Beam{Spans: []float64{s}, EI: ei}
		moved := make([]LineLoad, len(loads))
		for j, q := range loads {
			moved[j] = LineLoad{q.From - start, q.To - start, q.Q}
		}
		resp, err := b.Solve(moved)
		if err != nil {
			return nil, err
		}
		reactions[i] += resp.Reactions[0]
		reactions[i+1] += resp.Reactions[1]
		if err := k.check(cs, b, resp, start, own); err != nil {
			return nil, err
		}
		start += s
	}
	return reactions, nil
}

// check does the checks of one solved beam that starts at station start of the run.
func (k *runner) check(cs *RunCase, b *Beam, r *Response, start, own float64) error {
	xs := b.supports()
	for i, l := range b.Spans {
		if cs.Service {
			if cs.Deflect > 0 {
				d, x := r.Most(xs[i], xs[i+1])
				limit := l / cs.Deflect
				u := checks.Deflection(limit, d)
				if k.note(checkDeflection, u, u, start+x, d, limit) {
					k.explain(checkDeflection, start+x, fmt.Sprintf("span %g m", l), func(w *checks.Working) {
						w.Add(checks.Step{Clause: checkNames[checkDeflection][1], Symbol: "delta", Formula: "beam with EIx, doubled over laps", Numbers: fmt.Sprintf("limit span/%g = %s mm", cs.Deflect, figure(checks.MM(limit))), Value: checks.MM(d), Unit: "mm"})
					})
				}
			}
			continue
		}
		if err := k.span(cs, b, r, xs[i], l, start, own); err != nil {
			return err
		}
	}
	if cs.Service {
		return nil
	}
	k.shear(b, r, start)
	k.crippling(b, r, start)
	return nil
}

// span checks bending with axial force in the lateral buckling segments of one span.
func (k *runner) span(cs *RunCase, b *Beam, r *Response, x0, l, start, own float64) error {
	seg := l / float64(k.run.Bridging+1)
	lengths := Lengths{X: l, Y: seg, Z: seg}
	minor := (cs.Along + cs.OwnAlong*own) * seg * seg / 8
	if k.run.SheetHolds {
		minor = 0
	}
	for j := range k.run.Bridging + 1 {
		from, to := x0+seg*float64(j), x0+seg*float64(j+1)
		cb := momentFactor(r, from, to)
		lateral := [2]Lengths{{Y: seg, Z: seg}, {Y: seg, Z: seg}}
		if k.run.SheetHolds {
			lateral[Top] = Lengths{}
		}
		m := k.Segment(k.r, lengths, lateral, [2]float64{cb, cb}, nil)
		if err := k.sheeting(&m, cs); err != nil {
			return err
		}
		hogging, sagging, xh, xs := extremes(r, from, to)
		for _, e := range [2]struct{ m, x float64 }{{sagging, xs}, {hogging, xh}} {
			k.bending(cs, m, lengths, e.m, minor, start+e.x, [2]Lengths{lateral[0], lateral[1]}, cb)
		}
	}
	return nil
}

// sheeting replaces the member moments by R·Ms where the R-factor is asked for, the load is outward and there is no axial
// force; other cases keep their lateral buckling analysis.
func (k *runner) sheeting(m *Member, cs *RunCase) error {
	if k.run.Sheeting == nil || cs.Axial != 0 {
		return nil
	}
	net := cs.OwnIn * k.r.Section.Props.Mass * Gravity * total(k.run.Spans)
	for _, q := range cs.Loads {
		net += q.Q * (q.To - q.From)
	}
	if net >= 0 {
		return nil
	}
	h := *k.run.Sheeting
	h.Uplift = true
	factor, err := k.SheetingFactor(k.r.Section, h, nil)
	if err != nil {
		return err
	}
	for i := range m.Mbx {
		m.Mbx[i] = factor * k.r.Ms[i]
	}
	return nil
}

// bending notes the utilisation of one moment, with the minor moment in either sense.
func (k *runner) bending(cs *RunCase, m Member, l Lengths, mx, my, x float64, lateral [2]Lengths, cb float64) {
	if mx == 0 && cs.Axial == 0 && my == 0 {
		return
	}
	senses := [2]float64{my, -my}
	f := Top
	if mx < 0 {
		f = Bottom
	}
	for _, s := range senses {
		a := Actions{N: cs.Axial, Mx: mx, My: s}
		u, raw := k.Combined(a, k.r, m, l, 1, nil)
		if k.note(checkBending, u, raw, x, math.Abs(mx), k.at(PhiBending)*m.Mbx[f]) {
			what := fmt.Sprintf("Mx* %s kN·m (%s in compression), My* %s kN·m, N* %s kN", figure(checks.KNm(mx)), f, figure(checks.KNm(s)), figure(checks.KN(cs.Axial)))
			k.explain(checkBending, x, what, func(w *checks.Working) {
				if a.N < 0 {
					k.Column(k.r.Ny, k.r.Nol, k.r.Nod, k.GlobalColumn(k.r.Section, l, w), w)
				}
				k.MemberMoment(k.r, f, lateral[f], cb, w)
				k.Combined(a, k.r, m, l, 1, w)
			})
		}
		if my == 0 {
			break
		}
	}
}

// single is the moment that one section carries at a station: half within a lap.
func single(p *piece, s float64) float64 {
	if p.lapped {
		return p.moment(s) / 2
	}
	return p.moment(s)
}

// momentFactor is Cb over a segment, with half the moment within laps.
func momentFactor(r *Response, from, to float64) float64 {
	at := func(share float64) float64 {
		p, s := r.at(from+share*(to-from), false)
		return single(p, s)
	}
	hog, sag, _, _ := extremes(r, from, to)
	return MomentFactor(max(-hog, sag), at(0.25), at(0.5), at(0.75))
}

// extremes are the most negative and most positive moments that one section carries between two stations, and where;
// zero where there is none of that sign. Moments are parabolas in each piece, so ends and points of no shear suffice.
func extremes(r *Response, from, to float64) (hog, sag, xh, xs float64) {
	xh, xs = from, from
	for i := range r.pieces {
		p := &r.pieces[i]
		lo, hi := max(from-p.x, 0), min(to-p.x, p.l)
		if lo > hi {
			continue
		}
		at := [3]float64{lo, hi, lo}
		if p.q != 0 {
			at[2] = min(max(p.v0/p.q, lo), hi)
		}
		for _, s := range at {
			m := single(p, s)
			if m < hog {
				hog, xh = m, p.x+s
			}
			if m > sag {
				sag, xs = m, p.x+s
			}
		}
	}
	return hog, sag, xh, xs
}

// shear notes bending with shear at both ends of every piece (supports, lap ends, changes of load) and where the moment
// peaks; within a lap each section has half of both.
func (k *runner) shear(b *Beam, r *Response, start float64) {
	msl := k.r.Msl[Top] // as for Bottom: see eitherWay
	for i := range r.pieces {
		p := &r.pieces[i]
		peak := p.l / 2
		if p.q != 0 {
			peak = min(max(p.v0/p.q, 0), p.l)
		}
		for _, s := range [3]float64{0, p.l, peak} {
			m, v := math.Abs(p.moment(s)), math.Abs(p.shear(s))
			if p.lapped {
				m, v = m/2, v/2
			}
			u := k.BendingWithShear(m, msl, v, k.r.Vv)
			if k.note(checkShear, u, u*u, start+p.x+s, v, k.at(PhiShear)*k.r.Vv) {
				what := fmt.Sprintf("M* %s kN·m, V* %s kN%s", figure(checks.KNm(m)), figure(checks.KN(v)), inLap(p))
				k.explain(checkShear, start+p.x+s, what, func(w *checks.Working) {
					k.Shear(flatWeb(k.r.Section), k.r.Section.Dims.T, k.r.Grade.FyW, w)
					w.Add(k.step(PhiShear, "sum", "(M*/(phi Msl))^2 + (V*/(phi Vv))^2", fmt.Sprintf("(%s/%s)^2 + (%s/%s)^2", figure(checks.KNm(m)),
						figure(checks.KNm(k.at(PhiBending)*msl)), figure(checks.KN(v)), figure(checks.KN(k.at(PhiShear)*k.r.Vv))), u*u, "-"))
				})
			}
		}
	}
}

// inLap says that the figures are those of one of two sections.
func inLap(p *piece) string {
	if p.lapped {
		return " (each of the two lapped sections)"
	}
	return ""
}

// outsideRule is the utilisation of a web outside the rule of web crippling.
const outsideRule = 2.0

// crippling notes bending with web crippling at the supports of members that sit on their flanges.
func (k *runner) crippling(b *Beam, r *Response, start float64) {
	if k.run.Bearing <= 0 {
		return
	}
	ms := k.r.Ms[Top]
	for i, x := range b.supports() {
		force := r.Reactions[i]
		if force <= 0 { // the support pulls: bolts, not bearing
			continue
		}
		interior := i > 0 && i < len(b.Spans)
		rb, phi, err := k.Crippling(k.r.Section, k.r.Grade.FyW, Support{Length: k.run.Bearing, Interior: interior}, nil)
		if err != nil { // outside the rule it cannot be shown to comply: as bad as twice too weak
			if k.note(checkCrippling, outsideRule, outsideRule, start+x, force, 0) {
				k.explain(checkCrippling, start+x, err.Error(), func(*checks.Working) {})
			}
			continue
		}
		p, s := r.at(x, i > 0)
		m := math.Abs(p.moment(s))
		if p.lapped {
			force, m = force/2, m/2
		}
		u := k.BendingWithCrippling(m, ms, force, rb, phi)
		if k.note(checkCrippling, u, u, start+x, force, phi*rb) {
			what := fmt.Sprintf("R* %s kN, M* %s kN·m%s", figure(checks.KN(force)), figure(checks.KNm(m)), inLap(p))
			k.explain(checkCrippling, start+x, what, func(w *checks.Working) {
				k.Crippling(k.r.Section, k.r.Grade.FyW, Support{Length: k.run.Bearing, Interior: interior}, w) // its limits were passed above
				w.Add(k.step(cripplingOldSum, "first form", "(1.07 R*/(phi_w Rb) + M*/(phi Ms))/1.42", fmt.Sprintf("phi_w %g, Ms %s kN·m", phi, figure(checks.KNm(ms))),
					(k.at(cripplingOldR)*force/(phi*rb)+m/(k.at(PhiBending)*ms))/k.at(cripplingOldSum), "-"))
				w.Add(k.step(cripplingNewSum, "second form", "(0.91 R*/Rb + M*/Ms)/(1.33 phi)", "", (k.at(cripplingNewR)*force/rb+m/ms)/(k.at(cripplingNewSum)*k.at(PhiBending)), "-"))
			})
		}
	}
}
