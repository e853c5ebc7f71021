package as4100

import (
	"fmt"
	"math"
	"strings"

	"leanbay/catalog"
	"leanbay/solver"
	"leanbay/solver/checks"
)

// Query asks for one member's capacities without a structure: effective lengths in m (0: section capacity), alpha_m, and
// design actions in N (compression positive) and N·m. The zero values of the rest leave out what they ask for.
type Query struct {
	LengthX, LengthY float64 // compression about x and y
	Length           float64 // lateral buckling
	AlphaM           float64
	Actions          Actions
	Combined         bool // whether the combined checks are wanted

	Kt      float64     // tension, Table 7.3.2; 0 is 1
	NetArea float64     // m², tension; 0 is the gross area
	EndM    *float64    // beta_m of the end moments, where there is no load between the ends: opens the higher tiers
	Shear   float64     // N, design shear with bending about x, for 5.12.3 beside Actions.Mx
	Bearing BearingLoad // for a Length above 0
}

// Validate reports what is wrong with the query, in the words of the command's flags.
func (q Query) Validate() error {
	for _, f := range []struct {
		name  string
		value float64
		ok    bool
		want  string
	}{
		{"--length-x", q.LengthX, q.LengthX >= 0, "a length in metres, not negative"},
		{"--length-y", q.LengthY, q.LengthY >= 0, "a length in metres, not negative"},
		{"--length", q.Length, q.Length >= 0, "a length in metres, not negative"},
		{"--alpha-m", q.AlphaM, q.AlphaM > 0 && q.AlphaM <= 3.5, "a factor above 0 and at most 3.5"},
		{"--n", q.Actions.N, true, "a finite force"},
		{"--mx", q.Actions.Mx, true, "a finite moment"},
		{"--my", q.Actions.My, true, "a finite moment"},
		{"--v", q.Shear, true, "a finite force"},
		{"--kt", q.Kt, q.Kt >= 0 && q.Kt <= 1, "a factor of Table 7.3.2, at most 1"},
		{"--net-area", q.NetArea * 1e6, q.NetArea >= 0, "an area in mm², not negative"},
		{"--bearing", q.Bearing.Length * 1e3, q.Bearing.Length >= 0, "a length in mm, not negative"},
		{"--end-distance", q.Bearing.EndDistance * 1e3, q.Bearing.EndDistance >= 0, "a distance in mm, not negative"},
	} {
		if !f.ok || math.IsNaN(f.value) || math.IsInf(f.value, 0) {
			return fmt.Errorf("%s %g: give %s", f.name, f.value, f.want)
		}
	}
	if b := q.EndM; b != nil && !(*b >= -1 && *b <= 1) {
		return fmt.Errorf("--beta-m %g: give the ratio of the smaller to the larger end moment, -1 to 1, positive in double curvature", *b)
	}
	return nil
}

// Answer is the neutral form of a capacity answer: mm-based section properties, MPa, kN and kN·m, phi included. A nil
// pointer is a quantity that the code does not define for the section.
type Answer struct {
	Section    string           `json:"section"`
	Grade      string           `json:"grade"`
	Fy         float64          `json:"fy"`
	FyWeb      *float64         `json:"fy_web,omitempty"` // where it differs
	Fu         float64          `json:"fu"`
	Properties AnswerProperties `json:"properties"`
	PhiNt      *float64         `json:"phiNt,omitempty"`
	PhiNtEnd   *float64         `json:"phiNt_one_side,omitempty"` // angle by one leg, channel by its web: kt 0.85
	PhiNs      *float64         `json:"phiNs,omitempty"`
	PhiNcx     *float64         `json:"phiNcx,omitempty"`
	PhiNcy     *float64         `json:"phiNcy,omitempty"`
	PhiNcz     *float64         `json:"phiNcz,omitempty"`        // flexural-torsional, where it applies
	PhiNcLeg   *float64         `json:"phiNc_one_leg,omitempty"` // single angle by one leg at both ends, 8.4.6, length the greater of x and y
	PhiMsx     *float64         `json:"phiMsx,omitempty"`
	PhiMsy     *float64         `json:"phiMsy,omitempty"`
	PhiMsyToes *float64         `json:"phiMsy_toes,omitempty"` // channels and angles: toes in compression
	PhiMsyWeb  *float64         `json:"phiMsy_web,omitempty"`  // back of the web, or heel, in compression
	PhiMbx     *float64         `json:"phiMbx,omitempty"`
	PhiVvx     *float64         `json:"phiVvx,omitempty"`
	PhiVvy     *float64         `json:"phiVvy,omitempty"`
	PhiMz      *float64         `json:"phiMz,omitempty"`
	PhiVvm     *float64         `json:"phiVvm,omitempty"` // shear beside the moment asked for, 5.12.3
	Bearing    *AnswerBearing   `json:"bearing,omitempty"`
	Combined   *AnswerCombined  `json:"combined,omitempty"`
	Outside    []string         `json:"outside,omitempty"`          // what the code gives no rule for
	Overrides  string           `json:"overrides_sha256,omitempty"` // hash of the certifier's own coefficients
	Caution    string           `json:"caution"`
}

// AnswerBearing is 5.13 for the bearing asked for, kN, and per mm of the dispersed width bb (open webs: of bbf and bb).
type AnswerBearing struct {
	PhiRby   *float64 `json:"phiRby"`
	PhiRbb   *float64 `json:"phiRbb"`
	PhiRb    *float64 `json:"phiRb"`
	PerMMRby *float64 `json:"phiRby_per_mm"`
	PerMMRbb *float64 `json:"phiRbb_per_mm"`
}

// AnswerProperties are section properties in mm and powers of it.
type AnswerProperties struct {
	Mass     float64  `json:"mass"`
	Ag       float64  `json:"Ag"`
	Ix       float64  `json:"Ix"`
	Iy       float64  `json:"Iy"`
	Zx       float64  `json:"Zx"`
	Zy       float64  `json:"Zy"`
	Sx       *float64 `json:"Sx,omitempty"`
	Sy       *float64 `json:"Sy,omitempty"`
	In       *float64 `json:"In,omitempty"` // angles: about the axes along the legs; the others are about the principal axes
	Rx       float64  `json:"rx"`
	Ry       float64  `json:"ry"`
	J        float64  `json:"J"`
	Iw       *float64 `json:"Iw,omitempty"`
	C        *float64 `json:"C,omitempty"`
	Kf       float64  `json:"kf"`
	Zex      *float64 `json:"Zex,omitempty"`
	Zey      *float64 `json:"Zey,omitempty"`     // channels: toes in compression, as section tables print it
	ZeyWeb   *float64 `json:"Zey_web,omitempty"` // channels and angles: back of the web, or heel, in compression
	CompactX string   `json:"compact_x,omitempty"`
	CompactY string   `json:"compact_y,omitempty"`
}

// AnswerCombined are the combined checks for the given actions.
type AnswerCombined struct {
	PhiMrx       *float64                   `json:"phiMrx,omitempty"`
	PhiMry       *float64                   `json:"phiMry,omitempty"`
	PhiMix       *float64                   `json:"phiMix,omitempty"`
	PhiMiy       *float64                   `json:"phiMiy,omitempty"`
	PhiMox       *float64                   `json:"phiMox,omitempty"`
	Utilisations []checks.AnswerUtilisation `json:"utilisations"`
	// Governing is the greatest radial utilisation, GoverningClause where it arises.
	Governing       *float64 `json:"governing"`
	GoverningClause string   `json:"governing_clause,omitempty"`
}

// positive is checks.Present for a quantity that is zero where the section has none.
func positive(v float64) *float64 {
	if v <= 0 {
		return nil
	}
	return checks.Present(v)
}

// Ask works out the answer to q for sec in grade g, recording the working in w (which may be nil).
func (r *Rules) Ask(sec *catalog.Section, g catalog.Grade, q Query, w *checks.Working) (Answer, error) {
	if err := q.Validate(); err != nil {
		return Answer{}, err
	}
	c, err := r.Explain(sec, g, w)
	if err != nil {
		return Answer{}, err
	}
	a := Answer{
		Section: sec.Name, Grade: g.Name, Fy: checks.MPa(c.Fy), Fu: checks.MPa(c.Fu), Properties: c.answerProperties(),
		PhiNt: c.kn(c.Nt), PhiNs: c.kn(c.Ns), PhiMsx: c.kn(c.Msx), PhiMsy: c.kn(c.Msy()), PhiVvx: c.kn(c.Vvx), PhiVvy: c.kn(c.Vvy), PhiMz: c.kn(c.Mz),
		Outside: c.Outside, Caution: solver.Caution,
	}
	if c.FyW != c.Fy {
		a.FyWeb = checks.Present(checks.MPa(c.FyW))
	}
	k := Interaction{C: c, Nt: c.Nt, Msy: c.Msy(), BetaX: -1, BetaY: -1, Mbx: math.NaN()}
	if q.Kt > 0 || q.NetArea > 0 {
		w.Heading("Tension as asked, section 7")
		kt, net := q.Kt, q.NetArea
		if kt == 0 {
			kt = 1
		}
		if net > sec.Props.A*(1+1e-9) {
			return Answer{}, fmt.Errorf("--net-area %.0f mm² is above the gross area of %s, %.0f mm²", net*1e6, sec.Name, sec.Props.A*1e6)
		}
		k.Nt = c.tensionOf(kt, net, w)
		a.PhiNt = c.kn(k.Nt)
	} else if kt := c.Rules.DefaultKt(sec.Family); kt < 1 {
		w.Heading("Tension, connected on one side only")
		a.PhiNtEnd = c.kn(c.Tension(kt, w))
	}
	w.Heading("Member in compression, 6.3")
	k.Ncx, k.Ncy = c.Nc(X, q.LengthX, w), c.Nc(Y, q.LengthY, w)
	a.PhiNcx, a.PhiNcy = c.kn(k.Ncx), c.kn(k.Ncy)
	if sec.Family == catalog.EA || (sec.Family == catalog.PFC && q.LengthY < q.LengthX) {
		a.PhiNcz = c.kn(c.NcTorsional(q.LengthX, math.Max(q.LengthX, q.LengthY), w))
	}
	if checks.Defined(c.Msx) {
		w.Heading("Member in bending, 5.6")
		k.Mbx = c.Mb(q.Length, q.AlphaM, w)
		a.PhiMbx = c.kn(k.Mbx)
	}
	if q.EndM != nil {
		k.BetaX, k.BetaY = *q.EndM, *q.EndM
		if c.lateralTier() {
			k.Tier = LateralTier{Mbxo: c.Mb(q.Length, 1, nil), Noz: c.Noz(q.Length), Beta: *q.EndM}
		}
	}
	c.answerWeb(&a, q, w)
	if sec.Family == catalog.EA {
		w.Heading("Single angle in compression through one leg, 8.4.6")
		a.PhiNcLeg = c.kn(c.OneLeg(math.Max(q.LengthX, q.LengthY), w))
	}
	if a.Properties.ZeyWeb != nil {
		a.PhiMsyToes, a.PhiMsyWeb = c.kn(c.MsyToes), c.kn(c.MsyWeb)
	}
	if q.Combined {
		q.Actions.Mx, q.Actions.My = math.Abs(q.Actions.Mx), math.Abs(q.Actions.My)
		a.Combined = k.answerCombined(q.Actions, q.Shear, w)
	}
	return a, nil
}

// answerWeb fills bearing, and shear beside a moment.
func (c *Capacity) answerWeb(a *Answer, q Query, w *checks.Working) {
	if q.Shear != 0 && checks.Defined(c.Vvx) && checks.Defined(c.Msx) {
		vvm := c.Rules.ShearInBending(c.Vvx, q.Actions.Mx, c.Msx)
		a.PhiVvm = c.kn(vvm)
		if w != nil {
			w.Heading("Shear with bending, 5.12.3")
			w.Add(checks.Step{Clause: "AS 4100 5.12.3", Symbol: "phi Vvm", Formula: "phi Vv up to 0.75 phi Ms, then phi Vv (2.2 - 1.6 M*/(phi Ms))", Mark: checks.MarkSeen, Unit: "kN",
				Numbers: fmt.Sprintf("phi Vv %.4g, M* %.4g, phi Ms %.4g", checks.KN(c.phi*c.Vvx), checks.KNm(math.Abs(q.Actions.Mx)), checks.KNm(c.phi*c.Msx)), Value: checks.KN(c.phi * vvm)})
		}
	}
	if q.Bearing.Length <= 0 {
		return
	}
	w.Heading("Bearing, 5.13")
	yield, buckle := c.Bearing(q.Bearing, w)
	if !checks.Defined(yield) {
		return
	}
	wy, wb := c.bearingWidths(q.Bearing)
	a.Bearing = &AnswerBearing{PhiRby: c.kn(yield), PhiRbb: c.kn(buckle), PhiRb: c.kn(math.Min(yield, buckle)), PerMMRby: c.kn(yield / (wy * 1e3)), PerMMRbb: c.kn(buckle / (wb * 1e3))}
}

// kn is phi times a nominal capacity in kN or kN·m, nil where absent.
func (c *Capacity) kn(v float64) *float64 { return checks.Present(c.phi * v / 1e3) }

// answerProperties fills the section properties.
func (c *Capacity) answerProperties() AnswerProperties {
	p := c.Section.Props
	a := AnswerProperties{
		Mass: checks.SixFigures(p.Mass), Ag: checks.SixFigures(checks.MM2(p.A)), Ix: checks.SixFigures(checks.MM4(p.Ix)), Iy: checks.SixFigures(checks.MM4(p.Iy)),
		Zx: checks.SixFigures(checks.MM3(p.Zx)), Zy: checks.SixFigures(checks.MM3(p.Zy)), Sx: positive(checks.MM3(p.Sx)), Sy: positive(checks.MM3(p.Sy)),
		Rx: checks.SixFigures(checks.MM(p.Rx)), Ry: checks.SixFigures(checks.MM(p.Ry)), J: checks.SixFigures(checks.MM4(p.J)), Kf: checks.SixFigures(c.Kf),
		Zex: checks.Present(checks.MM3(c.Zex)), Zey: checks.Present(checks.MM3(c.ZeyToes)), CompactX: string(c.ClassX), CompactY: string(c.ClassY),
	}
	if c.closed() {
		a.C = positive(checks.MM3(p.Ct))
	} else {
		a.Iw = positive(checks.MM6(p.Iw))
	}
	switch c.Section.Family {
	case catalog.PFC:
		a.ZeyWeb = checks.Present(checks.MM3(c.ZeyWeb))
	case catalog.EA:
		a.ZeyWeb, a.In = checks.Present(checks.MM3(c.ZeyWeb)), checks.Present(checks.MM4(p.Ix))
		zx, sx := moduli(c.Section, AboutX)
		zy, sy := moduli(c.Section, AboutYToes)
		a.Ix, a.Iy, a.Rx, a.Ry = checks.SixFigures(checks.MM4(p.Imax)), checks.SixFigures(checks.MM4(p.Imin)), checks.SixFigures(checks.MM(c.Rx)), checks.SixFigures(checks.MM(c.Ry))
		a.Zx, a.Zy, a.Sx, a.Sy = checks.SixFigures(checks.MM3(zx)), checks.SixFigures(checks.MM3(zy)), positive(checks.MM3(sx)), positive(checks.MM3(sy))
	}
	return a
}

// answerCombined works the combined checks.
func (k *Interaction) answerCombined(a Actions, shear float64, w *checks.Working) *AnswerCombined {
	out := &AnswerCombined{Utilisations: []checks.AnswerUtilisation{}}
	worst := -1.0
	add := func(r Ratio, form string) {
		if !checks.Defined(r.Radial) {
			return
		}
		clause := strings.TrimPrefix(r.Clause, "AS 4100 ")
		out.Utilisations = append(out.Utilisations, checks.AnswerUtilisation{Clause: clause, Form: form, Value: checks.Present(r.Raw), Radial: checks.Present(r.Radial)})
		// The form that the code lets one choose governs only where the other is not better; Section has chosen.
		if form != "linear" && r.Radial > worst {
			worst, out.GoverningClause = r.Radial, clause
		}
	}
	w.Heading("Axial force alone")
	add(k.Axial(a, w), "")
	w.Heading("Section under combined actions, 8.3")
	out.PhiMrx, out.PhiMry = k.C.kn(k.Mrx(a.N, w)), k.C.kn(k.Mry(a.N, w))
	s := k.sectionShares(a)
	section := k.Section(a, w)
	form := ""
	if section.Radial < s.sum() {
		add(Ratio{Clause: section.Clause, Raw: s.sum(), Radial: s.sum()}, "linear")
		form = "power"
	}
	add(section, form)
	w.Heading("Member under combined actions, 8.4")
	if a.N > 0 {
		out.PhiMix, out.PhiMiy = k.C.kn(k.Mix(a.N, nil)), k.C.kn(k.Miy(a.N, nil))
		add(k.InPlane(X, a, w), "about x")
		if a.My > 0 {
			add(k.InPlane(Y, a, w), "about y")
		}
	}
	out.PhiMox = k.C.kn(k.Mox(a.N, nil))
	add(k.OutOfPlane(a, w), "")
	add(k.Biaxial(a, w), "")
	if shear != 0 && checks.Defined(k.C.Vvx) && checks.Defined(k.C.Msx) {
		u := ShearBendingRadial(math.Abs(shear)/(k.C.phi*k.C.Vvx), a.Mx/(k.C.phi*k.C.Msx))
		add(Ratio{Clause: "AS 4100 5.12.3", Raw: math.Abs(shear) / (k.C.phi * k.C.Rules.ShearInBending(k.C.Vvx, a.Mx, k.C.Msx)), Radial: u}, "shear")
	}
	out.Governing = checks.Present(worst)
	return out
}
