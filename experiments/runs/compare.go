package runs

import (
	"context"

	"leanbay/model/brief"
	"leanbay/optimize/shedspace"
	"leanbay/solver"
)

// BracingTable is the comparison of ways to brace the long walls.
type BracingTable struct {
	Brief       string          `json:"brief"`
	BriefHash   string          `json:"brief_hash"`
	Version     string          `json:"version"`
	Caution     string          `json:"caution"`
	Evaluations int             `json:"evaluations_each"`
	Options     []BracingOption `json:"options"`
	NotCovered  []string        `json:"not_covered"`
}

// BracingOption is one family. Masses are in kg, uplift in kN; the walls are south and north.
type BracingOption struct {
	Family      string    `json:"family"`
	Found       bool      `json:"found"`
	Walls       [2]string `json:"walls"`
	Blocked     [2]string `json:"blocked"`
	Mass        float64   `json:"mass"`
	Bracing     float64   `json:"bracing_mass"`
	Braces      int       `json:"braces"`
	Connections int       `json:"connections"`
	Sway        float64   `json:"sway_along_utilisation"`
	Uplift      float64   `json:"uplift_kN"`
	UpliftAt    string    `json:"uplift_at"`
	Utilisation float64   `json:"utilisation"`
	Complies    bool      `json:"complies"`
	Verdict     string    `json:"verdict"`
	Fails       string    `json:"fails,omitempty"` // what fails worst
}

// CompareBracing optimises the shed under each family of wall bracing; told hears each family's name as it is done.
func CompareBracing(ctx context.Context, b *brief.Brief, evaluations int, told func(string)) (*BracingTable, error) {
	p, err := shedspace.New(b)
	if err != nil {
		return nil, err
	}
	list, err := p.Compare(ctx, evaluations, func(o shedspace.Option) {
		if told != nil {
			told(o.Family)
		}
	})
	if err != nil {
		return nil, err
	}
	out := &BracingTable{Brief: b.Name, BriefHash: b.Hash(), Version: Version, Caution: solver.Caution, Evaluations: evaluations, NotCovered: NotCovered(p)}
	for i := range list {
		o := &list[i]
		row := BracingOption{Family: o.Family, Found: o.Found, Walls: o.Walls, Blocked: o.Blocked, Braces: o.Braces, Connections: o.Connections, Sway: o.Sway, Uplift: o.Uplift / 1e3, UpliftAt: o.UpliftAt}
		if a := o.Assessment; a != nil {
			row.Mass, row.Bracing, row.Utilisation, row.Complies, row.Verdict = a.Mass.Total, a.Mass.Bracing, a.U, a.Complies, a.Verdict()
			row.Fails = a.Fails()
		}
		out.Options = append(out.Options, row)
	}
	return out, nil
}
