package asnzs4600

import (
	"math"

	"leanbay/catalog"
	"leanbay/solver/strip"
)

// Signature is one signature curve of a section with its minima, for showing.
type Signature struct {
	Name     string // "bending about x, wide flange in compression"
	Key      string // "bending_x_wide"
	Curve    *strip.Curve
	Minima   []strip.Minimum
	Critical strip.Critical
	Per      float64 // load per stress: area (m²) or section modulus (m³), so that stress × Per is N or N·m
	Moment   bool
}

// shown names what is compressed, by family and loading.
var shown = map[catalog.Family][]struct {
	loading   strip.Loading
	name, key string
}{
	catalog.C: {
		{strip.Compression, "compression", "compression"},
		{strip.BendTop, "bending about x", "bending_x"},
		{strip.BendRight, "bending about y, lips in compression", "bending_y_lips"},
		{strip.BendLeft, "bending about y, web in compression", "bending_y_web"},
	},
	catalog.Z: {
		{strip.Compression, "compression", "compression"},
		{strip.BendTop, "bending about x, wide flange in compression", "bending_x"},
		{strip.BendBottom, "bending about x, narrow flange in compression", "bending_x_narrow"},
		{strip.BendRight, "bending about y, wide flange's lip in compression", "bending_y_wide"},
		{strip.BendLeft, "bending about y, narrow flange's lip in compression", "bending_y_narrow"},
	},
}

// curvePoints are the points of a shown curve: a ratio of about 1.08 apart, smooth to the eye.
const curvePoints = 80

// Signatures computes the signature curves of a lipped channel or zed up to the half-wavelength longest (m), or as far as
// local and distortional buckling reach if that is longer.
func Signatures(s *catalog.Section, longest float64) ([]Signature, error) {
	sec, err := Strips(s)
	if err != nil {
		return nil, err
	}
	l := sec.Line()
	from, to := sec.Span()
	var out []Signature
	for _, k := range shown[s.Family] {
		sig := Signature{Name: k.name, Key: k.key, Per: l.A, Moment: k.loading != strip.Compression}
		switch k.loading {
		case strip.BendTop, strip.BendBottom:
			sig.Per = l.Ix / l.FarY
		case strip.BendRight, strip.BendLeft:
			sig.Per = l.Iy / l.FarX
		}
		sig.Curve = sec.Signature(sec.Stress(k.loading), strip.Lengths(from, math.Max(to, longest), curvePoints))
		sig.Minima = sig.Curve.Minima()
		if sig.Critical, err = sec.Critical(k.loading); err != nil {
			return nil, err
		}
		out = append(out, sig)
	}
	return out, nil
}
