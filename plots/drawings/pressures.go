// Package drawings draws sheds to scale: in come plain numbers of a building and what acts on it, out go SVG drawings.
// It computes nothing of its own and knows no brief, search or store.
package drawings

import (
	"fmt"
	"html"
	"io"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"leanbay/model/actions"
	"leanbay/solver"
)

// PressureSheet is a drawing of the pressures on a shed: the roof in plan with the walls folded out around it, one panel
// a case.
type PressureSheet struct {
	Title    string
	Building *actions.Building
	BearingX float64 // rad clockwise from north: the compass bearing of +X
	Cases    []*actions.Case
	Limit    float64 // Pa at the ends of the colour scale; 0 takes the cases' own largest
}

// Sizes on the sheet in px.
const (
	panelWidth = 760.0
	margin     = 46.0
	headRoom   = 64.0
	footRoom   = 104.0
	foldGap    = 9.0  // between the roof's edge and a folded-out wall
	arrowRoom  = 78.0 // around the development, for the wind's arrow
	fontSize   = 12.0
	lineHeight = 15.0
)

// Pressures writes the sheet as SVG. Pressures are net, in kPa, positive towards the surface from outside.
func Pressures(w io.Writer, s PressureSheet) error {
	if len(s.Cases) == 0 {
		return fmt.Errorf("nothing to draw: give at least one case")
	}
	if s.Limit <= 0 {
		s.Limit = LargestPressure(s.Cases)
	}
	d := newDevelopment(s.Building)
	height := headRoom + d.height() + footRoom
	width := panelWidth * float64(len(s.Cases))
	p := &page{}
	p.line(`<svg xmlns="http://www.w3.org/2000/svg" width="%.0f" height="%.0f" viewBox="0 0 %.0f %.0f" font-family="DejaVu Sans, Liberation Sans, sans-serif" font-size="%g">`,
		width, height, width, height, fontSize)
	p.line(`<rect width="100%%" height="100%%" fill="#ffffff"/>`)
	p.text(margin, 24, "start", `font-size="16" font-weight="bold"`, s.Title)
	for i, c := range s.Cases {
		d.panel(p, c, s, panelWidth*float64(i))
	}
	scaleBar(p, s.Limit, margin, headRoom+d.height()+26)
	north(p, width-margin-22, headRoom+d.height()+34, s.BearingX)
	for i, part := range wrap(solver.Caution, letters(width-2*margin, 11)) {
		p.text(margin, height-26+lineHeight*float64(i), "start", `font-size="11"`, part)
	}
	p.line(`</svg>`)
	_, err := io.WriteString(w, p.String())
	return err
}

// LargestPressure is the largest absolute net pressure of the cases (Pa), so that sheets can share one scale.
func LargestPressure(cases []*actions.Case) (most float64) {
	for _, c := range cases {
		for _, p := range c.Patches {
			most = max(most, math.Abs(p.Pressure))
		}
	}
	return most
}

// page collects SVG.
type page struct{ strings.Builder }

func (p *page) line(format string, a ...any) { fmt.Fprintf(p, format+"\n", a...) }

func (p *page) text(x, y float64, anchor, attributes, s string) {
	p.line(`<text x="%.1f" y="%.1f" text-anchor="%s" %s>%s</text>`, x, y, anchor, attributes, html.EscapeString(s))
}

func (p *page) polygon(pts []r2.Vec, attributes string) {
	if len(pts) == 0 {
		return
	}
	var list strings.Builder
	for _, v := range pts {
		fmt.Fprintf(&list, "%.1f,%.1f ", v.X, v.Y)
	}
	p.line(`<polygon points="%s" %s/>`, strings.TrimSpace(list.String()), attributes)
}

// development maps faces to the sheet: north wall above the roof's plan, south wall below, gables left and right, each
// with its ground line outwards.
type development struct {
	b      *actions.Building
	scale  float64 // px per m
	x0, y0 float64 // px of the plan's north-west corner
	top    float64 // m, height of the tallest wall
}

func newDevelopment(b *actions.Building) *development {
	d := &development{b: b, top: math.Max(b.Ridge, math.Max(b.EavesSouth, b.EavesNorth))}
	room := panelWidth - 2*margin - 2*arrowRoom - 2*foldGap
	d.scale = math.Min(room/(b.Length()+2*d.top), 640/(b.Span+2*d.top))
	d.x0 = (panelWidth - d.scale*b.Length()) / 2
	d.y0 = headRoom + arrowRoom + foldGap + d.scale*d.top
	return d
}

func (d *development) height() float64 {
	return 2*arrowRoom + 2*foldGap + d.scale*(d.b.Span+2*d.top)
}

// at maps a point of a face to the sheet (px).
func (d *development) at(f actions.Face, p r2.Vec) r2.Vec {
	west, east := d.x0, d.x0+d.scale*d.b.Length()
	north, south := d.y0, d.y0+d.scale*d.b.Span
	x := func(u float64) float64 { return west + d.scale*u }
	y := func(v float64) float64 { return south - d.scale*v }
	switch f {
	case actions.SouthWall:
		return r2.Vec{X: x(p.X), Y: south + foldGap + d.scale*(d.b.EavesSouth-p.Y)}
	case actions.NorthWall:
		return r2.Vec{X: x(p.X), Y: north - foldGap - d.scale*(d.b.EavesNorth-p.Y)}
	case actions.WestGable:
		return r2.Vec{X: west - foldGap - d.scale*(d.top-p.Y), Y: y(p.X)}
	case actions.EastGable:
		return r2.Vec{X: east + foldGap + d.scale*(d.top-p.Y), Y: y(p.X)}
	}
	return r2.Vec{X: x(p.X), Y: y(p.Y)}
}

func (d *development) all(f actions.Face, pts []r2.Vec) []r2.Vec {
	out := make([]r2.Vec, len(pts))
	for i, p := range pts {
		out[i] = d.at(f, p)
	}
	return out
}

// panel draws one case with its left edge at x.
func (d *development) panel(p *page, c *actions.Case, s PressureSheet, x float64) {
	p.line(`<g transform="translate(%.1f 0)">`, x)
	for i, part := range wrap(c.ID+": "+c.Title, letters(panelWidth-2*margin, fontSize)) {
		p.text(margin, 44+lineHeight*float64(i), "start", "", part)
	}
	for _, patch := range c.Patches {
		d.patch(p, patch, s.Limit)
	}
	for _, patch := range c.Patches {
		d.figure(p, patch)
	}
	d.outlines(p)
	d.wind(p, c)
	p.line(`</g>`)
}

// patch fills a patch with its colour.
func (d *development) patch(p *page, patch actions.Patch, limit float64) {
	cut := d.b.PatchOutline(patch)
	p.polygon(d.all(patch.Face, cut), fmt.Sprintf(`fill="%s" stroke="#ffffff" stroke-width="0.8"`, Diverging(patch.Pressure/limit)))
}

// figure writes the patch's pressure in kPa at its middle, as large as fits; it stands upright where it is taller.
func (d *development) figure(p *page, patch actions.Patch) {
	pts := d.all(patch.Face, d.b.PatchOutline(patch))
	if len(pts) == 0 {
		return
	}
	lo, hi := pts[0], pts[0]
	for _, v := range pts {
		lo = r2.Vec{X: math.Min(lo.X, v.X), Y: math.Min(lo.Y, v.Y)}
		hi = r2.Vec{X: math.Max(hi.X, v.X), Y: math.Max(hi.Y, v.Y)}
	}
	text := fmt.Sprintf("%+.2f", patch.Pressure/1e3)
	long, across := hi.X-lo.X, hi.Y-lo.Y
	turn := ""
	mid := r2.Scale(0.5, r2.Add(lo, hi))
	if across > long {
		long, across = across, long
		turn = fmt.Sprintf(`transform="rotate(-90 %.1f %.1f)"`, mid.X, mid.Y)
	}
	size := math.Min(fontSize, math.Min(across*0.8, long/(0.62*float64(len(text)))))
	if size < 5 {
		return // too small to read; the colour remains, and the figures are in the table
	}
	p.text(mid.X, mid.Y+0.36*size, "middle", fmt.Sprintf(`font-size="%.1f" fill="#111111" stroke="#ffffff" stroke-opacity="0.75" stroke-width="2.5" paint-order="stroke" %s`, size, turn), text)
}

// outlines draws faces, frame lines, doors and windows, and says which wall is which.
func (d *development) outlines(p *page) {
	for f := actions.SouthWall; f < actions.NumFaces; f++ {
		style := `fill="none" stroke="#222222" stroke-width="1.3"`
		if d.b.Open(f) {
			style += ` stroke-dasharray="6 4"`
		}
		p.polygon(d.all(f, d.b.Outline(f)), style)
	}
	for _, x := range d.b.FrameLines {
		a, c := d.at(actions.SouthRoof, r2.Vec{X: x}), d.at(actions.SouthRoof, r2.Vec{X: x, Y: d.b.Span})
		p.line(`<line x1="%.1f" y1="%.1f" x2="%.1f" y2="%.1f" stroke="#555555" stroke-width="0.7" stroke-dasharray="2 3"/>`, a.X, a.Y, c.X, c.Y)
	}
	for _, o := range d.b.Openings {
		r := []r2.Vec{{X: o.U0, Y: o.V0}, {X: o.U1, Y: o.V0}, {X: o.U1, Y: o.V1}, {X: o.U0, Y: o.V1}}
		p.polygon(d.all(o.Face, r), `fill="none" stroke="#222222" stroke-width="0.9" stroke-dasharray="3 2"`)
	}
	d.names(p)
}

func (d *development) names(p *page) {
	mid := d.x0 + d.scale*d.b.Length()/2
	half := d.y0 + d.scale*d.b.Span/2
	name := func(f actions.Face) string {
		if d.b.Open(f) {
			return f.String() + ", open"
		}
		return f.String()
	}
	base := func(f actions.Face) r2.Vec { return d.at(f, r2.Vec{}) }
	p.text(mid, base(actions.NorthWall).Y-6, "middle", "", name(actions.NorthWall))
	p.text(mid, base(actions.SouthWall).Y+16, "middle", "", name(actions.SouthWall))
	west, east := base(actions.WestGable).X-7, base(actions.EastGable).X+15
	p.text(west, half, "middle", fmt.Sprintf(`transform="rotate(-90 %.1f %.1f)"`, west, half), name(actions.WestGable))
	p.text(east, half, "middle", fmt.Sprintf(`transform="rotate(-90 %.1f %.1f)"`, east, half), name(actions.EastGable))
}

// wind draws the arrow of the wind outside the windward wall.
func (d *development) wind(p *page, c *actions.Case) {
	dir := r2.Vec{X: c.Direction.X, Y: -c.Direction.Y} // the sheet's y runs down
	if dir == (r2.Vec{}) {
		return
	}
	mid := r2.Vec{X: d.x0 + d.scale*d.b.Length()/2, Y: d.y0 + d.scale*d.b.Span/2}
	out := d.scale*(d.b.Span/2+d.top) + foldGap
	if math.Abs(dir.X) > math.Abs(dir.Y) {
		out = d.scale*(d.b.Length()/2+d.top) + foldGap
	}
	tip := r2.Sub(mid, r2.Scale(out+30, dir))
	tail := r2.Sub(tip, r2.Scale(36, dir))
	side := r2.Vec{X: -dir.Y, Y: dir.X}
	p.line(`<line x1="%.1f" y1="%.1f" x2="%.1f" y2="%.1f" stroke="#222222" stroke-width="5"/>`, tail.X, tail.Y, tip.X, tip.Y)
	back := r2.Sub(tip, r2.Scale(6, dir))
	p.polygon([]r2.Vec{r2.Add(tip, r2.Scale(8, dir)), r2.Add(back, r2.Scale(9, side)), r2.Sub(back, r2.Scale(9, side))}, `fill="#222222"`)
	at := r2.Add(tail, r2.Scale(-4, dir))
	if math.Abs(dir.X) > math.Abs(dir.Y) {
		p.text(tail.X+18*dir.X, tail.Y-12, "middle", `font-weight="bold"`, "wind")
		return
	}
	p.text(at.X+14, tail.Y+18*dir.Y+4, "start", `font-weight="bold"`, "wind")
}

// north draws the arrow to the compass north: X lies at bearingX, so north lies that far against the clock from X.
func north(p *page, x, y, bearingX float64) {
	dir := r2.Vec{X: math.Cos(bearingX), Y: -math.Sin(bearingX)}
	side := r2.Vec{X: -dir.Y, Y: dir.X}
	mid := r2.Vec{X: x, Y: y}
	tip, tail := r2.Add(mid, r2.Scale(20, dir)), r2.Sub(mid, r2.Scale(20, dir))
	p.polygon([]r2.Vec{tip, r2.Add(tail, r2.Scale(8, side)), r2.Sub(mid, r2.Scale(10, dir)), r2.Sub(tail, r2.Scale(8, side))}, `fill="#222222"`)
	n := r2.Add(tip, r2.Scale(10, dir))
	p.text(n.X, n.Y+4, "middle", `font-weight="bold"`, "N")
}

// scaleBar draws the colour scale with its ends and middle in kPa.
func scaleBar(p *page, limit, x, y float64) {
	const width, steps = 320.0, 64
	for i := range steps {
		v := 2*(float64(i)+0.5)/steps - 1
		p.line(`<rect x="%.2f" y="%.1f" width="%.2f" height="14" fill="%s"/>`, x+width*float64(i)/steps, y, width/steps+0.3, Diverging(v))
	}
	for _, v := range []float64{-1, -0.5, 0, 0.5, 1} {
		p.text(x+width*(v+1)/2, y+28, "middle", "", fmt.Sprintf("%+.2f", v*limit/1e3))
	}
	p.text(x+width+16, y+11, "start", "", "net pressure, kPa: + towards the surface from outside")
}

// letters is how many letters of a font size fit into a width, by a letter's mean width.
func letters(width, size float64) int { return int(width / (0.57 * size)) }

// wrap breaks text into lines of at most n characters at spaces.
func wrap(s string, n int) (out []string) {
	line := ""
	for _, word := range strings.Fields(s) {
		if line != "" && len(line)+1+len(word) > n {
			out, line = append(out, line), ""
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	return append(out, line)
}
