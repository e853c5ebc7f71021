package charts

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"

	"leanbay/experiments/runs"
)

// WriteObjectives draws the front in what the search minimised, as objectives.png and objectives.svg in dir. Where that was
// mass and compliance the front's chart shows it already, and nothing is written.
func WriteObjectives(f *runs.Front, dir string) error {
	if len(chosen(f)) < 2 || len(f.Further()) == 0 {
		return nil
	}
	pg, err := objectivesPage(f)
	if err != nil {
		return err
	}
	return pg.writeFiles(dir, "objectives")
}

// DrawObjectives draws the page of WriteObjectives on w as "svg" or "png". It returns an error where fewer than two
// objectives are known.
func DrawObjectives(w io.Writer, f *runs.Front, format string) error {
	if len(chosen(f)) < 2 {
		return fmt.Errorf("the front of %s does not say in what it was sought: there is nothing to draw", f.Brief)
	}
	pg, err := objectivesPage(f)
	if err != nil {
		return err
	}
	return pg.write(w, format)
}

// chosen are the figures that the search minimised.
func chosen(f *runs.Front) []runs.Figure {
	var out []runs.Figure
	for _, fig := range f.Figures {
		if fig.Chosen {
			out = append(out, fig)
		}
	}
	return out
}

// objectivesPage sets one tile for each objective after the first, over the first.
func objectivesPage(f *runs.Front) (*page, error) {
	figures := chosen(f)
	pg := &page{title: f.Brief + ": the front in what it was sought", key: objectivesKey(f)}
	var names, row = []string{}, []*plot.Plot{}
	for i, fig := range figures {
		names = append(names, fig.Name)
		small := fig.Name + ": " + fig.Text
		if fig.Greater {
			small += "; the greater the better"
		}
		pg.small = append(pg.small, small+".")
		if i > 0 {
			p, err := objectiveTile(f, figures[0], fig, len(figures) == 2)
			if err != nil {
				return nil, err
			}
			row = append(row, p)
		}
	}
	pg.subtitle = strings.Join(names, ", ") + ": no variant shown is beaten in all of them by one that complies."
	pg.tiles = [][]*plot.Plot{row}
	pg.small = append(append(pg.small, drawnLines(f)...), priceLines(f)...)
	pg.small = append(pg.small, fmt.Sprintf("Seed %d, %d variants evaluated. Brief %s. Axes do not begin at zero.", f.Seed, f.Evaluations, shortHash(f.BriefHash)))
	return pg, nil
}

// priceLines says by which prices costs are reckoned, where there are costs.
func priceLines(f *runs.Front) []string {
	switch {
	case f.Prices == nil:
		return nil
	case f.Prices.Mark != "":
		return []string{"* " + f.Prices.Text}
	}
	return []string{f.Prices.Text}
}

// figureLines says what the named points have in the figures beside mass and utilisation, each variant once.
func figureLines(f *runs.Front) []string {
	if len(f.Further()) == 0 {
		return nil
	}
	var out []string
	said := map[string]int{}
	for _, n := range namedPoints {
		v := variantOf(f, n.key)
		if v == nil {
			continue
		}
		if i, ok := said[v.Key]; ok {
			out[i] = n.text + ", " + out[i]
			continue
		}
		said[v.Key] = len(out)
		out = append(out, n.text+": "+sayAll(f.Further(), &v.Scores))
	}
	if len(out) > 0 {
		out = []string{strings.Join(out, "; ") + "."}
	}
	return append(out, priceLines(f)...)
}

// sayAll lists a design's figures.
func sayAll(figures []runs.Figure, s *runs.Scores) string {
	var parts []string
	for _, fig := range figures {
		parts = append(parts, fig.Say(s))
	}
	return strings.Join(parts, ", ")
}

// drawnLines says the figures of what was drawn where it is stable but does not comply: it has no place among the marks, from
// which it may be far away.
func drawnLines(f *runs.Front) []string {
	var out []string
	if s := &f.Proposal; has(s) && !s.Complies {
		out = append(out, "As drawn (does not comply): "+sayAll(chosen(f), s)+".")
	}
	if s := f.Braced; has(s) && !s.Complies {
		out = append(out, "As drawn and braced (does not comply): "+sayAll(chosen(f), s)+".")
	}
	return out
}

// objectivesKey explains the marks that the tiles have.
func objectivesKey(f *runs.Front) []keyEntry {
	var out []keyEntry
	for _, e := range frontKey(f) {
		if e.line.Width == 0 && !strings.HasPrefix(e.text, "as drawn") {
			out = append(out, e)
		}
	}
	if f.Proposal.Complies {
		out = append(out, keyEntry{text: "as drawn", glyph: drawnMark})
	}
	if f.Braced != nil && f.Braced.Complies {
		out = append(out, keyEntry{text: "as drawn and braced", glyph: bracedMark})
	}
	return out
}

// has says whether a design was stable enough to have figures.
func has(s *runs.Scores) bool { return s != nil && len(s.Objectives) > 0 }

// objectiveTile draws one objective over another. With two objectives in all, steps join the complying variants.
func objectiveTile(f *runs.Front, x, y runs.Figure, stair bool) (*plot.Plot, error) {
	p := plot.New()
	dress(p)
	p.X.Label.Text, p.Y.Label.Text = axisLabel(x), axisLabel(y)
	p.X.Tick.Marker, p.Y.Tick.Marker = figureTicks(x), figureTicks(y)
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = gridGrey, gridGrey
	p.Add(grid)
	t := tile{x: x, y: y, names: &labelSet{}}
	if err := t.addMarks(p, f, stair); err != nil {
		return nil, err
	}
	t.addBest(f)
	p.Add(t.names)
	spread(p, t.all)
	return p, nil
}

// tile collects what one objective over another shows.
type tile struct {
	x, y  runs.Figure
	names *labelSet
	all   plotter.XYs
}

// at is a design's place; labels keep clear of it.
func (t *tile) at(s *runs.Scores) plotter.XY {
	q := plotter.XY{X: s.Objectives[t.x.Name], Y: s.Objectives[t.y.Name]}
	t.names.mark(q.X, q.Y)
	t.all = append(t.all, q)
	return q
}

// addMarks draws the variants, their stair, and what was drawn if it complies.
func (t *tile) addMarks(p *plot.Plot, f *runs.Front, stair bool) error {
	var good, stones plotter.XYs
	for i := range f.Variants {
		v := &f.Variants[i]
		if q := t.at(&v.Scores); v.Complies {
			good = append(good, q)
		} else {
			stones = append(stones, q)
		}
	}
	if stair {
		if err := t.addStair(p, good); err != nil {
			return err
		}
	}
	if err := addScatter(p, stones, stoneMark); err != nil {
		return err
	}
	if err := addScatter(p, good, complyMark); err != nil {
		return err
	}
	for _, d := range []struct {
		scores *runs.Scores
		mark   draw.GlyphStyle
	}{{&f.Proposal, drawnMark}, {f.Braced, bracedMark}} {
		if !has(d.scores) || !d.scores.Complies {
			continue
		}
		if err := addScatter(p, plotter.XYs{t.at(d.scores)}, d.mark); err != nil {
			return err
		}
	}
	return nil
}

// addBest labels the complying variants that are best in either figure.
func (t *tile) addBest(f *runs.Front) {
	bx, by := f.Best(t.x), f.Best(t.y)
	for i, b := range []*runs.Variant{bx, by} {
		if b == nil || i == 1 && by == bx {
			continue
		}
		what := []runs.Figure{t.x, t.y}[i].BestName()
		if bx == by {
			what = "best in both"
		}
		q := plotter.XY{X: b.Objectives[t.x.Name], Y: b.Objectives[t.y.Name]}
		t.names.labels = append(t.names.labels, label{q.X, q.Y, fmt.Sprintf("%s: %s, %s", what, unitText(t.x, q.X), unitText(t.y, q.Y)), ink})
	}
}

// addStair joins the complying variants by steps, whichever way the figures are better.
func (t *tile) addStair(p *plot.Plot, good plotter.XYs) error {
	turned := func(q plotter.XY) plotter.XY {
		if t.x.Greater {
			q.X = -q.X
		}
		if t.y.Greater {
			q.Y = -q.Y
		}
		return q
	}
	var less plotter.XYs
	for _, q := range good {
		less = append(less, turned(q))
	}
	stair := stairOf(less)
	if len(stair) < 2 {
		return nil
	}
	for i := range stair {
		stair[i] = turned(stair[i])
		if i > 0 {
			t.names.bar(stair[i-1].X, stair[i-1].Y, stair[i].X, stair[i].Y)
		}
	}
	line, err := plotter.NewLine(stair)
	if err != nil {
		return fmt.Errorf("front line: %w", err)
	}
	line.LineStyle = stairLine
	p.Add(line)
	return nil
}

// spread sets both axes to the data with room around it.
func spread(p *plot.Plot, all plotter.XYs) {
	if len(all) == 0 {
		p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, 1, 0, 1
		return
	}
	x0, x1, y0, y1 := plotter.XYRange(all)
	room := func(lo, hi float64) float64 {
		return math.Max(0.08*(hi-lo), math.Max(0.01*math.Abs(hi), 0.01))
	}
	rx, ry := room(x0, x1), room(y0, y1)
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = x0-rx, x1+rx, y0-ry, y1+ry
}

// axisLabel names a figure with its unit and, where the greater is the better, that.
func axisLabel(fig runs.Figure) string {
	name := fig.Name
	if fig.Name == "compliance" {
		name = "governing utilisation"
	}
	if fig.Unit != "-" {
		name += ", " + fig.Unit
	}
	if fig.Example {
		name += "*"
	}
	if fig.Greater {
		name += " (the greater the better)"
	}
	return name
}

// figureText writes a figure as its decimals say.
func figureText(fig runs.Figure, v float64) string {
	if fig.Decimals == 0 {
		return thousands(v)
	}
	return strconv.FormatFloat(v+0, 'f', fig.Decimals, 64) // no minus before 0
}

// unitText writes a figure with its unit; costs by example prices carry the star.
func unitText(fig runs.Figure, v float64) string {
	out := figureText(fig, v)
	if fig.Unit != "-" {
		out += " " + fig.Unit
	}
	if fig.Example {
		out += "*"
	}
	return out
}

// figureTicks marks round steps that the figure's decimals can tell apart.
func figureTicks(fig runs.Figure) plot.Ticker {
	return wholeTicks{roundTicks{count: 6, format: func(v float64) string { return figureText(fig, v) }}, math.Pow(10, -float64(fig.Decimals))}
}

// wholeTicks are round ticks no closer than a least step.
type wholeTicks struct {
	roundTicks
	least float64
}

// Ticks implements plot.Ticker.
func (w wholeTicks) Ticks(lo, hi float64) []plot.Tick {
	return ticksBy(math.Max(roundStep((hi-lo)/float64(w.count)), w.least), lo, hi, w.format)
}
