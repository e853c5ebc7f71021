package statics

import "math"

var kleinlogel = closed("Kleinlogel, Rigid Frame Formulas: two-hinged and fixed portals (axial deformation left out)")

// portal builds a rectangular portal: columns of section c and height h at nodes 1-2 and 4-3, a beam b between 2 and 3.
func portal(l, h float64, c, b section, base string) *form {
	f := newForm()
	f.at(0, 0, 0)
	f.at(0, 0, h)
	f.at(l, 0, h)
	f.at(l, 0, 0)
	f.planar()
	f.hold(1, base)
	f.hold(4, base)
	f.plane("left", 1, 2, c.stocky())
	f.plane("beam", 2, 3, b.stocky())
	f.plane("right", 4, 3, c.stocky())
	return f
}

// gable builds a pitched portal: eaves at h, ridge f above them; rafters left 2-3 and right 4-3, columns 1-2 and 5-4.
func gable(l, h, rise float64, c, r section, base string) *form {
	f := newForm()
	f.at(0, 0, 0)
	f.at(0, 0, h)
	f.at(l/2, 0, h+rise)
	f.at(l, 0, h)
	f.at(l, 0, 0)
	f.planar()
	f.hold(1, base)
	f.hold(5, base)
	f.plane("column left", 1, 2, c)
	f.plane("rafter left", 2, 3, r)
	f.plane("rafter right", 4, 3, r)
	f.plane("column right", 5, 4, c)
	return f
}

func portalCases() []Case {
	const l, h, w, p = 12.0, 5.0, 15e3, 30e3
	c, b := openSection, openSection.times(1.7)
	k := b.Iz / c.Iz * h / l
	return []Case{
		{"portal/hinged, load on the beam", func() (*form, []Figure) {
			f := portal(l, h, c, b, pinned)
			f.load("a", "linear").udl("beam", 0, 0, -w)
			push := w * l * l / (4 * h * (2*k + 3))
			return f, []Figure{kleinlogel.react("a", 1, "fx", push), kleinlogel.end("a", "beam", "i", "Mz", push*h),
				kleinlogel.halfway("a", "beam", "Mz", w*l*l/8-push*h), kleinlogel.react("a", 4, "fz", w*l/2)}
		}},
		{"portal/hinged, push at the eaves", func() (*form, []Figure) {
			f := portal(l, h, c, b, pinned)
			f.load("a", "linear").force(2, p, 0, 0)
			drift := p*h*h*h/(6*c.eiz()) + p*h*h*l/(12*b.eiz())
			return f, []Figure{kleinlogel.disp("a", 2, "ux", drift), kleinlogel.end("a", "left", "j", "Mz", p*h/2), kleinlogel.react("a", 1, "fx", -p/2),
				kleinlogel.react("a", 1, "fz", -p*h/l)}
		}},
		{"portal/hinged, wind on a column", func() (*form, []Figure) {
			f := portal(l, h, c, b, pinned)
			f.load("a", "linear").udl("left", w/5, 0, 0)
			q := w / 5
			lee := q * h * (5*k + 6) / (8 * (2*k + 3))
			return f, []Figure{kleinlogel.react("a", 4, "fx", -lee), kleinlogel.react("a", 1, "fx", -(q*h - lee)), kleinlogel.end("a", "right", "j", "Mz", lee*h),
				kleinlogel.end("a", "left", "j", "Mz", q*h*h/2-lee*h)}
		}},
		{"portal/fixed, load on the beam", func() (*form, []Figure) {
			f := portal(l, h, c, b, fixedEnd)
			f.load("a", "linear").udl("beam", 0, 0, -w)
			return f, []Figure{kleinlogel.react("a", 1, "fx", w*l*l/(4*h*(k+2))), kleinlogel.end("a", "beam", "i", "Mz", w*l*l/(6*(k+2))),
				kleinlogel.end("a", "left", "i", "Mz", -w*l*l/(12*(k+2)))}
		}},
		{"portal/fixed, push at the eaves", func() (*form, []Figure) {
			f := portal(l, h, c, b, fixedEnd)
			f.load("a", "linear").force(2, p, 0, 0)
			top, foot := p*h/2*3*k/(6*k+1), p*h/2*(3*k+1)/(6*k+1)
			return f, []Figure{kleinlogel.end("a", "left", "j", "Mz", top), kleinlogel.end("a", "left", "i", "Mz", foot), kleinlogel.react("a", 4, "fz", 2*top/l)}
		}},
		{"portal/column feet on springs", func() (*form, []Figure) {
			const spring = 6e6
			f := portal(l, h, c, b, pinned)
			f.supportOf(1).KRY, f.supportOf(4).KRY = spring, spring
			f.load("a", "linear").force(2, p, 0, 0)
			foot, top, drift := springPortal(p, l, h, spring, c.eiz(), b.eiz())
			src := closed("slope-deflection, antisymmetric: joint turn, foot turn and drift solved by hand")
			return f, []Figure{src.end("a", "left", "i", "Mz", foot), src.end("a", "left", "j", "Mz", top), src.disp("a", 2, "ux", drift)}
		}},
		gableCase("gable/hinged, load on the plan", 1.0),
		gableCase("gable/hinged, steep", 4.0),
		gableForce("gable/hinged, wind on a column", pinned),
		gableForce("gable/fixed, wind on a column", fixedEnd),
		gableForce("gable/fixed, load on one rafter", fixedEnd),
	}
}

// springPortal solves the antisymmetric portal with sprung feet under a push p at the eaves: the moments that the nodes
// exert on the column's foot and top, and the drift. Unknowns: top turn t, foot turn b (turning from X to Z), drift d.
func springPortal(p, l, h, k, eic, eib float64) (foot, top, drift float64) {
	// Column, rising, y towards -X: end deflections 0 and -d. M_foot = 2EI/h(2b + t - 3ψ), M_top = 2EI/h(b + 2t - 3ψ), ψ = -d/h.
	// Foot: M_foot = -k b. Top: M_top + 6EIb/l·t = 0. Storey: both columns' (M_foot + M_top)/h carry p: M_foot + M_top = p·h/2.
	c := 2 * eic / h
	beam := 6 * eib / l
	// From the top: M_top = -beam·t; from the foot: M_foot = -k·b. Sum: -beam·t - k·b = ph/2.
	// Difference M_top - M_foot = c(t - b): -beam·t + k·b = c(t - b) -> b = t(c + beam)/(c + k).
	r := (c + beam) / (c + k)
	t := -p * h / 2 / (beam + k*r)
	b := r * t
	foot, top = -k*b, -beam*t
	psi := (2*b + t - foot/c) / 3
	return foot, top, -psi * h
}

// gableCase is the two-hinged pitched portal under a load per plan length.
func gableCase(name string, rise float64) Case {
	return Case{name, func() (*form, []Figure) {
		const l, h, w = 20.0, 6.0, 8e3
		c, r := openSection.times(2), openSection.times(1.4)
		f := gable(l, h, rise, c.stocky(), r.stocky(), pinned)
		lc := f.load("a", "linear").udl("rafter left", 0, 0, -w).udl("rafter right", 0, 0, -w)
		lc.Line[0].Per, lc.Line[1].Per = "projected", "projected"
		s := math.Hypot(l/2, rise)
		k, phi := r.Iz/c.Iz*h/s, rise/h
		push := w * l * l * (8 + 5*phi) / (32 * h * (k + 3 + phi*(3+phi)))
		return f, []Figure{kleinlogel.react("a", 1, "fx", push), kleinlogel.end("a", "column left", "j", "Mz", -push*h),
			kleinlogel.end("a", "rafter left", "j", "Mz", w*l*l/8-push*(h+rise))}
	}}
}

// gableForce compares a pitched portal with the force method: redundants at the right foot, flexibilities by exact
// integration of products of moments along the frame.
func gableForce(name, base string) Case {
	return Case{name, func() (*form, []Figure) {
		const l, h, rise, q = 18.0, 5.0, 1.8, 4e3
		c, r := openSection.times(1.5), openSection
		f := gable(l, h, rise, c.stocky(), r.stocky(), base)
		lc := f.load("a", "linear")
		onRafter := name == "gable/fixed, load on one rafter"
		if onRafter {
			lc.udl("rafter left", 0, 0, -q)
		} else {
			lc.udl("column left", q, 0, 0)
		}
		red := gableRedundants(l, h, rise, q, c.eiz(), r.eiz(), base == fixedEnd, onRafter)
		src := closed("force method: redundants at the right foot, moments integrated exactly")
		figures := []Figure{src.react("a", 5, "fx", red[0]), src.react("a", 5, "fz", red[1])}
		if base == fixedEnd {
			figures = append(figures, src.react("a", 5, "my", -red[2]))
		}
		return f, figures
	}}
}
