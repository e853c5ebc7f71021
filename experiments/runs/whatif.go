package runs

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"slices"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/optimize/shedspace"
	"leanbay/solver"
)

// WhatIfTable says which variants still comply under which changes.
type WhatIfTable struct {
	Brief      string      `json:"brief"`
	BriefHash  string      `json:"brief_hash"`
	Version    string      `json:"version"`
	Caution    string      `json:"caution"`
	Rows       []WhatIfRow `json:"variants"`
	NotCovered []string    `json:"not_covered"`
}

// WhatIfRow is one variant.
type WhatIfRow struct {
	Name        string         `json:"name"`
	Key         string         `json:"key"`
	Mass        float64        `json:"mass"`
	Utilisation float64        `json:"utilisation"`
	Complies    bool           `json:"complies"`
	Cases       []WhatIfAnswer `json:"what_ifs"`
	WindReserve *float64       `json:"wind_reserve,omitempty"` // factor on the site wind speed; absent where it was not asked for
}

// WhatIfAnswer is one change.
type WhatIfAnswer struct {
	What        string  `json:"what"`
	Text        string  `json:"text"`
	Applies     bool    `json:"applies"`
	Complies    bool    `json:"complies"`
	Utilisation float64 `json:"utilisation"`
	Verdict     string  `json:"verdict,omitempty"`
	Member      string  `json:"member,omitempty"`
}

// ReadFront reads front.json.
func ReadFront(r io.Reader, name string) (*Front, error) {
	f := &Front{}
	if err := json.NewDecoder(r).Decode(f); err != nil {
		return nil, fmt.Errorf("%s: not a front.json of this program: %w", name, err)
	}
	return f, nil
}

// WhatIfs scores variants of a front again under the brief's changes: its named points, or all that comply; without a front,
// the proposal with its missing links added. reserve asks for the wind reserve too. told hears each variant's name.
func WhatIfs(ctx context.Context, b *brief.Brief, f *Front, all, reserve bool, told func(string)) (*WhatIfTable, error) {
	p, names, designs, err := subjects(b, f, all)
	if err != nil {
		return nil, err
	}
	out := &WhatIfTable{Brief: b.Name, BriefHash: b.Hash(), Version: Version, Caution: solver.Caution, NotCovered: NotCovered(p)}
	for i, d := range designs {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if told != nil {
			told(names[i])
		}
		row, err := whatIfRow(p, names[i], d, reserve)
		if err != nil {
			return nil, err
		}
		out.Rows = append(out.Rows, row)
	}
	return out, nil
}

// subjects are the designs to be judged and their names.
func subjects(b *brief.Brief, f *Front, all bool) (p *shedspace.Problem, names []string, designs []*shed.Design, err error) {
	if f == nil {
		if p, err = shedspace.New(b); err != nil {
			return nil, nil, nil, err
		}
		d, _, err := p.Braced()
		return p, []string{"proposal with missing links added"}, []*shed.Design{d}, err
	}
	if f.BriefHash != b.Hash() {
		return nil, nil, nil, fmt.Errorf("the front was made from another state of %s; run optimise again", b.Name)
	}
	if p, err = shedspace.New(b, f.Settings.Objectives...); err != nil {
		return nil, nil, nil, err
	}
	pointNames := map[string]string{}
	for _, n := range []string{"lightest", "reserve_5", "knee"} {
		if key, ok := f.Points[n]; ok {
			pointNames[key] = n + " " + pointNames[key]
		}
	}
	for i := range f.Variants {
		v := &f.Variants[i]
		name, named := pointNames[v.Key]
		if !named && !(all && v.Complies) {
			continue
		}
		point, ok := p.PointOf(v.Design)
		if !ok {
			return nil, nil, nil, fmt.Errorf("variant %d of the front is not in this brief's space; run optimise again", i+1)
		}
		d, _ := p.Decode(point)
		names, designs = append(names, fmt.Sprintf("%s%.0f kg", name, v.Mass)), append(designs, d)
	}
	if len(designs) == 0 {
		return nil, nil, nil, fmt.Errorf("no variant of the front complies; there is nothing to ask of it")
	}
	return p, slices.Clip(names), designs, nil
}

// whatIfRow judges one design under every change.
func whatIfRow(p *shedspace.Problem, name string, d *shed.Design, reserve bool) (WhatIfRow, error) {
	a, err := p.Assess(d)
	if err != nil {
		return WhatIfRow{}, err
	}
	row := WhatIfRow{Name: name, Key: a.Key, Mass: a.Mass.Total, Utilisation: a.U, Complies: a.Complies}
	list, err := p.WhatIfs(d)
	if err != nil {
		return row, err
	}
	for _, w := range list {
		row.Cases = append(row.Cases, WhatIfAnswer{string(w.What), w.Text, w.Asked, w.Complies, w.U, w.Verdict, w.Member})
	}
	if reserve {
		r, err := p.WindReserve(d)
		if err != nil {
			return row, err
		}
		row.WindReserve = &r
	}
	return row, nil
}
