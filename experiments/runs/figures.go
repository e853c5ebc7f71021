package runs

import (
	"maps"
	"strconv"

	"leanbay/model/brief"
	"leanbay/optimize/shedspace"
)

// Figure says what one of the objectives' values is, and how to write it.
type Figure struct {
	Name     string  `json:"name"`
	Unit     string  `json:"unit"`
	Text     string  `json:"text"`
	Greater  bool    `json:"greater_is_better"`
	Decimals int     `json:"decimals"`
	Chosen   bool    `json:"objective"`       // else it is only limited
	Limit    float64 `json:"limit,omitempty"` // by --limit
	Example  bool    `json:"example_prices,omitempty"`
}

// Prices is the price list behind costs.
type Prices struct {
	List     string `json:"list"`
	Currency string `json:"currency"`
	Mark     string `json:"mark,omitempty"` // "doubtful" for the example list
	Text     string `json:"text"`
}

// figuresOf describes what a search minimised and limited, and the prices where cost is among it.
func figuresOf(p *shedspace.Problem) ([]Figure, *Prices) {
	var out []Figure
	var prices *Prices
	for _, f := range p.Figures() {
		list := p.Prices()
		fig := Figure{Name: f.Name, Unit: f.Unit, Text: f.Text, Greater: f.Greater, Decimals: f.Decimals, Chosen: f.Chosen, Limit: f.Limit}
		if f.Name == string(brief.ObjCost) {
			prices = &Prices{List: list.Name, Currency: list.Currency, Mark: string(list.Mark), Text: p.PricesText()}
			fig.Example = p.Brief.Prices() == nil
		}
		out = append(out, fig)
	}
	return out, prices
}

// Further lists the figures beside mass and utilisation, which every list of variants has anyway.
func (f *Front) Further() []Figure {
	var out []Figure
	for _, fig := range f.Figures {
		if fig.Name != string(brief.ObjMass) && fig.Name != string(brief.ObjCompliance) {
			out = append(out, fig)
		}
	}
	return out
}

// Best is the complying variant that is best in a figure, the lighter of equal ones; nil if none complies.
func (f *Front) Best(fig Figure) *Variant {
	var best *Variant
	for i := range f.Variants {
		v := &f.Variants[i]
		if !v.Complies {
			continue
		}
		if best == nil || fig.better(v, best) {
			best = v
		}
	}
	return best
}

// BestName names what Best picks: "least cost", "greatest wind reserve".
func (g Figure) BestName() string {
	if g.Greater {
		return "greatest " + g.Name
	}
	return "least " + g.Name
}

func (g Figure) better(a, b *Variant) bool {
	x, y := a.Objectives[g.Name], b.Objectives[g.Name]
	if x == y {
		return a.Mass < b.Mass
	}
	return (x < y) != g.Greater
}

// Head names the figure with its unit; costs by example prices carry a star.
func (g Figure) Head() string {
	out := g.Name
	if g.Unit != "-" {
		out += " " + g.Unit
	}
	if g.Example {
		out += "*"
	}
	return out
}

// Value writes a design's figure; "-" where the design has none, since it is not stable.
func (g Figure) Value(s *Scores) string {
	v, ok := s.Objectives[g.Name]
	if !ok {
		return "-"
	}
	return strconv.FormatFloat(v, 'f', g.Decimals, 64)
}

// Say writes a design's figure with its name: "cost 23456 AUD*".
func (g Figure) Say(s *Scores) string {
	unit := ""
	if g.Unit != "-" {
		unit = " " + g.Unit
	}
	if g.Example {
		unit += "*"
	}
	return g.Name + " " + g.Value(s) + unit
}

// valued gives a design's scores their figures, if it is stable: of what is not, too little was found.
func valued(p *shedspace.Problem, a *shedspace.Assessment) (Scores, error) {
	s := NewScores(a)
	if !s.Stable {
		return s, nil
	}
	values, err := p.Values(a)
	s.Objectives = maps.Clone(values)
	return s, err
}
