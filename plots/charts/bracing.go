package charts

import (
	"fmt"
	"image/color"
	"io"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"leanbay/experiments/runs"
)

// WriteBracing draws the comparison of wall bracing as bracing.png and bracing.svg in dir.
func WriteBracing(t *runs.BracingTable, dir string) error {
	pg, err := bracingPage(t)
	if err != nil {
		return err
	}
	return pg.writeFiles(dir, "bracing")
}

// DrawBracing draws the comparison of wall bracing on w as "svg" or "png".
func DrawBracing(t *runs.BracingTable, w io.Writer, format string) error {
	pg, err := bracingPage(t)
	if err != nil {
		return err
	}
	return pg.write(w, format)
}

// bracingPage sets one row a family: its mass, and beside it what it takes. It returns an error where no family was judged.
func bracingPage(t *runs.BracingTable) (*page, error) {
	rows := found(t)
	if len(rows) == 0 {
		return nil, fmt.Errorf("%s: no way to brace the walls was judged: there is nothing to draw", t.Brief)
	}
	p := plot.New()
	dress(p)
	p.X.Label.Text = "mass of the shed's steel, kg"
	lo, hi := math.Inf(1), 0.0
	var ticks []plot.Tick
	for i, o := range rows {
		lo, hi = math.Min(lo, o.Mass), math.Max(hi, o.Mass)
		ticks = append(ticks, plot.Tick{Value: float64(len(rows) - 1 - i), Label: o.Family})
	}
	room := math.Max(hi-lo, 0.02*hi)
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = lo-0.1*room, hi+0.75*room, -0.6, float64(len(rows))-0.4 // words stand to the right of the marks
	p.Y.Tick.Marker, p.Y.Tick.Length = plot.ConstantTicks(ticks), 0
	p.X.Tick.Marker = roundTicks{count: 8, format: thousands}
	p.Add(bracingRows{rows})
	return &page{
		title: t.Brief + ": ways to brace the long walls", plot: p,
		subtitle: fmt.Sprintf("Everything else as light as complies, %d evaluations each. The axis does not begin at zero.", t.Evaluations),
		key: []keyEntry{
			{text: "complies", glyph: mark(true)}, {text: "does not comply yet", glyph: mark(false)},
		},
		small: []string{fmt.Sprintf("Brief %s. Uplift is the greatest pull on one footing; sway is the use of the limit on the eaves' movement along the building.", shortHash(t.BriefHash))},
	}, nil
}

// found lists the options that were judged.
func found(t *runs.BracingTable) []runs.BracingOption {
	var out []runs.BracingOption
	for _, o := range t.Options {
		if o.Found {
			out = append(out, o)
		}
	}
	return out
}

// mark is the glyph of a row: filled where it complies, a ring where not.
func mark(complies bool) draw.GlyphStyle {
	if complies {
		return draw.GlyphStyle{Color: lineColours[0], Radius: vg.Points(5), Shape: draw.CircleGlyph{}}
	}
	return draw.GlyphStyle{Color: color.Gray{Y: 110}, Radius: vg.Points(5), Shape: draw.RingGlyph{}}
}

// bracingRows draws the marks with their words; it implements plot.Plotter.
type bracingRows struct{ rows []runs.BracingOption }

// Plot implements plot.Plotter.
func (b bracingRows) Plot(c draw.Canvas, p *plot.Plot) {
	tx, ty := p.Transforms(&c)
	style := textStyle(9, ink)
	style.YAlign = draw.YCenter
	for i, o := range b.rows {
		y := ty(float64(len(b.rows) - 1 - i))
		c.StrokeLine2(draw.LineStyle{Color: gridGrey, Width: vg.Points(0.5)}, c.Min.X, y, c.Max.X, y)
		c.DrawGlyph(mark(o.Complies), vg.Point{X: tx(o.Mass), Y: y})
		text := fmt.Sprintf("%s kg; %d braces, sway along %.2f, uplift %.0f kN", thousands(o.Mass), o.Braces, o.Sway, o.Uplift)
		c.FillText(style, vg.Point{X: tx(o.Mass) + vg.Points(9), Y: y}, text)
	}
}
