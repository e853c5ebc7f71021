package catalog

import (
	"errors"
	"strings"
	"testing"
)

const yamlList = `name: test
currency: AUD
per_kg: {RHS: 3, other: 2}
grades: {RHS: {c450l0: 4}}
sections:
  200 x 100 x 5 RHS: 5
cut: 6
connections: {Knee: 7, other: 8}
base: 9
`

const csvList = `item,of,grade,value
name,,,test
currency,,,AUD
per_kg,RHS,,3
per_kg,other,,2
per_kg,rhs,C450L0,4
per_kg,200x100x5RHS,,5
cut,,,6
connection,knee,,7
connection,other,,8
base,,,9
`

// TestPrices: the same list in both forms gives the prices as written in it, the narrower rule first.
func TestPrices(t *testing.T) {
	for file, text := range map[string]string{"p.yaml": yamlList, "p.csv": csvList} {
		p, err := ReadPrices(strings.NewReader(text), file, Default())
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range []struct {
			section, grade string
			want           float64
		}{
			{"200x100x5RHS", "C350L0", 5}, {"200x100x5RHS", "C450L0", 5},
			{"200x100x6RHS", "C450L0", 4}, {"200x100x6RHS", "C350L0", 3}, {"380PFC", "300", 2},
		} {
			s, err := Find(c.section)
			if err != nil {
				t.Fatal(err)
			}
			g, err := s.Grade(c.grade)
			if err != nil {
				t.Fatal(err)
			}
			if got := p.Rate(s, g); got != c.want {
				t.Errorf("%s: %s %s: %g per kg, want %g", file, c.section, c.grade, got, c.want)
			}
		}
		if p.Cut() != 6 || p.Connection("KNEE") != 7 || p.Connection("cleat") != 8 || p.Base() != 9 || p.Currency != "AUD" || p.Mark != UserGiven {
			t.Errorf("%s: cut %g, knee %g, cleat %g, base %g, %s, %s", file, p.Cut(), p.Connection("KNEE"), p.Connection("cleat"), p.Base(), p.Currency, p.Mark)
		}
	}
}

func TestPriceMistakes(t *testing.T) {
	for _, c := range []struct{ file, text, want string }{
		{"p.yaml", "currency: AUD\nper_kg: {other: 1}\nconnections: {other: x}\n", `p.yaml:3:22: connection other: "x" is no price`},
		{"p.yaml", "per_kg: {other: 1}\nconnections: {other: 1}\n", "p.yaml:1:1: currency is missing"},
		{"p.yaml", "currency: AUD\nper_kg: {RSH: 1}\n", `p.yaml:2:15: per_kg of "RSH"`},
		{"p.yaml", "currency: AUD\nper_kg: {RHS: 1}\nconnections: {other: 1}\n", "per_kg of SHS is missing"},
		{"p.yaml", "colour: red\n", `p.yaml:1:1: unknown entry "colour"`},
		{"p.yaml", "currency: [\n", "p.yaml:1:1: did not find"},
		{"p.yaml", "", "p.yaml:1:1: the list is empty"},
		{"p.yaml", "- 1\n", "must be a mapping"},
		{"p.yaml", "grades: {RHS: {S355: 1}}\n", `no RHS has grade "S355"`},
		{"p.csv", "item,of,grade,value\nper_kg,RHS,,-1\n", `p.csv:2:13: per_kg RHS: "-1" is no price`},
		{"p.csv", "item,value\nprice,1\n", `p.csv:2:1: unknown item "price"`},
		{"p.csv", "item,value\ncut,1\ncut,2\n", "p.csv:3:5: the price of cut is given twice"},
		{"p.txt", "", "a price list is a .yaml"},
	} {
		_, err := ReadPrices(strings.NewReader(c.text), c.file, Default())
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v; want %q in it", c.text, err, c.want)
		}
	}
}

func TestExamplePricesAreMarked(t *testing.T) {
	p := ExamplePrices()
	if p.Mark != Doubtful || !strings.Contains(p.Name, "replace by yours") {
		t.Errorf("example prices: mark %s, name %q", p.Mark, p.Name)
	}
	for _, s := range All() {
		for _, g := range s.Grades {
			if p.Rate(s, g) <= 0 {
				t.Errorf("%s %s: no price", s.Name, g.Name)
			}
		}
	}
}

func FuzzReadPrices(f *testing.F) {
	f.Add(yamlList, true)
	f.Add(csvList, false)
	f.Add("a: &a [*a]", true)
	f.Add("? {a: b}\n: c", true)
	f.Add("item,value\n\"", false)
	f.Fuzz(func(t *testing.T, text string, yaml bool) {
		name := "p.csv"
		if yaml {
			name = "p.yaml"
		}
		p, err := ReadPrices(strings.NewReader(text), name, Default())
		var e InputErrors
		if (p == nil) == (err == nil) || (err != nil && !errors.As(err, &e)) {
			t.Fatalf("%v, %v: want a list or InputErrors", p, err)
		}
	})
}
