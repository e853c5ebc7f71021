package statics

import (
	"math"
	"slices"
)

// jointCases hold releases, end springs, supports on springs and rigid arms.
func jointCases() []Case {
	return slices.Concat(releaseCases(), jointSprings(), supportCases(), armCases())
}

// releaseCases let single components of an end go.
func releaseCases() []Case {
	const l, p, w = 6.0, 40e3, 12e3
	s := openSection
	ei := s.eiz()
	return []Case{
		{"release/propped by a hinge at end i", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, fixedEnd)
			f.Members[0].ReleaseI = []string{"Mz"}
			f.load("a", "linear").udl("m", 0, 0, -w)
			return f, []Figure{roark.end("a", "m", "i", "Mz", 0).upTo(1e-3), roark.end("a", "m", "j", "Mz", -w*l*l/8),
				roark.end("a", "m", "i", "Vy", 3*w*l/8), roark.end("a", "m", "j", "Vy", 5*w*l/8)}
		}},
		{"release/propped by a hinge at end j", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, fixedEnd)
			f.Members[0].ReleaseJ = []string{"Mz"}
			f.load("a", "linear").at("m", l/2, -p)
			return f, []Figure{roark.end("a", "m", "i", "Mz", 3*p*l/16), roark.end("a", "m", "j", "Mz", 0).upTo(1e-3), roark.end("a", "m", "j", "Vy", 5*p/16)}
		}},
		{"release/simple beam, shear slot and hinge", func() (*form, []Figure) {
			// Vy released at j: the beam hangs from i alone.
			f := span(l, s, fixedEnd, fixedEnd)
			f.Members[0].ReleaseJ = []string{"Vy"}
			f.load("a", "linear").udl("m", 0, 0, -w)
			return f, []Figure{roark.end("a", "m", "j", "Vy", 0).upTo(1e-3), roark.end("a", "m", "i", "Mz", w*l*l/3), roark.end("a", "m", "j", "Mz", w*l*l/6)}
		}},
		{"release/weak axis at one end", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, fixedEnd)
			f.Members[0].ReleaseJ = []string{"My"}
			f.load("a", "linear").udl("m", 0, w/10, 0) // sideways: along -z of the member
			q := w / 10
			return f, []Figure{roark.end("a", "m", "i", "My", -q*l*l/8), roark.end("a", "m", "i", "Vz", 5*q*l/8), roark.end("a", "m", "j", "My", 0).upTo(1e-3)}
		}},
		{"release/axial", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, fixedEnd)
			f.Members[0].ReleaseI = []string{"N"}
			c := f.load("a", "linear")
			c.Point = append(c.Point, pointLoad{Member: "m", A: 2, F: vec{p, 0, 0}, Axes: "local"})
			src := closed("statics: the free end takes nothing")
			return f, []Figure{src.react("a", 1, "fx", 0).upTo(1e-3), src.react("a", 2, "fx", -p)}
		}},
		{"hinged beam of three spans", func() (*form, []Figure) {
			// Two outer cantilevers carry a hung middle span.
			f := newForm()
			f.at(0, 0, 0)
			f.at(2, 0, 0)
			f.at(6, 0, 0)
			f.at(8, 0, 0)
			f.planar()
			f.hold(1, fixedEnd)
			f.hold(4, fixedEnd)
			f.plane("m1", 1, 2, s)
			m := f.plane("m2", 2, 3, s)
			m.ReleaseI, m.ReleaseJ = []string{"Mz"}, []string{"Mz"}
			f.plane("m3", 3, 4, s)
			f.load("a", "linear").udl("m2", 0, 0, -w)
			src := closed("statics: the hung span puts half its load on each cantilever")
			return f, []Figure{src.end("a", "m1", "i", "Mz", w*4/2*2), src.disp("a", 2, "uz", -w*4/2*8/(3*ei)), src.halfway("a", "m2", "Mz", w*16/8),
				src.halfway("a", "m2", "uy", -w*4/2*8/(3*ei)-5*w*256/(384*ei))}
		}},
	}
}

// jointSprings have ends that give.
func jointSprings() []Case {
	const l, p, w = 6.0, 40e3, 12e3
	s := openSection
	ei := s.eiz()
	return []Case{
		{"spring/half-rigid ends", func() (*form, []Figure) {
			const k = 4e6
			f := span(l, s, fixedEnd, fixedEnd)
			f.Members[0].SpringsI, f.Members[0].SpringsJ = map[string]float64{"Mz": k}, map[string]float64{"Mz": k}
			f.load("a", "linear").udl("m", 0, 0, -w)
			m := w * l * l / 12 / (1 + 2*ei/(k*l))
			src := closed("slope-deflection: the end slope is the moment over the spring")
			return f, []Figure{src.end("a", "m", "i", "Mz", m), src.end("a", "m", "j", "Mz", -m), src.halfway("a", "m", "Mz", w*l*l/8-m)}
		}},
		{"spring/cantilever on a soft clamp", func() (*form, []Figure) {
			const k = 2e6
			f := span(l, s, fixedEnd, freeEnd)
			f.Members[0].SpringsI = map[string]float64{"Mz": k}
			f.load("a", "linear").force(2, 0, 0, -p)
			src := closed("the clamp turns by PL/k")
			return f, []Figure{src.disp("a", 2, "uz", -p*l*l*l/(3*ei)-p*l*l/k), src.disp("a", 2, "ry", p*l*l/(2*ei)+p*l/k)}
		}},
		{"spring/torsion at one end", func() (*form, []Figure) {
			const k, t = 5e4, 2e3
			f := span(l, closedSection, fixedEnd, freeEnd)
			f.Members[0].SpringsI = map[string]float64{"T": k}
			f.Supports = f.Supports[:1]
			f.load("a", "linear").moment(2, t, 0, 0)
			src := closed("twist TL/GJ and the spring in series")
			return f, []Figure{src.disp("a", 2, "rx", t*l/(closedSection.G*closedSection.J)+t/k)}
		}},
	}
}

// supportCases have supports that give.
func supportCases() []Case {
	const l, p, w = 6.0, 40e3, 12e3
	s := openSection
	ei := s.eiz()
	return []Case{
		{"support/springs under a beam", func() (*form, []Figure) {
			const k1, k2 = 3e6, 1.5e6
			f := span(l, s, "ux", freeEnd)
			f.supportOf(1).KZ, f.supportOf(2).KZ = k1, k2
			f.load("a", "linear").at("m", 2, -p)
			r1, r2 := p*4/l, p*2/l
			src := closed("statics; springs give by reaction over stiffness")
			return f, []Figure{src.disp("a", 1, "uz", -r1/k1), src.disp("a", 2, "uz", -r2/k2), src.react("a", 1, "fz", r1), src.react("a", 2, "fz", r2)}
		}},
		{"support/propped by a spring", func() (*form, []Figure) {
			const k = 4e5
			f := span(l, s, fixedEnd, freeEnd)
			f.supportOf(2).KZ = k
			f.load("a", "linear").udl("m", 0, 0, -w)
			r := w * math.Pow(l, 4) / (8 * ei) / (1/k + l*l*l/(3*ei))
			src := closed("the prop's reaction closes the gap of the cantilever")
			return f, []Figure{src.react("a", 2, "fz", r), src.disp("a", 2, "uz", -r/k), src.end("a", "m", "i", "Mz", w*l*l/2-r*l)}
		}},
		{"support/middle support sinks", func() (*form, []Figure) {
			// A spring preloaded through its node is a support that sinks by a stated amount: k very large, load k times the amount.
			const k, sink = 1e12, 0.01
			f := newForm()
			f.at(0, 0, 0)
			f.at(l/2, 0, 0)
			f.at(l, 0, 0)
			f.planar()
			f.hold(1, pinned)
			f.hold(3, roller)
			f.supportOf(2).KZ = k
			f.plane("m1", 1, 2, s)
			f.plane("m2", 2, 3, s)
			f.load("a", "linear").force(2, 0, 0, -k*sink)
			src := closed("force 48EIδ/L³ that bends a simple beam by the settlement")
			return f, []Figure{src.react("a", 1, "fz", 24*ei*sink/(l*l*l)), src.end("a", "m1", "j", "Mz", 12*ei*sink/(l*l)), src.disp("a", 2, "uz", -sink)}
		}},
		{"support/soft rotation at the base", func() (*form, []Figure) {
			const k = 1.2e6
			f := newForm()
			f.at(0, 0, 0)
			f.at(0, 0, l)
			f.planar()
			f.hold(1, pinned)
			f.supportOf(1).KRY = k
			f.plane("m", 1, 2, s)
			// ry of the base is free to turn on its spring.
			f.load("a", "linear").force(2, p, 0, 0)
			src := closed("the base turns by the moment over the spring")
			return f, []Figure{src.disp("a", 2, "ux", p*l*l*l/(3*ei)+p*l*l/k), src.disp("a", 1, "ry", p*l/k), src.react("a", 1, "my", -p*l)}
		}},
	}
}

// armCases have rigid arms between nodes and member ends.
func armCases() []Case {
	const l, p, w = 6.0, 40e3, 12e3
	s := openSection
	ei := s.eiz()
	return []Case{
		{"offset/arms at both ends", func() (*form, []Figure) {
			const a, b = 0.4, 0.6 // arms along the beam
			f := span(l, s, fixedEnd, fixedEnd)
			f.Members[0].OffsetI, f.Members[0].OffsetJ = &vec{a, 0, 0}, &vec{-b, 0, 0}
			f.load("a", "linear").udl("m", 0, 0, -w)
			lc := l - a - b
			src := closed("fixed beam of the clear length; the arms carry its end forces to the nodes")
			return f, []Figure{src.end("a", "m", "i", "Mz", w*lc*lc/12), src.react("a", 1, "my", -(w*lc*lc/12 + w*lc/2*a)),
				src.react("a", 2, "my", w*lc*lc/12+w*lc/2*b)}
		}},
		{"offset/eccentric post", func() (*form, []Figure) {
			const e = 0.25 // the post's axis stands beside its nodes
			f := newForm()
			f.at(0, 0, 0)
			f.at(0, 0, l)
			f.planar()
			f.hold(1, fixedEnd)
			f.plane("m", 1, 2, s)
			f.Members[0].OffsetI, f.Members[0].OffsetJ = &vec{e, 0, 0}, &vec{e, 0, 0}
			f.load("a", "linear").force(2, 0, 0, -p)
			src := closed("moment of the load about the post's axis")
			// The load stands at -e from the axis: it turns the top towards -X.
			th := p * e * l / ei
			return f, []Figure{src.disp("a", 2, "ux", -p*e*l*l/(2*ei)), src.disp("a", 2, "ry", -th),
				src.disp("a", 2, "uz", -p*l/(s.E*s.A)-th*e), src.react("a", 1, "my", 0).upTo(1e-3), src.end("a", "m", "j", "Mz", p*e)}
		}},
	}
}
