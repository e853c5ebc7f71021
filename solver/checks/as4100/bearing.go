package as4100

import (
	"fmt"
	"math"

	"leanbay/catalog"
	"leanbay/solver/checks"
)

// BearingLoad describes a force through a bearing onto a web (5.13).
type BearingLoad struct {
	Length      float64 // m, stiff bearing length bs along the member
	Width       float64 // m, bearing width across the member; 0 is the full width (hollow sections, 5.13.5)
	EndDistance float64 // m, from the edge of the bearing to the member's end (bd)
	OneFlange   bool    // open webs: only one flange is held sideways (Le/r = 5.0 d1/tw instead of 2.5)
	OnWidth     bool    // hollow sections: the force acts along the width, in bending about y
}

// side is the side of a hollow section along which the force acts (m).
func (b BearingLoad) side(m catalog.Dims) float64 {
	if b.OnWidth {
		return m.B
	}
	return m.D
}

// Bearing gives the nominal bearing yield and bearing buckling capacities (N) of an unstiffened web of 5.13 for bending
// about x; both are NaN for sections without flat webs.
func (c *Capacity) Bearing(b BearingLoad, w *checks.Working) (yield, buckle float64) {
	switch {
	case c.Section.Dims.T > 0 && c.Section.Dims.B > 0 && c.closed():
		return c.bearingHollow(b, w)
	case c.Section.Dims.Tw > 0:
		return c.bearingOpen(b, w)
	}
	return math.NaN(), math.NaN()
}

// bearingStrut is alpha_c of the web as a strut: alpha_b 0.5, kf 1 (5.13.4).
func bearingStrut(slender, fy float64) float64 { return AlphaC(slender*yieldRatio(fy), 0.5) }

// bearingOpen is 5.13.2 to 5.13.4 for I-sections and channels: force spreads 1 : 2.5 through the flange, then 1 : 1 to
// mid-depth, each way as far as there is steel.
func (c *Capacity) bearingOpen(b BearingLoad, w *checks.Working) (yield, buckle float64) {
	m := c.Section.Dims
	d1 := m.D - 2*m.Tf
	bbf, bb := c.bearingWidths(b)
	yield = 1.25 * bbf * m.Tw * c.FyW
	k := 2.5
	if b.OneFlange {
		k = 5.0
	}
	ac := bearingStrut(k*d1/m.Tw, c.FyW)
	buckle = ac * m.Tw * bb * c.FyW
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 5.13.3", Symbol: "phi Rby", Formula: "phi 1.25 bbf tw fy", Mark: checks.MarkSeen, Unit: "kN",
			Numbers: fmt.Sprintf("%.2f x 1.25 x %.4g x %.4g x %.0f", c.phi, bbf*1e3, m.Tw*1e3, c.FyW/1e6), Value: checks.KN(c.phi * yield)})
		w.Add(checks.Step{Clause: "AS 4100 5.13.4", Symbol: "phi Rbb", Formula: "phi alpha_c tw bb fy", Mark: checks.MarkSeen, Unit: "kN",
			Numbers: fmt.Sprintf("%.2f x %.4g x %.4g x %.4g x %.0f; Le/r %.4g", c.phi, ac, m.Tw*1e3, bb*1e3, c.FyW/1e6, k*d1/m.Tw), Value: checks.KN(c.phi * buckle)})
	}
	return yield, buckle
}

// bearingWidths are the dispersed widths (m) for bearing yield and bearing buckling.
func (c *Capacity) bearingWidths(b BearingLoad) (yield, buckle float64) {
	m := c.Section.Dims
	if c.closed() {
		bb := hollowFactors(m.T, m.Ro, b.side(m)-2*m.Ro, b.Length, b.EndDistance).width
		return bb, bb
	}
	d1 := m.D - 2*m.Tf
	bbf := b.Length + 2.5*m.Tf + math.Min(2.5*m.Tf, b.EndDistance)
	return bbf, bbf + d1/2 + math.Min(d1/2, math.Max(0, b.EndDistance-2.5*m.Tf))
}

// hollowBearing are the factors of 5.13 for a rectangular hollow section, of which d5 is the flat side along the force.
type hollowBearing struct {
	interior bool
	alphaP   float64
	slender  float64 // Le/r
	width    float64 // m, bb
}

// hollowFactors works out alpha_p, Le/r and the dispersed width for wall t, outer corner radius rext, flat side d5.
func hollowFactors(t, rext, d5, bs, end float64) hollowBearing {
	ks := 2*rext/t - 1
	kv := d5 / t
	if end < 1.5*d5 {
		return hollowBearing{alphaP: math.Sqrt(2+ks*ks) - ks, slender: 3.8 * kv, width: bs + 2.5*rext + d5/2}
	}
	pm := 1/ks + 0.5/kv
	q := 1 - pm*pm
	return hollowBearing{interior: true, alphaP: 0.5 / ks * (1 + q*(1+ks/kv-q*0.25/(kv*kv))), slender: 3.5 * kv, width: bs + 5*rext + d5}
}

// bearingHollow is 5.13 for rectangular and square hollow sections, both webs together.
func (c *Capacity) bearingHollow(b BearingLoad, w *checks.Working) (yield, buckle float64) {
	m := c.Section.Dims
	f := hollowFactors(m.T, m.Ro, b.side(m)-2*m.Ro, b.Length, b.EndDistance)
	yield = 2 * f.alphaP * f.width * m.T * c.Fy
	ac := bearingStrut(f.slender, c.Fy)
	buckle = 2 * ac * f.width * m.T * c.Fy
	if w != nil {
		where := "end"
		if f.interior {
			where = "interior"
		}
		w.Add(checks.Step{Clause: "AS 4100 5.13.3", Symbol: "phi Rby, " + where, Formula: "phi 2 alpha_p bb t fy", Mark: checks.MarkVerified, Unit: "kN",
			Numbers: fmt.Sprintf("%.2f x 2 x %.4g x %.4g x %.4g x %.0f", c.phi, f.alphaP, f.width*1e3, m.T*1e3, c.Fy/1e6), Value: checks.KN(c.phi * yield)})
		w.Add(checks.Step{Clause: "AS 4100 5.13.4", Symbol: "phi Rbb, " + where, Formula: "phi 2 alpha_c bb t fy", Mark: checks.MarkVerified, Unit: "kN",
			Numbers: fmt.Sprintf("%.2f x 2 x %.4g x %.4g x %.4g x %.0f; Le/r %.4g", c.phi, ac, f.width*1e3, m.T*1e3, c.Fy/1e6, f.slender), Value: checks.KN(c.phi * buckle)})
	}
	return yield, buckle
}

// Seat is a bearing on one section worked once: what its web or walls can take, and the line of 5.13.5.
type Seat struct {
	c        *Capacity
	load     BearingLoad
	Capacity float64 // N, phi min(Rby, Rbb)
	share    float64 // of R*/(phi Rb) beside M*/(phi Ms); 0 for open sections, for which 5.13.5 has no line
	limit    float64
}

// NewSeat prepares a bearing. ok is false for sections without flat webs, for which the clause has no rule.
func (c *Capacity) NewSeat(b BearingLoad) (s Seat, ok bool) {
	yield, buckle := c.Bearing(b, nil)
	s = Seat{c: c, load: b, Capacity: c.phi * math.Min(yield, buckle)}
	if !checks.Defined(s.Capacity) {
		return s, false
	}
	if !c.closed() {
		return s, true
	}
	dims := c.Section.Dims
	width := b.Width
	if width == 0 {
		width = dims.B
	}
	s.share, s.limit = 0.8, 1.0
	// bs/b >= 1 is the bearing over the whole width of the section, d1/t <= 30 a stocky web.
	if b.Length >= dims.B && width >= dims.B && (dims.D-2*dims.T)/dims.T <= 30 {
		s.share, s.limit = 1.2, 1.5
	}
	return s, true
}

// Radial is the radial utilisation of bearing alone and of bearing with bending (5.13.5, hollow sections; seen) for a
// force r (N) and moment m (N·m) at the bearing. Both forms are linear, so the code's sum over its limit is radial.
func (s *Seat) Radial(r, m float64) float64 {
	v := math.Abs(r) / s.Capacity
	if s.limit == 0 {
		return v
	}
	return math.Max(v, (s.share*v+math.Abs(m)/(s.c.phi*s.c.Msx))/s.limit)
}

// Work records the bearing's capacity and its utilisation under r and m, which is Radial's.
func (s *Seat) Work(r, m float64, w *checks.Working) float64 {
	u := s.Radial(r, m)
	if w == nil {
		return u
	}
	s.c.Bearing(s.load, w)
	v := math.Abs(r) / s.Capacity
	w.Add(checks.Step{Clause: "AS 4100 5.13.2", Symbol: "R*/(phi Rb)", Numbers: fmt.Sprintf("%.4g/%.4g", checks.KN(math.Abs(r)), checks.KN(s.Capacity)), Value: v, Unit: "-"})
	if s.limit != 0 {
		bend := math.Abs(m) / (s.c.phi * s.c.Msx)
		w.Add(checks.Step{Clause: "AS 4100 5.13.5", Symbol: "bearing with bending", Formula: fmt.Sprintf("(%.1f R*/(phi Rb) + M*/(phi Ms))/%.1f", s.share, s.limit),
			Numbers: fmt.Sprintf("(%.1f x %.4g + %.4g/%.4g)/%.1f", s.share, v, checks.KNm(math.Abs(m)), checks.KNm(s.c.phi*s.c.Msx), s.limit), Value: (s.share*v + bend) / s.limit, Unit: "-", Mark: checks.MarkSeen})
	}
	w.Add(checks.Step{Clause: "AS 4100 5.13.2", Symbol: "u", Formula: "the greatest of them", Value: u, Unit: "-"})
	return u
}
