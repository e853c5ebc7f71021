package statics

import (
	"math"
)

// combinedCases join what the others hold apart: two planes, rolled axes, rigid arms, unequal columns, all in second order.
func combinedCases() []Case {
	const l, p, push = 5.0, 120e3, 2e3
	return []Case{
		{"combined/post bent in both planes under load", func() (*form, []Figure) {
			f := newForm()
			f.at(0, 0, 0)
			f.at(0, 0, l)
			f.hold(1, "all")
			f.beam("m", 1, 2, closedSection, vec{1, 0, 0}) // z along +Y: Iz bends along X, Iy along Y
			f.load("a", "second_order").force(2, push, 0.7*push, -p)
			src := stability("cantilever beam-column in each plane: H/P(tan kL/k - L)")
			return f, []Figure{src.disp("a", 2, "ux", tipDrift(push, p, l, closedSection.eiz())), src.disp("a", 2, "uy", tipDrift(0.7*push, p, l, closedSection.eiy())),
				src.react("a", 1, "my", -(push*l + p*tipDrift(push, p, l, closedSection.eiz())))}
		}},
		{"combined/post rolled by 25 degrees under load", func() (*form, []Figure) {
			sin, cos := math.Sincos(25 * math.Pi / 180)
			f := newForm()
			f.at(0, 0, 0)
			f.at(0, 0, l)
			f.hold(1, "all")
			f.beam("m", 1, 2, openSection, vec{cos, sin, 0})
			f.load("a", "second_order").force(2, push/4, 0, -p/2)
			v := tipDrift(push/4*cos, p/2, l, openSection.eiz())
			w := tipDrift(-push/4*sin, p/2, l, openSection.eiy()) // along z = x cross y = (-sin, cos, 0)
			src := stability("cantilever beam-column along each principal axis")
			return f, []Figure{src.disp("a", 2, "ux", v*cos-w*sin), src.disp("a", 2, "uy", v*sin+w*cos)}
		}},
		{"combined/eccentric column by arms", func() (*form, []Figure) {
			const e = 0.08
			s := planeSection.stocky()
			f := span(l, s, pinned, roller)
			f.Members[0].OffsetI, f.Members[0].OffsetJ = &vec{0, 0, e}, &vec{0, 0, e}
			n := 0.5 * math.Pi * math.Pi * s.eiz() / (l * l)
			pressed(f, n)
			sec := 1 / math.Cos(l/2*math.Sqrt(n/s.eiz()))
			src := stability("secant formula")
			return f, []Figure{src.halfway("a", "m", "uy", e*(sec-1)), src.peak("a", "m", "Mz", -n*e*sec)}
		}},
		{"combined/cantilever under a rigid cap", func() (*form, []Figure) {
			const cap = 1.2
			s := planeSection
			f := newForm()
			f.at(0, 0, 0)
			f.at(0, 0, l+cap)
			f.planar()
			f.hold(1, fixedEnd)
			f.plane("m", 1, 2, s)
			f.Members[0].OffsetJ = &vec{0, 0, -cap}
			f.load("b", "buckling").force(2, 0, 0, -p)
			// tan(kl)·k·cap = 1
			k := roots(func(k float64) float64 { return math.Sin(k*l)*k*cap - math.Cos(k*l) }, 1e-3, 1e-3, 2)
			src := stability("characteristic equation of a cantilever with a rigid end, solved by bisection")
			return f, []Figure{src.factor("b", 0, sq(k[0])*s.eiz()/p), src.factor("b", 1, sq(k[1])*s.eiz()/p)}
		}},
		{"combined/portal with unequal loads, critical", func() (*form, []Figure) {
			const w, h = 8.0, 5.0
			s := planeSection
			f := portal(w, h, s, s, fixedEnd)
			f.load("b", "buckling").force(2, 0, 0, -p).force(3, 0, 0, -4*p)
			det := func(lambda float64) float64 {
				m := unequalPortal(w, h, s.eiz(), lambda*p, lambda*4*p)
				return determinant(m[0][:], m[1][:], m[2][:])
			}
			src := stability("stability functions, two joint turns and drift: determinant solved by bisection")
			return f, []Figure{src.factor("b", 0, roots(det, 0.5, 0.1, 1)[0])}
		}},
		unequalPush("combined/portal with unequal loads, pushed", 1e6, 3e6, 30e3),
		unequalPush("combined/portal with unequal loads, pushed back", 4e6, 0.5e6, -30e3),
		{"combined/loads a fraction of a millimetre apart", func() (*form, []Figure) {
			// Stations that a drawing rounds differently must not drown the rest in round-off.
			const apart = 2e-4
			s := planeSection
			e1 := math.Pi * math.Pi * s.eiz() / (l * l)
			n := 0.4 * e1
			f := span(l, s, pinned, roller)
			c := pressed(f, n)
			th := 0.0
			k := math.Sqrt(n / s.eiz())
			for _, a := range []float64{2, 2 + apart, 2 + 2*apart} {
				c.at("m", a, -push)
				th += push/n*math.Sin(k*(l-a))/math.Sin(k*l) - push/n*(l-a)/l
			}
			g := f.load("b", "buckling").force(2, -e1/2, 0, 0).at("m", 2, -push)
			g.Point = append(g.Point, pointLoad{Member: "m", A: 2 + apart, F: vec{0, 0, 1}, Axes: "local"}, pointLoad{Member: "m", A: 2 + 2*apart, F: vec{0, 0, 1}, Axes: "local"})
			return f, []Figure{gere.disp("a", 1, "ry", th), stability("Euler").factor("b", 0, 2), stability("Euler").factor("b", 1, 8)}
		}},
		{"combined/upright shed on slack rods", func() (*form, []Figure) {
			const q = 5e3
			f := shed(12)
			gravity(f.load("first", "tension_only"), 12, q)
			gravity(f.load("second", "tension_only_second_order"), 12, q)
			lean := f.load("lean", "tension_only_second_order")
			gravity(lean, 12, q)
			lean.force(2, 500, 0, 0)
			src := closed("symmetry and statics: no load along the shed, half of a frame's load at each foot")
			foot := q * math.Hypot(7.5, 1.5)
			o := f.opinion("lean", true, true)
			return f, []Figure{src.stands("first", true), src.slack("first", "wall rod A1 up", true), src.react("first", 26, "fz", foot), src.disp("first", 27, "ux", 0).upTo(1e-9),
				src.stands("second", true), src.react("second", 26, "fz", foot), src.disp("second", 27, "ux", 0).upTo(1e-9),
				o.disp(2, "ux"), o.disp(57, "ux"), o.slack("wall rod A1 up"), o.slack("wall rod A1 down")}
		}},
	}
}

// tipDrift is the head's drift of a cantilever beam-column pushed by h under p.
func tipDrift(h, p, l, ei float64) float64 {
	k := math.Sqrt(p / ei)
	return h / p * (math.Tan(k*l)/k - l)
}

// unequalPortal is the stiffness of a fixed portal, over EI/h, by the turns of its two joints and the drift over h; the
// columns carry n1 and n2, all members have one EI.
func unequalPortal(l, h, ei, n1, n2 float64) [3][3]float64 {
	u1, u2 := h*math.Sqrt(n1/ei), h*math.Sqrt(n2/ei)
	s1, s2 := stabilityS(u1), stabilityS(u2)
	a1, a2 := s1+stabilitySC(u1), s2+stabilitySC(u2)
	b := h / l
	return [3][3]float64{
		{s1 + 4*b, 2 * b, -a1},
		{2 * b, s2 + 4*b, -a2},
		{-a1, -a2, 2*a1 + 2*a2 - u1*u1 - u2*u2},
	}
}

// unequalPush is a fixed portal whose columns carry n1 and n2 and which is pushed at its left knee; the change of the
// columns' forces by overturning is iterated.
func unequalPush(name string, n1, n2, push float64) Case {
	return Case{name, func() (*form, []Figure) {
		const l, h = 8.0, 5.0
		s := planeSection
		f := portal(l, h, s, s, fixedEnd)
		f.load("a", "second_order").force(2, push, 0, -n1).force(3, 0, 0, -n2)
		var x [3]float64
		over := 0.0
		for range 100 {
			// A drift along +X is a chord turn from X to Z of -drift/h of the rising columns.
			m := unequalPortal(l, h, s.eiz(), n1-over, n2+over)
			x = solve3(m, [3]float64{0, 0, -push * h * h / s.eiz()})
			over = -6 * s.eiz() / (l * l) * (x[0] + x[1])
		}
		src := stability("stability functions, two joint turns and drift, solved by Cramer's rule")
		return f, []Figure{src.disp("a", 2, "ux", -x[2]*h), src.disp("a", 2, "ry", -x[0]), src.end("a", "beam", "i", "Mz", s.eiz()/l*(4*x[0]+2*x[1])),
			src.react("a", 1, "fz", n1-over)}
	}}
}
