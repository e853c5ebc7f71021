package as4100

import (
	"fmt"
	"math"

	"leanbay/catalog"
	"leanbay/solver/checks"
)

// webShear is the data of one direction of shear.
type webShear struct {
	area    float64 // m², of the webs along the shear
	dp, t   float64 // m, clear panel depth and thickness
	ratio   float64 // f*vm/f*va of 5.11.3; 0 for uniform shear
	formula string
	fy      float64
	phi     float64
}

// shear fills Vvx, Vvy and VFlanges.
func (c *Capacity) shear(w *checks.Working) {
	c.Vvx, c.Vvy, c.VFlanges = math.NaN(), math.NaN(), math.NaN()
	m := c.Section.Dims
	switch c.Section.Family {
	case catalog.RHS, catalog.SHS:
		w.Heading("Shear, 5.11")
		if !c.WebLimit() {
			c.outside("an unstiffened web deeper than 180 tw/sqrt(fy/250) (AS 4100 5.10.1)")
			return
		}
		c.Vvx = c.hollowShear(m.D, m.B, m.T).capacity("x", w)
		c.Vvy = c.hollowShear(m.B, m.D, m.T).capacity("y", w)
	case catalog.CHS:
		w.Heading("Shear, 5.11")
		c.Vvx = 0.36 * c.Fy * c.Section.Props.A
		c.Vvy = c.Vvx
		if w != nil {
			w.Add(checks.Step{Clause: "AS 4100 5.11.4", Symbol: "phi Vv", Formula: "phi 0.36 fy Ae", Mark: checks.MarkSeen, Unit: "kN",
				Numbers: fmt.Sprintf("%.2f x 0.36 x %.0f x %.5g", c.phi, c.Fy/1e6, c.Section.Props.A*1e6), Value: checks.KN(c.phi * c.Vvx)})
		}
	case catalog.EA: // one leg as a plate, whatever the shear's direction: the code has no rule for angles
		c.VFlanges = webShear{area: m.D * m.T, fy: c.Fy, ratio: 1.5}.capacity("", nil)
	case catalog.UB, catalog.PFC:
		w.Heading("Shear, 5.11")
		if !c.WebLimit() {
			c.outside("an unstiffened web deeper than 180 tw/sqrt(fy/250) (AS 4100 5.10.1)")
			return
		}
		c.Vvx = webShear{phi: c.phi, area: m.D * m.Tw, dp: m.D - 2*m.Tf, t: m.Tw, fy: c.FyW, formula: "d tw"}.capacity("x", w)
		// Two rectangles in shear: the greatest stress is 1.5 times the mean.
		c.VFlanges = webShear{area: 2 * m.B * m.Tf, fy: c.Fy, ratio: 1.5}.capacity("", nil)
	}
}

// hollowShear is the shear of a rectangular hollow section along its side d.
func (c *Capacity) hollowShear(d, b, t float64) webShear {
	return webShear{fy: c.Fy, phi: c.phi, area: 2 * (d - 2*t) * t, dp: d - 2*t, t: t, ratio: 3 * (2*b + d) / (2 * (3*b + d)), formula: "2 (d - 2t) t"}
}

// capacity is Vv of 5.11.2 to 5.11.5 (N): shear yield, buckling of an unstiffened web, and uneven shear stress.
func (s webShear) capacity(axis string, w *checks.Working) float64 {
	vw := 0.6 * s.fy * s.area
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 5.11.4", Symbol: "Vw", Formula: "0.6 fyw Aw, Aw = " + s.formula, Mark: checks.MarkVerified, Unit: "kN",
			Numbers: fmt.Sprintf("0.6 x %.0f x %.5g", s.fy/1e6, s.area*1e6), Value: checks.KN(vw)})
	}
	vu := vw
	if s.dp > 0 {
		l := s.dp / s.t * yieldRatio(s.fy)
		alphaV := math.Min(1, (82/l)*(82/l))
		vu = alphaV * vw
		if w != nil {
			w.Add(checks.Step{Clause: "AS 4100 5.11.5.1", Symbol: "alpha_v", Formula: "(82/((dp/tw) sqrt(fy/250)))^2 <= 1", Mark: checks.MarkSeen, Unit: "-",
				Numbers: fmt.Sprintf("(82/%.4g)^2", l), Value: alphaV})
		}
	}
	vv := vu
	if s.ratio > 0 {
		vv = math.Min(vu, 2*vu/(0.9+s.ratio))
		if w != nil {
			w.Add(checks.Step{Clause: "AS 4100 5.11.3", Symbol: "Vv", Formula: "2 Vu/(0.9 + f*vm/f*va) <= Vu", Mark: checks.MarkVerified, Unit: "kN",
				Numbers: fmt.Sprintf("2 x %.4g/(0.9 + %.4g)", checks.KN(vu), s.ratio), Value: checks.KN(vv)})
		}
	}
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 5.11.1", Symbol: "phi Vv, bending about " + axis, Formula: "phi Vv", Numbers: fmt.Sprintf("%.2f x %.4g", s.phi, checks.KN(vv)), Value: checks.KN(s.phi * vv), Unit: "kN"})
	}
	return vv
}

// WebLimit reports whether the unstiffened web is within d1/tw <= 180/sqrt(fy/250) of 5.10.1 (seen).
func (c *Capacity) WebLimit() bool {
	d1, _, tw, _ := c.clearWeb()
	return d1/tw <= 180/yieldRatio(c.FyW)
}

// ShearInBending is Vvm of 5.12.3 (N): the shear capacity vv beside moment m, section capacity ms (both without phi on
// ms, m the design moment). It is zero beyond phi Ms.
func (r *Rules) ShearInBending(vv, m, ms float64) float64 {
	share := math.Abs(m) / (r.Phi() * ms)
	switch {
	case share <= 0.75:
		return vv
	case share <= 1:
		return vv * (2.2 - 1.6*share)
	}
	return 0
}

// ShearBendingRadial is the radial utilisation of 5.12.3 from v = V*/(phi Vv) and m = M*/(phi Ms): the limit surface is
// v = 1 up to m = 0.75, then the line to (m, v) = (1, 0.6), so the gauge is the greater of two linear forms.
func ShearBendingRadial(v, m float64) float64 { return math.Max(v, (v+1.6*m)/2.2) }
