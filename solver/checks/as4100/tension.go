package as4100

import (
	"fmt"
	"math"

	"leanbay/catalog"
	"leanbay/solver/checks"
)

// TensionFactor is one row of Table 7.3.2: the correction factor kt for how the end force enters the section.
type TensionFactor struct {
	Detail string
	Kt     float64
	Clause string
	Mark   string
}

// tensionFactors are the rows of Table 7.3.2.
var tensionFactors = []TensionFactor{
	{"uniform; pairs on both sides of the gusset", 1.0, "AS 4100 Table 7.3.2", checks.MarkSeen},
	{"angle by one leg on one side", 0.85, "AS 4100 Table 7.3.2", checks.MarkSeen},
	{"unequal angle by the short leg", 0.75, "AS 4100 Table 7.3.2", checks.MarkSeen},
	{"channel by the web only", 0.85, "AS 4100 Table 7.3.2", checks.MarkSeen},
	{"tee by the flange only", 0.90, "AS 4100 Table 7.3.2", checks.MarkSeen},
	{"I or channel by both flanges only", 0.85, "AS 4100 Table 7.3.2", checks.MarkSeen},
}

// DefaultKt is the factor for the usual end of a single member of the family: an angle by one leg, a channel by its web.
func (r *Rules) DefaultKt(f catalog.Family) float64 {
	r = r.in()
	switch f {
	case catalog.EA:
		return r.tension[1].Kt
	case catalog.PFC:
		return r.tension[3].Kt
	}
	return r.tension[0].Kt
}

// Tension is the nominal section capacity in tension Nt (N) of 7.2 with correction factor kt. Round bars take the
// tensile stress area of their thread as net area, and the bolt's tension clause besides (scaled to this phi).
func (c *Capacity) Tension(kt float64, w *checks.Working) float64 { return c.tensionOf(kt, 0, w) }

// tensionOf is Tension with a stated net area (m²); 0 is the gross area, or a thread's.
func (c *Capacity) tensionOf(kt, net float64, w *checks.Working) float64 {
	p := c.Section.Props
	switch {
	case c.Section.Family == catalog.Rod && p.As > 0:
		net = p.As
	case net == 0:
		net = p.A
	}
	gross, fracture := p.A*c.Fy, 0.85*kt*net*c.Fu
	nt := math.Min(gross, fracture)
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 7.2", Symbol: "phi Nt", Formula: "phi min(Ag fy, 0.85 kt An fu)", Mark: checks.MarkVerified, Unit: "kN",
			Numbers: fmt.Sprintf("%.2f min(%.5g x %.0f, 0.85 x %.2f x %.5g x %.0f)", c.phi, p.A*1e6, c.Fy/1e6, kt, net*1e6, c.Fu/1e6), Value: checks.KN(c.phi * nt)})
	}
	if c.Section.Family == catalog.Rod && p.As > 0 {
		bolt := c.Rules.PhiBolt() * p.As * c.Fu / c.phi
		nt = math.Min(nt, bolt)
		if w != nil {
			w.Add(checks.Step{Clause: "AS 4100 9.2.2.2", Symbol: "phi Ntf", Formula: "phi As fu (thread as a bolt)", Mark: checks.MarkMemory, Unit: "kN",
				Numbers: fmt.Sprintf("%.2f x %.4g x %.0f", c.Rules.PhiBolt(), p.As*1e6, c.Fu/1e6), Value: checks.KN(c.phi * bolt)})
		}
	}
	return nt
}
