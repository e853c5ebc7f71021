package as4100

import (
	"fmt"
	"math"

	"leanbay/solver"
	"leanbay/solver/checks"
)

// BoltQuery asks for one bolt's capacities; a ply of Thickness 0 is left out.
type BoltQuery struct {
	Diameter float64 // m
	Category string  // "8.8/S": the property class, and after the stroke the tightening
	Ply      float64 // m, thickness
	PlyFu    float64 // Pa
	Edge     float64 // m, ae of 9.2.2.4; 0: far from any edge
}

// BoltAnswer is the neutral form of a bolt's capacities: mm², MPa, kN, phi included.
type BoltAnswer struct {
	Bolt     string   `json:"bolt"`
	Category string   `json:"category"`
	Fuf      float64  `json:"fuf"`
	As       float64  `json:"As"`
	Ac       float64  `json:"Ac"`
	Ao       float64  `json:"Ao"`
	PhiNtf   *float64 `json:"phiNtf"`
	PhiVfn   *float64 `json:"phiVfn"` // one shear plane through the thread
	PhiVfx   *float64 `json:"phiVfx"` // one through the shank
	PhiVb    *float64 `json:"phiVb,omitempty"`
	Caution  string   `json:"caution"`
}

// AskBolt works out one bolt.
func (r *Rules) AskBolt(q BoltQuery, w *checks.Working) (BoltAnswer, error) {
	class := q.Category
	for i, letter := range class {
		if letter == '/' {
			class = class[:i]
			break
		}
	}
	b, err := r.NewBolt(q.Diameter, class)
	if err != nil {
		return BoltAnswer{}, err
	}
	if !(q.Ply >= 0) || !(q.PlyFu >= 0) || !(q.Edge >= 0) || math.IsInf(q.Ply+q.PlyFu+q.Edge, 0) {
		return BoltAnswer{}, fmt.Errorf("a ply needs a thickness, a tensile strength and an edge distance that are not negative")
	}
	w.Heading("One bolt, 9.2.2")
	a := BoltAnswer{Bolt: fmt.Sprintf("M%g", q.Diameter*1e3), Category: q.Category, Fuf: checks.MPa(b.Fuf), As: checks.SixFigures(checks.MM2(b.As)), Ac: checks.SixFigures(checks.MM2(b.Ac)), Ao: checks.SixFigures(checks.MM2(b.Ao)),
		PhiNtf: checks.Present(b.phi * b.Tension(w) / 1e3), PhiVfn: checks.Present(b.phi * b.Shear(1, 0, 0, w) / 1e3), PhiVfx: checks.Present(b.phi * b.Shear(0, 1, 0, w) / 1e3), Caution: solver.Caution}
	if q.Ply > 0 {
		if q.PlyFu == 0 {
			return a, fmt.Errorf("a ply of %g mm needs its tensile strength (--ply-fu)", q.Ply*1e3)
		}
		edge := q.Edge
		if edge == 0 {
			edge = math.Inf(1)
		}
		a.PhiVb = checks.Present(b.ply * b.PlyBearing(q.Ply, q.PlyFu, edge, w) / 1e3)
	}
	return a, nil
}

// WeldAnswer is the neutral form of an equal-leg fillet's capacity: mm, MPa, kN per mm, phi included.
type WeldAnswer struct {
	Leg     float64  `json:"leg"`
	Metal   string   `json:"metal"`
	Quality string   `json:"quality"`
	Fuw     float64  `json:"fuw"`
	PhiVw   *float64 `json:"phivw"`
	Caution string   `json:"caution"`
}

// AskFillet works out a fillet of leg (m) in a metal and quality.
func (r *Rules) AskFillet(leg float64, metal string, q WeldQuality, w *checks.Working) (WeldAnswer, error) {
	if q != SP && q != GP {
		return WeldAnswer{}, fmt.Errorf("weld quality %q; there are SP and GP", q)
	}
	if !(leg > 0) || leg > 0.05 {
		return WeldAnswer{}, fmt.Errorf("a fillet's leg of %g mm: give one above 0 and up to 50 mm", leg*1e3)
	}
	f, err := r.FilletOf(leg, metal, q)
	if err != nil {
		return WeldAnswer{}, err
	}
	w.Heading("Fillet weld, 9.6.3.10")
	return WeldAnswer{Leg: leg * 1e3, Metal: metal, Quality: string(q), Fuw: checks.MPa(f.Strength), PhiVw: checks.Present(f.Capacity(w) / 1e6), Caution: solver.Caution}, nil
}
