package asnzs1170

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/actions"
	"leanbay/solver"
)

// Report is everything about the actions on one shed, in the trade's units (m, m/s, kPa, kN), as it is printed.
type Report struct {
	Caution      string               `json:"caution"`
	Pack         string               `json:"pack"`
	OverridesSHA string               `json:"overrides_sha256"`
	Overrides    []ReportedOverride   `json:"overrides"`
	Winds        []ReportedWind       `json:"winds"`
	Schedule     []ReportedOpening    `json:"schedule"`
	LocalZones   []ReportedZone       `json:"local_zones"`
	Cases        []ReportedCase       `json:"cases"`
	Combinations []ReportedSum        `json:"combinations"`
	Working      []ReportedStep       `json:"working"`
	Confirm      []ReportedCoeff      `json:"coefficients_to_confirm"`
	Coefficients []ReportedCoeff      `json:"coefficients_used"`
	LeftOut      []string             `json:"left_out"`
	NotCovered   []string             `json:"not_covered"`
	Source       []actions.Case       `json:"-"` // the cases themselves
	Directions   []Wind               `json:"-"`
	Sums         []solver.Combination `json:"-"`
}

// Recombine puts another list of combinations of the report's cases in place of the pack's.
func (r *Report) Recombine(b *actions.Building, sums []solver.Combination) {
	r.Cases, r.Combinations, r.Sums = nil, nil, sums
	r.fillCases(b, r.Source, sums)
}

// ReportedOverride is one override and whether this job read it.
type ReportedOverride struct {
	Name   string  `json:"name"`
	Value  float64 `json:"value"`
	Reason string  `json:"reason"`
	Used   bool    `json:"used"`
}

// ReportedWind is one direction: speeds, pressures and internal coefficients with the states that give them.
type ReportedWind struct {
	From     string        `json:"from"`
	Bearing  float64       `json:"bearing_deg"`
	VUlt     float64       `json:"V_des"`
	QUlt     float64       `json:"q_kPa"`
	VService float64       `json:"V_des_service"`
	QService float64       `json:"q_service_kPa"`
	Internal []ReportedCpi `json:"Cpi_states"`
}

// ReportedCpi is one state of the openings.
type ReportedCpi struct {
	State string  `json:"state"`
	Lo    float64 `json:"lowest"`
	Hi    float64 `json:"highest"`
}

// ReportedOpening is one line of the schedule of doors and windows.
type ReportedOpening struct {
	Name     string  `json:"name"`
	Wall     string  `json:"wall"`
	Area     float64 `json:"area_m2"`
	In       float64 `json:"inwards_kPa"`
	InCase   string  `json:"inwards_case"`
	Out      float64 `json:"outwards_kPa"`
	OutCase  string  `json:"outwards_case"`
	LockPull float64 `json:"lock_pull_kN_per_m"`
	State    string  `json:"state"`
	RestsOn  string  `json:"rests_on"`
}

// ReportedZone is one local zone of cladding and secondary steel.
type ReportedZone struct {
	Name    string  `json:"zone"`
	Where   string  `json:"where"`
	Kl      float64 `json:"Kl"`
	Area    float64 `json:"area_up_to_m2,omitempty"`
	In      float64 `json:"inwards_kPa"`
	InCase  string  `json:"inwards_case"`
	Out     float64 `json:"outwards_kPa"`
	OutCase string  `json:"outwards_case"`
}

// ReportedCase is one case with its whole force; patches and floors as they act.
type ReportedCase struct {
	ID      string          `json:"id"`
	Kind    solver.CaseKind `json:"kind"`
	Title   string          `json:"title"`
	Force   [3]float64      `json:"force_kN"` // of patches and floors: not the steel's own weight
	Patches []ReportedPatch `json:"patches,omitempty"`
	Of      []actions.Share `json:"shares,omitempty"`
	Part    float64         `json:"fraction,omitempty"`
}

// ReportedPatch is a patch: its face, rectangle in (u, v), net pressure and traction.
type ReportedPatch struct {
	Face     string      `json:"face"`
	U        [2]float64  `json:"u_m"`
	V        [2]float64  `json:"v_m"`
	Pressure float64     `json:"pressure_kPa"`
	Traction *[3]float64 `json:"traction_kPa,omitempty"`
	Note     string      `json:"note"`
}

// ReportedSum is one combination by case names.
type ReportedSum struct {
	ID     string            `json:"id"`
	State  solver.LimitState `json:"state"`
	Terms  []ReportedTerm    `json:"terms"`
	Reason string            `json:"reason"`
}

// ReportedTerm is one factored case.
type ReportedTerm struct {
	Case   string  `json:"case"`
	Factor float64 `json:"factor"`
}

// ReportedStep is one line of the working.
type ReportedStep struct {
	Part    string  `json:"part"`
	Symbol  string  `json:"symbol"`
	Value   float64 `json:"value"`
	Unit    string  `json:"unit"`
	Formula string  `json:"formula"`
	Numbers string  `json:"numbers,omitempty"`
	Clause  string  `json:"clause,omitempty"`
	Mark    string  `json:"mark,omitempty"`
}

// ReportedCoeff is one coefficient in force.
type ReportedCoeff struct {
	Name   string  `json:"name"`
	Value  float64 `json:"value"`
	Clause string  `json:"clause"`
	Mark   Mark    `json:"mark"`
}

// Report works out everything about the actions on b at s.
func (p *Pack) Report(b *actions.Building, s *actions.Site) (*Report, error) {
	used := &actions.Working{}
	t := *p.t
	t.log = used
	q := &Pack{t: &t, overrides: p.overrides, opt: p.opt} // a copy whose reads are noted
	cases, err := q.Cases(b, s)
	if err != nil {
		return nil, err
	}
	sums, err := q.Combinations(b, s, cases)
	if err != nil {
		return nil, err
	}
	local, err := q.Local(b, s)
	if err != nil {
		return nil, err
	}
	w := &actions.Working{}
	winds, err := q.Winds(w, b, s)
	if err != nil {
		return nil, err
	}
	q.recordOthers(w, b, s, local)
	r := &Report{Caution: solver.Caution, Pack: p.Name(), OverridesSHA: p.overrides.Digest(), LeftOut: p.LeftOut(), NotCovered: p.NotCovered(),
		Source: cases, Directions: winds, Sums: sums}
	r.fillWinds(winds)
	r.fillSchedule(local.Schedule())
	for _, z := range local.Zones() {
		r.LocalZones = append(r.LocalZones, ReportedZone{Name: z.Name, Where: z.Where, Kl: z.Kl, Area: rounded(z.Area),
			In: rounded(z.In / 1e3), InCase: z.InCase, Out: rounded(z.Out / 1e3), OutCase: z.OutCase})
	}
	r.fillCases(b, cases, sums)
	for _, st := range w.Steps {
		r.Working = append(r.Working, ReportedStep{Part: st.Part, Symbol: st.Symbol, Value: rounded(st.Value), Unit: st.Unit, Formula: st.Formula,
			Numbers: st.Numbers, Clause: st.Clause, Mark: st.Mark})
	}
	r.fillCoefficients(q, used.Used)
	return r, nil
}

// rounded is v to seven digits: enough for a checker, and free of the last bits of the sum.
func rounded(v float64) float64 {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0
	}
	scale := math.Pow(10, 6-math.Floor(math.Log10(math.Abs(v))))
	return math.Round(v*scale) / scale
}

// recordOthers adds the working of everything but the wind on the frames.
func (p *Pack) recordOthers(w *actions.Working, b *actions.Building, s *actions.Site, l *Local) {
	w.Part("Local pressures of cladding, purlins and girts")
	p.t.step(w, "local.a.plan", "a", "walls: least of 0.2b, 0.2d, h", l.a.Wall, "m", nil)
	p.t.step(w, "local.a.plan", "a", "roof: least of 0.2b, 0.2d", l.a.Roof, "m", nil)
	w.Part("Imposed actions")
	p.RoofImposed(w, leastTributary(b))
	member, cladding := p.t.RoofPoint(w)
	p.t.step(w, "roof.imposed.point.member", "Q", "point on structural members, not with the area load", member/1e3, "kN", nil)
	p.t.step(w, "roof.imposed.point.cladding", "Q", "point on cladding", cladding/1e3, "kN", nil)
	for i := range b.Floors {
		f := &b.Floors[i]
		pa, _ := p.floorImposed(w, f)
		_, point, _ := p.t.FloorImposed(w, f.Use, f.StoredHeight)
		row, _ := useRow(f.Use)
		from := "the table's value"
		if f.Imposed > 0 {
			from = "as given"
		}
		p.t.step(w, row+".area", "q", "floor "+f.Name+", "+f.Use, pa/1e3, "kPa", func() string { return from })
		p.t.step(w, row+".point", "Q", "point on floor "+f.Name, point/1e3, "kN", nil)
	}
	if len(b.Floors) > 0 {
		rail, infill := p.t.Barrier(w)
		p.t.step(w, "barrier.rail", "q", "barriers at floor edges: rail", rail/1e3, "kN/m", nil)
		p.t.step(w, "barrier.infill", "q", "barriers at floor edges: infill", infill/1e3, "kPa", nil)
	}
	if b.GroundSnow > 0 {
		w.Part("Snow")
		p.t.step(w, "snow.shape.full", "μ1", "south slope", p.t.SnowShape(w, b.Pitch(actions.SouthRoof)/rad), "-", nil)
	}
	w.Part("Earthquake")
	for dim := range 2 {
		if v, _ := p.earthquake(w, b, s, dim); v.Coefficient == 0 {
			p.t.step(w, "", "-", "no earthquake design for importance level 1", 0, "-", nil)
		}
	}
}

func (r *Report) fillWinds(winds []Wind) {
	for i := range winds {
		w := &winds[i]
		out := ReportedWind{From: w.Name(), Bearing: rounded(w.Bearing / rad), VUlt: rounded(w.Ultimate.V), QUlt: rounded(w.Ultimate.Q / 1e3),
			VService: rounded(w.Service.V), QService: rounded(w.Service.Q / 1e3)}
		for _, st := range w.InternalU.States {
			out.Internal = append(out.Internal, ReportedCpi{st.Name, rounded(st.Lo), rounded(st.Hi)})
		}
		r.Winds = append(r.Winds, out)
	}
}

func (r *Report) fillSchedule(list []Scheduled) {
	for _, d := range list {
		r.Schedule = append(r.Schedule, ReportedOpening{Name: d.Name, Wall: d.Face.String(), Area: rounded(d.Area), In: rounded(d.In / 1e3), InCase: d.InCase,
			Out: rounded(d.Out / 1e3), OutCase: d.OutCase, LockPull: rounded(d.LockPull / 1e3), State: string(d.State), RestsOn: d.RestsOn})
	}
}

func (r *Report) fillCases(b *actions.Building, cases []actions.Case, sums []solver.Combination) {
	for i := range cases {
		c := &cases[i]
		out := ReportedCase{ID: c.ID, Kind: c.Kind, Title: c.Title, Of: c.Shares, Part: c.Fraction}
		f := r3.Vec{}
		for _, p := range c.Patches {
			force, _ := b.PatchForce(p)
			f = r3.Add(f, force)
			rp := ReportedPatch{Face: p.Face.String(), U: [2]float64{rounded(p.U0), rounded(p.U1)}, V: [2]float64{rounded(p.V0), rounded(p.V1)},
				Pressure: rounded(p.Pressure / 1e3), Note: p.Note}
			if p.Traction != (r3.Vec{}) {
				rp.Traction = &[3]float64{rounded(p.Traction.X / 1e3), rounded(p.Traction.Y / 1e3), rounded(p.Traction.Z / 1e3)}
			}
			out.Patches = append(out.Patches, rp)
		}
		for _, fl := range c.Floors {
			f.Z -= fl.Pressure * (fl.X1 - fl.X0) * (fl.Y1 - fl.Y0)
		}
		for k, v := range []float64{f.X, f.Y, f.Z} {
			out.Force[k] = rounded(math.Round(v) / 1e3) // to a newton: opposite walls cancel but for the last bits
		}
		r.Cases = append(r.Cases, out)
	}
	for _, s := range sums {
		out := ReportedSum{ID: s.ID, State: s.State, Reason: s.Reason}
		for _, term := range s.Terms {
			out.Terms = append(out.Terms, ReportedTerm{cases[term.Case].ID, term.Factor})
		}
		r.Combinations = append(r.Combinations, out)
	}
}

func (r *Report) fillCoefficients(p *Pack, used []string) {
	for _, c := range p.t.list {
		if !slices.Contains(used, c.Name) {
			continue
		}
		out := ReportedCoeff(c)
		r.Coefficients = append(r.Coefficients, out)
		if c.Mark == MM || c.Mark == M {
			r.Confirm = append(r.Confirm, out)
		}
	}
	r.Overrides = []ReportedOverride{}
	if p.overrides == nil {
		return
	}
	for _, e := range p.overrides.Entries {
		r.Overrides = append(r.Overrides, ReportedOverride{e.Name, e.Value, e.Reason, slices.Contains(used, e.Name)})
	}
}

// TermText writes a combination's terms: "1.2 G + 1.5 Qf1".
func (s ReportedSum) TermText() string {
	out := ""
	for i, t := range s.Terms {
		switch {
		case t.Factor < 0:
			out += " - "
		case i > 0:
			out += " + "
		}
		out += fmt.Sprintf("%g %s", math.Abs(t.Factor), t.Case)
	}
	return out
}

// Extremes are the ultimate wind cases of direction i that lift the roof most and press it most.
func (r *Report) Extremes(i int) []*actions.Case {
	var up, down *actions.Case
	var most, least float64
	for k := range r.Source {
		c := &r.Source[k]
		if c.Kind != solver.KindWindUltimate || c.Direction != r.Directions[i].BlowsTo() {
			continue
		}
		z := r.Cases[k].Force[2]
		if up == nil || z > most {
			up, most = c, z
		}
		if down == nil || z < least {
			down, least = c, z
		}
	}
	if up == down {
		return []*actions.Case{up}
	}
	return []*actions.Case{up, down}
}
