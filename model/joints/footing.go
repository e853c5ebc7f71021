package joints

import (
	"math"

	"leanbay/model/brief"
	"leanbay/solver"
	"leanbay/solver/checks"
)

// Footing is one base's demand on the ground, and how a stated pad meets it.
type Footing struct {
	Name string
	Kind Kind

	Push, Pull Extreme // N, greatest down on the footing and up from it, over strength and stability
	Sideways   Extreme // N, horizontal resultant
	Turning    Extreme // N·m, greatest moment of the base about a horizontal axis
	Service    Extreme // N, greatest push in service

	Concrete float64 // kg that would hold the pull
	Volume   float64 // m³ of it
	Area     float64 // m², for the push in service on the ground's allowable pressure; 0 where that is not stated
	Friction float64 // coefficient that the stated pad needs under the worst stability combination; 0 without a pad

	PadMass float64 // kg; 0 without a stated pad
	Checks  []Check // of the stated pad

	place int
	pad   brief.Pad
}

// Utilisation is the greatest of the pad's checks.
func (f *Footing) Utilisation() float64 {
	u := 0.0
	for i := range f.Checks {
		u = math.Max(u, f.Checks[i].Utilisation)
	}
	return u
}

// concreteDensity is that of plain concrete (kg/m³; AS/NZS 1170.1 Table A1 gives 24 kN/m³; from memory), concreteHolds
// the factor on permanent action that holds down (AS/NZS 1170.0 4.2.1, 4.2.2(e)).
const (
	concreteDensity = 2400.0
	concreteHolds   = 0.9
)

// Ground takes one combination for the footings: strength, stability or service by state.
func (c *Collector) Ground(a *Answer, state solver.LimitState) {
	for i := range c.bases {
		f := &c.bases[i]
		act, ok := c.actionAt(f.place, a)
		if !ok {
			continue
		}
		if state == solver.Service {
			raise(&f.Service, -act.N, f.Name, a)
		} else {
			raise(&f.Push, -act.N, f.Name, a)
			raise(&f.Pull, act.N, f.Name, a)
			raise(&f.Sideways, math.Hypot(act.V, act.W), f.Name, a)
			raise(&f.Turning, math.Max(math.Abs(act.M), math.Abs(act.S)), f.Name, a)
		}
		f.pad = c.padOf(f.Kind)
		if f.pad.Length > 0 && f.pad.Width > 0 && f.pad.Depth > 0 {
			c.onPad(f, act, a, state)
		}
	}
}

func raise(e *Extreme, v float64, member string, a *Answer) {
	if v > e.Value {
		*e = Extreme{Value: v, Member: member, Combination: a.Name, Alone: a.Alone}
	}
}

// padOf is the stated pad of a kind of base.
func (c *Collector) padOf(k Kind) brief.Pad {
	if d := kinds[indexOf(k)].detail(c.details); d != nil {
		return d.Pad
	}
	return brief.Pad{}
}

// onPad checks a stated pad: uplift and overturning by its own mass, and the pressure on the ground.
func (c *Collector) onPad(f *Footing, act Action, a *Answer, state solver.LimitState) {
	l, b, d := float64(f.pad.Length), float64(f.pad.Width), float64(f.pad.Depth)
	f.PadMass = l * b * d * concreteDensity
	weight := f.PadMass * brief.Gravity
	alongX, acrossY, aboutX, aboutY := act.W, act.V, act.M, act.S
	if c.places[f.place].webX {
		alongX, acrossY, aboutX, aboutY = act.V, act.W, act.S, act.M
	}
	overX, overY := math.Abs(alongX)*d+math.Abs(aboutY), math.Abs(acrossY)*d+math.Abs(aboutX)
	if state == solver.Service {
		c.pressure(f, weight-act.N, overX, overY, a)
		return
	}
	holds := concreteHolds * weight
	f.note("uplift held by the pad", "AS/NZS 1170.0 4.2.1", act.N/holds, act.N, holds, a)
	if state != solver.Stability {
		return
	}
	down, up := math.Max(0, -act.N), math.Max(0, act.N)
	for _, o := range []struct{ m, arm float64 }{{overX, l / 2}, {overY, b / 2}} {
		stands := (holds + down) * o.arm
		f.note("overturning of the pad", "AS/NZS 1170.0 4.2.1", (o.m+up*o.arm)/stands, o.m+up*o.arm, stands, a)
	}
	if n := holds - act.N; n > 0 {
		f.Friction = math.Max(f.Friction, math.Hypot(act.V, act.W)/n)
	} else {
		f.Friction = math.Inf(1)
	}
}

// pressure compares the mean pressure on the pad's effective area, the part that is concentric with the load (Meyerhof
// 1953; from memory), with what the ground allows.
func (c *Collector) pressure(f *Footing, n, overX, overY float64, a *Answer) {
	allowed := c.ground
	if allowed == 0 || n <= 0 {
		return
	}
	l, b := float64(f.pad.Length)-2*overX/n, float64(f.pad.Width)-2*overY/n
	u := 2.0 // the load is off the pad: as bad as twice too much
	if l > 0 && b > 0 {
		u = n / (l * b) / allowed
	}
	f.note("pressure on the ground", "allowable bearing of the site, effective area", u, u*allowed, allowed, a)
}

// note keeps the worst of each of the pad's checks.
func (f *Footing) note(name, clause string, u, demand, capacity float64, a *Answer) {
	if u <= 0 {
		return
	}
	r := Check{Result: checks.Result{Name: name, Clause: clause, Utilisation: u, Raw: u, Station: math.NaN(), Combination: -1, Demand: demand, Capacity: capacity},
		Member: f.Name, In: a.Name, Alone: a.Alone}
	for i := range f.Checks {
		if f.Checks[i].Name == name {
			if u > f.Checks[i].Utilisation {
				f.Checks[i] = r
			}
			return
		}
	}
	f.Checks = append(f.Checks, r)
}

// Footings are all bases with the concrete that would hold them: its mass times 0.9 carries the greatest pull.
func (c *Collector) Footings() []Footing {
	out := make([]Footing, len(c.bases))
	for i, f := range c.bases {
		f.Concrete = f.Pull.Value / concreteHolds / brief.Gravity
		f.Volume = f.Concrete / concreteDensity
		if c.ground > 0 {
			f.Area = f.Service.Value / c.ground
		}
		out[i] = f
	}
	return out
}
