package charts

import (
	"image/color"
	"math"

	"gonum.org/v1/gonum/stat/combin"
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
	var all [][]candidate
	for _, l := range s.labels {
		at := vg.Point{X: tx(l.x), Y: ty(l.y)}
		all = append(all, candidates(at, textStyle(labelSize, l.color).Rectangle(l.text).Size(), c.Rectangle, marks))
	}
	for i, b := range placeAll(all) {
		l := s.labels[i]
		style := textStyle(labelSize, l.color)
		if b.far {
			c.StrokeLine2(draw.LineStyle{Color: l.color, Width: vg.Points(0.5)}, b.at.X, b.at.Y, clampTo(b.at.X, b.box.Min.X, b.box.Max.X), clampTo(b.at.Y, b.box.Min.Y, b.box.Max.Y))
		}
		style.YAlign = draw.YCenter
		c.FillText(style, vg.Point{X: b.box.Min.X, Y: (b.box.Min.Y + b.box.Max.Y) / 2}, l.text)
	}
}

// candidate is a place for a label, and what it costs before other labels are placed.
type candidate struct {
	at   vg.Point // the label's point
	box  vg.Rectangle
	far  bool
	cost float64
}

// candidates lists places for a text of the given size in rings around its point.
func candidates(at, size vg.Point, inside vg.Rectangle, marks []vg.Rectangle) []candidate {
	var out []candidate
	for ring := range labelSteps {
		reach := markReach + 3 + vg.Length(ring)*labelStep
		for k := range labelAround {
			// Start at the upper right and go round alternately, so that the usual place comes first.
			angle := math.Pi/4 + math.Pi*2/labelAround*float64((k+1)/2)*float64(1-2*(k%2))
			b := boxAt(at, size, reach, angle)
			out = append(out, candidate{at, b, ring > 0, float64(ring)*0.8 + float64(k)*0.02 + 100*outside(b, inside) + 15*overlap(b, marks)})
		}
	}
	return out
}

// placeAll chooses a place for every label: one after the other in every order of the labels (up to orderedLabels of
// them; beyond, in the order given), and of these the choice that costs least.
func placeAll(all [][]candidate) []candidate {
	orders := [][]int{identity(len(all))}
	if len(all) <= orderedLabels {
		orders = combin.Permutations(len(all), len(all))
	}
	best, least := []candidate(nil), math.Inf(1)
	for _, order := range orders {
		chosen, total := make([]candidate, len(all)), 0.0
		var placed []vg.Rectangle
		for _, i := range order {
			c, cost := cheapest(all[i], placed)
			chosen[i], total = c, total+cost
			placed = append(placed, grown(c.box, 2))
		}
		if total < least {
			best, least = chosen, total
		}
	}
	return best
}

// orderedLabels is how many labels are tried in every order: 120 orders.
const orderedLabels = 5

// identity is 0 … n-1.
func identity(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// cheapest is the candidate that costs least beside the labels that are placed.
func cheapest(list []candidate, placed []vg.Rectangle) (best candidate, least float64) {
	least = math.Inf(1)
	for _, c := range list {
		cost := c.cost + 60*overlap(c.box, placed)
		if c.far && crosses(c.at, c.box, placed) {
			cost += 30
		}
		if cost < least {
			best, least = c, cost
		}
	}
	return best, least
}

// crosses says whether the leader from a point to its box runs through another box, by a point every tenth.
func crosses(at vg.Point, b vg.Rectangle, boxes []vg.Rectangle) bool {
	end := vg.Point{X: clampTo(at.X, b.Min.X, b.Max.X), Y: clampTo(at.Y, b.Min.Y, b.Max.Y)}
	for k := range 11 {
		f := vg.Length(k) / 10
		p := vg.Point{X: at.X + f*(end.X-at.X), Y: at.Y + f*(end.Y-at.Y)}
		for _, o := range boxes {
			if p.X > o.Min.X && p.X < o.Max.X && p.Y > o.Min.Y && p.Y < o.Max.Y {
				return true
			}
		}
	}
	return false
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
