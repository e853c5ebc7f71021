package charts

import (
	"cmp"
	"fmt"
	"image/color"
	"io"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"leanbay/experiments/runs"
)

// Comparison is designs side by side: the mass of each group of members.
type Comparison struct {
	Title   string
	Note    string   // small print: where the figures come from
	Reviews []string // the named points' further figures, and how they fare under what-ifs
	Designs []ComparedDesign
}

// ComparedDesign is one of the designs; masses in kg.
type ComparedDesign struct {
	Name   string
	Detail string // after the name in the key: "complies; utilisation 0.98"
	Groups map[string]float64
	Total  float64
}

// maxCompared is how many designs have colours of their own.
const maxCompared = 5

// compareColours are those of the designs in order: what was drawn in grey, then the colours of lines.
var compareColours = []color.Color{color.Gray{Y: 130}, lineColours[0], lineColours[2], lineColours[1], lineColours[3]}

// CompareFront compares the (braced) proposal with the named points of a front; points on one variant appear once.
func CompareFront(f *runs.Front) Comparison {
	c := Comparison{
		Title: f.Brief + ": steel mass by group of members",
		Note:  fmt.Sprintf("Seed %d, %d variants evaluated; brief %s. Masses in kg.", f.Seed, f.Evaluations, shortHash(f.BriefHash)),
	}
	add := func(name string, s *runs.Scores) {
		if s.Mass > 0 {
			c.Designs = append(c.Designs, ComparedDesign{Name: name, Detail: standing(s), Groups: s.MassByGroup, Total: s.Mass})
		}
	}
	ref, name := reference(f)
	add(strings.TrimPrefix(name, "the "), ref)
	at := map[string]int{}
	for _, n := range namedPoints {
		v := variantOf(f, n.key)
		if v == nil {
			continue
		}
		if i, ok := at[v.Key]; ok {
			c.Designs[i].Name += ", " + n.text
			continue
		}
		at[v.Key] = len(c.Designs)
		add(n.text, &v.Scores)
	}
	c.Reviews = append(figureLines(f), reviews(f)...)
	return c
}

// WriteCompare draws the comparison of a front's named points as compare.png and compare.svg in dir.
func WriteCompare(f *runs.Front, dir string) error {
	pg, err := CompareFront(f).page()
	if err != nil {
		return err
	}
	return pg.writeFiles(dir, "compare")
}

// Draw draws the comparison on w as "svg" or "png".
func (c Comparison) Draw(w io.Writer, format string) error {
	pg, err := c.page()
	if err != nil {
		return err
	}
	return pg.write(w, format)
}

// page sets the bars between heading and small print. It returns an error for no design, or for more than have colours.
func (c Comparison) page() (*page, error) {
	p, err := c.Plot()
	if err != nil {
		return nil, err
	}
	p.Title.Text = ""
	pg := &page{title: c.Title, plot: p, small: append(slices.Clone(c.Reviews), c.Note)}
	var totals []string
	for i, d := range c.Designs {
		text := d.Name
		if d.Detail != "" {
			text += " (" + d.Detail + ")"
		}
		pg.key = append(pg.key, keyEntry{text: text, glyph: draw.GlyphStyle{Color: compareColours[i], Radius: vg.Points(5), Shape: draw.BoxGlyph{}}})
		totals = append(totals, d.Name+" "+kilograms(d.Total))
	}
	pg.subtitle = "Total: " + strings.Join(totals, "; ") + "."
	// Past what fits at a legible size the page grows.
	rows := len(c.groups()) * (len(c.Designs) + 1)
	pg.extra = max(0, vg.Length(rows)*barPitch-430*vg.Inch/72)
	return pg, nil
}

// barPitch is the least height of a bar at which its figure can be read.
const barPitch = 8.5 * vg.Inch / 72

// groups lists the groups by their greatest mass, heaviest first; groups without mass are left out.
func (c Comparison) groups() []string {
	most := map[string]float64{}
	for _, d := range c.Designs {
		for g, m := range d.Groups {
			most[g] = math.Max(most[g], m)
		}
	}
	var out []string
	for g, m := range most {
		if m > 0 {
			out = append(out, g)
		}
	}
	slices.SortFunc(out, func(a, b string) int { return cmp.Or(cmp.Compare(most[b], most[a]), cmp.Compare(a, b)) })
	return out
}

// Plot draws one row of bars a group, the heaviest group on top. It returns an error for no design, or for more than
// have colours.
func (c Comparison) Plot() (*plot.Plot, error) {
	if len(c.Designs) == 0 {
		return nil, fmt.Errorf("comparison %q has no designs", c.Title)
	}
	if len(c.Designs) > maxCompared {
		return nil, fmt.Errorf("comparison %q has %d designs; at most %d can be told apart", c.Title, len(c.Designs), maxCompared)
	}
	p := plot.New()
	dress(p)
	p.Title.Text, p.X.Label.Text = c.Title, "mass, kg"
	groups := c.groups()
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, 1, -0.5, math.Max(0.5, float64(len(groups))-0.5)
	var ticks []plot.Tick
	for i, g := range groups {
		ticks = append(ticks, plot.Tick{Value: float64(len(groups) - 1 - i), Label: g})
		for _, d := range c.Designs {
			p.X.Max = math.Max(p.X.Max, 1.08*d.Groups[g])
		}
	}
	p.Y.Tick.Marker, p.Y.Tick.Length = plot.ConstantTicks(ticks), 0
	p.X.Tick.Marker = roundTicks{count: 10, format: thousands}
	p.X.Padding, p.Y.Padding = 0, vg.Points(4)
	p.Add(groupBars{c, groups})
	return p, nil
}

// groupBars draws the bars of a comparison; it implements plot.Plotter.
type groupBars struct {
	Comparison
	groups []string
}

// Plot implements plot.Plotter.
func (b groupBars) Plot(c draw.Canvas, p *plot.Plot) {
	tx, ty := p.Transforms(&c)
	for _, t := range p.X.Tick.Marker.Ticks(p.X.Min, p.X.Max) {
		c.StrokeLine2(draw.LineStyle{Color: gridGrey, Width: vg.Points(0.5)}, tx(t.Value), c.Min.Y, tx(t.Value), c.Max.Y)
	}
	pitch := (ty(1) - ty(0)) * 0.84 / vg.Length(len(b.Designs))
	size := math.Min(8.5, float64(pitch)*0.95)
	style := textStyle(size, ink)
	style.YAlign = draw.YCenter
	for i, g := range b.groups {
		top := ty(float64(len(b.groups)-1-i)) + pitch*vg.Length(len(b.Designs))/2
		for k, d := range b.Designs {
			m, ok := d.Groups[g]
			if !ok || m <= 0 {
				continue
			}
			y0, y1 := top-pitch*vg.Length(k+1), top-pitch*vg.Length(k)-pitch*0.12
			c.SetColor(compareColours[k])
			c.Fill(vg.Rectangle{Min: vg.Point{X: tx(0), Y: y0}, Max: vg.Point{X: tx(m), Y: y1}}.Path())
			c.FillText(style, vg.Point{X: tx(m) + vg.Points(3), Y: (y0 + y1) / 2}, thousands(m))
		}
	}
}
