package statics

import (
	"fmt"
	"math"
)

// opinion is the dense routine's answer to a load case, from which figures are taken. Where it finds none, the figures
// expect NaN, with which nothing agrees.
type opinion struct {
	source
	lc  string
	a   *denseAnswer
	err error
}

func (f *form) opinion(lc string, second, oneWay bool) opinion {
	o := opinion{source: independent(linearTol), lc: lc}
	if second {
		o.source = independent(secondTol)
	}
	o.a, o.err = reference(f, lc, second, oneWay)
	return o
}

func (o opinion) disp(n int, dof string) Figure {
	if o.err != nil {
		return o.source.disp(o.lc, n, dof, math.NaN())
	}
	return o.source.disp(o.lc, n, dof, o.a.disp(n, dof))
}

func (o opinion) end(m, end, comp string) Figure {
	if o.err != nil {
		return o.source.end(o.lc, m, end, comp, math.NaN())
	}
	return o.source.end(o.lc, m, end, comp, o.a.force(m, end, comp))
}

func (o opinion) slack(m string) Figure {
	if o.err != nil {
		return o.source.slack(o.lc, m, false)
	}
	return o.source.slack(o.lc, m, o.a.isSlack(m))
}

// modes are the lowest n load factors by the dense routine.
func (f *form) modes(lc string, n int) []Figure {
	src := independent(secondTol)
	want, err := critical(f, lc, n)
	var out []Figure
	for k := range n {
		v := math.NaN()
		if err == nil && k < len(want) {
			v = want[k]
		}
		out = append(out, src.factor(lc, k, v))
	}
	return out
}

// denseCases are frames without a closed form.
func denseCases() []Case {
	const w = 6e3
	var out []Case
	for _, rise := range []float64{0.8, 2, 5} {
		for _, base := range []struct{ name, hold string }{{"hinged", pinned}, {"fixed", fixedEnd}} {
			out = append(out, Case{fmt.Sprintf("pitched portal/%s, rise %g m in 20 m", base.name, rise), func() (*form, []Figure) {
				f := gable(20, 6, rise, planeSection, planeSection.times(0.8), base.hold)
				f.load("b", "buckling").udl("rafter left", 0, 0, -w).udl("rafter right", 0, 0, -w)
				f.load("a", "second_order").udl("rafter left", 0, 0, -w).udl("rafter right", 0, 0, -w).udl("column left", w/4, 0, 0)
				o := f.opinion("a", true, false)
				return f, append(f.modes("b", 2), o.disp(2, "ux"), o.disp(3, "uz"), o.end("column right", "j", "Mz"))
			}})
		}
	}
	return append(out,
		Case{"frame/two storeys, two bays, pushed", func() (*form, []Figure) {
			f := storeys(2, 2)
			f.load("a", "second_order")
			f.load("b", "buckling")
			for _, c := range f.Cases {
				for i := range 2 {
					for b := range 2 {
						c.udl(fmt.Sprintf("beam %d.%d", i+1, b+1), 0, 0, -60e3)
					}
					c.force(3*(i+1)+1, 15e3, 0, 0)
				}
			}
			o := f.opinion("a", true, false)
			return f, append(f.modes("b", 2), o.disp(7, "ux"), o.disp(4, "ux"), o.end("column 1.3", "i", "Mz"), o.end("beam 1.1", "i", "Mz"))
		}},
		Case{"space frame/one storey, pushed askew, linear", func() (*form, []Figure) {
			f := table()
			f.load("a", "linear").force(5, 20e3, 8e3, -40e3).udl("b1", 0, 2e3, -12e3).at("b2", 1.3, -15e3)
			o := f.opinion("a", false, false)
			return f, []Figure{o.disp(5, "ux"), o.disp(7, "uy"), o.disp(6, "rz"), o.end("c1", "i", "Mz"), o.end("c3", "i", "My"), o.end("b1", "i", "T"), o.end("b3", "j", "Mz")}
		}},
		Case{"space frame/one storey, pushed askew, second order", func() (*form, []Figure) {
			f := table()
			f.load("a", "second_order").force(5, 20e3, 8e3, -500e3).force(6, 0, 0, -900e3).force(7, 0, 0, -900e3).force(8, 0, 0, -400e3).udl("b1", 0, 2e3, -12e3)
			f.load("b", "buckling").force(5, 0, 0, -500e3).force(6, 0, 0, -900e3).force(7, 0, 0, -900e3).force(8, 0, 0, -400e3)
			o := f.opinion("a", true, false)
			return f, append(f.modes("b", 3), o.disp(5, "ux"), o.disp(7, "uy"), o.disp(6, "rz"), o.end("c1", "i", "Mz"), o.end("c3", "i", "My"), o.end("c2", "j", "T"))
		}},
		Case{"space frame/mast on rods, second order", func() (*form, []Figure) {
			f := newForm()
			f.hold(f.at(0, 0, 0), "pin rz")
			f.at(0, 0, 6)
			f.at(0, 0, 11)
			for i := range 3 {
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / 3)
				f.hold(f.at(5*cos, 5*sin, 0), "pin")
			}
			f.beam("low", 1, 2, closedSection, vec{0, 1, 0})
			f.beam("high", 2, 3, closedSection, vec{0, 1, 0})
			for i := range 3 {
				f.tie(fmt.Sprintf("low stay %d", i+1), 4+i, 2, steelE, 2e-4)
				f.tie(fmt.Sprintf("high stay %d", i+1), 4+i, 3, steelE, 2e-4)
			}
			f.load("a", "tension_only_second_order").force(3, 9e3, 4e3, -80e3).udl("high", 1500, 0, 0).udl("low", 1500, 0, 0)
			o := f.opinion("a", true, true)
			return f, []Figure{o.disp(3, "ux"), o.disp(3, "uy"), o.disp(2, "ux"), o.end("low", "j", "Mz"), o.end("high stay 2", "j", "N"), o.slack("low stay 1"), o.slack("high stay 3")}
		}},
		Case{"shed of 4 frames/wind along, rods", func() (*form, []Figure) {
			f := shed(4)
			gravity(f.load("a", "tension_only"), 4, 1e3)
			endWind(f.Cases[0], 12e3)
			o := f.opinion("a", false, true)
			return f, []Figure{o.disp(2, "ux"), o.disp(17, "ux"), o.end("wall rod A1 up", "j", "N"), o.end("wall rod A1 down", "j", "N"), o.end("column A1", "j", "Mz"), o.slack("roof rod A1 up"), o.slack("wall rod B1 down")}
		}},
		Case{"shed of 12 frames/wind along, rods, linear", func() (*form, []Figure) { return shedAlong(false) }},
		Case{"shed of 12 frames/wind along, rods, second order", func() (*form, []Figure) { return shedAlong(true) }},
		Case{"shed of 12 frames/wind across, second order", func() (*form, []Figure) {
			f := shed(12)
			c := f.load("a", "tension_only_second_order")
			gravity(c, 12, 5e3)
			for k := range 12 {
				c.udl(fmt.Sprintf("column A%d", k+1), 0, 3e3, 0)
			}
			endWind(c, 3e3)
			o := f.opinion("a", true, true)
			return f, []Figure{o.disp(2, "uy"), o.disp(32, "uy"), o.disp(33, "uz"), o.end("column B6", "j", "Mz"), o.end("wall rod A1 up", "j", "N")}
		}},
		Case{"shed of 12 frames/buckling with wind along", func() (*form, []Figure) {
			f := shed(12)
			gravity(f.load("b", "buckling"), 12, 5e3)
			endWind(f.Cases[0], 40e3)
			return f, f.modes("b", 2)
		}},
	)
}

func shedAlong(second bool) (*form, []Figure) {
	f := shed(12)
	c := f.load("a", "tension_only")
	if second {
		c.Analysis = "tension_only_second_order"
	}
	gravity(c, 12, 3e3)
	endWind(c, 20e3)
	o := f.opinion("a", second, true)
	return f, []Figure{o.disp(2, "ux"), o.disp(57, "ux"), o.disp(33, "uz"), o.end("wall rod A1 up", "j", "N"), o.end("wall rod B11 down", "j", "N"),
		o.end("column A1", "j", "Mz"), o.end("column A6", "j", "Mz"), o.end("strut A6", "i", "N"), o.slack("wall rod A1 down"), o.slack("roof rod B11 up")}
}

// storeys is a plane frame of n storeys of 3.5 m and b bays of 6 m with fixed feet; node ids row by row from the ground.
func storeys(n, b int) *form {
	f := newForm()
	for i := range n + 1 {
		for k := range b + 1 {
			f.at(6*float64(k), 0, 3.5*float64(i))
		}
	}
	f.planar()
	for k := range b + 1 {
		f.hold(k+1, fixedEnd)
	}
	for i := range n {
		for k := range b + 1 {
			f.plane(fmt.Sprintf("column %d.%d", i+1, k+1), i*(b+1)+k+1, (i+1)*(b+1)+k+1, planeSection.times(0.5))
		}
		for k := range b {
			f.plane(fmt.Sprintf("beam %d.%d", i+1, k+1), (i+1)*(b+1)+k+1, (i+1)*(b+1)+k+2, planeSection)
		}
	}
	return f
}

// table is four fixed posts (1-5 … 4-8) of uneven height under a ring of beams, no two alike.
func table() *form {
	f := newForm()
	at := [4][2]float64{{0, 0}, {5, 0}, {5.5, 4}, {0, 4}}
	for i, p := range at {
		f.hold(f.at(p[0], p[1], 0.2*float64(i)), "all")
	}
	for _, p := range at {
		f.at(p[0], p[1], 4)
	}
	for i := range 4 {
		f.beam(fmt.Sprintf("c%d", i+1), 1+i, 5+i, closedSection, vec{math.Cos(0.4 * float64(i)), math.Sin(0.4 * float64(i)), 0})
	}
	for i := range 4 {
		m := f.beam(fmt.Sprintf("b%d", i+1), 5+i, 5+(i+1)%4, openSection, vec{0, 0, 1})
		if i == 3 {
			m.ReleaseJ = []string{"My", "Mz"}
		}
	}
	f.Members[5].SpringsI = map[string]float64{"Mz": 8e6}
	return f
}

// shed is n pitched frames along X, span along Y, hinged feet that do not turn about Z, hinged struts at eaves and ridge,
// and crossed rods in walls and roof of the first and the last bay. Frame k has nodes 5k+1 … 5k+5: foot A, eaves A, ridge,
// eaves B, foot B.
func shed(n int) *form {
	const spacing, l, h, rise = 6.0, 15.0, 5.0, 1.5
	column := section{E: steelE, G: steelG, A: 7e-3, Iy: 12e-6, Iz: 110e-6, J: 6e-5, Density: 7850}
	rafter := section{E: steelE, G: steelG, A: 5e-3, Iy: 9e-6, Iz: 70e-6, J: 4e-5, Density: 7850}
	strut := section{E: steelE, G: steelG, A: 1.5e-3, Iy: 1.6e-6, Iz: 1.6e-6, J: 2.5e-6, Density: 7850}
	f := newForm()
	for k := range n {
		x := spacing * float64(k)
		f.hold(f.at(x, 0, 0), "pin rz")
		f.at(x, 0, h)
		f.at(x, l/2, h+rise)
		f.at(x, l, h)
		f.hold(f.at(x, l, 0), "pin rz")
	}
	for k := range n {
		b := 5*k + 1
		f.beam(fmt.Sprintf("column A%d", k+1), b, b+1, column, vec{0, -1, 0})
		f.beam(fmt.Sprintf("rafter A%d", k+1), b+1, b+2, rafter, vec{0, -rise, l / 2})
		f.beam(fmt.Sprintf("rafter B%d", k+1), b+3, b+2, rafter, vec{0, rise, l / 2})
		f.beam(fmt.Sprintf("column B%d", k+1), b+4, b+3, column, vec{0, 1, 0})
	}
	for k := range n - 1 {
		for d, line := range []string{"A", "ridge", "B"} {
			m := f.beam(fmt.Sprintf("strut %s%d", line, k+1), 5*k+2+d, 5*k+7+d, strut, vec{0, 0, 1})
			m.ReleaseI, m.ReleaseJ = []string{"My", "Mz"}, []string{"My", "Mz"}
		}
	}
	for _, k := range []int{0, n - 2} {
		for _, r := range []struct {
			name string
			a, b int // nodes of the first frame: the rods run a - b+5 and a+5 - b
		}{{"wall rod A", 1, 2}, {"wall rod B", 5, 4}, {"roof rod A", 2, 3}, {"roof rod B", 4, 3}} {
			f.tie(fmt.Sprintf("%s%d up", r.name, k+1), 5*k+r.a, 5*k+5+r.b, steelE, 3.14e-4)
			f.tie(fmt.Sprintf("%s%d down", r.name, k+1), 5*k+5+r.a, 5*k+r.b, steelE, 3.14e-4)
		}
	}
	return f
}

// gravity loads all rafters down by q per length.
func gravity(c *loadCase, n int, q float64) {
	for k := range n {
		c.udl(fmt.Sprintf("rafter A%d", k+1), 0, 0, -q).udl(fmt.Sprintf("rafter B%d", k+1), 0, 0, -q)
	}
}

// endWind pushes the first gable along X by p at the eaves and twice that at the ridge, a little more on wall A.
func endWind(c *loadCase, p float64) {
	c.force(2, 1.1*p, 0, 0).force(3, 2*p, 0, 0).force(4, 0.9*p, 0, 0)
}
