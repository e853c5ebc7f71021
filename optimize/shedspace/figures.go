package shedspace

import (
	"slices"

	"leanbay/catalog"
	"leanbay/model/brief"
)

// Figure describes one of the figures that Values gives.
type Figure struct {
	Name     string
	Unit     string  // "kg", the price list's currency, or "-"
	Text     string  // what it is, in words
	Greater  bool    // the greater the better; else the less
	Decimals int     // that say something
	Chosen   bool    // an objective of the search; else only limited
	Limit    float64 // by Wishes.Limits; 0 is none
}

// figureTexts say what the figures are; Decimals of those that have some.
var figureTexts = map[string]struct {
	text     string
	decimals int
}{
	string(brief.ObjMass):        {"steel mass, with base plates and the allowance for connections", 0},
	string(brief.ObjCompliance):  {"governing utilisation; below 0.80 counts as 0.80", 3},
	string(brief.ObjCost):        {"sum of rates for steel, connections, cuts and bases, to compare designs by; no quotation", 0},
	string(brief.ObjDepartures):  {"weight of what is otherwise than drawn", 1},
	string(brief.ObjSections):    {"distinct sections, rods left out", 0},
	string(brief.ObjConnections): {"ends of members that are made, bases among them", 0},
	string(brief.ObjSway):        {"greatest use of the limits on sway", 3},
	objService:                   {"greatest use of any service limit", 3},
	string(brief.ObjWindReserve): {"greatest factor on the site wind speed, from 0.50 to 1.50, at which everything passes; 0 where none does", 3},
	objWhatIfs:                   {"what-ifs that the variant fails", 0},
}

// Figures describes what Values gives: the objectives in their order, then what is limited besides.
func (p *Problem) Figures() []Figure {
	var out []Figure
	for _, o := range p.objectives {
		f := p.figure(o)
		f.Chosen = true
		out = append(out, f)
	}
	for _, l := range p.limits {
		k := slices.IndexFunc(out, func(f Figure) bool { return f.Name == l.objective.Name })
		if k < 0 {
			k = len(out)
			out = append(out, p.figure(l.objective))
		}
		out[k].Limit = l.value
	}
	return out
}

func (p *Problem) figure(o objective) Figure {
	say := figureTexts[o.Name]
	f := Figure{Name: o.Name, Unit: o.Unit, Text: say.text, Decimals: say.decimals, Greater: o.Name == string(brief.ObjWindReserve)}
	if o.Name == string(brief.ObjCost) {
		f.Unit = p.Prices().Currency
	}
	return f
}

// PricesText says which prices costs are reckoned by, and that the example's are none of a supplier's.
func (p *Problem) PricesText() string {
	list := p.Prices()
	if list.Mark != catalog.Doubtful {
		return "Cost by the brief's price list (" + list.Name + "): a sum of rates to compare designs by, no quotation."
	}
	return "Cost by an example price list, a scenario of our own: no supplier's prices, no quotation. Name your own list under files.prices in the brief."
}
