package statics

import "math"

// shearCases hold shear deformation, torsion and bending about rolled axes.
func shearCases() []Case {
	const l, p, w, torque = 2.0, 80e3, 30e3, 4e3
	s := openSection.withShear(1.8e-3, 3.4e-3)
	ei, gs := s.eiz(), s.G**s.Asy
	src := closed("Timoshenko beam: bending deflection plus shear deflection")
	return []Case{
		{"shear/cantilever, tip load", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, freeEnd)
			f.load("a", "linear").force(2, 0, 0, -p)
			return f, []Figure{src.disp("a", 2, "uz", -(p*l*l*l/(3*ei) + p*l/gs)), src.disp("a", 2, "ry", p*l*l/(2*ei))}
		}},
		{"shear/simple beam", func() (*form, []Figure) {
			f := span(l, s, pinned, roller)
			f.load("a", "linear").udl("m", 0, 0, -w)
			f.load("b", "linear").at("m", l/2, -p)
			return f, []Figure{src.halfway("a", "m", "uy", -(5*w*math.Pow(l, 4)/(384*ei) + w*l*l/(8*gs))),
				src.halfway("b", "m", "uy", -(p*l*l*l/(48*ei) + p*l/(4*gs)))}
		}},
		{"shear/propped beam", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, roller)
			f.load("a", "linear").udl("m", 0, 0, -w)
			r := w * (math.Pow(l, 4)/(8*ei) + l*l/(2*gs)) / (l*l*l/(3*ei) + l/gs)
			return f, []Figure{src.react("a", 2, "fz", r), src.end("a", "m", "i", "Mz", w*l*l/2-r*l)}
		}},
		{"shear/fixed beam, end moved by a spring", func() (*form, []Figure) {
			const k = 3e6
			f := span(l, s, fixedEnd, "ry")
			f.supportOf(2).KZ = k
			f.load("a", "linear").force(2, 0, 0, -p)
			phi := 12 * ei / (gs * l * l)
			u := p / (k + 12*ei/(l*l*l*(1+phi)))
			return f, []Figure{src.disp("a", 2, "uz", -u), src.end("a", "m", "i", "Mz", 6*ei/(l*l*(1+phi))*u), src.react("a", 2, "fz", k*u)}
		}},
		{"shear/about both axes", func() (*form, []Figure) {
			f := newForm()
			f.at(0, 0, 0)
			f.at(0, 0, l) // a post along Z, its web along Y
			f.hold(1, "all")
			f.beam("m", 1, 2, s, vec{0, 1, 0})
			f.load("a", "linear").force(2, p, p, 0)
			return f, []Figure{src.disp("a", 2, "uy", p*l*l*l/(3*ei)+p*l/gs), src.disp("a", 2, "ux", p*l*l*l/(3*s.eiy())+p*l/(s.G**s.Asz)),
				src.end("a", "m", "i", "Mz", -p*l), src.end("a", "m", "i", "Vy", -p)}
		}},
		{"torsion/cantilever", func() (*form, []Figure) {
			f := newForm()
			f.at(0, 0, 0)
			f.at(0, l, 0) // along Y
			f.hold(1, "all")
			f.beam("m", 1, 2, closedSection, vec{0, 0, 1})
			f.load("a", "linear").moment(2, 0, torque, 0)
			src := closed("St Venant: twist TL/GJ")
			return f, []Figure{src.disp("a", 2, "ry", torque*l/(closedSection.G*closedSection.J)), src.end("a", "m", "j", "T", torque), src.react("a", 1, "my", -torque)}
		}},
		{"torsion/fixed ends, torque inside", func() (*form, []Figure) {
			const a, b = 0.7, l - 0.7
			f := span(l, closedSection, fixedEnd, fixedEnd)
			c := f.load("a", "linear")
			c.Point = append(c.Point, pointLoad{Member: "m", A: a, M: vec{torque, 0, 0}, Axes: "local"})
			src := closed("equal twist of the two parts")
			return f, []Figure{src.react("a", 1, "mx", -torque*b/l), src.react("a", 2, "mx", -torque*a/l), src.end("a", "m", "j", "T", -torque*a/l)}
		}},
		{"roll/cantilever at 30 degrees", func() (*form, []Figure) {
			sin, cos := math.Sincos(math.Pi / 6)
			f := newForm()
			f.at(0, 0, 0)
			f.at(l, 0, 0)
			f.hold(1, "all")
			// Local y is up, turned 30 degrees about X towards -Y; local z = x cross y.
			f.beam("m", 1, 2, openSection, vec{0, -sin, cos})
			f.load("a", "linear").force(2, 0, 0, -p/20)
			iy, iz := openSection.eiy(), openSection.eiz()
			c := p / 20 * l * l * l / 3
			src := closed("biaxial bending: load and deflection resolved along the principal axes")
			return f, []Figure{src.disp("a", 2, "uz", -c*(cos*cos/iz+sin*sin/iy)), src.disp("a", 2, "uy", -c*sin*cos*(1/iy-1/iz)),
				src.end("a", "m", "i", "Mz", p/20*l*cos), src.end("a", "m", "i", "Vy", p/20*cos)}
		}},
		{"roll/simple beam on a slope of 1 in 3", func() (*form, []Figure) {
			// A purlin along X whose web stands square to a roof that rises along Y.
			th := math.Atan(1.0 / 3)
			sin, cos := math.Sincos(th)
			f := newForm()
			f.at(0, 0, 0)
			f.at(l, 0, 0)
			f.hold(1, "pin rx")
			f.hold(2, "uy uz")
			f.beam("m", 1, 2, openSection, vec{0, -sin, cos})
			f.load("a", "linear").udl("m", 0, 0, -w/10)
			q := w / 10
			src := closed("biaxial bending: each axis a simple beam under its part of the load")
			return f, []Figure{src.halfway("a", "m", "uy", -5*q*cos*math.Pow(l, 4)/(384*openSection.eiz())),
				src.halfway("a", "m", "uz", 5*q*sin*math.Pow(l, 4)/(384*openSection.eiy())), src.peak("a", "m", "Mz", q*cos*l*l/8), src.peak("a", "m", "My", q*sin*l*l/8)}
		}},
	}
}
