package statics

import (
	"math"
	"slices"
)

// Loads on beams act downwards: along -Z. Beams lie along X with local y up, so a sagging moment is a positive Mz of the
// diagram, and the slope dz/dx is -ry.

// span builds one member of length l along X in the X-Z plane with its ends (nodes 1 and 2) held as named.
func span(l float64, s section, left, right string) *form {
	f := newForm()
	f.at(0, 0, 0)
	f.at(l, 0, 0)
	f.planar()
	f.hold(1, left)
	f.hold(2, right)
	f.plane("m", 1, 2, s)
	return f
}

const (
	fixedEnd = "all"
	pinned   = "ux uz"
	roller   = "uz"
	guided   = "ux ry" // slides vertically
	freeEnd  = ""
)

var roark = closed("Roark, Formulas for Stress and Strain, Table 8.1")

// beamCases are single beams and rows of them in one plane.
func beamCases() []Case {
	return slices.Concat(cantilevers(), simpleBeams(), fixedBeams(), proppedBeams())
}

// cantilevers are fixed at node 1.
func cantilevers() []Case {
	const l, p, w, m0 = 6.0, 40e3, 12e3, 50e3
	s := openSection
	ei := s.eiz()
	return []Case{
		{"cantilever/tip load", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, freeEnd)
			f.load("a", "linear").force(2, 0, 0, -p)
			return f, []Figure{roark.disp("a", 2, "uz", -p*l*l*l/(3*ei)), roark.disp("a", 2, "ry", p*l*l/(2*ei)),
				roark.end("a", "m", "i", "Mz", p*l), roark.react("a", 1, "fz", p), roark.react("a", 1, "my", -p*l)}
		}},
		{"cantilever/uniform load", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, freeEnd)
			f.load("a", "linear").udl("m", 0, 0, -w)
			return f, []Figure{roark.disp("a", 2, "uz", -w*math.Pow(l, 4)/(8*ei)), roark.disp("a", 2, "ry", w*l*l*l/(6*ei)),
				roark.end("a", "m", "i", "Mz", w*l*l/2)}
		}},
		{"cantilever/load growing to the root", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, freeEnd)
			f.load("a", "linear").part("m", 0, l, -w, 0)
			return f, []Figure{roark.disp("a", 2, "uz", -w*math.Pow(l, 4)/(30*ei)), roark.disp("a", 2, "ry", w*l*l*l/(24*ei)),
				roark.end("a", "m", "i", "Mz", w*l*l/6)}
		}},
		{"cantilever/load growing to the tip", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, freeEnd)
			f.load("a", "linear").part("m", 0, l, 0, -w)
			return f, []Figure{roark.disp("a", 2, "uz", -11*w*math.Pow(l, 4)/(120*ei)), roark.end("a", "m", "i", "Mz", w*l*l/3)}
		}},
		{"cantilever/tip moment", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, freeEnd)
			f.load("a", "linear").moment(2, 0, m0, 0) // about +Y: the tip goes down
			return f, []Figure{roark.disp("a", 2, "uz", -m0*l*l/(2*ei)), roark.disp("a", 2, "ry", m0*l/ei), roark.end("a", "m", "i", "Mz", m0)}
		}},
		{"cantilever/self weight", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, freeEnd)
			c := f.load("a", "linear")
			c.SelfWeight = &vec{0, 0, -1.35}
			q := 1.35 * s.Density * s.A * 9.80665
			return f, []Figure{roark.disp("a", 2, "uz", -q*math.Pow(l, 4)/(8*ei)), roark.react("a", 1, "fz", q*l)}
		}},
	}
}

// simpleBeams rest on two supports.
func simpleBeams() []Case {
	const l, p, w, m0 = 6.0, 40e3, 12e3, 50e3
	s := openSection
	ei := s.eiz()
	return []Case{
		{"simple beam/load in the middle", func() (*form, []Figure) {
			f := span(l, s, pinned, roller)
			f.load("a", "linear").at("m", l/2, -p)
			return f, []Figure{roark.halfway("a", "m", "uy", -p*l*l*l/(48*ei)), roark.peak("a", "m", "Mz", p*l/4),
				roark.disp("a", 1, "ry", p*l*l/(16*ei)), roark.react("a", 2, "fz", p/2)}
		}},
		{"simple beam/load off the middle", func() (*form, []Figure) {
			const a, b = 1.7, l - 1.7
			f := span(l, s, pinned, roller)
			f.load("a", "linear").at("m", a, -p)
			return f, []Figure{roark.peak("a", "m", "Mz", p*a*b/l), roark.disp("a", 1, "ry", p*a*b*(l+b)/(6*l*ei)),
				roark.disp("a", 2, "ry", -p*a*b*(l+a)/(6*l*ei)), roark.react("a", 1, "fz", p*b/l)}
		}},
		{"simple beam/uniform load", func() (*form, []Figure) {
			f := span(l, s, pinned, roller)
			f.load("a", "linear").udl("m", 0, 0, -w)
			return f, []Figure{roark.halfway("a", "m", "uy", -5*w*math.Pow(l, 4)/(384*ei)), roark.peak("a", "m", "Mz", w*l*l/8),
				roark.disp("a", 2, "ry", -w*l*l*l/(24*ei))}
		}},
		{"simple beam/triangular load", func() (*form, []Figure) {
			f := span(l, s, pinned, roller)
			f.load("a", "linear").part("m", 0, l, 0, -w)
			return f, []Figure{roark.peak("a", "m", "Mz", w*l*l/(9*math.Sqrt(3))), roark.disp("a", 1, "ry", 7*w*l*l*l/(360*ei)),
				roark.disp("a", 2, "ry", -8*w*l*l*l/(360*ei)), roark.react("a", 2, "fz", w*l/3)}
		}},
		{"simple beam/load on part of the span", func() (*form, []Figure) {
			const a, b = 1.2, 2.5 // from a, over b
			c := l - a - b
			r1 := w * b / (2 * l) * (2*c + b)
			f := span(l, s, pinned, roller)
			f.load("a", "linear").part("m", a, a+b, -w, -w)
			src := closed("statics: reactions by moments, the greatest moment where shear vanishes")
			return f, []Figure{src.react("a", 1, "fz", r1), src.peak("a", "m", "Mz", r1*(a+r1/(2*w))), src.react("a", 2, "fz", w*b-r1)}
		}},
		{"simple beam/moment inside the span", func() (*form, []Figure) {
			const a = 2.2
			f := span(l, s, pinned, roller)
			c := f.load("a", "linear")
			c.Point = append(c.Point, pointLoad{Member: "m", A: a, M: vec{0, -m0, 0}, Axes: "global"}) // turns from X to Z
			return f, []Figure{roark.disp("a", 1, "ry", -m0/(6*l*ei)*(3*(l-a)*(l-a)-l*l)),
				roark.disp("a", 2, "ry", -m0/(6*l*ei)*(3*a*a-l*l)), roark.react("a", 1, "fz", m0/l)}
		}},
		{"inclined beam/load per plan length", func() (*form, []Figure) {
			const run, rise = 4.8, 2.0
			f := newForm()
			f.at(0, 0, 0)
			f.at(run, 0, rise)
			f.planar()
			f.hold(1, pinned)
			f.hold(2, roller)
			f.plane("m", 1, 2, s)
			c := f.load("a", "linear").udl("m", 0, 0, -w)
			c.Line[0].Per = "projected"
			f.load("b", "linear").udl("m", 0, 0, -w)
			src := closed("statics: the moment of a simple beam of the plan length")
			l := math.Hypot(run, rise)
			return f, []Figure{src.react("a", 2, "fz", w*run/2), src.halfway("a", "m", "Mz", w*run*run/8), src.halfway("a", "m", "N", 0).upTo(1),
				src.react("b", 2, "fz", w*l/2), src.halfway("b", "m", "Mz", w*l*run/8)}
		}},
		{"bar/axial loads inside", func() (*form, []Figure) {
			const a, b = 2.0, 4.0
			f := span(l, s, fixedEnd, fixedEnd)
			c := f.load("a", "linear")
			c.Point = append(c.Point, pointLoad{Member: "m", A: a, F: vec{p, 0, 0}, Axes: "local"})
			f.load("b", "linear").udl("m", w, 0, 0)
			src := closed("equal stretch and shortening of the two parts")
			return f, []Figure{src.react("a", 1, "fx", -p*b/l), src.react("a", 2, "fx", -p*a/l), src.end("a", "m", "i", "N", -p*b/l),
				src.react("b", 1, "fx", -w*l/2), src.halfway("b", "m", "N", 0).upTo(1)}
		}},
	}
}

// fixedBeams are fixed at both ends.
func fixedBeams() []Case {
	const l, p, w, m0 = 6.0, 40e3, 12e3, 50e3
	s := openSection
	ei := s.eiz()
	return []Case{
		{"fixed beam/load off the middle", func() (*form, []Figure) {
			const a, b = 2.3, l - 2.3
			f := span(l, s, fixedEnd, fixedEnd)
			f.load("a", "linear").at("m", a, -p)
			return f, []Figure{roark.end("a", "m", "i", "Mz", p*a*b*b/(l*l)), roark.end("a", "m", "j", "Mz", -p*a*a*b/(l*l)),
				roark.end("a", "m", "i", "Vy", p*b*b*(3*a+b)/(l*l*l))}
		}},
		{"fixed beam/uniform load", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, fixedEnd)
			f.load("a", "linear").udl("m", 0, 0, -w)
			return f, []Figure{roark.end("a", "m", "i", "Mz", w*l*l/12), roark.halfway("a", "m", "Mz", w*l*l/24),
				roark.halfway("a", "m", "uy", -w*math.Pow(l, 4)/(384*ei))}
		}},
		{"fixed beam/triangular load", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, fixedEnd)
			f.load("a", "linear").part("m", 0, l, 0, -w)
			return f, []Figure{roark.end("a", "m", "i", "Mz", w*l*l/30), roark.end("a", "m", "j", "Mz", -w*l*l/20),
				roark.end("a", "m", "i", "Vy", 3*w*l/20), roark.end("a", "m", "j", "Vy", 7*w*l/20)}
		}},
		{"fixed beam/load on part of the span", func() (*form, []Figure) {
			const c = 2.4
			f := span(l, s, fixedEnd, fixedEnd)
			f.load("a", "linear").part("m", 0, c, -w, -w)
			src := closed("integral of the point load's fixed-end moments over the loaded part")
			return f, []Figure{src.end("a", "m", "i", "Mz", w*c*c/(12*l*l)*(6*l*l-8*c*l+3*c*c)),
				src.end("a", "m", "j", "Mz", -w*c*c*c/(12*l*l)*(4*l-3*c))}
		}},
		{"fixed beam/moment inside the span", func() (*form, []Figure) {
			const a, b = 2.2, l - 2.2
			f := span(l, s, fixedEnd, fixedEnd)
			c := f.load("a", "linear")
			c.Point = append(c.Point, pointLoad{Member: "m", A: a, M: vec{0, 0, m0}, Axes: "local"})
			return f, []Figure{roark.end("a", "m", "i", "Mz", m0*b*(2*a-b)/(l*l)), roark.end("a", "m", "j", "Mz", m0*a*(2*b-a)/(l*l)),
				roark.end("a", "m", "i", "Vy", 6*m0*a*b/(l*l*l))}
		}},
	}
}

// proppedBeams are fixed at one end and held at the other, or run over supports.
func proppedBeams() []Case {
	const l, p, w, m0 = 6.0, 40e3, 12e3, 50e3
	s := openSection
	ei := s.eiz()
	return []Case{
		{"propped beam/uniform load", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, roller)
			f.load("a", "linear").udl("m", 0, 0, -w)
			return f, []Figure{roark.react("a", 2, "fz", 3*w*l/8), roark.end("a", "m", "i", "Mz", w*l*l/8),
				roark.disp("a", 2, "ry", -w*l*l*l/(48*ei)), roark.peak("a", "m", "uy", -0.0054161*w*math.Pow(l, 4)/ei)}
		}},
		{"propped beam/load in the middle", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, roller)
			f.load("a", "linear").at("m", l/2, -p)
			return f, []Figure{roark.react("a", 2, "fz", 5*p/16), roark.end("a", "m", "i", "Mz", 3*p*l/16), roark.halfway("a", "m", "Mz", 5*p*l/32)}
		}},
		{"propped beam/load growing to the root", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, roller)
			f.load("a", "linear").part("m", 0, l, -w, 0)
			return f, []Figure{roark.react("a", 2, "fz", w*l/10), roark.end("a", "m", "i", "Mz", w*l*l/15)}
		}},
		{"guided beam/uniform load", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, "ry")
			f.load("a", "linear").udl("m", 0, 0, -w)
			return f, []Figure{roark.disp("a", 2, "uz", -w*math.Pow(l, 4)/(24*ei)), roark.end("a", "m", "i", "Mz", w*l*l/3), roark.end("a", "m", "j", "Mz", w*l*l/6)}
		}},
		{"two spans/uniform load", func() (*form, []Figure) {
			f := newForm()
			f.at(0, 0, 0)
			f.at(l, 0, 0)
			f.at(2*l, 0, 0)
			f.planar()
			f.hold(1, pinned)
			f.hold(2, roller)
			f.hold(3, roller)
			f.plane("m1", 1, 2, s)
			f.plane("m2", 2, 3, s)
			f.load("a", "linear").udl("m1", 0, 0, -w).udl("m2", 0, 0, -w)
			f.load("one span", "linear").udl("m1", 0, 0, -w)
			src := closed("three-moment equation")
			return f, []Figure{src.end("a", "m1", "j", "Mz", -w*l*l/8), src.react("a", 2, "fz", 1.25*w*l), src.peak("a", "m1", "Mz", -w*l*l/8),
				src.react("one span", 3, "fz", -w*l/16), src.end("one span", "m1", "j", "Mz", -w*l*l/16)}
		}},
		{"two spans/unequal", func() (*form, []Figure) {
			const a, b = 4.0, 7.0
			f := newForm()
			f.at(0, 0, 0)
			f.at(a, 0, 0)
			f.at(a+b, 0, 0)
			f.planar()
			f.hold(1, pinned)
			f.hold(2, roller)
			f.hold(3, roller)
			f.plane("m1", 1, 2, s)
			f.plane("m2", 2, 3, s)
			f.load("a", "linear").udl("m1", 0, 0, -w).udl("m2", 0, 0, -2*w)
			m := (w*a*a*a + 2*w*b*b*b) / (8 * (a + b))
			src := closed("three-moment equation")
			return f, []Figure{src.end("a", "m1", "j", "Mz", -m), src.end("a", "m2", "i", "Mz", m), src.react("a", 1, "fz", w*a/2-m/a)}
		}},
	}
}
