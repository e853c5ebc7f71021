package statics

import (
	"fmt"
	"math"
)

// column stands along Z from node 1 to node 2, pushed down by p at its head in a buckling case "b".
func column(l float64, s section, foot, head string, p float64) *form {
	f := newForm()
	f.at(0, 0, 0)
	f.at(0, 0, l)
	f.planar()
	f.hold(1, foot)
	f.hold(2, head)
	f.plane("m", 1, 2, s)
	f.load("b", "buckling").force(2, 0, 0, -p)
	return f
}

// columnCases are single columns: load factors by closed forms, one modelled member unless said otherwise.
func columnCases() []Case {
	const l, p = 4.0, 500e3
	s := planeSection
	ei := s.eiz()
	unit := ei / (l * l) / p // factor of a column whose critical load is EI/l²
	euler := stability("Euler; Timoshenko and Gere, 2.1 and 2.2")
	tan := root(func(u float64) float64 { return math.Tan(u) - u }, 4.4, 4.6)
	tan2 := root(func(u float64) float64 { return math.Tan(u) - u }, 7.7, 7.8)
	var out []Case
	for _, e := range []struct {
		name, foot, head string
		want             [2]float64 // critical P·l²/EI
	}{
		{"pinned", pinned, "ux", [2]float64{sq(math.Pi), sq(2 * math.Pi)}},
		{"cantilever", fixedEnd, freeEnd, [2]float64{sq(math.Pi / 2), sq(1.5 * math.Pi)}},
		{"fixed foot, pinned head", fixedEnd, "ux", [2]float64{sq(tan), sq(tan2)}},
		{"fixed both ends", fixedEnd, "ux ry", [2]float64{sq(2 * math.Pi), sq(2 * 4.493409458)}},
		{"fixed foot, guided head", fixedEnd, "ry", [2]float64{sq(math.Pi), sq(2 * math.Pi)}},
		{"pinned foot, guided head", pinned, "ry", [2]float64{sq(math.Pi / 2), sq(1.5 * math.Pi)}},
	} {
		out = append(out, Case{"column/" + e.name, func() (*form, []Figure) {
			return column(l, s, e.foot, e.head, p), []Figure{euler.factor("b", 0, e.want[0]*unit), euler.factor("b", 1, e.want[1]*unit)}
		}})
	}
	return append(append(append(out, heldColumns(l, p, s)...), steppedColumns(l, p, s)...), heavyCases(l, s)...)
}

func sq(x float64) float64 { return x * x }

// heldColumns have springs and inner supports.
func heldColumns(l, p float64, s section) []Case {
	ei := s.eiz()
	unit := ei / (l * l) / p
	src := stability("stability functions: characteristic equation solved by bisection")
	return []Case{
		{"column/foot on a spring, free head", func() (*form, []Figure) {
			const k = 4e6
			f := column(l, s, pinned, freeEnd, p)
			f.supportOf(1).KRY = k
			// u·tan u = k·l/EI (Timoshenko and Gere, 2.3)
			us := roots(func(u float64) float64 { return u*math.Sin(u) - k*l/ei*math.Cos(u) }, 0.01, 0.1, 2)
			return f, []Figure{src.factor("b", 0, sq(us[0])*unit), src.factor("b", 1, sq(us[1])*unit)}
		}},
		{"column/springs at both ends, no sway", func() (*form, []Figure) {
			const k1, k2 = 3e6, 9e6
			f := column(l, s, pinned, "ux", p)
			f.supportOf(1).KRY, f.supportOf(2).KRY = k1, k2
			det := func(u float64) float64 {
				a, b := stabilityS(u), stabilitySC(u)
				return (a+k1*l/ei)*(a+k2*l/ei) - b*b
			}
			us := roots(det, 0.5, 0.01, 1)
			return f, []Figure{src.factor("b", 0, sq(us[0])*unit)}
		}},
		{"column/half-rigid end joints", func() (*form, []Figure) {
			const k = 5e6
			f := column(l, s, fixedEnd, "ux ry", p)
			f.Members[0].SpringsI, f.Members[0].SpringsJ = map[string]float64{"Mz": k}, map[string]float64{"Mz": k}
			// symmetric: s - sc + kl/EI = 0
			us := roots(func(u float64) float64 { return stabilityS(u) - stabilitySC(u) + k*l/ei }, 0.5, 0.01, 1)
			return f, []Figure{src.factor("b", 0, sq(us[0])*unit)}
		}},
		{"column/head held by a spring", func() (*form, []Figure) {
			const k = 6e5
			f := column(l, s, fixedEnd, freeEnd, p)
			f.supportOf(2).KX = k
			// Cantilever with a lateral spring: tan u / u = 1 - P/(k·l), P = u²EI/l².
			us := roots(func(u float64) float64 { return math.Sin(u)/u - (1-u*u*ei/(l*l*l*k))*math.Cos(u) }, 0.5, 0.01, 1)
			return f, []Figure{src.factor("b", 0, sq(us[0])*unit)}
		}},
		{"column/rigid post on a sprung head", func() (*form, []Figure) {
			const k = 2e5
			f := column(l, s.times(1e4), pinned, freeEnd, p)
			f.supportOf(2).KX = k
			return f, []Figure{stability("rigid bar: P = k·l").factor("b", 0, k*l/p)}
		}},
		{"column/two unequal spans", func() (*form, []Figure) {
			const a, b = 2.5, 4.0
			f := newForm()
			f.at(0, 0, 0)
			f.at(0, 0, a)
			f.at(0, 0, a+b)
			f.planar()
			f.hold(1, pinned)
			f.hold(2, "ux")
			f.hold(3, "ux")
			f.plane("m1", 1, 2, s)
			f.plane("m2", 2, 3, s)
			f.load("b", "buckling").force(3, 0, 0, -p)
			// Joint between two hinged-hinged spans: EI/a·s''(ka) + EI/b·s''(kb) = 0.
			ks := roots(func(k float64) float64 { return stabilityHinged(k*a)/a + stabilityHinged(k*b)/b }, 0.3, 0.002, 1)
			return f, []Figure{src.factor("b", 0, sq(ks[0])*ei/p)}
		}},
		{"column/both planes", func() (*form, []Figure) {
			f := newForm()
			f.at(0, 0, 0)
			f.at(0, 0, l)
			f.hold(1, "all")
			f.beam("m", 1, 2, closedSection, vec{-1, 0, 0})
			f.load("b", "buckling").force(2, 0, 0, -p)
			src := stability("Euler in each plane")
			e := math.Pi * math.Pi / (4 * l * l) / p
			return f, []Figure{src.factor("b", 0, e*closedSection.eiy()), src.factor("b", 1, e*closedSection.eiz())}
		}},
		{"column/leaning", func() (*form, []Figure) {
			// A cantilever that carries nothing itself holds a hinged column that carries p: P = 3EI/l².
			f := leaning(l, s, 0, p)
			return f, []Figure{stability("leaning column: side force P·δ/l on a cantilever").factor("b", 0, 3*unit)}
		}},
		{"column/leaning, both loaded", func() (*form, []Figure) {
			f := leaning(l, s, p, 1.6*p)
			// 1 = (P2/P1)(tan u / u - 1)
			us := roots(func(u float64) float64 { return 1.6*(math.Sin(u)/u-math.Cos(u)) - math.Cos(u) }, 0.2, 0.01, 1)
			return f, []Figure{src.factor("b", 0, sq(us[0])*unit)}
		}},
	}
}

// leaning joins a cantilever 1-2 to a hinged column 3-4 by a bar at their heads.
func leaning(l float64, s section, own, leaned float64) *form {
	f := newForm()
	f.at(0, 0, 0)
	f.at(0, 0, l)
	f.at(3, 0, 0)
	f.at(3, 0, l)
	f.planar()
	f.hold(1, fixedEnd)
	f.hold(3, pinned)
	f.plane("m", 1, 2, s.stocky())
	f.rod("link", 2, 4, steelE, 1)
	f.rod("lean", 3, 4, steelE, 1)
	f.load("b", "buckling").force(2, 0, 0, -own).force(4, 0, 0, -leaned)
	return f
}

// steppedColumns change section or load along their height.
func steppedColumns(l, p float64, s section) []Case {
	ei := s.eiz()
	src := stability("piecewise solutions of the column equation (Timoshenko and Gere, 2.14), solved by bisection")
	build := func(low, high section, foot, head string) *form {
		f := newForm()
		f.at(0, 0, 0)
		f.at(0, 0, l*0.6)
		f.at(0, 0, l)
		f.planar()
		f.hold(1, foot)
		f.hold(3, head)
		f.plane("low", 1, 2, low)
		f.plane("high", 2, 3, high)
		return f
	}
	return []Case{
		{"column/stepped cantilever", func() (*form, []Figure) {
			f := build(s, s.times(0.3), fixedEnd, freeEnd)
			f.load("b", "buckling").force(3, 0, 0, -p)
			r := math.Sqrt(0.3) // tan(k1 l1)·tan(k2 l2) = k2/k1, k2 = k1/r here
			ks := roots(func(k float64) float64 {
				return math.Sin(k*0.6*l)*math.Sin(k/r*0.4*l) - math.Cos(k*0.6*l)*math.Cos(k/r*0.4*l)/r
			}, 0.02, 0.001, 1)
			return f, []Figure{src.factor("b", 0, sq(ks[0])*ei/p)}
		}},
		{"column/cantilever loaded at two heights", func() (*form, []Figure) {
			f := build(s, s, fixedEnd, freeEnd)
			f.load("b", "buckling").force(3, 0, 0, -p).force(2, 0, 0, -1.5*p)
			return f, []Figure{src.factor("b", 0, twoLoads(l*0.6, l*0.4, ei, 2.5*p, p))}
		}},
		{"column/crane column, stepped and loaded at the step", func() (*form, []Figure) {
			f := build(s.times(3), s, fixedEnd, freeEnd)
			f.load("b", "buckling").force(3, 0, 0, -p).force(2, 0, 0, -4*p)
			return f, []Figure{src.factor("b", 0, twoLoadsStepped(l*0.6, l*0.4, 3*ei, ei, 5*p, p))}
		}},
	}
}

// twoLoads is the load factor of a cantilever with force n1 in its lower and n2 in its upper part.
func twoLoads(l1, l2, ei, n1, n2 float64) float64 { return twoLoadsStepped(l1, l2, ei, ei, n1, n2) }

// twoLoadsStepped solves the same with two stiffnesses: below, y = A(1 - cos k1x) + B(k1x - sin k1x); above, from the tip,
// the distance to the tip's line is C·sin(k2 s). Moments and transverse forces at the step are in balance.
func twoLoadsStepped(l1, l2, ei1, ei2, n1, n2 float64) float64 {
	det := func(lambda float64) float64 {
		k1, k2 := math.Sqrt(lambda*n1/ei1), math.Sqrt(lambda*n2/ei2)
		s1, c1 := math.Sincos(k1 * l1)
		s2, c2 := math.Sincos(k2 * l2)
		// slope at the step: k1(A s1 + B(1 - c1)) = k2 C c2
		// moment: EI1 k1²(A c1 + B s1) = N2 C s2
		// transverse force: below EI y''' + N1 y' = EI1 k1³ B = N1 k1 B in the fixed direction; above EI y''' + N2 y' = 0
		return determinant([]float64{k1 * s1, k1 * (1 - c1), -k2 * c2}, []float64{n1 * c1, n1 * s1, -n2 * s2}, []float64{0, n1 * k1, 0})
	}
	return roots(det, 1e-3, 1e-3, 1)[0]
}

// heavyCases carry their load along their length.
func heavyCases(l float64, s section) []Case {
	ei := s.eiz()
	var out []Case
	src := stability("column under its own weight: power series of its equation (Timoshenko and Gere, 2.12: 7.837 EI/l² for the cantilever)")
	for _, e := range []struct{ name, foot, head, series1, series2 string }{
		{"cantilever", fixedEnd, freeEnd, "fixed", "free"},
		{"pinned", pinned, "ux", "pinned", "pinned"},
		{"fixed foot, pinned head", fixedEnd, "ux", "fixed", "pinned"},
		{"fixed both ends", fixedEnd, "ux ry", "fixed", "fixed"},
	} {
		out = append(out, Case{"heavy column/" + e.name, func() (*form, []Figure) {
			q := ei / (l * l * l)
			f := column(l, s, e.foot, e.head, 0)
			f.Cases[0].Nodal = nil
			f.Cases[0].udl("m", 0, 0, -q)
			return f, []Figure{src.factor("b", 0, heavyColumn(e.series1, e.series2))}
		}})
	}
	return append(out, Case{"heavy column/second order, pushed at the head", func() (*form, []Figure) {
		// Deflection by the same power series: y'' from the moment of the weight above and the push.
		f := column(l, s, fixedEnd, freeEnd, 0)
		q, h := 4*ei/(l*l*l), 5e3
		f.Cases = nil
		f.load("a", "second_order").udl("m", 0, 0, -q).force(2, h, 0, 0)
		y := heavyTip(4) * h * l * l * l / ei
		return f, []Figure{src.disp("a", 2, "ux", y), src.react("a", 1, "fx", -h)}
	}})
}

// heavyTip is the head's deflection of a cantilever of length 1 and EI 1 under weight q per length and a unit push at its
// head: y = A·y2 + B·y3 with no moment and the push as transverse force there.
func heavyTip(q float64) float64 {
	a, b := seriesTop(q, 2), seriesTop(q, 3)
	// A y2'' + B y3'' = 0; -(A y2''' + B y3''') = 1
	d := a[2]*b[3] - b[2]*a[3]
	x, y := b[2]/d, -a[2]/d
	return x*a[0] + y*b[0]
}

// beyondCases load structures beyond their critical loads: they must be reported unstable, whatever an iteration would
// converge to.
func beyondCases() []Case {
	const l = 5.0
	s := planeSection
	e1 := math.Pi * math.Pi * s.eiz() / (l * l)
	src := stability("loads above the critical load have no stable state")
	var out []Case
	for _, r := range []float64{0.98, 1.02, 1.5, 3.9, 4.5, 9.5} {
		out = append(out, Case{fmt.Sprintf("beyond/pinned column at %g of critical", r), func() (*form, []Figure) {
			f := span(l, s, pinned, roller)
			f.load("a", "second_order").force(2, -r*e1, 0, 0).udl("m", 0, 0, -100)
			return f, []Figure{src.stands("a", r < 1)}
		}})
	}
	return append(out,
		Case{"beyond/cantilever, straight, no side load", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, freeEnd)
			f.load("a", "second_order").force(2, -e1/4*1.1, 0, 0)
			f.load("c", "second_order").force(2, -e1/4*0.9, 0, 0)
			return f, []Figure{src.stands("a", false), src.stands("c", true)}
		}},
		Case{"beyond/sway portal", func() (*form, []Figure) {
			c := swayPortal(pinned, 1)
			f := portal(8, l, s, s, pinned)
			f.load("a", "second_order").force(2, 100, 0, -1.05*c).force(3, 0, 0, -1.05*c)
			f.load("c", "second_order").force(2, 100, 0, -0.95*c).force(3, 0, 0, -0.95*c)
			return f, []Figure{src.stands("a", false), src.stands("c", true)}
		}},
	)
}

// swayPortal is the critical load on each column of a portal of span 8 and height 5, beam as stiff as ratio columns.
func swayPortal(base string, ratio float64) float64 {
	const l, h = 8.0, 5.0
	ei := planeSection.eiz()
	beam := 6 * ratio * ei / l * h / ei // over EI/h
	f := func(u float64) float64 { return swayHinged(u)*math.Cos(u) + beam*math.Cos(u) }
	if base == fixedEnd {
		f = func(u float64) float64 { return u*math.Cos(u) + beam*math.Sin(u) }
	}
	return sq(roots(f, 0.1, 0.01, 1)[0]) * ei / (h * h)
}
