package shedspace

import (
	"slices"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
)

// swayLegs is the effective length factor of a pinned leg under a head that cannot turn but sways (AS 4100 Figure 4.6.3.2,
// the value recommended for design) [M].
const swayLegs = 2.2

// setPortalLengths gives the legs of portalised stretches of wall, and mullions that work as legs in a gable, their sway
// lengths in the wall's plane: by stiffness ratios under a beam, and as legs under a head that cannot turn where a braced
// panel stands on them.
func setPortalLengths(m *shed.Model) {
	st := &m.Structure
	for _, p := range slices.Concat(m.Portals, m.GableLegs) {
		for _, c := range p.Columns {
			col := &st.Members[c]
			k, source := swayLegs, "legs below a braced panel, AS 4100 4.6.3.2"
			if p.Beam >= 0 {
				inertia := col.Section.Props.Iy
				if p.Own {
					inertia = col.Section.Props.Ix
				}
				gamma := (inertia / p.Leg) / (st.Members[p.Beam].Section.Props.Ix / p.Span)
				foot := gammaPinned
				if m.Shed.ColumnBase() == brief.FixedBase {
					foot = gammaFixed
				}
				k, source = swayFactor(foot, gamma), "stiffness ratios in the wall's plane, AS 4100 4.6.3.3"
			}
			e := solver.EffectiveLength{Length: k * p.Leg, Sway: true, Source: source}
			switch {
			case p.Own:
				col.EffectiveX = e
			case e.Length > col.EffectiveY.Length:
				col.EffectiveY = e
			}
		}
	}
}
