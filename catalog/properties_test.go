package catalog

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// half returns half a unit of the last printed digit, trailing zeros before the point counted as not printed when the
// figure has more than three digits (the tables print three).
func half(printed string) float64 {
	if i := strings.IndexByte(printed, '.'); i >= 0 {
		return 0.5 * math.Pow(10, -float64(len(printed)-i-1))
	}
	if n := len(printed); n > 3 {
		return 0.5 * math.Pow(10, float64(n-3))
	}
	return 0.5
}

// TestPublishedProperties holds the computed properties to published tables: 0.5 %, J and Iw 3 %, plus half a unit of
// the last printed digit. The sources stand in the file's own columns.
func TestPublishedProperties(t *testing.T) {
	f, err := os.Open("testdata/properties-check.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	cols := []struct {
		name string
		unit float64 // SI value of the file's unit
		tol  float64
		get  func(p Properties, fam Family) float64
	}{
		{"mass", 1, 0.005, func(p Properties, _ Family) float64 { return p.Mass }},
		{"Ag", 1e-6, 0.005, func(p Properties, _ Family) float64 { return p.A }},
		{"Ix", 1e-6, 0.005, func(p Properties, _ Family) float64 { return p.Ix }},
		{"Iy", 1e-6, 0.005, func(p Properties, _ Family) float64 { return p.Iy }},
		{"Zx", 1e-6, 0.005, func(p Properties, _ Family) float64 { return p.Zx }},
		{"Zy", 1e-6, 0.005, func(p Properties, _ Family) float64 { return p.Zy }},
		{"Sx", 1e-6, 0.005, func(p Properties, _ Family) float64 { return p.Sx }},
		{"Sy", 1e-6, 0.005, func(p Properties, _ Family) float64 { return p.Sy }},
		{"J", 1e-9, 0.03, func(p Properties, _ Family) float64 { return p.J }},
		{"Iw", 1e-9, 0.03, func(p Properties, _ Family) float64 { return p.Iw }},
		{"C", 1e-6, 0.005, func(p Properties, _ Family) float64 { return p.Ct }},
		{"Imax", 1e-6, 0.005, func(p Properties, _ Family) float64 { return p.Imax }},
		{"Imin", 1e-6, 0.005, func(p Properties, _ Family) float64 { return p.Imin }},
	}
	at := map[string]int{}
	for i, h := range rows[0] {
		at[h] = i
	}
	for _, c := range cols {
		n, worst, who := 0, 0.0, ""
		for _, row := range rows[1:] {
			text := row[at[c.name]]
			if text == "" {
				continue
			}
			want, err := strconv.ParseFloat(text, 64)
			if err != nil {
				t.Fatalf("%s %s: %v", row[0], c.name, err)
			}
			s, err := Find(row[0])
			if err != nil {
				t.Error(err)
				continue
			}
			n++
			got := c.get(s.Props, s.Family) / c.unit
			if c.name == "Iw" {
				got = s.Props.Iw / 1e-9 // file: 10^9 mm6 = 1e-9 m6
			}
			diff := (got - want) / want
			if math.Abs(diff) > math.Abs(worst) {
				worst, who = diff, s.Name
			}
			if math.Abs(got-want) > c.tol*want+half(text) {
				t.Errorf("%s %s: got %.5g, published %s (%+.2f %%)", s.Name, c.name, got, text, 100*diff)
			}
		}
		if n == 0 {
			t.Errorf("%s: no row", c.name)
		}
		t.Logf("%-5s %2d rows, largest difference %+.2f %% (%s)", c.name, n, 100*worst, who)
	}
}
