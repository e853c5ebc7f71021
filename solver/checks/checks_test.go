package checks_test

import (
	"math"
	"os"
	"testing"

	"leanbay/solver/checks"
)

// A nil Working records nothing, so that the same function serves search and report; a recorder prints what a checker
// follows by hand.
func ExampleWorking_WriteText() {
	capacity := func(w *checks.Working) float64 {
		v := 0.9 * 0.6 * 320 * 1854.4 / 1e3
		w.Heading("Shear")
		w.Add(checks.Step{Clause: "AS 4100 5.11.4", Symbol: "phi Vw", Formula: "phi 0.6 fyw Aw", Numbers: "0.9 x 0.6 x 320 x 1854.4", Value: v, Unit: "kN", Mark: checks.MarkVerified})
		return v
	}
	capacity(nil)
	w := &checks.Working{}
	capacity(w)
	_ = w.WriteText(os.Stdout)
	// Output:
	// Shear
	//   AS 4100 5.11.4           phi Vw = phi 0.6 fyw Aw = 0.9 x 0.6 x 320 x 1854.4 = 320.4 kN  [verified]
}

// TestFigure: four significant digits, whole numbers as they are.
func TestFigure(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 1: "1.000", 0.98765: "0.9877", 123.456: "123.5", 98765.4: "98765", 12345678: "1.235e+07", -2.5: "-2.500", math.Inf(1): "+Inf"} {
		if got := checks.Figure(v); got != want {
			t.Errorf("Figure(%g) = %q, want %q", v, got, want)
		}
	}
}

// TestDeflection is a plain ratio; a limit that is not positive is the caller's mistake.
func TestDeflection(t *testing.T) {
	if u := checks.Deflection(0.020, -0.015); math.Abs(u-0.75) > 1e-15 {
		t.Errorf("ratio %g, 15 mm over 20 mm is 0.75", u)
	}
	defer func() {
		if recover() == nil {
			t.Error("a limit of 0 must panic")
		}
	}()
	checks.Deflection(0, 1)
}

// TestUnits at the border.
func TestUnits(t *testing.T) {
	for _, c := range []struct{ got, want float64 }{
		{checks.KN(1500), 1.5}, {checks.KNm(2500), 2.5}, {checks.MPa(350e6), 350}, {checks.MM(0.2), 200}, {checks.MM2(1e-6), 1}, {checks.MM3(1e-9), 1}, {checks.MM4(1e-12), 1}, {checks.MM6(1e-18), 1},
	} {
		if math.Abs(c.got-c.want) > 1e-12 {
			t.Errorf("got %g, want %g", c.got, c.want)
		}
	}
	if checks.Defined(math.NaN()) || !checks.Defined(0) {
		t.Error("NaN marks an undefined quantity, zero does not")
	}
}
