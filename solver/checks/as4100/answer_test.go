package as4100_test

import (
	"encoding/json"
	"io"
	"math"
	"testing"

	"leanbay/catalog"
	"leanbay/solver/checks"
	"leanbay/solver/checks/as4100"
)

// FuzzAsk: any section name, grade and figures end in an answer that JSON can hold, equal with and without the working,
// or in an error.
func FuzzAsk(f *testing.F) {
	f.Add("200x100x5.0RHS", "C350L0", 4.0, 2.0, 2.0, 1.0, 80e3, 15e3, 2e3)
	f.Add("310UB40.4", "300", 6.0, 3.0, 3.0, 1.13, -80e3, 95e3, 0.0)
	f.Add("380PFC55.2", "", 6.0, 1.0, 0.0, 2.5, 1e3, 0.0, -5e3)
	f.Add("100x100x8EA", "300", 1.5, 1.5, 0.0, 1.0, 50e3, 1e3, 0.0)
	f.Add("R20", "300", 0.0, 0.0, 0.0, 1.0, -10e3, 0.0, 0.0)
	f.Add("168.3x4.8CHS", "C350", 1e-9, 1e9, 1e-300, 3.5, 1e300, -1e300, 1e-300)
	f.Add("C20019", "G450", 1.0, 1.0, 1.0, 1.0, 0.0, 0.0, 0.0)
	f.Add("no such", "x", math.NaN(), math.Inf(1), -1.0, 0.0, math.NaN(), 0.0, 0.0)
	f.Fuzz(func(t *testing.T, name, grade string, lx, ly, l, am, n, mx, my float64) {
		sec, err := catalog.Find(name)
		if err != nil {
			return
		}
		g, err := sec.Grade(grade)
		if err != nil {
			return
		}
		q := as4100.Query{LengthX: lx, LengthY: ly, Length: l, AlphaM: am, Actions: as4100.Actions{N: n, Mx: mx, My: my}, Combined: true}
		quiet, err := code.Ask(sec, g, q, nil)
		if err != nil {
			return
		}
		w := &checks.Working{}
		loud, err := code.Ask(sec, g, q, w)
		if err != nil {
			t.Fatalf("with a recorder: %v", err)
		}
		a, err := json.Marshal(quiet)
		if err != nil {
			t.Fatal(err)
		}
		// What else can be asked, from the same figures.
		beta := math.Remainder(mx, 1)
		q.Kt, q.NetArea, q.Shear, q.EndM, q.Bearing = math.Abs(math.Remainder(my, 1)), sec.Props.A*math.Abs(math.Remainder(n, 1)), mx, &beta, as4100.BearingLoad{Length: math.Abs(l), EndDistance: math.Abs(lx), OneFlange: my > 0, OnWidth: mx > 0}
		if more, err := code.Ask(sec, g, q, nil); err == nil {
			if _, err := json.Marshal(more); err != nil {
				t.Fatal(err)
			}
		}
		b, _ := json.Marshal(loud)
		if string(a) != string(b) {
			t.Fatalf("without recorder %s\nwith %s", a, b)
		}
		if err := w.WriteText(io.Discard); err != nil {
			t.Fatal(err)
		}
	})
}

// TestAskTension is the check file's case of 310UB40.4 under 80 kN of tension and 95 kN·m (independent computation):
// phiMrx 182.2, phiMox 133.9 kN·m; radially, u = Mx*/(phi Mbx) - N*/(phi Nt) by the straight line of 8.4.4.2.
func TestAskTension(t *testing.T) {
	sec, err := catalog.Find("310UB40.4")
	if err != nil {
		t.Fatal(err)
	}
	a, err := code.Ask(sec, sec.Grades[0], as4100.Query{LengthX: 6, LengthY: 3, Length: 3, AlphaM: 1, Actions: as4100.Actions{N: -80e3, Mx: 95e3}, Combined: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "phiMrx", *a.Combined.PhiMrx, 182.2, 0.001, "check file")
	near(t, "phiMox", *a.Combined.PhiMox, 133.9, 0.001, "check file")
	for _, u := range a.Combined.Utilisations {
		if u.Clause == "8.4.4.2" {
			near(t, "8.4.4.2", *u.Radial, 95 / *a.PhiMbx - 80 / *a.PhiNt, 1e-4, "by hand")
			near(t, "8.4.4.2, the code's sum", *u.Value, 95/133.9, 0.001, "by hand")
		}
	}
	if a.Combined.PhiMix != nil {
		t.Error("phiMix is for compression; in tension it is absent")
	}
}

// code is the code's own rules.
var code *as4100.Rules
