package statics

import (
	"fmt"
	"math"
)

// The benchmark problems of the commentary on ANSI/AISC 360-10, C2.1, figures C-C2.2 and C-C2.3: a W14x48 bent about its
// major axis, 28 ft long. Case 1 is a simple beam-column under 0.200 kip/ft, case 2 a cantilever pushed by 1.00 kip. The
// figures are published to three digits, with shear deformation and (in brackets there) without.
const (
	kip, inch = 4448.2216152605, 0.0254
	ksi       = kip / (inch * inch)
)

type benchmark struct {
	axial, moment, deflection    float64 // kip, kip-in, in
	plainMoment, plainDeflection float64 // without shear deformation
}

var (
	commentary1 = []benchmark{{0, 235, 0.202, 235, 0.197}, {150, 270, 0.230, 269, 0.224}, {300, 316, 0.269, 313, 0.261}, {450, 380, 0.322, 375, 0.311}}
	commentary2 = []benchmark{{0, 336, 0.907, 336, 0.901}, {100, 470, 1.34, 469, 1.33}, {150, 601, 1.77, 598, 1.75}, {200, 856, 2.60, 848, 2.56}}
)

// w14x48 has I = 484 in⁴, A = 14.1 in², E = 29000 ksi; its web is 13.8 x 0.340 in.
func w14x48(shear bool) section {
	s := section{E: 29000 * ksi, G: 11200 * ksi, A: 14.1 * inch * inch, Iy: 4840 * math.Pow(inch, 4), Iz: 484 * math.Pow(inch, 4), J: 1.45 * math.Pow(inch, 4)}
	if shear {
		return s.withShear(13.8*0.340*inch*inch, 13.8*0.340*inch*inch)
	}
	return s
}

func commentaryCases() []Case {
	const l = 336 * inch
	src := published("ANSI/AISC 360-10 Commentary C2.1, benchmark problems, three digits")
	var out []Case
	for i, rows := range [][]benchmark{commentary1, commentary2} {
		for _, b := range rows {
			for _, shear := range []bool{true, false} {
				name := fmt.Sprintf("commentary/case %d, %g kip", i+1, b.axial)
				moment, deflection := b.moment, b.deflection
				if !shear {
					name += ", without shear"
					moment, deflection = b.plainMoment, b.plainDeflection
				}
				out = append(out, Case{name, func() (*form, []Figure) {
					if i == 0 {
						f := span(l, w14x48(shear), pinned, roller)
						pressed(f, b.axial*kip).udl("m", 0, 0, -0.2*kip/(12*inch))
						return f, []Figure{src.peak("a", "m", "Mz", moment*kip*inch), src.peak("a", "m", "uy", -deflection*inch)}
					}
					f := span(l, w14x48(shear), fixedEnd, freeEnd)
					pressed(f, b.axial*kip).force(2, 0, 0, -kip)
					return f, []Figure{src.end("a", "m", "i", "Mz", moment*kip*inch), src.disp("a", 2, "uz", -deflection*inch)}
				}})
			}
		}
	}
	return out
}
