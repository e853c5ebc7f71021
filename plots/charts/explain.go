package charts

import (
	"fmt"
	"image/color"
	"io"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"leanbay/experiments/runs"
)

// mostColumns is the number of variants that the matrix of decisions shows; of more, evenly spread ones.
const mostColumns = 16

// WriteExplain draws the matrix of decisions along a front as explain.png and explain.svg in dir. A front without complying
// variants has none, and nothing is written.
func WriteExplain(f *runs.Front, dir string) error {
	if f.Explain == nil || len(f.Explain.Same)+len(f.Explain.Trades) == 0 {
		return nil
	}
	return explainPage(f).writeFiles(dir, "explain")
}

// DrawExplain draws the matrix on w as "svg" or "png".
func DrawExplain(w io.Writer, f *runs.Front, format string) error {
	if f.Explain == nil || len(f.Explain.Same)+len(f.Explain.Trades) == 0 {
		return fmt.Errorf("the front of %s has no complying variant: there are no decisions to draw", f.Brief)
	}
	return explainPage(f).write(w, format)
}

// explainPage sets the matrix between its heading and its small print.
func explainPage(f *runs.Front) *page {
	m := newMatrix(f)
	p := plot.New()
	dress(p)
	p.X.Label.Text = "complying variants by steel mass, kg"
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, float64(len(m.columns)), 0, float64(len(m.rows))
	p.X.Tick.Marker, p.Y.Tick.Marker = plot.ConstantTicks(m.xTicks()), plot.ConstantTicks(m.yTicks())
	p.Y.Tick.Length, p.X.Tick.Length, p.Y.LineStyle.Width = 0, 0, 0
	p.Add(m)
	small := "Each row is a decision, each column a complying variant, lightest at the left. A cell is darker the later its option comes among those that the front takes, from light (first taken) to dark."
	if hidden := len(f.Explain.Trades) - m.trades; hidden > 0 {
		small += fmt.Sprintf(" %d more decisions that change are in front.json.", hidden)
	}
	return &page{title: f.Brief + ": decisions along the front", subtitle: matrixSays(f), plot: p, small: []string{small}}
}

// matrixSays counts what is alike and what trades off.
func matrixSays(f *runs.Front) string {
	if len(f.Explain.Trades) == 0 {
		return fmt.Sprintf("All %d decisions are the same in every complying variant.", len(f.Explain.Same))
	}
	return fmt.Sprintf("%d decisions are the same in all complying variants; %d trade off and are shown.", len(f.Explain.Same), len(f.Explain.Trades))
}

// mostRows is the number of decisions that fit the page.
const mostRows = 18

// matrix draws decisions by variants.
type matrix struct {
	rows    []runs.Trade
	columns []int // places in the list of complying variants
	masses  []float64
	trades  int
}

// newMatrix takes the decisions that trade off, or, where none does, all of them.
func newMatrix(f *runs.Front) *matrix {
	m := &matrix{}
	for i := range f.Variants {
		if v := &f.Variants[i]; v.Complies {
			m.masses = append(m.masses, v.Mass)
		}
	}
	slices.Sort(m.masses)
	m.rows = f.Explain.Trades[:min(len(f.Explain.Trades), mostRows)]
	m.trades = len(m.rows)
	if len(m.rows) == 0 {
		m.rows = same(f.Explain, len(m.masses))
	}
	n := len(m.masses)
	for k := range min(n, mostColumns) {
		m.columns = append(m.columns, k*(n-1)/max(1, min(n, mostColumns)-1))
	}
	return m
}

// same turns decisions that are alike into rows.
func same(e *runs.Explain, variants int) []runs.Trade {
	var out []runs.Trade
	for name, option := range e.Same {
		out = append(out, runs.Trade{Decision: name, Options: slices.Repeat([]string{option}, variants)})
	}
	slices.SortFunc(out, func(a, b runs.Trade) int {
		if a.Decision < b.Decision {
			return -1
		}
		return 1
	})
	return out[:min(len(out), mostRows)]
}

func (m *matrix) xTicks() []plot.Tick {
	var out []plot.Tick
	for k, c := range m.columns {
		out = append(out, plot.Tick{Value: float64(k) + 0.5, Label: thousands(m.masses[c])})
	}
	return out
}

func (m *matrix) yTicks() []plot.Tick {
	var out []plot.Tick
	for r := range m.rows {
		out = append(out, plot.Tick{Value: float64(len(m.rows)-r) - 0.5, Label: m.rows[r].Decision})
	}
	return out
}

// Plot implements plot.Plotter.
func (m *matrix) Plot(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	for r := range m.rows {
		row := &m.rows[r]
		ranks, count := ranksOf(row.Options)
		top, bottom := y(float64(len(m.rows)-r))-1, y(float64(len(m.rows)-r-1))+1
		start := 0
		for k := range m.columns {
			last := k+1 == len(m.columns) || row.Options[m.columns[k+1]] != row.Options[m.columns[k]]
			if !last {
				continue
			}
			shade := ranks[row.Options[m.columns[k]]]
			left, right := x(float64(start))+1, x(float64(k+1))-1
			fillBox(c, left, bottom, right, top, shadeOf(shade, count))
			cellText(c, row.Options[m.columns[k]], left, bottom, right, top, shade, count)
			start = k + 1
		}
	}
}

// ranksOf numbers the options in the order in which the front takes them.
func ranksOf(options []string) (map[string]int, int) {
	ranks := map[string]int{}
	for _, o := range options {
		if _, ok := ranks[o]; !ok {
			ranks[o] = len(ranks)
		}
	}
	return ranks, len(ranks)
}

// shadeOf runs from a light to a dark blue.
func shadeOf(rank, count int) color.Color {
	share := 0.0
	if count > 1 {
		share = float64(rank) / float64(count-1)
	}
	mix := func(a, b float64) uint8 { return uint8(a + share*(b-a)) }
	return color.RGBA{R: mix(222, 8), G: mix(235, 69), B: mix(247, 128), A: 255}
}

func fillBox(c draw.Canvas, left, bottom, right, top vg.Length, fill color.Color) {
	c.SetColor(fill)
	var path vg.Path
	path.Move(vg.Point{X: left, Y: bottom})
	path.Line(vg.Point{X: right, Y: bottom})
	path.Line(vg.Point{X: right, Y: top})
	path.Line(vg.Point{X: left, Y: top})
	path.Close()
	c.Fill(path)
}

// cellText writes the option into its box if it fits; shortened, if that helps.
func cellText(c draw.Canvas, text string, left, bottom, right, top vg.Length, rank, count int) {
	colour := color.Color(ink)
	if 2*rank >= count && count > 1 {
		colour = color.White
	}
	sty := textStyle(8, colour)
	sty.XAlign, sty.YAlign = draw.XCenter, draw.YCenter
	room := right - left - 4
	letters := []rune(text)
	for sty.Width(string(letters)) > room && len(letters) > 3 {
		letters = append(letters[:len(letters)-2], '…')
	}
	if sty.Width(string(letters)) <= room {
		c.FillText(sty, vg.Point{X: (left + right) / 2, Y: (bottom + top) / 2}, string(letters))
	}
}
