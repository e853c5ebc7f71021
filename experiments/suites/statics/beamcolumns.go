package statics

import (
	"fmt"
	"math"
)

var (
	gere = stability("Timoshenko and Gere, Theory of Elastic Stability, chapter 1")
	// ratios of the critical load at which beam-columns are tried, each with one modelled member
	ratios = []float64{0.1, 0.3, 0.6, 0.85}
)

// pressed adds a case with end node 2 pushed along -X by n.
func pressed(f *form, n float64) *loadCase {
	return f.load("a", "second_order").force(2, -n, 0, 0)
}

// beamColumnCases are single members in second order.
func beamColumnCases() []Case {
	const l, w, p, m0 = 6.0, 4e3, 10e3, 15e3
	s := planeSection
	ei := s.eiz()
	euler := math.Pi * math.Pi * ei / (l * l)
	var out []Case
	at := func(name string, critical float64, make func(n, u float64) (*form, []Figure)) {
		for _, r := range ratios {
			out = append(out, Case{fmt.Sprintf("beam-column/%s, %g of critical", name, r), func() (*form, []Figure) {
				n := r * critical
				return make(n, l/2*math.Sqrt(n/ei))
			}})
		}
	}
	at("simple, uniform load", euler, func(n, u float64) (*form, []Figure) {
		f := span(l, s, pinned, roller)
		pressed(f, n).udl("m", 0, 0, -w)
		return f, []Figure{gere.halfway("a", "m", "uy", -5*w*math.Pow(l, 4)/(384*ei)*eta(u)), gere.halfway("a", "m", "Mz", w*l*l/8*lambdaU(u)),
			gere.disp("a", 1, "ry", w*l*l*l/(24*ei)*chi(u))}
	})
	at("simple, load in the middle", euler, func(n, u float64) (*form, []Figure) {
		f := span(l, s, pinned, roller)
		pressed(f, n).at("m", l/2, -p)
		return f, []Figure{gere.halfway("a", "m", "uy", -p*l*l*l/(48*ei)*chi(u)), gere.peak("a", "m", "Mz", p*l/4*math.Tan(u)/u)}
	})
	at("simple, load off the middle", euler, func(n, u float64) (*form, []Figure) {
		const a = 1.6
		k := 2 * u / l
		f := span(l, s, pinned, roller)
		pressed(f, n).at("m", a, -p)
		th := p/n*math.Sin(k*(l-a))/math.Sin(k*l) - p/n*(l-a)/l
		return f, []Figure{gere.disp("a", 1, "ry", th), gere.react("a", 1, "fz", p*(l-a)/l)}
	})
	at("simple, moment at one end", euler, func(n, u float64) (*form, []Figure) {
		f := span(l, s, pinned, roller)
		pressed(f, n).moment(1, 0, m0, 0) // turns node 1 down the span
		return f, []Figure{gere.disp("a", 1, "ry", m0*l/(3*ei)*psi(u)), gere.disp("a", 2, "ry", -m0*l/(6*ei)*phi(u)), gere.halfway("a", "m", "Mz", m0/(2*math.Cos(u)))}
	})
	at("eccentric load", euler, func(n, u float64) (*form, []Figure) {
		f := span(l, s, pinned, roller)
		pressed(f, n).moment(1, 0, m0, 0).moment(2, 0, -m0, 0)
		return f, []Figure{gere.peak("a", "m", "Mz", m0/math.Cos(u)), gere.halfway("a", "m", "uy", -m0/n*(1/math.Cos(u)-1))}
	})
	at("fixed ends, uniform load", 4*euler, func(n, u float64) (*form, []Figure) {
		f := span(l, s, fixedEnd, "uy uz rx ry rz")
		pressed(f, n).udl("m", 0, 0, -w)
		return f, []Figure{gere.end("a", "m", "i", "Mz", w*l*l/12*chi(u)*u/math.Tan(u)), gere.halfway("a", "m", "Mz", w*l*l/24*6*(u-math.Sin(u))/(u*u*math.Sin(u))),
			gere.end("a", "m", "j", "Mz", -w*l*l/12*chi(u)*u/math.Tan(u))}
	})
	at("propped, uniform load", 2.0457*euler, func(n, u float64) (*form, []Figure) {
		f := span(l, s, fixedEnd, roller)
		pressed(f, n).udl("m", 0, 0, -w)
		return f, []Figure{gere.end("a", "m", "i", "Mz", w*l*l/8*chi(u)/psi(u))}
	})
	at("cantilever, tip load", euler/4, func(n, u float64) (*form, []Figure) {
		k := 2 * u / l
		f := span(l, s, fixedEnd, freeEnd)
		pressed(f, n).force(2, 0, 0, -p)
		return f, []Figure{gere.disp("a", 2, "uz", -p/n*(math.Tan(k*l)/k-l)), gere.end("a", "m", "i", "Mz", p*math.Tan(k*l)/k), gere.react("a", 1, "fz", p)}
	})
	return append(append(out, tensionCases()...), shearColumnCases()...)
}

// tensionCases stiffen by pull.
func tensionCases() []Case {
	const l, w, p = 6.0, 20e3, 30e3
	s := planeSection
	ei := s.eiz()
	return []Case{
		{"pulled beam/simple, uniform load", func() (*form, []Figure) {
			const n = 2e6
			u := l / 2 * math.Sqrt(n/ei)
			f := span(l, s, pinned, roller)
			f.load("a", "second_order").force(2, n, 0, 0).udl("m", 0, 0, -w)
			src := stability("Timoshenko and Gere, 1.12: hyperbolic functions under tension")
			return f, []Figure{src.halfway("a", "m", "Mz", w*l*l/8*2*(math.Cosh(u)-1)/(u*u*math.Cosh(u))),
				src.halfway("a", "m", "uy", -w*math.Pow(l, 4)/(16*ei*math.Pow(u, 4))*(1/math.Cosh(u)-1+u*u/2))}
		}},
		{"pulled beam/slender, like a string", func() (*form, []Figure) {
			// kL = 40: the moment boundary layer is a twentieth of the span.
			thin := section{E: steelE, G: steelG, A: 1e-3, Iy: 2e-7, Iz: 2e-9, J: 4e-9}
			n := thin.eiz() * 1600 / (l * l)
			u := 20.0
			f := span(l, thin, pinned, roller)
			f.load("a", "second_order").force(2, n, 0, 0).udl("m", 0, 0, -10)
			src := stability("Timoshenko and Gere, 1.12: hyperbolic functions under tension")
			return f, []Figure{src.halfway("a", "m", "Mz", 10*l*l/8*2*(math.Cosh(u)-1)/(u*u*math.Cosh(u))),
				src.halfway("a", "m", "uy", -10*math.Pow(l, 4)/(16*thin.eiz()*math.Pow(u, 4))*(1/math.Cosh(u)-1+u*u/2))}
		}},
		{"pulled beam/cantilever", func() (*form, []Figure) {
			const n = 1.5e6
			k := math.Sqrt(n / ei)
			f := span(l, s, fixedEnd, freeEnd)
			f.load("a", "second_order").force(2, n, 0, -p)
			src := stability("Timoshenko and Gere, 1.12: hyperbolic functions under tension")
			return f, []Figure{src.disp("a", 2, "uz", -p/n*(l-math.Tanh(k*l)/k)), src.end("a", "m", "i", "Mz", p*math.Tanh(k*l)/k)}
		}},
		{"pulled beam/no load factor under pure tension", func() (*form, []Figure) {
			f := span(l, s, pinned, roller)
			f.load("b", "buckling").force(2, 1e6, 0, 0)
			return f, []Figure{stability("tension does not buckle").factors("b", 0)}
		}},
	}
}

// shearColumnCases hold Engesser's theory: the axial force works on the whole slope, shear included.
func shearColumnCases() []Case {
	const l, p = 2.5, 15e3
	s := planeSection.withShear(1.2e-4, 1) // a soft web, as of battened columns
	ei, gs := s.eiz(), s.G**s.Asy
	src := stability("Engesser's column with shear (Timoshenko and Gere, 2.17)")
	cantilever := math.Pi * math.Pi * ei / (4 * l * l)
	crit := cantilever / (1 + cantilever/gs)
	var out []Case
	for _, r := range []float64{0.2, 0.5, 0.8} {
		out = append(out, Case{fmt.Sprintf("beam-column with shear/cantilever, %g of critical", r), func() (*form, []Figure) {
			n := r * crit
			k := math.Sqrt(n / (ei * (1 - n/gs)))
			f := span(l, s, fixedEnd, freeEnd)
			pressed(f, n).force(2, 0, 0, -p)
			return f, []Figure{src.disp("a", 2, "uz", -(p*l+gs*(p/n)*(math.Tan(k*l)/k-l))/(gs-n)), src.end("a", "m", "i", "Mz", ei*p/n*k*math.Tan(k*l))}
		}})
	}
	return append(out,
		Case{"beam-column with shear/critical load of a cantilever", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, freeEnd)
			f.load("b", "buckling").force(2, -crit/3, 0, 0)
			return f, []Figure{src.factor("b", 0, 3)}
		}},
		Case{"beam-column with shear/critical loads of a pinned column", func() (*form, []Figure) {
			stiffer := planeSection.withShear(1.9e-3, 1)
			f := span(l, stiffer, pinned, roller)
			e1, gs := math.Pi*math.Pi*ei/(l*l), stiffer.G**stiffer.Asy
			f.load("b", "buckling").force(2, -e1, 0, 0)
			return f, []Figure{src.factor("b", 0, 1/(1+e1/gs)), src.factor("b", 1, 4/(1+4*e1/gs))}
		}},
	)
}
