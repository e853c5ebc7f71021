package charts

import (
	"bytes"
	"image/png"
	"math"
	"strings"
	"testing"

	"leanbay/solver"
)

// toy is a made-up chart: two curves, one of which leaves the axis at the top.
func toy() SignatureChart {
	var x, low, high []float64
	for i := range 40 {
		v := 20 * math.Pow(1.15, float64(i))
		x = append(x, v)
		low = append(low, 100*(1+math.Pow(math.Log(v/120), 2)))
		high = append(high, 300*math.Exp(math.Pow(math.Log(v/150), 2)))
	}
	return SignatureChart{Title: "toy", Yield: 450, Lines: []SignatureLine{
		{Name: "compression", X: x, Y: low, Markers: []SignatureMarker{{X: 120, Y: 100, Kind: "local"}}},
		{Name: "bending", X: x, Y: high, Markers: []SignatureMarker{{X: 150, Y: 300, Kind: "distortional"}}},
	}}
}

func TestWriteSignature(t *testing.T) {
	var a, b bytes.Buffer
	if err := WriteSignature(&a, toy(), "svg"); err != nil {
		t.Fatal(err)
	}
	if err := WriteSignature(&b, toy(), "svg"); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("the same chart drawn twice differs")
	}
	text := a.String()
	for _, want := range []string{"<svg", "compression: local 100 MPa at 120 mm", "bending: distortional 300 MPa at 150 mm", "yield, 450 MPa", "half-wavelength, mm", solver.Caution[:60]} {
		if !strings.Contains(text, want) {
			t.Errorf("the picture lacks %q", want)
		}
	}
	var p bytes.Buffer
	if err := WriteSignature(&p, toy(), "png"); err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(&p)
	if err != nil || img.Bounds().Dx() < 600 {
		t.Errorf("PNG: %v, %v", err, img.Bounds())
	}
	if err := WriteSignature(&p, toy(), "bmp"); err == nil || !strings.Contains(err.Error(), "svg or png") {
		t.Errorf("bmp: %v", err)
	}
	if err := WriteSignature(&p, SignatureChart{Title: "none"}, "svg"); err == nil {
		t.Error("a chart without lines was drawn")
	}
}

// TestBelow: a curve above the axis is cut, not bridged.
func TestBelow(t *testing.T) {
	l := SignatureLine{X: []float64{1, 2, 3, 4, 5}, Y: []float64{10, 99, 10, math.Inf(1), 10}}
	if runs := l.below(50); len(runs) != 3 || len(runs[0]) != 1 {
		t.Errorf("runs %v, want three of one point", runs)
	}
}
