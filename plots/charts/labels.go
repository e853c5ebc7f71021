package charts

import (
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// label is a short text that belongs to a point of the data.
type label struct {
	x, y  float64
	text  string
	color color.Color
}

// labelSet draws labels beside their points where they cover neither points nor each other; it implements plot.Plotter.
// A label that ends up away from its point gets a thin leader.
type labelSet struct {
	labels []label
	marks  [][2]float64 // points that labels keep clear of
	bars   [][4]float64 // upright and level lines that labels keep clear of: x, y of both ends
}

// mark adds a point that labels keep clear of.
func (s *labelSet) mark(x, y float64) { s.marks = append(s.marks, [2]float64{x, y}) }

// bar adds an upright or level line that labels keep clear of.
func (s *labelSet) bar(x0, y0, x1, y1 float64) { s.bars = append(s.bars, [4]float64{x0, y0, x1, y1}) }

// Sizes of the placing: half a mark, the gap to a near label, and the steps by which a label moves off.
const (
	labelSize   = 10.0 // pt
	markReach   = 5 * vg.Inch / 72
	labelStep   = 14 * vg.Inch / 72
	labelSteps  = 7
	labelAround = 16 // directions tried
)

// Plot implements plot.Plotter.
func (s *labelSet) Plot(c draw.Canvas, p *plot.Plot) {
	tx, ty := p.Transforms(&c)
	var marks []vg.Rectangle
	for _, m := range s.marks {
		at := vg.Point{X: tx(m[0]), Y: ty(m[1])}
		marks = append(marks, around(at, markReach))
	}
	for _, b := range s.bars {
		marks = append(marks, grown(vg.Rectangle{
			Min: vg.Point{X: min(tx(b[0]), tx(b[2])), Y: min(ty(b[1]), ty(b[3]))},
			Max: vg.Point{X: max(tx(b[0]), tx(b[2])), Y: max(ty(b[1]), ty(b[3]))},
		}, 2))
	}
	var placed []vg.Rectangle
	for _, l := range s.labels {
		style := textStyle(labelSize, l.color)
		at := vg.Point{X: tx(l.x), Y: ty(l.y)}
		box, far := place(at, style.Rectangle(l.text).Size(), c.Rectangle, marks, placed)
		placed = append(placed, grown(box, 2))
		if far {
			c.StrokeLine2(draw.LineStyle{Color: l.color, Width: vg.Points(0.5)}, at.X, at.Y, clampTo(at.X, box.Min.X, box.Max.X), clampTo(at.Y, box.Min.Y, box.Max.Y))
		}
		style.YAlign = draw.YCenter
		c.FillText(style, vg.Point{X: box.Min.X, Y: (box.Min.Y + box.Max.Y) / 2}, l.text)
	}
}

// place finds the box for a text of the given size: the nearest of rings of positions around the point that covers least.
func place(at, size vg.Point, inside vg.Rectangle, marks, placed []vg.Rectangle) (box vg.Rectangle, far bool) {
	best := math.Inf(1)
	for ring := range labelSteps {
		reach := markReach + 3 + vg.Length(ring)*labelStep
		for k := range labelAround {
			// Start at the upper right and go round alternately, so that the usual place comes first.
			angle := math.Pi/4 + math.Pi*2/labelAround*float64((k+1)/2)*float64(1-2*(k%2))
			b := boxAt(at, size, reach, angle)
			cost := float64(ring)*0.8 + float64(k)*0.02 + 100*outside(b, inside) + overlap(b, placed)*20 + overlap(b, marks)*4
			if cost < best {
				best, box, far = cost, b, ring > 0
			}
		}
	}
	return box, far
}

// boxAt is a box of the given size whose near edge or corner lies at a reach and an angle from a point.
func boxAt(at, size vg.Point, reach vg.Length, angle float64) vg.Rectangle {
	cx, cy := math.Cos(angle), math.Sin(angle)
	x := at.X + reach*vg.Length(cx) + size.X/2*vg.Length(math.Max(-1, math.Min(1, 1.8*cx))) - size.X/2
	y := at.Y + reach*vg.Length(cy) + size.Y/2*vg.Length(math.Max(-1, math.Min(1, 1.8*cy))) - size.Y/2
	return vg.Rectangle{Min: vg.Point{X: x, Y: y}, Max: vg.Point{X: x + size.X, Y: y + size.Y}}
}

// around is the square of half width r about a point.
func around(p vg.Point, r vg.Length) vg.Rectangle {
	return vg.Rectangle{Min: vg.Point{X: p.X - r, Y: p.Y - r}, Max: vg.Point{X: p.X + r, Y: p.Y + r}}
}

// grown is r with a rim of g.
func grown(r vg.Rectangle, g vg.Length) vg.Rectangle {
	return vg.Rectangle{Min: vg.Point{X: r.Min.X - g, Y: r.Min.Y - g}, Max: vg.Point{X: r.Max.X + g, Y: r.Max.Y + g}}
}

// overlap is the share of b that the boxes cover, each counted.
func overlap(b vg.Rectangle, boxes []vg.Rectangle) float64 {
	area := 0.0
	for _, o := range boxes {
		w := math.Min(float64(b.Max.X), float64(o.Max.X)) - math.Max(float64(b.Min.X), float64(o.Min.X))
		h := math.Min(float64(b.Max.Y), float64(o.Max.Y)) - math.Max(float64(b.Min.Y), float64(o.Min.Y))
		if w > 0 && h > 0 {
			// A touch costs as much as a tenth of the box, so that thin overlaps count too.
			area += 0.1 + w*h/float64((b.Max.X-b.Min.X)*(b.Max.Y-b.Min.Y))
		}
	}
	return area
}

// outside is the share of b's area outside of r.
func outside(b, r vg.Rectangle) float64 {
	w := math.Min(float64(b.Max.X), float64(r.Max.X)) - math.Max(float64(b.Min.X), float64(r.Min.X))
	h := math.Min(float64(b.Max.Y), float64(r.Max.Y)) - math.Max(float64(b.Min.Y), float64(r.Min.Y))
	return 1 - math.Max(0, w)*math.Max(0, h)/float64((b.Max.X-b.Min.X)*(b.Max.Y-b.Min.Y))
}

func clampTo(v, lo, hi vg.Length) vg.Length { return max(lo, min(v, hi)) }
