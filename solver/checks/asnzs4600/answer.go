package asnzs4600

import (
	"fmt"
	"math"

	"leanbay/catalog"
	"leanbay/solver"
	"leanbay/solver/checks"
)

// Query asks for one section's capacities without a structure: effective lengths in m (0: held), the moment factor Cb,
// design actions in N (compression positive) and N·m, and a bearing length in m (0: none).
type Query struct {
	LengthX, LengthY float64 // compression: flexure about x; flexure about y and twist
	Length           float64 // lateral buckling and twist in bending
	Cb               float64
	N, Mx, My        float64
	Combined         bool
	Bearing          float64
	Interior         bool // the bearing is at least 1.5 d1 from the member's end
}

// Answer is the neutral form of a capacity answer: mm-based properties, MPa, kN and kN·m, phi included. The names are
// those of hot-rolled sections' answers where the quantity is the same; nil is what the code does not define.
type Answer struct {
	Section    string           `json:"section"`
	Grade      string           `json:"grade"`
	Code       string           `json:"code"`
	Fy         float64          `json:"fy"`
	Fu         float64          `json:"fu"`
	Properties AnswerProperties `json:"properties"`
	Buckling   AnswerBuckling   `json:"buckling"`
	PhiNt      *float64         `json:"phiNt,omitempty"`
	PhiNs      *float64         `json:"phiNs,omitempty"`
	PhiNcx     *float64         `json:"phiNcx,omitempty"` // by flexure about x alone
	PhiNcy     *float64         `json:"phiNcy,omitempty"` // by flexure about y alone
	PhiNcz     *float64         `json:"phiNcz,omitempty"` // by twist, with flexure about x where they couple
	PhiNc      *float64         `json:"phiNc,omitempty"`  // the least
	PhiMsx     *float64         `json:"phiMsx,omitempty"` // the weaker flange in compression
	PhiMsy     *float64         `json:"phiMsy,omitempty"` // the lesser sense
	PhiMsyLips *float64         `json:"phiMsy_lips,omitempty"`
	PhiMsyWeb  *float64         `json:"phiMsy_web,omitempty"`
	PhiMbx     *float64         `json:"phiMbx,omitempty"`
	PhiVvx     *float64         `json:"phiVvx,omitempty"`
	PhiRb      *float64         `json:"phiRb,omitempty"` // web crippling for the bearing asked for
	Combined   *AnswerCombined  `json:"combined,omitempty"`
	Outside    []string         `json:"outside,omitempty"`
	Overrides  string           `json:"overrides_sha256,omitempty"` // hash of the certifier's own coefficients
	Caution    string           `json:"caution"`
}

// AnswerProperties are gross section properties in mm and powers of it; x is perpendicular to the web.
type AnswerProperties struct {
	Mass float64 `json:"mass"`
	Ag   float64 `json:"Ag"`
	Ix   float64 `json:"Ix"`
	Iy   float64 `json:"Iy"`
	Zx   float64 `json:"Zx"`
	Zy   float64 `json:"Zy"`
	Rx   float64 `json:"rx"`
	Ry   float64 `json:"ry"`
	J    float64 `json:"J"`
	Iw   float64 `json:"Iw"`
}

// AnswerBuckling are elastic buckling stresses in MPa at the extreme fibre of the gross section, from finite strips; nil
// where there is no such mode.
type AnswerBuckling struct {
	FolN  *float64 `json:"fol_N,omitempty"`
	FodN  *float64 `json:"fod_N,omitempty"`
	FolMx *float64 `json:"fol_Mx,omitempty"`
	FodMx *float64 `json:"fod_Mx,omitempty"`
	FolMy *float64 `json:"fol_My,omitempty"` // the lesser sense
	FodMy *float64 `json:"fod_My,omitempty"`
}

// AnswerCombined is 3.5 for the actions asked for.
type AnswerCombined struct {
	Utilisations []checks.AnswerUtilisation `json:"utilisations"`
	Governing    *float64                   `json:"governing"`
}

// Ask works out the answer to q for a lipped channel or zed, recording the working in w (which may be nil).
func (c *Code) Ask(sec *catalog.Section, g catalog.Grade, q Query, w *checks.Working) (Answer, error) {
	b, err := Analyse(sec)
	if err != nil {
		return Answer{}, err
	}
	r := c.Resist(b, g, w)
	p := &sec.Props
	phiN, phiB := c.at(PhiCompression), c.at(PhiBending)
	msx := math.Min(r.Ms[Top], r.Ms[Bottom])
	a := Answer{
		Section: sec.Name, Grade: g.Name, Code: "AS/NZS 4600, direct strength, buckling by finite strips", Fy: checks.MPa(g.Fy), Fu: checks.MPa(g.Fu),
		Properties: AnswerProperties{Mass: checks.SixFigures(p.Mass), Ag: checks.SixFigures(checks.MM2(p.A)), Ix: checks.SixFigures(checks.MM4(p.Ix)), Iy: checks.SixFigures(checks.MM4(p.Iy)), Zx: checks.SixFigures(checks.MM3(p.Zx)), Zy: checks.SixFigures(checks.MM3(p.Zy)),
			Rx: checks.SixFigures(checks.MM(p.Rx)), Ry: checks.SixFigures(checks.MM(p.Ry)), J: checks.SixFigures(checks.MM4(p.J)), Iw: checks.SixFigures(checks.MM6(p.Iw))},
		Buckling: AnswerBuckling{FolN: stress(b.Nol / p.A), FodN: stress(b.Nod / p.A), FolMx: stress(weaker(b.Mol, Top, Bottom) / p.Zx), FodMx: stress(weaker(b.Mod, Top, Bottom) / p.Zx),
			FolMy: stress(weaker(b.Mol, Right, Left) / p.Zy), FodMy: stress(weaker(b.Mod, Right, Left) / p.Zy)},
		PhiNt: kilo(c.at(PhiTension) * r.Nt), PhiNs: kilo(phiN * r.Ns), PhiMsx: kilo(phiB * msx), PhiMsy: kilo(phiB * weaker(r.Ms, Right, Left)),
		PhiMsyLips: kilo(phiB * r.Ms[Right]), PhiMsyWeb: kilo(phiB * r.Ms[Left]), PhiVvx: kilo(c.at(PhiShear) * r.Vv), Caution: solver.Caution,
	}
	column := func(l Lengths, w *checks.Working) *float64 {
		return kilo(phiN * c.Column(r.Ny, r.Nol, r.Nod, c.GlobalColumn(sec, l, w), w).Nc)
	}
	w.Heading("Member in compression, 7.2.1")
	a.PhiNcx, a.PhiNcy = column(Lengths{X: q.LengthX}, nil), column(Lengths{Y: q.LengthY}, nil)
	a.PhiNcz = column(Lengths{X: q.LengthX, Z: q.LengthY}, nil)
	a.PhiNc = column(Lengths{X: q.LengthX, Y: q.LengthY, Z: q.LengthY}, w)
	w.Heading("Member in bending about x, 7.2.2")
	lateral := Lengths{Y: q.Length, Z: q.Length}
	flange := Top
	if r.Ms[Bottom] < r.Ms[Top] {
		flange = Bottom
	}
	weak := r.eitherWay()
	a.PhiMbx = kilo(phiB * c.MemberMoment(weak, flange, lateral, q.Cb, w))
	if q.Bearing > 0 {
		w.Heading("Web crippling, 3.3.6")
		if rb, phi, err := c.Crippling(sec, g.FyW, Support{Length: q.Bearing, Interior: q.Interior}, w); err != nil {
			a.Outside = append(a.Outside, err.Error())
		} else {
			a.PhiRb = kilo(phi * rb)
		}
	}
	if q.Combined {
		w.Heading("Combined actions, 3.5")
		l := Lengths{X: q.LengthX, Y: q.LengthY, Z: q.LengthY}
		m := c.Segment(weak, l, [2]Lengths{lateral, lateral}, [2]float64{q.Cb, q.Cb}, nil)
		act := Actions{N: -q.N, Mx: math.Abs(q.Mx), My: math.Abs(q.My)}
		u, raw := c.Combined(act, weak, m, l, 1, w)
		act.My = -act.My // the other side of the section
		if v, other := c.Combined(act, weak, m, l, 1, nil); v > u {
			u, raw = v, other
		}
		clause := "3.5.1"
		if q.N < 0 {
			clause = "3.5.2"
		}
		a.Combined = &AnswerCombined{Utilisations: []checks.AnswerUtilisation{{Clause: clause, Value: checks.Present(raw), Radial: checks.Present(u)}}, Governing: checks.Present(u)}
	}
	return a, nil
}

// Validate reports what is wrong with the query.
func (q Query) Validate() error {
	for _, v := range []float64{q.LengthX, q.LengthY, q.Length, q.Bearing} {
		if !(v >= 0) || math.IsInf(v, 0) {
			return fmt.Errorf("length %g m: give a length that is not negative", v)
		}
	}
	if !(q.Cb > 0) || q.Cb > 3 {
		return fmt.Errorf("--alpha-m %g: for AS/NZS 4600 it is Cb: give a factor above 0 and at most 3", q.Cb)
	}
	for _, v := range []float64{q.N, q.Mx, q.My} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("action %g: give a finite force or moment", v)
		}
	}
	return nil
}

// kilo is a value in thousands, stress one in MPa.
func kilo(v float64) *float64   { return checks.Present(v / 1e3) }
func stress(v float64) *float64 { return checks.Present(checks.MPa(v)) }
