package shedspace

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leanbay/catalog"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/optimize"
)

// objective is one thing that a search can minimise, and how an assessed design scores in it.
type objective struct {
	optimize.Objective
	value func(p *Problem, a *Assessment) float64
	// dear, where set, is the true value of what costs many assessments: value is then no more than it.
	dear func(r *Reviewer, d *shed.Design) (float64, error)
	// least, where set, is what every design of a branch has at least.
	least func(l least) float64
}

// objectives lists what can be minimised. Boxes are steps that matter: half a per cent of a usual frame's steel is given as
// 10 kg, and 0.005 of utilisation; things that are counted have half a step.
var objectives = []objective{
	{Objective: optimize.Objective{Name: string(brief.ObjMass), Unit: "kg", Box: 10},
		value: func(_ *Problem, a *Assessment) float64 { return a.Mass.Total },
		least: func(l least) float64 { return l.kg }},
	{Objective: optimize.Objective{Name: string(brief.ObjCompliance), Unit: "-", Box: 0.005, Reference: stoneLimit},
		value: func(_ *Problem, a *Assessment) float64 { return math.Max(a.U, floorU) }}, // more reserve than a fifth earns nothing
	{Objective: optimize.Objective{Name: string(brief.ObjCost), Unit: "money", Box: 50},
		value: func(p *Problem, a *Assessment) float64 { return p.Cost(a.Design).Total },
		least: func(l least) float64 { return l.money }},
	{Objective: optimize.Objective{Name: string(brief.ObjDepartures), Unit: "weight", Box: 0.5},
		value: func(p *Problem, a *Assessment) float64 { return shed.TotalWeight(p.Departures(a.Design)) }},
	{Objective: optimize.Objective{Name: string(brief.ObjSections), Unit: "-", Box: 0.5},
		value: func(_ *Problem, a *Assessment) float64 { return float64(distinctSections(a.Design)) }},
	{Objective: optimize.Objective{Name: string(brief.ObjConnections), Unit: "-", Box: 0.5},
		value: func(p *Problem, a *Assessment) float64 { return float64(Connections(p.Shed.Build(a.Design))) }},
	{Objective: optimize.Objective{Name: string(brief.ObjSway), Unit: "-", Box: 0.005},
		value: func(_ *Problem, a *Assessment) float64 { return a.Sway() }},
	{Objective: optimize.Objective{Name: objService, Unit: "-", Box: 0.005},
		value: func(_ *Problem, a *Assessment) float64 { return a.worstService() }},
	{Objective: optimize.Objective{Name: string(brief.ObjWindReserve), Unit: "-", Box: reserveStep / 2},
		value: mostReserveLeft,
		dear:  lostReserve},
	{Objective: optimize.Objective{Name: objWhatIfs, Unit: "-", Box: 0.5},
		value: func(*Problem, *Assessment) float64 { return 0 },
		dear:  whatIfsFailed},
}

// mostReserveLeft is the most reserve that a design's secondaries leave to it, with its sign turned; without a design, that is
// tried.
func mostReserveLeft(p *Problem, a *Assessment) float64 {
	if a == nil {
		return -mostReserve
	}
	return -p.setupOf(a.Design).reserve
}

// Objectives that no brief's list has: the greatest use of any service limit, and the number of what-ifs that fail.
const (
	objService = "service"
	objWhatIfs = "what-ifs failed"
)

// ObjectiveNames are the objectives that a search can minimise.
func ObjectiveNames() []string {
	var out []string
	for _, o := range objectives {
		out = append(out, o.Name)
	}
	return out
}

// choose finds objectives by name; none given are mass and compliance. Of complying variants the one with the least first
// objective is the best of the front.
func choose(list []string) ([]objective, error) {
	if len(list) == 0 {
		list = []string{string(brief.ObjMass), string(brief.ObjCompliance)}
	}
	var out []objective
	for i, name := range list {
		k := slices.IndexFunc(objectives, func(o objective) bool { return o.Name == name })
		switch {
		case k < 0:
			return nil, fmt.Errorf("objective %q is not known here; choose from %s", name, strings.Join(ObjectiveNames(), ", "))
		case slices.Contains(list[:i], name):
			return nil, fmt.Errorf("objective %q is named twice; once is enough", name)
		}
		out = append(out, objectives[k])
	}
	return out, nil
}

// wants says whether the search minimises an objective.
func (p *Problem) wants(name brief.Objective) bool {
	return slices.ContainsFunc(p.objectives, func(o objective) bool { return o.Name == string(name) })
}

// Objectives implements optimize.Problem.
func (p *Problem) Objectives() []optimize.Objective {
	var out []optimize.Objective
	for _, o := range p.objectives {
		out = append(out, o.Objective)
	}
	return out
}

// values scores an assessed design in every objective.
func (p *Problem) values(a *Assessment) []float64 {
	out := make([]float64, len(p.objectives))
	for i, o := range p.objectives {
		out[i] = o.value(p, a)
	}
	return out
}

// Values names the score of an assessed design in every objective of the search and in what Wishes.Limits limits, dear ones
// too. The wind reserve is given as the factor that it is, the greater the better.
func (p *Problem) Values(a *Assessment) (map[string]float64, error) {
	out := map[string]float64{}
	for _, o := range p.objectives {
		v := o.value(p, a)
		if o.dear != nil {
			var err error
			if v, err = p.dearValue(o, p.NewReviewer(), a.Design, a.Key); err != nil {
				return nil, err
			}
		}
		if o.Name == string(brief.ObjWindReserve) {
			v = -v
		}
		out[o.Name] = v
	}
	for _, l := range p.limits {
		out[l.objective.Name] = l.objective.value(p, a)
	}
	return out, nil
}

// Departures lists what a design has otherwise than the proposal.
func (p *Problem) Departures(d *shed.Design) []shed.Departure {
	var drawn, has shed.SecondarySections
	if p.bench != nil {
		drawn = p.bench.drawn.secondaries.Sections
		has = drawn
		if set := p.setupOf(d); set != nil && d != p.Drawn {
			has = set.secondaries.Sections
		}
	}
	return p.Shed.Departures(p.Drawn, d, drawn, has)
}

// distinctSections counts the sections of a design, rods left out.
func distinctSections(d *shed.Design) int {
	seen := map[string]bool{}
	for _, s := range d.Steel {
		if s.Section != nil && s.Section.Family != catalog.Rod {
			seen[s.Section.Name] = true
		}
	}
	return len(seen)
}

// Connections counts the made ends of a structure's members: two each, bases among them.
func Connections(m *shed.Model) int {
	n := 0
	for i := range m.Structure.Members {
		if m.Structure.Members[i].Section != nil {
			n += 2
		}
	}
	return n
}

// Sway is the greatest use of the limits on the eaves' movement and on that of adjacent frames.
func (a *Assessment) Sway() float64 {
	worst := 0.0
	for _, r := range a.Service {
		if isSway(r.Limit) {
			worst = math.Max(worst, r.Utilisation)
		}
	}
	return worst
}

// isSway tells the limits on sway.
func isSway(limit string) bool {
	return strings.HasPrefix(limit, "eaves sway") || strings.HasPrefix(limit, "adjacent frames")
}

// worstService is the greatest use of any service limit.
func (a *Assessment) worstService() float64 {
	worst := 0.0
	for _, r := range a.Service {
		worst = math.Max(worst, r.Utilisation)
	}
	return worst
}

// addSecondaries frees, where departures count, whether purlins, girts and joists stay as drawn at the drawn spacings.
func (p *Problem) addSecondaries() {
	if !p.wants(brief.ObjDepartures) {
		return
	}
	values := []bool{false, true}
	p.add(gene{
		Gene: optimize.Gene{Name: "secondaries", Options: []string{"lightest that pass", "as drawn"}},
		apply: func(d *shed.Design, i int) {
			if d.DrawnSecondaries = values[i] && p.drawnSpacings(d); d.DrawnSecondaries {
				d.SecondaryWind = 0 // what was drawn is sized for no wind
			}
		},
		has:  func(d *shed.Design, i int) bool { return d.DrawnSecondaries == values[i] },
		idle: func(d *shed.Design) bool { return !p.drawnSpacings(d) },
	})
}

// drawnSpacings says whether purlins and girts are where they were drawn.
func (p *Problem) drawnSpacings(d *shed.Design) bool {
	return d.PurlinSpacing == p.Drawn.PurlinSpacing && d.GirtSpacing == p.Drawn.GirtSpacing
}
