package charts

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"

	"leanbay/experiments/runs"
)

// limitU is the utilisation up to which a design complies; reserveU leaves five per cent. scaleU is the greatest
// utilisation that the axis shows: stepping stones reach 1.25, and what lies beyond stands at the border with its value.
const (
	limitU   = 1.00
	reserveU = 0.95
	scaleU   = 1.35
)

// namedPoints are the variants that carry a label, in the order of the label's text.
var namedPoints = []struct{ key, text string }{{"lightest", "lightest"}, {"knee", "knee"}, {"reserve_5", "5 % reserve"}}

// WriteFront draws the front of a run as front.png and front.svg in dir (1200 by 800 pixels).
func WriteFront(f *runs.Front, dir string) error {
	pg, err := frontPage(f)
	if err != nil {
		return err
	}
	return pg.writeFiles(dir, "front")
}

// DrawFront draws the front's page on w as "svg" or "png".
func DrawFront(w io.Writer, f *runs.Front, format string) error {
	pg, err := frontPage(f)
	if err != nil {
		return err
	}
	return pg.write(w, format)
}

// frontPage sets the front's chart between its heading and its small print.
func frontPage(f *runs.Front) (*page, error) {
	p, err := Front(f)
	if err != nil {
		return nil, err
	}
	p.Title.Text = ""
	return &page{
		title:    frontTitle(f),
		subtitle: Saving(f),
		key:      frontKey(f),
		plot:     p,
		small: append(append(figureLines(f), reviews(f)...), fmt.Sprintf("Seed %d, %d variants evaluated in %d generations; stopped: %s. Brief %s. Actions: %s. Mass: primary, secondary and bracing steel with base plates and the allowance for connections, no cladding.",
			f.Seed, f.Evaluations, f.Generations, f.Stopped, shortHash(f.BriefHash), f.Actions)),
	}, nil
}

// reviews says how the named points fare under what-ifs, where that was asked.
func reviews(f *runs.Front) []string {
	var out []string
	said := map[string]int{}
	for _, n := range namedPoints {
		v := variantOf(f, n.key)
		if v == nil || v.Review == nil {
			continue
		}
		if i, ok := said[v.Key]; ok {
			out[i] = n.text + ", " + out[i]
			continue
		}
		said[v.Key] = len(out)
		out = append(out, n.text+": "+v.Review.Text()+".")
	}
	return out
}

// frontKey explains the marks that the chart has.
func frontKey(f *runs.Front) []keyEntry {
	var good, stones bool
	for i := range f.Variants {
		good, stones = good || f.Variants[i].Complies, stones || !f.Variants[i].Complies
	}
	var out []keyEntry
	for _, e := range []struct {
		shown bool
		keyEntry
	}{
		{good, keyEntry{text: "complies", glyph: complyMark}}, {stones, keyEntry{text: "does not comply (stepping stone)", glyph: stoneMark}},
		{f.Proposal.Mass > 0, keyEntry{text: "as drawn" + ifNot(&f.Proposal), glyph: markOf(&f.Proposal, drawnMark)}},
		{f.Braced != nil, keyEntry{text: "as drawn and braced" + ifNot(f.Braced), glyph: markOf(f.Braced, bracedMark)}},
		{true, keyEntry{text: "limit 1.00", line: limitLine}}, {true, keyEntry{text: "5 % reserve, 0.95", line: reserveLine}},
	} {
		if e.shown {
			out = append(out, e.keyEntry)
		}
	}
	return out
}

// frontTitle names the chart.
func frontTitle(f *runs.Front) string { return f.Brief + ": steel mass against governing utilisation" }

// shortHash is as much of a hash as people compare by eye.
func shortHash(h string) string { return h[:min(len(h), 12)] }

// Saving says in a sentence what the lightest complying variant saves against the drawing, with its bracing completed
// where that was needed.
func Saving(f *runs.Front) string {
	best := variantOf(f, "lightest")
	if best == nil {
		return "No complying variant was found."
	}
	ref, name := reference(f)
	if ref.Mass <= 0 {
		return fmt.Sprintf("Lightest complying variant %s.", kilograms(best.Mass))
	}
	diff := ref.Mass - best.Mass
	word := "lighter"
	if diff < 0 {
		word = "heavier"
	}
	text := fmt.Sprintf("Lightest complying variant %s: %s (%.1f %%) %s than %s, %s", kilograms(best.Mass), kilograms(math.Abs(diff)),
		100*math.Abs(diff)/ref.Mass, word, name, kilograms(ref.Mass))
	if !ref.Complies {
		text += ", which does not comply (" + standing(ref) + ")"
	}
	return text + "."
}

// reference is what the saving is counted against.
func reference(f *runs.Front) (*runs.Scores, string) {
	if f.Braced != nil {
		return f.Braced, "the braced proposal"
	}
	return &f.Proposal, "the proposal"
}

// standing says how a design stands: its utilisation, or why it has none.
func standing(s *runs.Scores) string {
	if !rated(s) {
		if s.Verdict != "" {
			return s.Verdict
		}
		return "not stable"
	}
	if s.Utilisation <= limitU && s.Verdict != "" {
		return fmt.Sprintf("%s; utilisation %.3f", s.Verdict, s.Utilisation)
	}
	return fmt.Sprintf("utilisation %.3f", s.Utilisation)
}

// rated says whether a design's members were checked. Of one that is not stable only parts were, whatever its utilisation
// says.
func rated(s *runs.Scores) bool {
	return (s.Stable || s.Complies) && s.Utilisation > 0 && !math.IsInf(s.Utilisation, 0) && !math.IsNaN(s.Utilisation)
}

// kilograms writes a mass with thousands apart: "12 345 kg".
func kilograms(m float64) string { return thousands(m) + " kg" }

// twoDecimals writes a utilisation on the axis.
func twoDecimals(v float64) string { return fmt.Sprintf("%.2f", v) }

// thousands writes a whole figure with thousands apart.
func thousands(m float64) string {
	s := fmt.Sprintf("%.0f", math.Abs(m))
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + " " + s[i:]
	}
	if m < -0.5 {
		s = "-" + s
	}
	return s
}

// variantOf finds a named point, or nil.
func variantOf(f *runs.Front, point string) *runs.Variant {
	key, ok := f.Points[point]
	if !ok {
		return nil
	}
	for i := range f.Variants {
		if f.Variants[i].Key == key {
			return &f.Variants[i]
		}
	}
	return nil
}

// Front draws mass (kg) against governing utilisation: the complying variants and the stair that joins the best of them,
// stepping stones, the limit and the reserve, the proposal and the braced proposal. What lies beyond the scale stands at
// the border with an arrow and its value. A front without variants is no error. The heading is the plot's title; WriteFront
// adds the key and the small print.
func Front(f *runs.Front) (*plot.Plot, error) {
	p := plot.New()
	dress(p)
	p.Title.Text = frontTitle(f) + "\n" + Saving(f)
	p.X.Label.Text, p.Y.Label.Text = "steel mass, kg", "governing utilisation"
	p.X.Tick.Marker, p.Y.Tick.Marker = roundTicks{count: 9, format: thousands}, roundTicks{count: 9, format: twoDecimals}
	frontRange(p, f)
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = gridGrey, gridGrey
	p.Add(grid)
	names := &labelSet{}
	names.bar(p.X.Min, limitU, p.X.Max, limitU)
	names.bar(p.X.Min, reserveU, p.X.Max, reserveU)
	if err := addLimits(p); err != nil {
		return nil, err
	}
	if err := addVariants(p, f, names); err != nil {
		return nil, err
	}
	if err := addNamed(p, f, names); err != nil {
		return nil, err
	}
	if err := addDrawn(p, &f.Proposal, "as drawn", drawnMark, names); err != nil {
		return nil, err
	}
	if f.Braced != nil {
		if err := addDrawn(p, f.Braced, "as drawn, braced", bracedMark, names); err != nil {
			return nil, err
		}
	}
	p.Add(names)
	return p, nil
}

// frontRange sets both axes: all masses, and all utilisations up to scaleU, with the limit and the reserve always shown.
func frontRange(p *plot.Plot, f *runs.Front) {
	all := []*runs.Scores{&f.Proposal}
	if f.Braced != nil {
		all = append(all, f.Braced)
	}
	for i := range f.Variants {
		all = append(all, &f.Variants[i].Scores)
	}
	lowM, highM, lowU, highU := math.Inf(1), math.Inf(-1), reserveU-0.05, limitU+0.05
	for _, s := range all {
		if s.Mass > 0 {
			lowM, highM = math.Min(lowM, s.Mass), math.Max(highM, s.Mass)
		}
		if rated(s) {
			lowU, highU = math.Min(lowU, s.Utilisation), math.Max(highU, math.Min(s.Utilisation, scaleU))
		}
	}
	if lowM > highM {
		lowM, highM = 0, 1000
	}
	padM, padU := math.Max(0.06*(highM-lowM), 0.01*highM), 0.08*(highU-lowU)
	p.X.Min, p.X.Max = math.Max(0, lowM-padM), highM+padM
	p.Y.Min, p.Y.Max = math.Max(0, lowU-padU), highU+padU
}

// addLimits draws the limit and the reserve across the chart.
func addLimits(p *plot.Plot) error {
	for _, l := range []struct {
		u     float64
		style draw.LineStyle
	}{{limitU, limitLine}, {reserveU, reserveLine}} {
		line, err := plotter.NewLine(plotter.XYs{{X: p.X.Min, Y: l.u}, {X: p.X.Max, Y: l.u}})
		if err != nil {
			return fmt.Errorf("limit line: %w", err)
		}
		line.LineStyle = l.style
		p.Add(line)
	}
	return nil
}

// addVariants draws the stair, the stepping stones and the complying variants.
func addVariants(p *plot.Plot, f *runs.Front, names *labelSet) error {
	var good, stones plotter.XYs
	for i := range f.Variants {
		v := &f.Variants[i]
		at := plotter.XY{X: v.Mass, Y: math.Min(v.Utilisation, p.Y.Max)}
		names.mark(at.X, at.Y)
		if v.Complies {
			good = append(good, at)
		} else {
			stones = append(stones, at)
		}
	}
	if stair := stairOf(good); len(stair) > 1 {
		line, err := plotter.NewLine(stair)
		if err != nil {
			return fmt.Errorf("front line: %w", err)
		}
		line.LineStyle = stairLine
		p.Add(line)
		for i := 1; i < len(stair); i++ {
			names.bar(stair[i-1].X, stair[i-1].Y, stair[i].X, stair[i].Y)
		}
	}
	if err := addScatter(p, stones, stoneMark); err != nil {
		return err
	}
	return addScatter(p, good, complyMark)
}

// addScatter draws marks; none are no error.
func addScatter(p *plot.Plot, xys plotter.XYs, mark draw.GlyphStyle) error {
	if len(xys) == 0 {
		return nil
	}
	s, err := plotter.NewScatter(xys)
	if err != nil {
		return fmt.Errorf("variants: %w", err)
	}
	s.GlyphStyle = mark
	p.Add(s)
	return nil
}

// stairOf joins the points that no other beats in both mass and utilisation by steps: all that lies above and to the
// right of the stair is beaten by a variant on it.
func stairOf(xys plotter.XYs) plotter.XYs {
	s := slices.Clone(xys)
	slices.SortFunc(s, func(a, b plotter.XY) int {
		switch {
		case a.X < b.X || a.X == b.X && a.Y < b.Y:
			return -1
		case a == b:
			return 0
		}
		return 1
	})
	var out plotter.XYs
	for _, q := range s {
		if n := len(out); n > 0 {
			if q.Y >= out[n-1].Y {
				continue
			}
			out = append(out, plotter.XY{X: q.X, Y: out[n-1].Y})
		}
		out = append(out, q)
	}
	return out
}

// addNamed rings and labels the named points; points that fall on one variant share its label.
func addNamed(p *plot.Plot, f *runs.Front, names *labelSet) error {
	var rings plotter.XYs
	texts := map[string][]string{}
	var order []*runs.Variant
	for _, n := range namedPoints {
		v := variantOf(f, n.key)
		if v == nil {
			continue
		}
		if len(texts[v.Key]) == 0 {
			order = append(order, v)
			rings = append(rings, plotter.XY{X: v.Mass, Y: v.Utilisation})
		}
		texts[v.Key] = append(texts[v.Key], n.text)
	}
	for _, v := range order {
		names.labels = append(names.labels, label{v.Mass, v.Utilisation, fmt.Sprintf("%s: %s, %.3f", strings.Join(texts[v.Key], ", "), kilograms(v.Mass), v.Utilisation), ink})
	}
	return addScatter(p, rings, namedMark)
}
