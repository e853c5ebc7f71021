package charts

import (
	"bytes"
	"fmt"
	"image/color"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"leanbay/solver"
)

// The page that charts of variants share: 1200 by 800 pixels as PNG, a heading above, small print below.
const (
	pageWidth  = 900 * vg.Inch / 72
	pageHeight = 600 * vg.Inch / 72
	pageMargin = 16 * vg.Inch / 72
)

// Greys for ink that is not data.
var (
	ink      = color.Gray{Y: 30}
	softInk  = color.Gray{Y: 90}
	gridGrey = color.Gray{Y: 222}
)

// sans is the face of all text of these charts.
var sans = font.Font{Typeface: "Liberation", Variant: "Sans"}

// textStyle is the charts' face in a size (pt) and colour, aligned to the left on its base line.
func textStyle(size float64, c color.Color) draw.TextStyle {
	f := sans
	f.Size = vg.Points(size)
	return draw.TextStyle{Color: c, Font: f, Handler: plot.DefaultTextHandler, YAlign: draw.YBottom}
}

// dress gives a plot the charts' face, sizes and grey axes.
func dress(p *plot.Plot) {
	p.Title.TextStyle = textStyle(14, ink)
	p.Title.TextStyle.XAlign, p.Title.TextStyle.YAlign = draw.XCenter, draw.YTop
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		a.Color, a.Tick.Color = softInk, softInk
		a.Label.TextStyle.Font = textStyle(11, ink).Font
		a.Label.TextStyle.Color = ink
		a.Label.Padding = vg.Points(4)
		a.Tick.Label.Font = textStyle(10, ink).Font
		a.Tick.Label.Color = softInk
	}
}

// roundTicks marks multiples of 1, 2 or 5 times a power of ten, about count of them, all with figures.
type roundTicks struct {
	count  int
	format func(float64) string
}

// Ticks implements plot.Ticker.
func (r roundTicks) Ticks(lo, hi float64) []plot.Tick {
	return ticksBy(roundStep((hi-lo)/float64(r.count)), lo, hi, r.format)
}

// ticksBy marks the multiples of a step.
func ticksBy(step, lo, hi float64, format func(float64) string) []plot.Tick {
	var out []plot.Tick
	for k := math.Ceil(lo/step - 1e-9); k*step <= hi+1e-9*step; k++ {
		out = append(out, plot.Tick{Value: k * step, Label: format(k * step)})
	}
	return out
}

// roundStep is the least of 1, 2 and 5 times a power of ten that is not under v; v > 0.
func roundStep(v float64) float64 {
	base := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{1, 2, 5} {
		if m*base >= v*(1-1e-9) {
			return m * base
		}
	}
	return 10 * base
}

// keyEntry explains one kind of mark in the row under the heading.
type keyEntry struct {
	text  string
	glyph draw.GlyphStyle
	line  draw.LineStyle // drawn instead of the glyph where it has a width
}

// page is a plot between its heading, its key and its small print.
type page struct {
	title, subtitle string
	key             []keyEntry
	plot            *plot.Plot
	tiles           [][]*plot.Plot // rows of plots instead of one
	small           []string       // one line each; the caution follows
	extra           vg.Length      // height beyond the usual page's
}

// write draws the page on w as "svg" or "png".
func (pg *page) write(w io.Writer, format string) error {
	canvas, err := draw.NewFormattedCanvas(pageWidth, pageHeight+pg.extra, format)
	if err != nil {
		return fmt.Errorf("picture format %q: %w; use svg or png", format, err)
	}
	c := draw.New(canvas)
	c.SetColor(color.White)
	c.Fill(c.Rectangle.Path())
	inner := draw.Crop(c, pageMargin, -pageMargin, pageMargin, -pageMargin)
	top := pg.heading(inner)
	bottom := pg.smallPrint(inner)
	pg.body(draw.Crop(inner, 0, 0, bottom-inner.Min.Y, top-inner.Max.Y))
	var b bytes.Buffer
	if _, err := canvas.WriteTo(&b); err != nil {
		return fmt.Errorf("drawing the picture: %w", err)
	}
	data := b.Bytes()
	if format == "svg" {
		data = bytes.ReplaceAll(data, []byte("font-family:Liberation Sans;"), []byte("font-family:"+families+";"))
	}
	if _, err := w.Write(data); err != nil {
		return fmt.Errorf("writing the picture: %w", err)
	}
	return nil
}

// body draws the plot, or the tiles with their axes in line.
func (pg *page) body(c draw.Canvas) {
	if pg.tiles == nil {
		pg.plot.Draw(c)
		return
	}
	t := draw.Tiles{Rows: len(pg.tiles), Cols: len(pg.tiles[0]), PadX: vg.Points(14), PadY: vg.Points(12)}
	for i, row := range plot.Align(pg.tiles, t, c) {
		for k, canvas := range row {
			if pg.tiles[i][k] != nil {
				pg.tiles[i][k].Draw(canvas)
			}
		}
	}
}

// families lists faces of the same widths as the one that texts were measured in, for readers that lack it.
const families = "Liberation Sans,Arimo,Arial,Helvetica,sans-serif"

// heading draws title, subtitle and key, and returns the height that is left below them.
func (pg *page) heading(c draw.Canvas) vg.Length {
	y := c.Max.Y - vg.Points(18)
	c.FillText(textStyle(17, ink), vg.Point{X: c.Min.X, Y: y}, pg.title)
	for _, line := range wrapWidth(pg.subtitle, textStyle(11.5, softInk), c.Max.X-c.Min.X) {
		y -= vg.Points(16)
		c.FillText(textStyle(11.5, softInk), vg.Point{X: c.Min.X, Y: y}, line)
	}
	if len(pg.key) == 0 {
		return y - vg.Points(10)
	}
	y -= vg.Points(22)
	x := c.Min.X
	style := textStyle(10, ink)
	for _, k := range pg.key {
		width := vg.Points(16) + style.Width(k.text)
		if x > c.Min.X && x+width > c.Max.X {
			x, y = c.Min.X, y-vg.Points(15)
		}
		k.draw(c, vg.Point{X: x, Y: y + vg.Points(4)})
		c.FillText(style, vg.Point{X: x + vg.Points(16), Y: y}, k.text)
		x += width + vg.Points(20)
	}
	return y - vg.Points(10)
}

// draw puts the mark of an entry to the right of a point.
func (k keyEntry) draw(c draw.Canvas, at vg.Point) {
	if k.line.Width > 0 {
		c.StrokeLine2(k.line, at.X, at.Y, at.X+vg.Points(13), at.Y)
		return
	}
	c.DrawGlyph(k.glyph, vg.Point{X: at.X + vg.Points(6), Y: at.Y})
}

// smallPrint draws the foot of the page and returns the height that is left above it.
func (pg *page) smallPrint(c draw.Canvas) vg.Length {
	style := textStyle(8.5, softInk)
	var lines []string
	for _, s := range append(append([]string{}, pg.small...), solver.Caution) {
		lines = append(lines, wrapWidth(s, style, c.Max.X-c.Min.X)...)
	}
	for i, s := range lines {
		c.FillText(style, vg.Point{X: c.Min.X, Y: c.Min.Y + vg.Length(len(lines)-1-i)*vg.Points(11)}, s)
	}
	return c.Min.Y + vg.Length(len(lines))*vg.Points(11) + vg.Points(6)
}

// wrapWidth breaks text at spaces into lines no wider than width; a longer word stands alone.
func wrapWidth(text string, style draw.TextStyle, width vg.Length) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		next := word
		if line != "" {
			next = line + " " + word
		}
		if line != "" && style.Width(next) > width {
			lines = append(lines, line)
			next = word
		}
		line = next
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// writeFiles writes the page as base.png and base.svg into dir, each whole or not at all.
func (pg *page) writeFiles(dir, base string) error {
	for _, format := range []string{"png", "svg"} {
		if err := pg.writeFile(filepath.Join(dir, base+"."+format), format); err != nil {
			return err
		}
	}
	return nil
}

// writeFile writes one picture beside its place and moves it there when it is whole.
func (pg *page) writeFile(path, format string) error {
	f, err := os.Create(path + ".part")
	if err != nil {
		return err
	}
	if err := pg.write(f, format); err != nil {
		f.Close()
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	return os.Rename(path+".part", path)
}
