package statics

import (
	"fmt"
	"math"
)

// frameStability are whole frames whose characteristic equations can be written with stability functions.
func frameStability() []Case {
	const l, h, p = 8.0, 5.0, 400e3
	s := planeSection
	ei := s.eiz()
	unit := ei / (h * h) / p
	src := stability("stability functions: characteristic equation of the portal solved by bisection (Livesley and Chandler; Timoshenko and Gere, 2.5)")
	loaded := func(f *form) *form {
		f.load("b", "buckling").force(2, 0, 0, -p).force(3, 0, 0, -p)
		return f
	}
	var out []Case
	for _, ratio := range []float64{0.5, 1, 3} {
		b := s.times(ratio)
		beam := ratio * h / l // (EI/l of the beam) over (EI/h of the column)
		for _, base := range []struct{ name, hold string }{{"hinged", pinned}, {"fixed", fixedEnd}} {
			out = append(out,
				Case{fmt.Sprintf("sway portal/%s, beam %g", base.name, ratio), func() (*form, []Figure) {
					f := loaded(portal(l, h, s, b, base.hold))
					sway := sq(roots(func(u float64) float64 {
						if base.hold == pinned {
							return -u*math.Sin(u) + 6*beam*math.Cos(u)
						}
						return u*math.Cos(u) + 6*beam*math.Sin(u)
					}, 0.1, 0.01, 1)[0])
					return f, []Figure{src.factor("b", 0, sway*unit), src.factor("b", 1, min(symmetricPortal(base.hold, beam), secondSway(base.hold, beam))*unit)}
				}},
				Case{fmt.Sprintf("braced portal/%s, beam %g", base.name, ratio), func() (*form, []Figure) {
					f := portal(l, h, s, b, base.hold)
					f.hold(2, "ux")
					loaded(f)
					anti := sq(roots(func(u float64) float64 { return heldColumn(base.hold, u) + 6*beam }, 0.5, 0.01, 1)[0])
					return f, []Figure{src.factor("b", 0, symmetricPortal(base.hold, beam)*unit), src.factor("b", 1, anti*unit)}
				}})
		}
	}
	return append(append(out, pushedPortals()...), stayedColumns()...)
}

// heldColumn is the top moment over EI/h for a unit turn of a column whose head does not move sideways.
func heldColumn(base string, u float64) float64 {
	if base == pinned {
		return stabilityHinged(u)
	}
	return stabilityS(u)
}

// symmetricPortal is the critical P·h²/EI of the symmetric mode: the beam ends turn against each other.
func symmetricPortal(base string, beam float64) float64 {
	return sq(roots(func(u float64) float64 { return heldColumn(base, u) + 2*beam }, 0.5, 0.01, 1)[0])
}

// secondSway is the second root of the sway mode.
func secondSway(base string, beam float64) float64 {
	return sq(roots(func(u float64) float64 {
		if base == pinned {
			return -u*math.Sin(u) + 6*beam*math.Cos(u)
		}
		return u*math.Cos(u) + 6*beam*math.Sin(u)
	}, 0.1, 0.01, 2)[1])
}

// pushedPortals are sway portals in second order: equal loads on both columns and a push shared by them.
func pushedPortals() []Case {
	const l, h, push = 8.0, 5.0, 20e3
	s := planeSection
	ei := s.eiz()
	src := stability("sway stability functions, antisymmetric portal; the change of the columns' axial force by the push is small and opposite in the two")
	var out []Case
	for _, base := range []struct{ name, hold string }{{"hinged", pinned}, {"fixed", fixedEnd}} {
		for _, r := range []float64{0.2, 0.5, 0.8} {
			out = append(out, Case{fmt.Sprintf("pushed portal/%s, %g of critical", base.name, r), func() (*form, []Figure) {
				n := r * swayPortal(base.hold, 1)
				f := portal(l, h, s, s, base.hold)
				f.load("a", "second_order").force(2, push/2, 0, -n).force(3, push/2, 0, -n)
				drift, top := swayAnswer(base.hold, push/2, n, h, ei, 6*ei/l)
				return f, []Figure{src.disp("a", 2, "ux", drift), src.end("a", "left", "j", "Mz", top)}
			}})
		}
	}
	return out
}

// swayAnswer is drift and top moment of a column of height h under axial n whose head is pushed by v and turns against a
// rotational stiffness k (the beam), the foot hinged or fixed.
func swayAnswer(base string, v, n, h, ei, k float64) (drift, top float64) {
	u := h * math.Sqrt(n/ei)
	kk := u / h
	sin, cos := math.Sincos(u)
	if base == pinned {
		// EIy'' = -(v·x + n·y), y = A sin kx - v/n·x; the beam takes the head's moment n·A sin u by its turn: k·y'(h).
		a := v / n / (kk*cos - n*sin/k)
		return a*sin - v/n*h, n * a * sin
	}
	// Fixed foot: y = A(1 - cos kx) + B sin kx - v/n·x, no slope at the foot gives B; at the head EIy'' = -k·y'.
	b := v / (n * kk)
	a := (n*b*sin - k*(b*kk*cos-v/n)) / (n*cos + k*kk*sin)
	return a*(1-cos) + b*sin - v/n*h, k * (a*kk*sin + b*kk*cos - v/n)
}

// stayedColumns are hinged masts held by bars, and bays on rods in second order.
func stayedColumns() []Case {
	const h, p = 6.0, 300e3
	s := planeSection
	e1 := math.Pi * math.Pi * s.eiz() / (h * h)
	return []Case{
		{"stays/hinged mast between two level bars", func() (*form, []Figure) {
			const a, r = 2e-6, 5.0
			f := column(h, s, pinned, freeEnd, p)
			f.hold(f.at(-r, 0, h), "pin")
			f.hold(f.at(r, 0, h), "pin")
			f.rod("west", 3, 2, steelE, a)
			f.rod("east", 2, 4, steelE, a)
			return f, []Figure{stability("rigid bar on a spring, P = 2EA·h/r").factor("b", 0, 2*steelE*a/r*h/p), stability("Euler").factor("b", 1, e1/p)}
		}},
		{"stays/stiff stays, the mast buckles by itself", func() (*form, []Figure) {
			const a, r = 1e-3, 5.0
			f := column(h, s, pinned, freeEnd, p)
			f.hold(f.at(-r, 0, h), "pin")
			f.hold(f.at(r, 0, h), "pin")
			f.rod("west", 3, 2, steelE, a)
			f.rod("east", 2, 4, steelE, a)
			return f, []Figure{stability("Euler").factor("b", 0, e1/p)}
		}},
		{"stays/cantilever helped by a pulled rod", func() (*form, []Figure) {
			// A string of tension T and length r at the head holds it by T/r.
			const r, t = 2.0, 200e3
			f := newForm()
			f.at(0, 0, 0)
			f.at(h, 0, 0)
			f.at(h+r, 0, 0)
			f.planar()
			f.hold(1, fixedEnd)
			f.hold(3, "uz")
			f.plane("m", 1, 2, s.stocky())
			f.rod("string", 2, 3, steelE, 1e-3)
			f.load("a", "second_order").force(3, t, 0, 0).force(2, -2*t, 0, -1e4)
			// The beam carries -t (compression), the string +t: the tip force splits.
			k := math.Sqrt(t / s.eiz())
			u := 1e4 / (t/(math.Tan(k*h)/k-h) + t/r)
			return f, []Figure{stability("beam-column and string side by side").disp("a", 2, "uz", -u)}
		}},
		rodBay("rods, second order/braced bay, light", 0.05),
		rodBay("rods, second order/braced bay, heavy", 0.6),
		{"rods, second order/beyond critical", func() (*form, []Figure) {
			const l, h, ar = 6.0, 4.0, 2.01e-4
			f := bay(l, h, 100, ar)
			d := math.Hypot(l, h)
			crit := steelE * ar * l * l / (d * d * d) * h
			f.load("a", "tension_only_second_order").force(2, 1e3, 0, -0.55*crit).force(3, 0, 0, -0.55*crit)
			f.load("c", "tension_only_second_order").force(2, 1e3, 0, -0.45*crit).force(3, 0, 0, -0.45*crit)
			src := stability("side stiffness of the rod against P/h")
			return f, []Figure{src.stands("a", false), src.stands("c", true)}
		}},
	}
}

// rodBay is a pinned bay on crossed rods, pushed, with vertical loads r of the critical sum.
func rodBay(name string, r float64) Case {
	return Case{name, func() (*form, []Figure) {
		const l, h, ar, push = 6.0, 4.0, 2.01e-4, 10e3
		f := bay(l, h, 100, ar) // posts and beam that hardly stretch
		d := math.Hypot(l, h)
		cos, sin := l/d, h/d
		k := steelE * ar / d * cos * cos
		total := r * k * h
		f.load("a", "tension_only_second_order").force(2, push, 0, -total/2).force(3, 0, 0, -total/2)
		// Side balance at the heads: push + (Σ post forces)·δ/h - T·cos - T/d·sin²·δ = 0, post forces total + T·sin, T = EA/d·cos·δ.
		e := steelE * ar / d * cos
		drift := root(func(x float64) float64 {
			t := e * x
			return push + (total+t*sin)*x/h - t*cos - t/d*sin*sin*x
		}, 0, 2*push/(k*(1-r)))
		src := stability("statics of the leaning bay: push, P-Δ of the posts, one rod")
		return f, []Figure{src.disp("a", 2, "ux", drift), src.end("a", "up", "j", "N", e*drift), src.slack("a", "down", true), src.slack("a", "up", false)}
	}}
}
