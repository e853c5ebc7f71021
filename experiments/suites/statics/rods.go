package statics

import "math"

// bay builds a pinned bay of width l and height h with crossed rods: posts 1-2 and 4-3 of area ap, a beam 2-3, rods up (1-3)
// and down (4-2) of area ar. All are bars, so nothing but the rods resists sway.
func bay(l, h, ap, ar float64) *form {
	f := newForm()
	f.at(0, 0, 0)
	f.at(0, 0, h)
	f.at(l, 0, h)
	f.at(l, 0, 0)
	f.hold(1, "pin")
	f.hold(4, "pin")
	f.hold(2, "uy")
	f.hold(3, "uy")
	f.rod("post left", 1, 2, steelE, ap)
	f.rod("beam", 2, 3, steelE, ap)
	f.rod("post right", 4, 3, steelE, ap)
	f.tie("up", 1, 3, steelE, ar)
	f.tie("down", 4, 2, steelE, ar)
	return f
}

// rodCases hold members that act one way.
func rodCases() []Case {
	const l, h, p, ap, ar = 6.0, 4.0, 20e3, 4e-3, 2.01e-4
	d := math.Hypot(l, h)
	cos, sin := l/d, h/d
	src := closed("statics: one rod carries the push; stretch by virtual work")
	return []Case{
		{"rods/push and its reversal", func() (*form, []Figure) {
			f := bay(l, h, ap, ar)
			f.load("east", "tension_only").force(2, p, 0, 0)
			f.load("west", "tension_only").force(3, -p, 0, 0)
			f.load("both act", "linear").force(2, p, 0, 0)
			rod := p / cos
			drift := p/(cos*cos)*d/(steelE*ar) + p*l/(steelE*ap) + p*sin*sin/(cos*cos)*h/(steelE*ap)
			return f, []Figure{
				src.slack("east", "up", false), src.slack("east", "down", true), src.end("east", "up", "j", "N", rod), src.end("east", "down", "j", "N", 0).upTo(1e-6),
				src.disp("east", 2, "ux", drift), src.end("east", "post right", "j", "N", -rod*sin), src.react("east", 1, "fx", -p),
				src.slack("west", "up", true), src.slack("west", "down", false), src.end("west", "down", "j", "N", rod), src.disp("west", 3, "ux", -drift),
				src.end("both act", "up", "j", "N", bothAct(l, h, ap, ar, p)),
			}
		}},
		{"rods/both slack under gravity", func() (*form, []Figure) {
			f := bay(l, h, ap, ar)
			f.load("g", "tension_only").force(2, 0, 0, -p).force(3, 0, 0, -p)
			return f, []Figure{src.stands("g", true), src.slack("g", "up", true), src.slack("g", "down", true), src.end("g", "post left", "j", "N", -p),
				src.disp("g", 2, "uz", -p*h/(steelE*ap)), src.disp("g", 2, "ux", 0).upTo(1e-9)}
		}},
		{"rods/both pressed, one acts", func() (*form, []Figure) {
			// With both rods in the structure the posts' shortening presses both; the truth is one in tension by the push.
			f := bay(l, h, ap/4, ar*5)
			f.load("a", "tension_only").force(2, 0.02*p, 0, -20*p).force(3, 0, 0, -20*p)
			return f, []Figure{src.stands("a", true), src.slack("a", "down", true), src.slack("a", "up", false), src.end("a", "up", "j", "N", 0.02*p/cos)}
		}},
		{"rods/two bays, one braced", func() (*form, []Figure) {
			f := bay(l, h, ap, ar)
			f.at(2*l, 0, h)
			f.at(2*l, 0, 0)
			f.hold(5, "uy")
			f.hold(6, "pin")
			f.rod("beam2", 3, 5, steelE, ap)
			f.rod("post far", 6, 5, steelE, ap)
			f.load("a", "tension_only").force(5, -p, 0, 0)
			return f, []Figure{src.slack("a", "up", true), src.end("a", "down", "j", "N", p/cos), src.end("a", "beam2", "i", "N", p), src.end("a", "post left", "j", "N", -p/cos*sin)}
		}},
		{"rods/two storeys", func() (*form, []Figure) {
			f := bay(l, h, ap, ar)
			f.at(0, 0, 2*h)
			f.at(l, 0, 2*h)
			f.hold(5, "uy")
			f.hold(6, "uy")
			f.rod("upper left", 2, 5, steelE, ap)
			f.rod("roof", 5, 6, steelE, ap)
			f.rod("upper right", 3, 6, steelE, ap)
			f.tie("up2", 2, 6, steelE, ar)
			f.tie("down2", 3, 5, steelE, ar)
			f.load("a", "tension_only").force(5, p, 0, 0).force(2, p, 0, 0)
			f.load("b", "tension_only").force(5, p, 0, 0).force(2, -3*p, 0, 0)
			return f, []Figure{src.end("a", "up2", "j", "N", p/cos), src.end("a", "up", "j", "N", 2*p/cos), src.slack("a", "down2", true), src.slack("a", "down", true),
				src.end("b", "up2", "j", "N", p/cos), src.end("b", "down", "j", "N", 2*p/cos), src.slack("b", "up", true), src.slack("b", "down2", true)}
		}},
		{"rods/compression-only pads", func() (*form, []Figure) {
			// A beam on three pads that only press; a load on the overhang lifts the far end off.
			const w = 10e3
			f := newForm()
			for i := range 4 {
				f.at(float64(i)*3, 0, 0)
			}
			for i := range 3 {
				f.at(float64(i)*3, 0, -0.5)
			}
			f.planar()
			f.hold(1, "ux")
			for i := range 3 {
				f.hold(5+i, "all")
			}
			for i, id := range []string{"a", "b", "c"} {
				f.plane(id, i+1, i+2, openSection)
				pad := f.rod("pad"+id, 5+i, i+1, steelE, 0.05)
				pad.Press = true
			}
			f.load("lift", "tension_only").force(4, 0, 0, -p).udl("a", 0, 0, -w/10)
			// About the pad at 6 m the load tips the beam with 3p, its weight of 3 kN holds it with 4.5 m: only the tie at its far
			// end keeps it down, and the pads at 0 and 3 m lift.
			f.tie("hold", 5, 1, steelE, 1e-3)
			r := statics3(p, w/10)
			return f, []Figure{src.slack("lift", "pada", true), src.slack("lift", "padb", true), src.slack("lift", "hold", false), src.end("lift", "hold", "j", "N", r[0]),
				src.end("lift", "padc", "j", "N", -r[1])}
		}},
		{"rods/single rod stops one way only", func() (*form, []Figure) {
			f := bay(l, h, ap, ar)
			f.Members = f.Members[:4] // without "down"
			f.load("east", "tension_only").force(2, p, 0, 0)
			f.load("west", "tension_only").force(3, -p, 0, 0)
			return f, []Figure{src.stands("east", true), src.end("east", "up", "j", "N", p/cos), src.stands("west", false)}
		}},
	}
}

// statics3 gives hold-down and pad force of a beam tipped about its support at 6 m: p at 9 m, q over the first 3 m.
func statics3(p, q float64) [2]float64 {
	hold := (p*3 - q*3*4.5) / 6
	return [2]float64{hold, p + q*3 + hold}
}

// bothAct is the force in the rod "up" of a bay whose two rods both act, pushed at node 2: force method with the other
// rod as redundant.
func bothAct(l, h, ap, ar, p float64) float64 {
	d := math.Hypot(l, h)
	cos, sin := l/d, h/d
	type part struct{ n0, n1, flex float64 }
	fp, fr := h/(steelE*ap), d/(steelE*ar)
	parts := []part{
		{0, -sin, fp}, {-p, -cos, l / (steelE * ap)}, {-p / cos * sin, -sin, fp}, {p / cos, 1, fr}, {0, 1, fr},
	}
	gap, flex := 0.0, 0.0
	for _, x := range parts {
		gap += x.n0 * x.n1 * x.flex
		flex += x.n1 * x.n1 * x.flex
	}
	return p/cos - gap/flex
}
