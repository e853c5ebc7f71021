package runs

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"sync/atomic"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/optimize"
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
	Name        string  `json:"name"`
	Key         string  `json:"key"`
	Mass        float64 `json:"mass"`
	Utilisation float64 `json:"utilisation"`
	Complies    bool    `json:"complies"`
	Review
}

// Review is what becomes of a variant under changes.
type Review struct {
	Cases       []WhatIfAnswer `json:"what_ifs,omitempty"`
	WindReserve *WindReserve   `json:"wind_reserve,omitempty"` // absent where it was not asked for
	Bracing     []Yardstick    `json:"bracing_yardstick,omitempty"`
}

// Yardstick is the brace steel of one wall, gable or of the roof beside the least that any layout could need for the hardest
// force along it, at full stress.
type Yardstick struct {
	Plane    string  `json:"plane"`
	Force    float64 `json:"force_kN"`
	Least    float64 `json:"least_kg"`
	Has      float64 `json:"has_kg"`
	Multiple float64 `json:"multiple"` // 0 where there is nothing to measure
	Text     string  `json:"text"`
}

// WindReserve is the largest factor on the site wind speed at which a variant passes everything; 0 where it fails at the
// least that is tried.
type WindReserve struct {
	Factor float64 `json:"factor"`
	Text   string  `json:"text"`
}

// WhatIfAnswer is one change.
type WhatIfAnswer struct {
	What        string  `json:"what"`
	Text        string  `json:"text"`
	Applies     bool    `json:"applies"`
	Complies    bool    `json:"complies"`
	Utilisation float64 `json:"utilisation"`
	Fails       string  `json:"fails,omitempty"` // what fails worst
}

// tags are the letters of changes in tables.
var tags = map[string]string{
	string(brief.DoorOpen): "D", string(brief.PropLost): "P", string(brief.NextTerrain): "T", string(brief.FloorLoad): "F",
	string(brief.BaseSpring): "B", string(brief.Settlement): "S", string(brief.OneSlackRod): "R",
}

// TagsText explains the letters of Tags.
const TagsText = "What-ifs: D doors taken as shut fail open, P a prop is lost, T the next smoother terrain, F more load on floors, B the ground under props yields, S a prop's base settles, R one rod hangs slack. A capital is a change under which the variant still complies, a small letter one under which it does not, - one that cannot happen."

// Tags gives a letter for each change in order: a capital where the variant still complies, a small one where not, - where it
// cannot happen; nothing where nothing was asked.
func (r *Review) Tags() string {
	out := ""
	for _, c := range r.Cases {
		switch {
		case !c.Applies:
			out += "-"
		case c.Complies:
			out += tags[c.What]
		default:
			out += strings.ToLower(tags[c.What])
		}
	}
	return out
}

// Counts are the changes under which the variant complies, and those that were asked.
func (r *Review) Counts() (complies, asked int) {
	for _, c := range r.Cases {
		if c.Applies {
			asked++
		}
		if c.Applies && c.Complies {
			complies++
		}
	}
	return complies, asked
}

// Text says it in a sentence; nothing where nothing was asked.
func (r *Review) Text() string {
	if len(r.Cases) == 0 && r.WindReserve == nil {
		return ""
	}
	var fails []string
	for _, c := range r.Cases {
		if c.Applies && !c.Complies {
			fails = append(fails, c.What)
		}
	}
	complies, asked := r.Counts()
	text := fmt.Sprintf("complies under %d of %d what-ifs", complies, asked)
	if len(fails) > 0 {
		text += ", not under " + strings.Join(fails, ", ")
	}
	if w := r.WindReserve; w != nil {
		text += fmt.Sprintf("; wind reserve %.2f", w.Factor)
	}
	return text
}

// Which variants of a front are judged again under changes.
const (
	ReviewNamed = "named" // the named points
	ReviewAll   = "all"   // all that comply
	ReviewNone  = "none"
)

// reviewFront judges variants of a front under the brief's changes and finds their wind reserve; points are their places in
// the space. The parts of a review go side by side, so that few variants keep many workers busy. An interrupted review leaves variants
// out.
func reviewFront(ctx context.Context, p *shedspace.Problem, f *Front, points map[string][]int, s Settings) error {
	var list []*Variant
	for i := range f.Variants {
		v := &f.Variants[i]
		named := slices.Contains(slices.Collect(maps.Values(f.Points)), v.Key)
		if v.Complies && (s.Review == ReviewAll || s.Review == ReviewNamed && named) {
			list = append(list, v)
		}
	}
	reviews, left := make([]Review, len(list)), make([]atomic.Int32, len(list))
	for i := range left {
		left[i].Store(int32(len(reviewParts)))
	}
	judges := make([]*shedspace.Reviewer, min(s.workers(), len(list)*len(reviewParts)))
	for i := range judges {
		judges[i] = p.NewReviewer()
	}
	var done atomic.Int64
	err := optimize.Share(ctx, judges, len(list)*len(reviewParts), func(judge *shedspace.Reviewer, k int) error {
		i, part := k%len(list), reviewParts[k/len(list)] // the longest parts first
		d, _ := p.Decode(points[list[i].Key])
		if err := part(p, judge, d, &reviews[i]); err != nil {
			return err
		}
		if left[i].Add(-1) == 0 {
			list[i].Review = &reviews[i]
			s.tell("judged under what-ifs", int(done.Add(1)), len(list))
		}
		return nil
	})
	if ctx.Err() != nil {
		return nil
	}
	return err
}

// reviewParts are what a review consists of, the longest part first. Each writes fields of its own.
var reviewParts = []func(*shedspace.Problem, *shedspace.Reviewer, *shed.Design, *Review) error{reviewChanges, reviewReserve, reviewBracing}

// reviewOf judges one design under every change, and measures its bracing.
func reviewOf(p *shedspace.Problem, judge *shedspace.Reviewer, d *shed.Design, reserve bool) (Review, error) {
	var out Review
	err := reviewChanges(p, judge, d, &out)
	if err == nil && reserve {
		err = reviewReserve(p, judge, d, &out)
	}
	if err == nil {
		err = reviewBracing(p, judge, d, &out)
	}
	return out, err
}

// reviewChanges judges a design under every change.
func reviewChanges(_ *shedspace.Problem, judge *shedspace.Reviewer, d *shed.Design, out *Review) error {
	list, err := judge.WhatIfs(d)
	for _, w := range list {
		out.Cases = append(out.Cases, WhatIfAnswer{string(w.What), w.Text, w.Asked, w.Complies, w.U, w.Fails})
	}
	return err
}

// reviewReserve finds a design's wind reserve.
func reviewReserve(_ *shedspace.Problem, judge *shedspace.Reviewer, d *shed.Design, out *Review) error {
	r, err := judge.WindReserve(d)
	out.WindReserve = &WindReserve{r.Factor, r.String()}
	return err
}

// reviewBracing measures a design's bracing.
func reviewBracing(p *shedspace.Problem, _ *shedspace.Reviewer, d *shed.Design, out *Review) error {
	paths, err := p.LoadPaths(d)
	if err != nil {
		return err
	}
	yards, err := p.Yardsticks(d, paths)
	for i := range yards {
		y := &yards[i]
		out.Bracing = append(out.Bracing, Yardstick{y.Plane, y.Force / 1e3, y.LeastMass(), y.HasMass(), y.Multiple, y.String()})
	}
	return err
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
	judge := p.NewReviewer()
	for i, d := range designs {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if told != nil {
			told(names[i])
		}
		row, err := whatIfRow(p, judge, names[i], d, reserve)
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

// whatIfRow judges one design as it is and under every change.
func whatIfRow(p *shedspace.Problem, judge *shedspace.Reviewer, name string, d *shed.Design, reserve bool) (WhatIfRow, error) {
	a, err := p.Assess(d)
	if err != nil {
		return WhatIfRow{}, err
	}
	row := WhatIfRow{Name: name, Key: a.Key, Mass: a.Mass.Total, Utilisation: a.U, Complies: a.Complies}
	row.Review, err = reviewOf(p, judge, d, reserve)
	return row, err
}
