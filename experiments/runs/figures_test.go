package runs

import "testing"

// TestBest: least cost wins, or greatest reserve; of equal ones the lighter; what does not comply never.
func TestBest(t *testing.T) {
	v := func(key string, kg, cost, reserve float64, complies bool) Variant {
		return Variant{Key: key, Scores: Scores{Mass: kg, Complies: complies, Objectives: map[string]float64{"cost": cost, "wind reserve": reserve}}}
	}
	f := &Front{Variants: []Variant{v("stone", 900, 90, 1.5, false), v("a", 1100, 100, 1.1, true), v("b", 1000, 100, 1.0, true), v("c", 1200, 130, 1.2, true)}}
	if got := f.Best(Figure{Name: "cost"}).Key; got != "b" {
		t.Errorf("best cost %s, want b", got)
	}
	if got := f.Best(Figure{Name: "wind reserve", Greater: true}).Key; got != "c" {
		t.Errorf("best reserve %s, want c", got)
	}
	if (&Front{Variants: f.Variants[:1]}).Best(Figure{Name: "cost"}) != nil {
		t.Error("a variant that does not comply is the best")
	}
}

// TestFigureText: units, decimals and the star of example prices; what is not stable has no figure.
func TestFigureText(t *testing.T) {
	s := &Scores{Objectives: map[string]float64{"cost": 23455.6, "wind reserve": 1.046875}}
	for _, c := range []struct {
		fig       Figure
		head, say string
	}{
		{Figure{Name: "cost", Unit: "AUD", Example: true}, "cost AUD*", "cost 23456 AUD*"},
		{Figure{Name: "cost", Unit: "AUD"}, "cost AUD", "cost 23456 AUD"},
		{Figure{Name: "wind reserve", Unit: "-", Decimals: 2}, "wind reserve", "wind reserve 1.05"},
		{Figure{Name: "sway", Unit: "-", Decimals: 3}, "sway", "sway -"},
	} {
		if c.fig.Head() != c.head || c.fig.Say(s) != c.say {
			t.Errorf("%q, %q; want %q, %q", c.fig.Head(), c.fig.Say(s), c.head, c.say)
		}
	}
}
