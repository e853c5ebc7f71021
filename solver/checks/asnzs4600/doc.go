// Package asnzs4600 holds the checks of AS/NZS 4600 for cold-formed lipped channels and zeds by the direct strength
// method, and the design of secondary members (purlins, girts, joists, jambs) as continuous beams.
//
// In: a catalogue section and grade, the elastic buckling stresses that solver/strip finds for it, effective lengths,
// and design actions. Out: capacities, checks.Result and, when asked, the working clause by clause. It knows no shed, no
// pressures' origin and no file form. Formulas follow AS/NZS 4600:2018, restated from working notes, most of it from
// memory: every coefficient is a row with its clause and certainty mark (Coefficients), and the certifying engineer
// confirms or overrides it.
//
// # Axes and signs
//
// x is the axis perpendicular to the web, y the axis parallel to it. Bending of a zed is taken about x with the section
// held from going sideways, as trade tables have it. Axial force in Actions is positive in tension; capacities are
// magnitudes. Deflections and line loads of beams are positive inwards (on the outer face, towards the shed).
//
// # Defaults
//
// Sheeting is never relied upon: lateral buckling runs between supports and bridging rows for either flange, unless a
// line says that its sheeting holds the outer flange. The R-factor of through-fastened sheeting is off; where it is asked
// for, it is refused outside its conditions, and always for members with axial force. Of a zed's two flanges the weaker
// in compression counts, since every second zed of a lapped run is turned over. Members are bolted through their webs to
// cleats, so webs are not crushed; give a bearing length where they sit on their flanges.
package asnzs4600

// NotCovered lists by name what this pack does not check, for reports and help.
func NotCovered() []string {
	return []string{
		"sections other than lipped channels and zeds (hats, tophats, plain channels, built-up and battened members)",
		"the geometric limits within which the direct strength curves were tested (AS/NZS 4600 Section 7): compare with the standard",
		"inelastic reserve capacity above first yield (7.2.2)",
		"holes and openings in webs and flanges; net section at the connections other than the stated kt",
		"tension field action of webs in shear, and web stiffeners (7.2.3)",
		"web crippling of flanges not fastened to their support, and outside the limits of the rows (3.3.6)",
		"torsion from loads off the shear centre, and bending of unrestrained zeds about their principal axes",
		"concealed-fixed sheeting as a restraint; R-factors outside their conditions (3.3.3.4)",
		"strength of bridging, of its connections and of the anchorage of its force at eaves and ridge",
		"bolts, screws and cleats (Section 5), lap bolts included",
		"erection: unsheeted purlins under foot traffic; fatigue of cladding fixings in cyclonic regions",
	}
}
