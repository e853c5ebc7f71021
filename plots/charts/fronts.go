package charts

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"leanbay/experiments/suites"
)

// perRow is the number of fronts side by side.
const perRow = 3

// WriteFronts draws the fronts that a search found on test functions, each over the true front, as fronts.png and
// fronts.svg in dir: of each function the last row of the method that comes first. Three objectives are
// drawn as the third against the length of the first two. It returns an error where no row has points.
func WriteFronts(rows []suites.SearchRow, functions []suites.Function, dir string) error {
	pg := page{title: "Fronts found on test functions"}
	var row []*plot.Plot
	for _, f := range functions {
		last := lastRow(rows, f.Name)
		if last == nil || len(last.Points) == 0 {
			continue
		}
		p, err := frontTile(f, last)
		if err != nil {
			return err
		}
		pg.subtitle = fmt.Sprintf("population of %d after %d evaluations, seed 1; hypervolume up to %g in every objective: of the population, of the true front", len(last.Points), last.Evaluations, suites.Reference)
		if row = append(row, p); len(row) == perRow {
			pg.tiles, row = append(pg.tiles, row), nil
		}
	}
	if len(row) > 0 {
		for len(pg.tiles) > 0 && len(row) < perRow {
			row = append(row, nil)
		}
		pg.tiles = append(pg.tiles, row)
	}
	if len(pg.tiles) == 0 {
		return errors.New("no front was measured; name at least one function")
	}
	pg.key = []keyEntry{{text: "true front", line: trueLine()}, {text: "found", glyph: foundGlyph()}}
	return pg.writeFiles(dir, "fronts")
}

func trueLine() draw.LineStyle { return draw.LineStyle{Color: lineColours[0], Width: vg.Points(1.4)} }

func foundGlyph() draw.GlyphStyle {
	return draw.GlyphStyle{Color: lineColours[1], Radius: vg.Points(2), Shape: draw.CircleGlyph{}}
}

func lastRow(rows []suites.SearchRow, function string) *suites.SearchRow {
	var last *suites.SearchRow
	for i := range rows {
		if rows[i].Function == function && (last == nil || rows[i].Method == last.Method) {
			last = &rows[i]
		}
	}
	return last
}

// frontTile draws one function.
func frontTile(f suites.Function, r *suites.SearchRow) (*plot.Plot, error) {
	p := plot.New()
	dress(p)
	p.Title.Text = fmt.Sprintf("%s: %.4f of %.4f", f.Name, r.PointsVolume, r.True)
	p.Title.TextStyle.Font.Size = vg.Points(11)
	p.X.Label.Text, p.Y.Label.Text = "first objective", "second"
	if f.Objectives == 3 {
		p.X.Label.Text, p.Y.Label.Text = "first and second, root of squares", "third"
	}
	ticks := roundTicks{4, func(v float64) string { return strconv.FormatFloat(v+0, 'g', 3, 64) }} // no minus before 0
	p.X.Tick.Marker, p.Y.Tick.Marker = ticks, ticks
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = gridGrey, gridGrey
	p.Add(grid)
	for _, part := range f.Front(400) {
		line, err := plotter.NewLine(flat(part))
		if err != nil {
			return nil, err
		}
		line.LineStyle = trueLine()
		p.Add(line)
	}
	s, err := plotter.NewScatter(flat(r.Points))
	if err != nil {
		return nil, err
	}
	s.GlyphStyle = foundGlyph()
	p.Add(s)
	return p, nil
}

// flat makes points of two objectives, or of three as the plot shows them.
func flat(points [][]float64) plotter.XYs {
	out := make(plotter.XYs, len(points))
	for i, v := range points {
		out[i] = plotter.XY{X: v[0], Y: v[1]}
		if len(v) == 3 {
			out[i] = plotter.XY{X: math.Hypot(v[0], v[1]), Y: v[2]}
		}
	}
	return out
}
