package shedspace

import (
	"math"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/checks/asnzs4600"
	"leanbay/solver/frame"
)

// testForce is the force whose deflection tells how lively a floor is (N).
const testForce = 1e3

// floorShare is how much of a force on one joist that joist takes itself where the brief says that the floor is a sheet
// screwed to every joist; the rest goes to its neighbours. The British annex to Eurocode 5 (2.7.2) has 0.3 to about 0.6
// for boarded floors [from memory]; elsewhere nothing is shared.
const floorShare = 0.5

// joistPart is the share of the limit that the joist by itself may use when the table chooses it, so that beams have some.
const joistPart = 0.75

// steelE is Young's modulus of joists and beams (Pa; AS 4100 1.4, AS/NZS 4600 Table 1.5).
const steelE = 200e9

// FloorResult is how lively a floor is.
type FloorResult struct {
	Name      string
	Test      float64 // m, under 1 kN at the softest point
	Beams     float64 // Hz, first frequency of beams and posts with the floor's mass; 0 where it was not sought
	Joists    float64 // Hz
	Frequency float64 // Hz, of both together (Dunkerley)
}

// quietFrequency is the first frequency (Hz) below which a floor answers footsteps as a whole, and the 1 kN test does not
// settle the matter (usual practice; from memory).
const quietFrequency = 8.0

// Lively says that the floor's first frequency is below what the 1 kN test covers.
func (f *FloorResult) Lively() bool { return f.Frequency > 0 && f.Frequency < quietFrequency }

// pointBow is the midspan deflection (m) of a simple span under a force at midspan.
func pointBow(force, span, ei float64) float64 { return force * span * span * span / (48 * ei) }

// floorTest compares each floor's deflection under 1 kN with the limit: at midspan of a joist over midspan of its
// beams, each of which takes half. Beams are simple, posts and columns rigid.
func (j *judge) floorTest(m *shed.Model, a *Assessment) {
	joist := j.set.secondaries.Sections.Joist
	if joist == nil {
		return
	}
	limit := float64(j.p.Brief.Limits.FloorTest)
	worst := ServiceResult{Limit: j.limitNames.floorTest, Combination: "1 kN at midspan of a joist", Allowed: limit}
	for i := range m.Shed.Mezzanines {
		f := &m.Shed.Mezzanines[i]
		r := FloorResult{Name: f.Name, Test: shareOf(f) * pointBow(testForce, m.Shed.JoistSpan(f), steelE*joist.Props.Ix)}
		beam := 0.0
		for _, b := range m.BeamsOf(i) {
			mem := &m.Structure.Members[b]
			beam = math.Max(beam, pointBow(testForce/2, mem.Length, steelE*mem.Section.Props.Ix))
		}
		r.Test += beam
		if u := r.Test / limit; u > worst.Utilisation {
			worst.Where, worst.Value, worst.Utilisation = f.Name, r.Test, u
		}
		if !j.brief && !j.figures {
			j.frequency(m, i, &r)
		}
		a.Floors = append(a.Floors, r)
	}
	if worst.Where != "" {
		a.Service = append(a.Service, worst)
	}
}

func shareOf(f *shed.Mezzanine) float64 {
	if f.Diaphragm {
		return floorShare
	}
	return 1
}

// frequency finds a floor's first frequency: of its beams on their posts and columns with the mass of the permanent and the
// long-term imposed load, and of a joist by itself, together by Dunkerley's rule.
func (j *judge) frequency(m *shed.Model, floor int, r *FloorResult) {
	perLength := make([]float64, len(m.Structure.Elements))
	for _, b := range m.BeamsOf(floor) {
		q := j.longTerm(m, b)
		mem := &m.Structure.Members[b]
		for _, e := range mem.Elements {
			perLength[e] = q/brief.Gravity + mem.Section.Props.Mass
		}
	}
	periods, err := j.whole.work.Periods(frame.Mass{PerLength: perLength, Direction: [3]bool{false, false, true}, Without: true}, nil, 1)
	if err != nil || len(periods) == 0 {
		return
	}
	r.Beams = periods[0].Frequency
	f := &m.Shed.Mezzanines[floor]
	joist := j.set.secondaries.Sections.Joist
	kg := j.floorMass(m, floor)*f.JoistSpacing + joist.Props.Mass
	r.Joists = math.Pi / 2 * math.Sqrt(steelE*joist.Props.Ix/(kg*math.Pow(m.Shed.JoistSpan(f), 4)))
	r.Frequency = 1 / math.Sqrt(1/(r.Beams*r.Beams)+1/(r.Joists*r.Joists))
}

// longTerm is the vertical load along a beam (N/m, mean) of permanent and long-term imposed action.
func (j *judge) longTerm(m *shed.Model, beam int) float64 {
	sum := 0.0
	for k, factor := range j.longTermTerms(m) {
		for _, l := range m.Structure.Cases[k].Line {
			if l.Member == beam {
				sum -= factor * (l.Q1.Z + l.Q2.Z) / 2 * (l.To - l.From)
			}
		}
	}
	return sum / m.Structure.Members[beam].Length
}

// longTermTerms are the factors by case of the service combination with the floors' long-term load.
func (j *judge) longTermTerms(m *shed.Model) []float64 {
	out := make([]float64, len(m.Structure.Cases))
	for i := range m.Structure.Combinations {
		if c := &m.Structure.Combinations[i]; c.State == solver.Service && c.ID == "G+ψlQf" {
			for _, t := range c.Terms {
				out[t.Case] += t.Factor
			}
		}
	}
	return out
}

// floorMass is the mass on a floor (kg/m²) of permanent and long-term imposed action.
func (j *judge) floorMass(m *shed.Model, floor int) float64 {
	sum := 0.0
	for k, factor := range j.longTermTerms(m) {
		for _, p := range j.p.bench.cases[k].Floors {
			if p.Floor == m.Shed.Mezzanines[floor].Floor {
				sum += factor * p.Pressure / asnzs4600.Gravity
			}
		}
	}
	return sum
}

// stiffJoist raises a joist's deflection limit until a section that keeps it also keeps its part of the 1 kN test: both
// ask for a least EI, 5 w L³ D/384 and share F L³/(48 part limit).
func stiffJoist(n asnzs4600.Need, limit float64) asnzs4600.Need {
	share := 1.0
	if n.SheetHolds { // the floor is a sheet screwed to every joist
		share = floorShare
	}
	if w := n.ServiceIn * n.Spacing; w > 0 {
		ei := share * testForce * math.Pow(n.Span, 3) / (48 * joistPart * limit)
		n.Deflect = math.Max(n.Deflect, ei*384/(5*w*math.Pow(n.Span, 3)))
	}
	return n
}
