package charts

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image/png"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/plot/plotter"

	"leanbay/experiments/runs"
	"leanbay/solver"
)

// scores is a design's figures for the charts.
func scores(mass, u float64, complies bool, verdict string) runs.Scores {
	return runs.Scores{Mass: mass, Utilisation: u, Complies: complies, Verdict: verdict, Stable: u > 0}
}

// madeFront is a front of n complying variants and m stepping stones along a made-up curve.
func madeFront(n, m int) *runs.Front {
	rng := rand.New(rand.NewPCG(1, 2))
	f := &runs.Front{Brief: "made-up shed", BriefHash: "0123456789abcdef0123", Seed: 7, Evaluations: 12345, Generations: 60, Stopped: "stagnation",
		Actions: "AS/NZS 1170 series", Proposal: scores(9800, 0, false, "a mechanism"), Points: map[string]string{}, Caution: solver.Caution}
	braced := scores(10150, 1.72, false, "too weak")
	f.Braced = &braced
	add := func(u float64, complies bool) {
		mass := 8200 + 900*math.Pow((1.25-u)/0.45, 2)*2 + 40*rng.Float64()
		f.Variants = append(f.Variants, runs.Variant{Key: fmt.Sprint("v", len(f.Variants)), Scores: scores(mass, u, complies, "")})
	}
	for i := range n {
		add(1.0-0.2*float64(i)/float64(max(1, n-1))-0.002, true)
	}
	for i := range m {
		add(1.02+0.22*float64(i)/float64(max(1, m-1)), false)
	}
	if n > 0 {
		f.Points = map[string]string{"lightest": "v0", "reserve_5": fmt.Sprint("v", n/4), "knee": fmt.Sprint("v", n/2)}
	}
	return f
}

// madeFronts are the fronts that the drawing has to cope with.
func madeFronts() map[string]*runs.Front {
	off := madeFront(12, 6)
	off.Braced = nil
	off.Proposal = scores(12050, 0.91, true, "complies")
	one := madeFront(1, 0)
	one.Points["knee"], one.Points["reserve_5"] = "v0", "v0"
	// An unstable proposal whose purlins alone were checked, and one that complies in strength but lacks a link.
	partly := madeFront(12, 6)
	partly.Proposal = scores(9300, 0.926, false, "not stable under some combinations")
	partly.Proposal.Stable = false
	link := scores(9900, 0.91, false, "a link of the load path is missing")
	partly.Braced = &link
	return map[string]*runs.Front{"partly": partly, "few": madeFront(4, 3), "many": madeFront(120, 60), "none": madeFront(0, 8), "one": one, "complying proposal": off,
		"empty": {Brief: "empty"}}
}

// TestFrontShowsEverything holds the axes to the data: every mass, every utilisation up to the scale's end.
func TestFrontShowsEverything(t *testing.T) {
	for name, f := range madeFronts() {
		p, err := Front(f)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if p.Y.Min >= 0.95 || p.Y.Max <= 1 || !(p.X.Min < p.X.Max) {
			t.Errorf("%s: axes %g..%g, %g..%g hide the limit or are empty", name, p.X.Min, p.X.Max, p.Y.Min, p.Y.Max)
		}
		for _, v := range f.Variants {
			if v.Mass < p.X.Min || v.Mass > p.X.Max || v.Utilisation < p.Y.Min || v.Utilisation > p.Y.Max {
				t.Errorf("%s: variant at %.0f kg, %.3f is outside the axes", name, v.Mass, v.Utilisation)
			}
		}
		if m := f.Proposal.Mass; m > 0 && (m < p.X.Min || m > p.X.Max) {
			t.Errorf("%s: proposal at %.0f kg is outside the axis", name, m)
		}
	}
}

// TestFrontText looks for every label and line of print in the drawing.
func TestFrontText(t *testing.T) {
	var b bytes.Buffer
	if err := DrawFront(&b, madeFront(12, 6), "svg"); err != nil {
		t.Fatal(err)
	}
	text := svgText(t, b.Bytes())
	for _, want := range []string{"lightest: ", "knee: ", "5 % reserve: ", "as drawn: 9 800 kg, a mechanism", "as drawn, braced: 10 150 kg, 1.720", "Seed 7, 12345 variants",
		"lighter than the braced proposal, 10 150 kg", "licensed structural engineer", "steel mass, kg", "governing utilisation", "made-up shed"} {
		if !strings.Contains(text, want) {
			t.Errorf("the drawing lacks %q", want)
		}
	}
}

// TestPartlyChecked: what was checked of an unstable design is no utilisation, and a missing link is said beside it.
func TestPartlyChecked(t *testing.T) {
	var b bytes.Buffer
	if err := DrawFront(&b, madeFronts()["partly"], "svg"); err != nil {
		t.Fatal(err)
	}
	text := svgText(t, b.Bytes())
	for _, want := range []string{"as drawn: 9 300 kg, not stable under some combinations", "9 900 kg, 0.910, does not comply: a link of the load path is missing"} {
		if !strings.Contains(text, want) {
			t.Errorf("the drawing lacks %q", want)
		}
	}
	if strings.Contains(text, "0.926") {
		t.Error("an unstable design is given a utilisation")
	}
}

// svgText joins the character data of an SVG file, checking that it is well formed.
func svgText(t *testing.T, data []byte) string {
	t.Helper()
	var out strings.Builder
	for d := xml.NewDecoder(bytes.NewReader(data)); ; {
		tok, err := d.Token()
		if err == io.EOF {
			return out.String()
		}
		if err != nil {
			t.Fatal(err)
		}
		if c, ok := tok.(xml.CharData); ok {
			out.Write(c)
		}
	}
}

// TestSaving checks the sentence by hand: 10150 - 8200 = 1950 kg, 1950/10150 = 19.2 %.
func TestSaving(t *testing.T) {
	f := &runs.Front{Proposal: scores(9800, 0, false, "a mechanism"), Variants: []runs.Variant{{Key: "a", Scores: scores(8200, 1, true, "complies")}}, Points: map[string]string{"lightest": "a"}}
	if got := Saving(f); !strings.Contains(got, "1 600 kg (16.3 %) lighter than the proposal, 9 800 kg, which does not comply (a mechanism)") {
		t.Errorf("against a mechanism: %s", got)
	}
	braced := scores(10150, 0.93, true, "complies")
	f.Braced = &braced
	if got := Saving(f); got != "Lightest complying variant 8 200 kg: 1 950 kg (19.2 %) lighter than the braced proposal, 10 150 kg." {
		t.Errorf("against the braced proposal: %s", got)
	}
	braced.Mass = 8000
	if got := Saving(f); !strings.Contains(got, "200 kg (2.5 %) heavier than the braced proposal") {
		t.Errorf("a heavier variant: %s", got)
	}
	if got := Saving(&runs.Front{}); got != "No complying variant was found." {
		t.Errorf("an empty front: %s", got)
	}
}

// TestStair: of (1, 3), (2, 3), (3, 1), (2, 2) the second is beaten by the first; the rest form a stair.
func TestStair(t *testing.T) {
	got := stairOf(plotter.XYs{{X: 1, Y: 3}, {X: 2, Y: 3}, {X: 3, Y: 1}, {X: 2, Y: 2}})
	want := plotter.XYs{{X: 1, Y: 3}, {X: 2, Y: 3}, {X: 2, Y: 2}, {X: 3, Y: 2}, {X: 3, Y: 1}}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("stair %v, want %v", got, want)
	}
}

// TestWriteFront writes both files, of the stated size in pixels. LEANBAY_PICTURES keeps them in a folder to look at.
func TestWriteFront(t *testing.T) {
	for name, f := range madeFronts() {
		if os.Getenv("LEANBAY_PICTURES") == "" && name != "many" && name != "empty" {
			continue // one full and one empty picture do; all of them are to be looked at
		}
		dir := t.TempDir()
		if keep := os.Getenv("LEANBAY_PICTURES"); keep != "" {
			dir = filepath.Join(keep, strings.ReplaceAll(name, " ", "-"))
			if err := os.MkdirAll(dir, 0o777); err != nil {
				t.Fatal(err)
			}
		}
		if err := WriteFront(f, dir); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		file, err := os.Open(filepath.Join(dir, "front.png"))
		if err != nil {
			t.Fatal(err)
		}
		c, err := png.DecodeConfig(file)
		file.Close()
		if err != nil || c.Width != 1200 || c.Height != 800 {
			t.Errorf("%s: front.png is %dx%d (%v), want 1200x800", name, c.Width, c.Height, err)
		}
		data, err := os.ReadFile(filepath.Join(dir, "front.svg"))
		if err != nil {
			t.Fatal(err)
		}
		svgText(t, data)
	}
}
