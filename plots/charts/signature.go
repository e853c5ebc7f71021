// Package charts draws the tool's charts: in come figures with names, out go SVG and PNG pictures. It computes no
// engineering of its own.
package charts

import (
	"fmt"
	"image/color"
	"io"
	"math"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// SignatureChart is a section's buckling stress over half-wavelengths, one line per loading.
type SignatureChart struct {
	Title string
	Yield float64 // MPa; 0 leaves the yield line out
	Lines []SignatureLine
}

// SignatureLine is one curve: half-wavelengths in mm, stresses in MPa, and its minima.
type SignatureLine struct {
	Name    string
	X, Y    []float64
	Markers []SignatureMarker
}

// SignatureMarker is a minimum, or another point that a rule found.
type SignatureMarker struct {
	X, Y float64
	Kind string // "local", "distortional", "global"
}

// lineColours are told apart by eyes of every kind of colour vision, and in grey by their lightness (M. Okabe, K. Ito,
// Color universal design, 2008: blue, vermilion, bluish green, reddish purple, black).
var lineColours = []color.Color{
	color.RGBA{R: 0, G: 114, B: 178, A: 255},
	color.RGBA{R: 213, G: 94, B: 0, A: 255},
	color.RGBA{R: 0, G: 158, B: 115, A: 255},
	color.RGBA{R: 204, G: 121, B: 167, A: 255},
	color.RGBA{R: 40, G: 40, B: 40, A: 255},
}

// lineDashes tell the lines apart without colour.
var lineDashes = [][]vg.Length{nil, {vg.Points(6), vg.Points(2)}, {vg.Points(2), vg.Points(2)}, {vg.Points(8), vg.Points(2), vg.Points(2), vg.Points(2)}, {vg.Points(4), vg.Points(4)}}

// WriteSignature draws the chart on w in the format "svg" or "png". Both axes are logarithmic; the stress axis reaches
// from the least value to three times the greatest marked one. It returns an error for an unknown format or an empty chart.
func WriteSignature(w io.Writer, c SignatureChart, format string) error {
	if len(c.Lines) == 0 {
		return fmt.Errorf("chart %q has no lines", c.Title)
	}
	p := plot.New()
	dress(p)
	p.X.Label.Text, p.Y.Label.Text = "half-wavelength, mm", "stress, MPa"
	p.X.Scale, p.Y.Scale = plot.LogScale{}, plot.LogScale{}
	p.X.Tick.Marker, p.Y.Tick.Marker = decadeTicks{}, decadeTicks{}
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = gridGrey, gridGrey
	p.Add(grid)
	pg := page{title: c.Title, subtitle: "buckling stress at the most stressed fibre of the mid-line, by half-wavelength; circles: local minima, squares: distortional minima", plot: p}
	low, high := c.reach()
	for i, l := range c.Lines {
		entry, err := addLine(p, l, i, high)
		if err != nil {
			return err
		}
		pg.key = append(pg.key, entry)
	}
	if c.Yield > low && c.Yield < high {
		entry, err := addYield(p, c.Yield)
		if err != nil {
			return err
		}
		pg.key = append(pg.key, entry)
	}
	p.Y.Min, p.Y.Max = low, high
	return pg.write(w, format)
}

// reach is the range of the stress axis.
func (c SignatureChart) reach() (low, high float64) {
	low = math.Inf(1)
	for _, l := range c.Lines {
		for _, y := range l.Y {
			low = math.Min(low, y)
		}
		for _, m := range l.Markers {
			high = math.Max(high, m.Y)
		}
	}
	high = math.Max(3*high, 1.5*c.Yield)
	return low, math.Max(high, 2*low)
}

// addLine draws one curve below the top of the axis, in pieces where it leaves it, and its markers; it returns the entry
// of the key.
func addLine(p *plot.Plot, l SignatureLine, i int, high float64) (keyEntry, error) {
	colour := lineColours[i%len(lineColours)]
	style := draw.LineStyle{Color: colour, Width: vg.Points(1.8), Dashes: lineDashes[i%len(lineDashes)]}
	for _, pts := range l.below(high) {
		line, err := plotter.NewLine(pts)
		if err != nil {
			return keyEntry{}, fmt.Errorf("line %q: %w", l.Name, err)
		}
		line.LineStyle = style
		p.Add(line)
	}
	for _, m := range l.Markers {
		s, err := plotter.NewScatter(plotter.XYs{{X: m.X, Y: m.Y}})
		if err != nil {
			return keyEntry{}, fmt.Errorf("marker of %q: %w", l.Name, err)
		}
		s.Color, s.Radius, s.Shape = colour, vg.Points(5), markerShape(m.Kind)
		p.Add(s)
	}
	return keyEntry{text: l.legend(), line: style}, nil
}

// below parts the curve into its runs of points up to high.
func (l SignatureLine) below(high float64) []plotter.XYs {
	var runs []plotter.XYs
	open := false
	for j := range l.X {
		if !(l.Y[j] > 0 && l.Y[j] <= high) {
			open = false
			continue
		}
		if !open {
			runs = append(runs, nil)
			open = true
		}
		last := &runs[len(runs)-1]
		*last = append(*last, plotter.XY{X: l.X[j], Y: l.Y[j]})
	}
	return runs
}

// legend is the line's name with its minima, which would lie on each other beside the markers.
func (l SignatureLine) legend() string {
	text := l.Name
	for i, m := range l.Markers {
		if i == 0 {
			text += ":"
		} else {
			text += ","
		}
		text += fmt.Sprintf(" %s %.0f MPa at %.0f mm", m.Kind, m.Y, m.X)
	}
	return text
}

// markerShape is a circle for local, a square for distortional, a triangle for other buckling.
func markerShape(kind string) draw.GlyphDrawer {
	switch kind {
	case "local":
		return draw.CircleGlyph{}
	case "distortional":
		return draw.BoxGlyph{}
	}
	return draw.PyramidGlyph{}
}

// addYield draws the yield stress (MPa) as a thin line across and returns its entry of the key.
func addYield(p *plot.Plot, yield float64) (keyEntry, error) {
	line, err := plotter.NewLine(plotter.XYs{{X: p.X.Min, Y: yield}, {X: p.X.Max, Y: yield}})
	if err != nil {
		return keyEntry{}, fmt.Errorf("yield line: %w", err)
	}
	line.Color, line.Width = softInk, vg.Points(0.8)
	p.Add(line)
	return keyEntry{text: fmt.Sprintf("yield, %.0f MPa", yield), line: line.LineStyle}, nil
}

// decadeTicks marks 1, 2 and 5 of every decade with plain figures.
type decadeTicks struct{}

// Ticks implements plot.Ticker.
func (decadeTicks) Ticks(lo, hi float64) []plot.Tick {
	var out []plot.Tick
	for d := math.Floor(math.Log10(lo)); d <= math.Ceil(math.Log10(hi)); d++ {
		for m := 1; m < 10; m++ {
			v, _ := strconv.ParseFloat(fmt.Sprintf("%de%.0f", m, d), 64) // exact decades
			if v < lo || v > hi {
				continue
			}
			t := plot.Tick{Value: v}
			if m == 1 || m == 2 || m == 5 {
				t.Label = strconv.FormatFloat(v, 'f', -1, 64)
			}
			out = append(out, t)
		}
	}
	return out
}
