package asnzs1170

import (
	"fmt"
	"strings"

	"leanbay/model/actions"
	"leanbay/solver"
)

// Combinations implements actions.Pack: AS/NZS 1170.0 section 4 on the cases of Cases (all, or what is left of them). It
// finds cases by kind and ID. What it leaves out, and why, is in LeftOut.
func (p *Pack) Combinations(b *actions.Building, s *actions.Site, cases []actions.Case) ([]solver.Combination, error) {
	c := &combiner{p: p, b: b, cases: cases, byID: map[string]int{}}
	for i, k := range cases {
		if _, twice := c.byID[k.ID]; twice {
			return nil, fmt.Errorf("two cases are named %q", k.ID)
		}
		c.byID[k.ID] = i
	}
	if _, ok := c.byID["G"]; !ok {
		return nil, fmt.Errorf("the permanent case G is missing; pass the cases as Cases returned them")
	}
	c.strengthGravity()
	c.strengthWind()
	c.earthquake()
	c.robustness()
	c.stability()
	c.service()
	return c.out, nil
}

// LeftOut says which combinations are not generated, and why they cannot govern.
func (p *Pack) LeftOut() []string {
	out := []string{
		"1.2G+1.5ψl Q: between 1.2G and 1.2G+1.5Q, which are looked at; it matters only for materials that creep",
		"floor reduction ψa: not taken",
		"roof imposed action with wind: ψc is 0",
		"accidental eccentricity with either sign of the earthquake's force: the other two of the four are mirror images and are there",
	}
	if p.opt.KeepAll {
		return out
	}
	return append(out,
		"1.2G+Wu with the highest (or only) internal pressure and roof set a: the same walls with 0.9G lift more, and with roof set b press more",
		"0.9G+Wu with the lowest (or only) internal pressure and roof set b: the same walls with roof set a lift more, and with 1.2G press more",
		"service wind other than highest internal pressure with set a and lowest with set b: sway hardly depends on internal pressure, and these two lift and press most",
		"0.9G with wind that only presses on a roof without walls, 1.2G with wind that only lifts it",
	)
}

type combiner struct {
	p     *Pack
	b     *actions.Building
	cases []actions.Case
	byID  map[string]int
	out   []solver.Combination
}

// terms is a growing list of factored cases.
type terms []solver.Term

// with adds a case by ID where it exists and its factor is not 0.
func (c *combiner) with(t terms, id string, factor float64) terms {
	i, ok := c.byID[id]
	if !ok || factor == 0 {
		return t
	}
	return append(t[:len(t):len(t)], solver.Term{Case: i, Factor: factor})
}

// permanent is certain and possible permanent action at one factor; 0.9G takes the certain alone.
func (c *combiner) permanent(factor float64) terms {
	return c.with(c.with(nil, "G", factor), "Gx", factor)
}

// floors adds every floor at its own factor.
func (c *combiner) floors(t terms, factor func(Psi) float64) terms {
	for i, f := range c.b.Floors {
		t = c.with(t, floorID(i), factor(c.p.t.Psi(nil, f.Use)))
	}
	return t
}

func (c *combiner) add(state solver.LimitState, id, reason string, t terms) {
	c.out = append(c.out, solver.Combination{ID: id, State: state, Terms: t, Reason: reason})
}

func (c *combiner) kind(k solver.CaseKind) (out []int) {
	for i, x := range c.cases {
		if x.Kind == k {
			out = append(out, i)
		}
	}
	return out
}

func (c *combiner) f(name string) float64 { return c.p.t.at(nil, name) }

// factored names a factor on an action: "1.2G"; a factor of 1 is not written.
func factored(f float64, what string) string {
	if f == 1 {
		return what
	}
	return fmt.Sprintf("%g%s", f, what)
}

// strengthGravity are the gravity combinations, each bare and with its notional forces both ways along X and Y.
func (c *combiner) strengthGravity() {
	alone, g, q := c.f("combination.strength.G_alone"), c.f("combination.strength.G"), c.f("combination.strength.Q")
	c.gravity(factored(alone, "G"), std0+"4.2.2(a): permanent action alone", c.permanent(alone))
	all := func(Psi) float64 { return q }
	if n := len(c.b.Floors); n > 0 {
		c.gravity(factored(g, "G+")+factored(q, "Qf"), std0+"4.2.2(b): floors full", c.floors(c.permanent(g), all))
		for i := 0; n > 1 && i < n; i++ {
			c.gravity(factored(g, "G+")+factored(q, floorID(i)), std0+"4.2.2(b): floor "+c.b.Floors[i].Name+" full, the others empty: sway and uneven load",
				c.with(c.permanent(g), floorID(i), q))
		}
	}
	c.gravity(factored(g, "G+")+factored(q, "Qr"), std0+"4.2.2(b): roof imposed", c.with(c.permanent(g), "Qr", q))
	if len(c.b.Floors) > 0 {
		c.gravity(factored(g, "G+")+factored(q, "Qf+")+factored(q, "Qr"), std0+"4.2.2(b): floors and roof together",
			c.with(c.floors(c.permanent(g), all), "Qr", q))
	}
	for _, i := range c.kind(solver.KindSnow) {
		su := c.f("combination.action.Su")
		t := c.floors(c.permanent(g), func(p Psi) float64 { return p.C })
		c.gravity(factored(g, "G+")+factored(su, c.cases[i].ID), std0+"4.2.2(g): snow", c.with(t, c.cases[i].ID, su))
	}
}

// gravity adds a gravity combination bare and with notional forces.
func (c *combiner) gravity(id, reason string, t terms) {
	c.add(solver.Strength, id, reason, t)
	for _, axis := range []string{"X", "Y"} {
		for _, sign := range []float64{1, -1} {
			h := t
			for _, x := range t {
				h = c.with(h, "H "+axis+" of "+c.cases[x.Case].ID, sign*x.Factor)
			}
			if len(h) > len(t) {
				c.add(solver.Strength, fmt.Sprintf("%s+H %s%s", id, plusMinus(sign), axis), reason+"; "+as4100+"3.2.4: notional forces along "+plusMinus(sign)+axis, h)
			}
		}
	}
}

func plusMinus(sign float64) string {
	if sign < 0 {
		return "-"
	}
	return "+"
}

// strengthWind are 1.2G+Wu+ψc Q and 0.9G+Wu.
func (c *combiner) strengthWind() {
	g, up, wu := c.f("combination.strength.G"), c.f("combination.strength.G_uplift"), c.f("combination.action.Wu")
	for _, i := range c.kind(solver.KindWindUltimate) {
		id := c.cases[i].ID
		if c.presses(i) {
			t := c.floors(c.permanent(g), func(p Psi) float64 { return p.C })
			q := ""
			if len(c.b.Floors) > 0 {
				q = "ψcQf+"
			}
			c.add(solver.Strength, factored(g, "G+")+q+factored(wu, id), std0+"4.2.2(d): wind with gravity", c.with(t, id, wu))
		}
		if c.lifts(i) {
			c.add(solver.Strength, factored(up, "G+")+factored(wu, id), std0+"4.2.2(e): wind with the least permanent action, floors empty", c.with(c.with(nil, "G", up), id, wu))
		}
	}
}

// presses says whether a wind case is wanted with gravity's larger factor, lifts whether with its smaller one; see
// LeftOut.
func (c *combiner) presses(i int) bool {
	if c.p.opt.KeepAll {
		return true
	}
	if sides, ok := c.freeSigns(i); ok {
		return sides.down
	}
	return !c.replaced(i, "cpi+ roof a", "cpi+ roof b") && !c.replaced(i, "cpi roof a", "cpi roof b")
}

func (c *combiner) lifts(i int) bool {
	if c.p.opt.KeepAll {
		return true
	}
	if sides, ok := c.freeSigns(i); ok {
		return sides.up
	}
	return !c.replaced(i, "cpi- roof b", "cpi- roof a") && !c.replaced(i, "cpi roof b", "cpi roof a")
}

// replaced says whether case i is the pair `from` and its partner `to` exists.
func (c *combiner) replaced(i int, from, to string) bool {
	stem, ok := strings.CutSuffix(c.cases[i].ID, from)
	if !ok {
		return false
	}
	_, ok = c.byID[stem+to]
	return ok
}

// freeSigns says, for a wind on a roof without walls, whether any part is pressed or lifted.
func (c *combiner) freeSigns(i int) (sides struct{ down, up bool }, ok bool) {
	if len(openWalls(c.b)) < 4 {
		return sides, false
	}
	for _, patch := range c.cases[i].Patches {
		sides.down = sides.down || patch.Pressure > 0
		sides.up = sides.up || patch.Pressure < 0
	}
	return sides, true
}

// earthquake is G+Eu+ψE Q, both signs.
func (c *combiner) earthquake() {
	g, eu := c.f("combination.strength.G_earthquake"), c.f("combination.action.Eu")
	for _, i := range c.kind(solver.KindEarthquake) {
		for _, sign := range []float64{1, -1} {
			t := c.floors(c.permanent(g), func(p Psi) float64 { return p.E })
			c.add(solver.Strength, factored(g, "G+")+signed(c.cases[i].ID, sign), std0+"4.2.2(f): earthquake", c.with(t, c.cases[i].ID, sign*eu))
		}
	}
}

// signed puts the sense before the axis of an earthquake case: "E -X +0.1b".
func signed(id string, sign float64) string {
	return strings.Replace(id, "E ", "E "+plusMinus(sign), 1)
}

// robustness is G+ψc Q with 1.5 % sideways, where the earthquake does not cover it.
func (c *combiner) robustness() {
	for _, axis := range []string{"X", "Y"} {
		for _, sign := range []float64{1, -1} {
			t := c.floors(c.permanent(1), func(p Psi) float64 { return p.C })
			if r := c.with(t, "R "+axis, sign); len(r) > len(t) {
				c.add(solver.Strength, "G+R "+plusMinus(sign)+axis, std0+"6.2.2: least lateral resistance", r)
			}
		}
	}
}

// stability sets the least permanent action against what overturns, slides or lifts.
func (c *combiner) stability() {
	hold := c.f("combination.stability.G_holding")
	for _, i := range c.kind(solver.KindWindUltimate) {
		id := c.cases[i].ID
		if strings.HasSuffix(id, "roof b") && c.has(strings.TrimSuffix(id, "b")+"a") || !c.lifts(i) {
			continue // set a lifts more with the same walls
		}
		c.add(solver.Stability, "stability "+factored(hold, "G+")+id, std0+"4.2.1: overturning, sliding and uplift at the bases",
			c.with(c.with(nil, "G", hold), id, c.f("combination.action.Wu")))
	}
	for _, i := range c.kind(solver.KindEarthquake) {
		for _, sign := range []float64{1, -1} {
			if c.cases[i].Offset < 0 {
				continue
			}
			c.add(solver.Stability, "stability "+factored(hold, "G+")+signed(c.cases[i].ID, sign), std0+"4.2.1: overturning and sliding in an earthquake",
				c.with(c.with(nil, "G", hold), c.cases[i].ID, sign*c.f("combination.action.Eu")))
		}
	}
}

func (c *combiner) has(id string) bool { _, ok := c.byID[id]; return ok }

// service are G, G+ψs Q, G+ψl Q, G+Ws and snow.
func (c *combiner) service() {
	clause := std0 + "4.3"
	c.add(solver.Service, "G", clause+": permanent", c.permanent(1))
	if len(c.b.Floors) > 0 {
		c.add(solver.Service, "G+ψsQf", clause+": floors, short term", c.floors(c.permanent(1), func(p Psi) float64 { return p.S }))
		c.add(solver.Service, "G+ψlQf", clause+": floors, long term", c.floors(c.permanent(1), func(p Psi) float64 { return p.L }))
	}
	c.add(solver.Service, "G+ψsQr", clause+": roof, short term", c.with(c.permanent(1), "Qr", c.p.t.Psi(nil, "roof").S))
	for _, i := range c.kind(solver.KindSnow) {
		c.add(solver.Service, "G+"+c.cases[i].ID, clause+": snow; strength snow unless the certifier sets less", c.with(c.permanent(1), c.cases[i].ID, c.f("snow.service")))
	}
	for _, i := range c.kind(solver.KindWindService) {
		id := c.cases[i].ID
		if !c.p.opt.KeepAll && (c.replaced(i, "cpi+ roof b", "cpi+ roof a") || c.replaced(i, "cpi- roof a", "cpi- roof b")) {
			continue
		}
		c.add(solver.Service, "G+"+id, clause+": service wind, R = 25 years", c.with(c.permanent(1), id, c.f("combination.action.Ws")))
	}
}
