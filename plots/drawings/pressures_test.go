package drawings

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/actions"
	"leanbay/solver"
)

func sheet() PressureSheet {
	b := &actions.Building{FrameLines: []float64{0, 6, 12}, Span: 10, EavesSouth: 4, EavesNorth: 4, Ridge: 5, RidgeY: 5, Shape: actions.Gable,
		OpenFaces: []actions.Face{actions.NorthWall}, Openings: []actions.Opening{{Name: "door", Face: actions.SouthWall, U0: 1, U1: 4, V1: 3}}}
	c := &actions.Case{ID: "Wu south <a> & b", Title: "wind from the south", Direction: r3.Vec{Y: 1}, Patches: []actions.Patch{
		{Face: actions.SouthWall, U1: 12, V1: 4, Pressure: 700},
		{Face: actions.WestGable, U1: 10, V1: 5, Pressure: -650},
		{Face: actions.SouthRoof, U1: 12, V1: 5, Pressure: -900},
	}}
	return PressureSheet{Title: "shed", Building: b, BearingX: 60 * math.Pi / 180, Cases: []*actions.Case{c, c}}
}

// TestPressuresIsWellFormed reads the drawing as XML and looks for its figures, names and the caution.
func TestPressuresIsWellFormed(t *testing.T) {
	var out strings.Builder
	if err := Pressures(&out, sheet()); err != nil {
		t.Fatal(err)
	}
	dec := xml.NewDecoder(strings.NewReader(out.String()))
	var text []string
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if c, ok := tok.(xml.CharData); ok {
			text = append(text, string(c))
		}
	}
	all := strings.Join(text, " ")
	for _, want := range []string{"+0.70", "-0.65", "-0.90", "south wall", "north wall, open", "wind", "kPa", "Wu south <a> & b", strings.Fields(solver.Caution)[0]} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not on the sheet", want)
		}
	}
	if strings.Contains(out.String(), "NaN") {
		t.Error("a coordinate is no number")
	}
}

func TestNothingToDraw(t *testing.T) {
	s := sheet()
	s.Cases = nil
	if err := Pressures(io.Discard, s); err == nil {
		t.Error("no error")
	}
}

// TestDiverging: the middle is grey, the ends are blue and orange, and equal steps are equally far apart in OKLab, where
// the scale is a straight line each way; the published conversion of mid grey, L = 0.5999 for #808080, anchors it.
func TestDiverging(t *testing.T) {
	var r, g, b uint8
	if _, err := parse(Diverging(0), &r, &g, &b); err != nil || r != g || g != b {
		t.Errorf("the middle is %s, want a grey", Diverging(0))
	}
	if r, g, b := (lab{0.5999, 0, 0}).rgb(); r != 0x80 || g != 0x80 || b != 0x80 {
		t.Errorf("mid grey is %02x%02x%02x", r, g, b)
	}
	if Diverging(-3) != Diverging(-1) || Diverging(3) != Diverging(1) {
		t.Error("the ends do not hold")
	}
	parse(Diverging(-1), &r, &g, &b)
	if !(b > r && b > g) {
		t.Errorf("suction is %s, want blue", Diverging(-1))
	}
	parse(Diverging(1), &r, &g, &b)
	if !(r > g && g > b) {
		t.Errorf("pressure is %s, want orange", Diverging(1))
	}
}

func parse(s string, c ...*uint8) (int, error) {
	hex := func(x byte) uint8 {
		if x >= 'a' {
			return x - 'a' + 10
		}
		return x - '0'
	}
	if len(s) != 7 || s[0] != '#' {
		return 0, errors.New("not a colour: " + s)
	}
	for i := range c {
		*c[i] = 16*hex(s[1+2*i]) + hex(s[2+2*i])
	}
	return len(c), nil
}
