package charts

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// groupedFront is a front whose designs have masses by group.
func groupedFront(groups int) map[string]float64 {
	out := map[string]float64{}
	names := []string{"rafter", "column", "purlin", "girt", "mullion", "mezzanine beam", "joist", "prop", "post", "eaves strut", "roof rod", "wall rod", "base plates", "connections, allowance"}
	for i := range groups {
		out[names[i%len(names)]+strings.Repeat("'", i/len(names))] = 2600 / float64(i+1)
	}
	return out
}

// TestCompare looks for every group, design, total and figure in the drawing.
func TestCompare(t *testing.T) {
	f := madeFront(12, 3)
	f.Braced.MassByGroup = groupedFront(14)
	for i := range f.Variants {
		f.Variants[i].MassByGroup = groupedFront(14 - i%3)
	}
	c := CompareFront(f)
	if len(c.Designs) != 4 {
		t.Fatalf("%d designs, want the braced proposal and three points", len(c.Designs))
	}
	var b bytes.Buffer
	if err := c.Draw(&b, "svg"); err != nil {
		t.Fatal(err)
	}
	text := svgText(t, b.Bytes())
	for _, want := range []string{"rafter", "connections, allowance", "braced proposal 10 150 kg", "lightest", "knee", "5 % reserve", "2 600", "1 300", "mass, kg", "licensed structural engineer"} {
		if !strings.Contains(text, want) {
			t.Errorf("the drawing lacks %q", want)
		}
	}
	if keep := os.Getenv("LEANBAY_PICTURES"); keep != "" {
		if err := WriteCompare(f, keep); err != nil {
			t.Fatal(err)
		}
		f.Braced.MassByGroup = groupedFront(25)
		if err := os.MkdirAll(filepath.Join(keep, "tall"), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := WriteCompare(f, filepath.Join(keep, "tall")); err != nil {
			t.Fatal(err)
		}
	}
}

// TestCompareOrder: groups come by their greatest mass in any design, equal ones by name; empty ones are left out.
func TestCompareOrder(t *testing.T) {
	c := Comparison{Designs: []ComparedDesign{
		{Groups: map[string]float64{"a": 1, "b": 5, "none": 0}}, {Groups: map[string]float64{"a": 7, "d": 5}},
	}}
	if got := fmt.Sprint(c.groups()); got != "[a b d]" {
		t.Errorf("groups %s, want [a b d]", got)
	}
}

// TestCompareRefuses: no design, and more than can be told apart.
func TestCompareRefuses(t *testing.T) {
	if _, err := (Comparison{}).Plot(); err == nil {
		t.Error("no design was accepted")
	}
	if _, err := (Comparison{Designs: make([]ComparedDesign, maxCompared+1)}).Plot(); err == nil {
		t.Error("too many designs were accepted")
	}
}

// TestComparePointsOnOneVariant: a front of one variant shows it once, under all its names.
func TestComparePointsOnOneVariant(t *testing.T) {
	c := CompareFront(madeFronts()["one"])
	if len(c.Designs) != 2 || c.Designs[1].Name != "lightest, knee, 5 % reserve" {
		t.Errorf("designs %+v", c.Designs)
	}
}
