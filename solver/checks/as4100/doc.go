// Package as4100 holds the checks of AS 4100 for hollow sections, channels, universal beams, equal angles and round
// bars: section and member capacities, and the check of a member in a structure.
//
// In: a catalogue section and grade, a solver.Member with its traced restraints, and its force diagrams. Out:
// capacities, checks.Result and, when asked, the working clause by clause. It knows no shed, no loads and no file form.
// Formulas follow AS 4100:2020 unamended, restated from working notes; every coefficient carries its clause and a
// certainty mark, and the certifying engineer confirms them against their own copy of the code.
//
// # Axes and signs
//
// x is the section's major axis, y the minor one; equal angles use their principal axes. A diagram's Mz is the code's
// Mx, its My the code's My, Vy the shear along the web. Design actions N* are positive in compression here, as the code
// writes them; a solver.Diagram is positive in tension and is turned round at one place (actionsAt).
//
// # Absent quantities
//
// A capacity that the code does not define for a section is NaN (checks.Defined), never zero: bending of a section whose
// web or angle is outside the rules, shear across the flanges of an open section, torsion of an open section.
//
// # Defaults
//
// Utilisation is radial: the factor by which N*, Mx*, My* (or V*, M*) together are divided to land on the limit
// surface; the code's own sum is Result.Raw. Moments are taken as second order or already amplified (4.4.2).
//
// Segments run between sections restrained for the flange in compression, for each sign of moment by itself. A
// restraint counts with its own class for the flange it holds and for both if it holds both; for the other flange a
// full (F) restraint of one flange counts as partial (P), a partial one stays partial, a lateral one (L) counts for
// nothing. Where the moment changes sign within a segment, each sign is checked with its own greatest moment and the
// segments of its own flange, and alpha_m takes that greatest moment over all quarter-point moments whatever their
// sign, not below 1.0. Members without any listed restraint are taken as fully restrained (F) at both ends, and say so.
//
// Effective lengths for compression: as given by the member; else about x the member's own length, about y the greatest
// distance between sections that are held sideways at their centroid: at both flanges, or at one with the twist held. Where
// one flange of a doubly symmetric section is held oftener, the elastic load of torsion about that flange takes the place of
// flexure, if it is greater. Where the length about x is a sway length, N* is held
// against phi Nc with it, and the interaction takes the member's own length (ke = 1.0). Torsional length: the greatest
// distance between F or P restraints.
//
// The load-height factor kl is 1.0 unless the member says that loads sit on its top flange and move with it, closer than
// the segment is long (1.4 while the top flange is in compression, 2.0 beside a free end); uplift on the top flange and loads
// at segment ends take 1.0. kr is 1.0 unless Options say that the ends are held against lateral rotation. beta_m is read
// from a diagram without load across the member, else -1. kt of Table 7.3.2 is 0.85 for angles and channels, else 1.0.
//
// Member checks take the greatest actions of their reach together: in plane those of the whole member, out of plane and
// biaxial those of the segment, wherever along it each arises; a segment's tension counts with its least value. Section,
// shear and torsion checks find the worst station of the diagram.
//
// A segment with a free end takes alpha_m from Table 5.6.2, shares of end moment, tip load and uniform load combined on
// the safe side. A channel's bending about y takes the lesser of toes and web in compression unless Options.Toes says
// where the toes point. Shear across an open section is carried by both flanges (5.11.3, 5.11.4); torsion of a closed
// section adds to its shear. Round bars, whose bending is not covered, are held to first yield for incidental moments, added
// to their capacity in tension.
//
// A single angle's members lie along its legs; moments are turned to the principal axes (5.7.2), both ways in which the
// second leg may point. In compression it is connected through one leg by two bolts or more or by weld (8.4.6), e = c - t/2
// unless the member states one; a channel that braces by its web, and any member with a stated eccentricity, is held to the
// linear sum of 8.4.5 with N* e about y. In tension kt of Table 7.3.2 stands for the eccentricity of angles and channels.
package as4100

// NotCovered lists by name what this pack does not check, for reports and help.
func NotCovered() []string {
	return []string{
		"bending of round bars beyond first yield; unequal angles, tees, welded sections",
		"webs in bending more slender than 115 (Table 5.2): bending is reported as outside the rule",
		"torsion of open sections, and warping stresses",
		"stiffened webs, web openings, load-bearing stiffeners (5.11.5.2, 5.14, 5.15)",
		"holes that reduce the bending or compression section (5.2.6, 6.2.1)",
		"plastic design (4.5), fatigue (11), fire (12), brittle fracture (10), earthquake detailing (13)",
		"restraints' own strength and stiffness beyond the forces of 5.4.3 and 6.6.2",
		"single angles with one bolt at an end (8.4.6 asks for two or a weld, which is assumed)",
		"lateral buckling by elastic analysis (5.6.4) and tapered or built-up members",
		"channels in compression held at one flange only: the restraint does not count (for I and hollow sections buckling about the held flange is worked)",
		"bolts, welds, end plates and base plates beyond what the connection functions compute",
	}
}
