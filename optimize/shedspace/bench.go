package shedspace

import (
	"fmt"
	"slices"

	"leanbay/model/actions"
	"leanbay/model/actions/asnzs1170"
	"leanbay/model/brief"
	"leanbay/model/coefficients"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/checks/as4100"
	"leanbay/solver/checks/asnzs4600"
)

// bench is what every design of a brief is judged on: cases, combinations, loads at purlin and girt lines for each pair of
// spacings, and the secondaries of each. It is built once and only read afterwards.
type bench struct {
	pack          *asnzs1170.Pack
	cases         []actions.Case
	combinations  []solver.Combination
	strength      []int // combinations for strength and stability of members
	planar        []int // those of strength that differ for a frame by itself
	service       []int
	inWhole       []int // those of strength, then those of service: what the whole shed is analysed under
	wholeCases    *selection
	planarCases   *selection
	serviceCases  *selection
	planarInWhole []int // where planarCases are among wholeCases
	stability     []int // combinations for overturning, sliding and uplift of the footings
	loads         map[spacings]*setup
	drawn         *setup // the proposal's own spacings and secondaries
	rules         *as4100.Rules
	coldFormed    *asnzs4600.Code
	stock         *asnzs4600.Stock
	tables        map[string]*asnzs4600.Table
	framed        map[spacings]*Secondaries // jambs and lintels by girt spacing and wind; the purlins' spacing is 0
	blows         map[float64]*blow         // the winds that secondaries are sized for, by their factor
	layouts       layouts                   // filled as designs come up
	parts         parts                     // likewise
	dear          dearValues                // likewise
}

// spacings of purlins and girts (m), with the factor on the site wind speed that secondaries are sized for, as in
// shed.Design: 0 is the site's own wind.
type spacings struct{ purlin, girt, wind float64 }

// spacingsOf reads them off a design.
func spacingsOf(d *shed.Design) spacings {
	return spacings{d.PurlinSpacing, d.GirtSpacing, d.SecondaryWind}
}

// setupKey names what a design's setup follows from, for what is kept by it.
func setupKey(d *shed.Design) string {
	return fmt.Sprintf("%v/%v", spacingsOf(d), d.DrawnSecondaries)
}

// setup is what follows from one pair of spacings and the wind that secondaries are sized for.
type setup struct {
	loads       *shed.Loads
	secondaries Secondaries
	joistMass   float64 // kg per m² of floor
	kilograms   float64 // of the secondaries, the framing of openings with them
	money       float64 // what they cost
	reserve     float64 // greatest wind reserve that the secondaries leave to any design, where that is an objective
}

// newBench prepares the actions and, for every pair of spacings that a design may have, secondaries and loads.
func newBench(p *Problem) (*bench, error) {
	b, err := newActions(p)
	if err != nil {
		return nil, err
	}
	for _, sp := range p.allSpacings() {
		if b.loads[sp], err = p.newSetup(b, sp, false); err != nil {
			return nil, err
		}
	}
	if b.drawn, err = p.newSetup(b, spacings{purlin: p.Drawn.PurlinSpacing, girt: p.Drawn.GirtSpacing}, true); err == nil && p.wants(brief.ObjWindReserve) {
		err = p.boundReserves(b)
	}
	return b, err
}

// newActions makes the problem's bench with actions and combinations, and no loads yet.
func newActions(p *Problem) (*bench, error) {
	own, err := coefficients.Read(p.Brief.Files.Overrides, p.Brief.Overrides())
	if err != nil {
		return nil, err
	}
	b := &bench{pack: asnzs1170.New(own.Actions, asnzs1170.Options{CombinationFactor: p.Brief.Actions.CombinationFactor}),
		loads: map[spacings]*setup{}, rules: own.Steel, coldFormed: own.ColdFormed, stock: asnzs4600.NewStock(), tables: map[string]*asnzs4600.Table{}, framed: map[spacings]*Secondaries{}, blows: map[float64]*blow{}}
	p.bench = b
	s := p.Shed
	if b.cases, err = b.pack.Cases(s.Building, s.Site); err != nil {
		return nil, fmt.Errorf("actions: %w", err)
	}
	if b.combinations, err = b.pack.Combinations(s.Building, s.Site, b.cases); err != nil {
		return nil, fmt.Errorf("combinations: %w", err)
	}
	if b.combinations, err = shed.Combine(p.Brief, b.cases, b.combinations); err != nil {
		return nil, err
	}
	for i := range b.combinations {
		switch b.combinations[i].State {
		case solver.Strength:
			b.strength = append(b.strength, i)
			if !b.pushesAlong(&b.combinations[i]) {
				b.planar = append(b.planar, i)
			}
		case solver.Service:
			b.service = append(b.service, i)
		case solver.Stability:
			b.stability = append(b.stability, i)
		}
	}
	b.inWhole = slices.Concat(b.strength, b.service)
	under := func(list []int) *selection { return selectionOf(b.combinations, list, len(b.cases)) }
	b.wholeCases, b.planarCases, b.serviceCases = under(b.inWhole), under(b.planar), under(b.service)
	for _, c := range b.planarCases.cases {
		b.planarInWhole = append(b.planarInWhole, b.wholeCases.place[c]) // those of strength are among both
	}
	return b, nil
}

// newSetup chooses the secondaries of a pair of spacings (or takes the drawn ones) and resolves the loads with them.
func (p *Problem) newSetup(b *bench, sp spacings, drawn bool) (*setup, error) {
	sec, err := p.chooseSecondaries(b, sp, drawn)
	if err != nil {
		return nil, err
	}
	if err := p.addFraming(b, sp, drawn, &sec); err != nil {
		return nil, err
	}
	set := &setup{secondaries: sec}
	shares := p.Shed.SecondaryShares(sp.purlin, sp.girt, sec.Sections)
	set.kilograms, set.money = shares.Secondary()+shares.Openings(), p.secondaryCosts(&shares, sec.Sections)
	mass := shed.SecondaryMass{}
	if c := sec.Sections.Purlin; c != nil {
		mass.Purlin = c.Props.Mass
	}
	if c := sec.Sections.Girt; c != nil {
		mass.Girt = c.Props.Mass
	}
	if c := sec.Sections.Joist; c != nil && len(p.Shed.Mezzanines) > 0 {
		set.joistMass = c.Props.Mass / p.Shed.Mezzanines[0].JoistSpacing
	}
	if same := b.sameLines(sp, set); same != nil && !drawn {
		set.loads = same.loads
		return set, nil
	}
	set.loads = p.Shed.NewLoads(b.cases, b.combinations, sp.purlin, sp.girt, mass)
	return set, nil
}

// sameLines is a setup of the same spacings for another wind whose purlins and girts are the same, so that its loads are too.
func (b *bench) sameLines(sp spacings, set *setup) *setup {
	for at, other := range b.loads {
		has, of := &set.secondaries.Sections, &other.secondaries.Sections
		if at.purlin == sp.purlin && at.girt == sp.girt && has.Purlin == of.Purlin && has.Girt == of.Girt {
			return other // whichever: their loads are equal
		}
	}
	return nil
}

// pushesAlong says whether a combination holds a notional or earthquake force along the building. A frame by itself does
// not feel it, and what is left is another combination or less than one.
func (b *bench) pushesAlong(c *solver.Combination) bool {
	for _, t := range c.Terms {
		k := &b.cases[t.Case]
		if (k.Kind == solver.KindNotional || k.Kind == solver.KindEarthquake) && k.Direction.X != 0 {
			return true
		}
	}
	return false
}

// floorImposed is the imposed load of a floor as the pack's cases have it (Pa).
func (b *bench) floorImposed(s *shed.Shed, floor int) float64 {
	for i := range b.cases {
		if b.cases[i].Kind != solver.KindFloorImposed {
			continue
		}
		for _, f := range b.cases[i].Floors {
			if f.Floor == floor {
				return f.Pressure
			}
		}
	}
	return s.Building.Floors[floor].Imposed
}

// allSpacings are the pairs that designs may have, the drawn one and those that the brief allows, each with every wind that
// secondaries may be sized for.
func (p *Problem) allSpacings() []spacings {
	purlins, girts := []float64{p.Drawn.PurlinSpacing}, []float64{p.Drawn.GirtSpacing}
	if p.Brief.Freedoms.Spacings {
		purlins = append(purlins, lengths(p.Brief.Building.Secondary.Purlins.Spacings)...)
		girts = append(girts, lengths(p.Brief.Building.Secondary.Girts.Spacings)...)
	}
	var out []spacings
	seen := map[spacings]bool{}
	for _, a := range purlins {
		for _, b := range girts {
			for _, w := range p.secondaryWinds() {
				if sp := (spacings{a, b, w}); !seen[sp] {
					seen[sp] = true
					out = append(out, sp)
				}
			}
		}
	}
	return out
}

func lengths(ls []brief.Length) []float64 {
	out := make([]float64, len(ls))
	for i, l := range ls {
		out[i] = float64(l)
	}
	return out
}
