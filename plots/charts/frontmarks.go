package charts

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"leanbay/experiments/runs"
)

// The marks of the front chart: circles for variants, a square and a diamond for what was drawn.
var (
	complyMark  = draw.GlyphStyle{Color: lineColours[0], Radius: vg.Points(3.6), Shape: draw.CircleGlyph{}}
	stoneMark   = draw.GlyphStyle{Color: softInk, Radius: vg.Points(3.4), Shape: draw.RingGlyph{}}
	namedMark   = draw.GlyphStyle{Color: ink, Radius: vg.Points(6.5), Shape: draw.RingGlyph{}}
	drawnMark   = draw.GlyphStyle{Color: lineColours[1], Radius: vg.Points(5), Shape: draw.BoxGlyph{}}
	bracedMark  = draw.GlyphStyle{Color: lineColours[2], Radius: vg.Points(6), Shape: draw.PyramidGlyph{}}
	limitLine   = draw.LineStyle{Color: lineColours[1], Width: vg.Points(1.4)}
	reserveLine = draw.LineStyle{Color: softInk, Width: vg.Points(1), Dashes: []vg.Length{vg.Points(5), vg.Points(3)}}
	stairLine   = draw.LineStyle{Color: color.RGBA{R: 140, G: 190, B: 222, A: 255}, Width: vg.Points(1.2)}
)

// addDrawn marks a design that was drawn. Off the scale it stands at the upper border, with an arrow and its value.
func addDrawn(p *plot.Plot, s *runs.Scores, name string, mark draw.GlyphStyle, names *labelSet) error {
	if s.Mass <= 0 {
		return nil
	}
	mark = markOf(s, mark)
	at, text := plotter.XY{X: s.Mass, Y: s.Utilisation}, fmt.Sprintf("%s: %s, %.3f", name, kilograms(s.Mass), s.Utilisation)
	switch {
	case !rated(s):
		text = fmt.Sprintf("%s: %s, %s", name, kilograms(s.Mass), standing(s))
	case !s.Complies && s.Utilisation <= limitU:
		text += ", does not comply: " + s.Verdict
	}
	if !rated(s) || s.Utilisation > p.Y.Max {
		at.Y = p.Y.Max - 0.08*(p.Y.Max-p.Y.Min)
		p.Add(borderArrow{x: at.X, y: at.Y, color: mark.Color})
		names.bar(at.X, at.Y, at.X, p.Y.Max)
	}
	names.mark(at.X, at.Y)
	names.labels = append(names.labels, label{at.X, at.Y, text, ink})
	return addScatter(p, plotter.XYs{at}, mark)
}

// markOf is the mark of a design that was drawn: hollow where it does not comply.
func markOf(s *runs.Scores, mark draw.GlyphStyle) draw.GlyphStyle {
	if s != nil && !s.Complies {
		corners := 4
		if mark.Shape == bracedMark.Shape {
			corners = 3
		}
		mark.Shape = hollowGlyph(corners)
	}
	return mark
}

// ifNot says in the key that a design does not comply.
func ifNot(s *runs.Scores) string {
	if s == nil || s.Complies {
		return ""
	}
	return " (does not comply)"
}

// hollowGlyph is a square (4) or a triangle (3) with a thick outline; it implements draw.GlyphDrawer.
type hollowGlyph int

// DrawGlyph implements draw.GlyphDrawer.
func (n hollowGlyph) DrawGlyph(c *draw.Canvas, sty draw.GlyphStyle, at vg.Point) {
	var path vg.Path
	for k := range int(n) {
		a := math.Pi/2 + math.Pi*float64(n-3)/4 + 2*math.Pi*float64(k)/float64(n)
		p := vg.Point{X: at.X + sty.Radius*vg.Length(math.Cos(a))*1.15, Y: at.Y + sty.Radius*vg.Length(math.Sin(a))*1.15}
		if k == 0 {
			path.Move(p)
		} else {
			path.Line(p)
		}
	}
	path.Close()
	c.SetColor(color.White)
	c.Fill(path)
	c.SetLineStyle(draw.LineStyle{Color: sty.Color, Width: vg.Points(2)})
	c.Stroke(path)
}

// borderArrow points from a mark to the upper border: the true value lies beyond. It implements plot.Plotter.
type borderArrow struct {
	x, y  float64
	color color.Color
}

// Plot implements plot.Plotter.
func (a borderArrow) Plot(c draw.Canvas, p *plot.Plot) {
	tx, ty := p.Transforms(&c)
	x, from, to := tx(a.x), ty(a.y), c.Max.Y
	style := draw.LineStyle{Color: a.color, Width: vg.Points(1.6)}
	c.StrokeLine2(style, x, from, x, to)
	c.StrokeLines(style, []vg.Point{{X: x - vg.Points(4), Y: to - vg.Points(7)}, {X: x, Y: to}, {X: x + vg.Points(4), Y: to - vg.Points(7)}})
}
