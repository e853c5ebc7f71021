package charts

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"leanbay/experiments/suites"
)

// Each function has a tile that says what was found, drawn from the last row; a piece of the true front is a line.
func TestFrontsShowEveryFunction(t *testing.T) {
	var rows []suites.SearchRow
	for _, f := range suites.Functions() {
		point := []float64{0.5, 0.5, 0.5}[:f.Objectives]
		rows = append(rows,
			suites.SearchRow{Function: f.Name, Evaluations: 100, Points: [][]float64{point}, PointsVolume: 0.1111, True: f.Volume},
			suites.SearchRow{Function: f.Name, Evaluations: 200, Points: [][]float64{point, point}, PointsVolume: 0.2222, True: f.Volume})
	}
	dir := t.TempDir()
	if err := WriteFronts(rows, suites.Functions(), dir); err != nil {
		t.Fatal(err)
	}
	svg, err := os.ReadFile(filepath.Join(dir, "fronts.svg"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"ZDT1: 0.2222 of 0.8767", "DTLZ2: 0.2222 of 0.8074", "after 200 evaluations", "licensed structural engineer"} {
		if !strings.Contains(string(svg), want) {
			t.Errorf("the picture does not say %q", want)
		}
	}
	if strings.Contains(string(svg), ">-0<") || strings.Contains(string(svg), "0.1111") {
		t.Error("the picture says -0, or shows an earlier row")
	}
	if _, err := os.Stat(filepath.Join(dir, "fronts.png")); err != nil {
		t.Error(err)
	}
	if err := WriteFronts(nil, suites.Functions(), dir); err == nil {
		t.Error("no rows: no error")
	}
}
