package catalog

import (
	"math"
	"testing"
)

// Thin-walled closed forms; walls of 1 mm on mid-lines given in m.
const thin = 0.001

func path(closed bool, xy ...float64) []edge {
	var cs []corner
	for i := 0; i < len(xy); i += 2 {
		cs = append(cs, corner{xy[i], xy[i+1], 0})
	}
	return rounded(closed, cs...)
}

// TestWarpingClosedForms: plain channel and zed (Young and Budynas, Roark's formulas for stress and strain, Table 10.2), and
// the shear centre of a lipped channel (Gere and Timoshenko, Mechanics of materials, ch. 6 problems).
func TestWarpingClosedForms(t *testing.T) {
	b, h, c, w := 0.08, 0.2, 0.02, thin
	s, iw := warping(chain(w, path(false, b, 0, 0, 0, 0, h, b, h)))
	near(t, "channel e", -s.x, 3*b*b*w/(6*b*w+h*w), 1e-9)
	near(t, "channel Iw", iw, w*b*b*b*h*h/12*(3*b+2*h)/(6*b+h), 1e-9)
	near(t, "channel y", s.y, h/2, 1e-9)

	s, iw = warping(chain(w, path(false, b, 0, 0, 0, 0, h, -b, h)))
	near(t, "zed Iw", iw, w*b*b*b*h*h/12*(b+2*h)/(2*b+h), 1e-9)
	near(t, "zed y", s.y, h/2, 1e-9)
	if math.Abs(s.x) > 1e-12 {
		t.Errorf("zed shear centre %g, want the middle of the web", s.x)
	}

	s, _ = warping(chain(w, path(false, b, c, b, 0, 0, 0, 0, h, b, h, b, h-c)))
	e := b * (3*h*h*b + 6*h*h*c - 8*c*c*c) / (h*h*h + 6*h*h*b + 6*h*h*c + 8*c*c*c - 12*h*c*c)
	near(t, "lipped channel e", -s.x, e, 1e-9)
}

// TestChannelWarpingThin: the hot-rolled channel's formulas tend to the mid-line's for thin walls without fillets.
func TestChannelWarpingThin(t *testing.T) {
	d := Dims{D: 0.2, B: 0.08, Tf: 0.0004, Tw: 0.0002}
	p := compute(PFC, d)
	s, iw := warping(d.midline(PFC))
	near(t, "Iw", p.Iw, iw, 2e-3)
	near(t, "shear centre", p.X0, s.x-p.Xc, 2e-3)
}

// TestShearCentreByShearFlow: the moment of the shear flow of a force about the centroid is the force times the shear
// centre's distance. Flow by summing short straight pieces, a different theory from the sectorial coordinate.
func TestShearCentreByShearFlow(t *testing.T) {
	for _, s := range append(ByFamily(C), ByFamily(Z)...) {
		ws := s.Dims.midline(s.Family)
		p, moved := centre(ws)
		det := p.ix*p.iy - p.ixy*p.ixy
		var sx, sy, my, mx float64 // first moments passed; moments of the flows of unit forces along y and x
		const n = 400
		for _, w := range moved {
			for k := range n {
				a, _ := w.at(float64(k) / n)
				b, _ := w.at(float64(k+1) / n)
				m := point{(a.x + b.x) / 2, (a.y + b.y) / 2}
				dA := w.t * math.Hypot(b.x-a.x, b.y-a.y)
				sx, sy = sx+m.y*dA/2, sy+m.x*dA/2
				arm := a.x*b.y - a.y*b.x
				my -= (p.iy*sx - p.ixy*sy) / det * arm
				mx -= (p.ix*sy - p.ixy*sx) / det * arm
				sx, sy = sx+m.y*dA/2, sy+m.x*dA/2
			}
		}
		// a force V along y at x0 has the moment V x0, a force along x at y0 the moment -V y0
		x0, y0 := my+p.xc-s.Props.Xc, -mx+p.yc-s.Props.Yc
		if math.Abs(x0-s.Props.X0) > 1e-5 || math.Abs(y0-s.Props.Y0) > 1e-5 {
			t.Errorf("%s: shear centre %.3f, %.3f mm; by shear flow %.3f, %.3f", s.Name, s.Props.X0*1e3, s.Props.Y0*1e3, x0*1e3, y0*1e3)
		}
	}
}

// TestShearAreas: form factors of thin-walled sections for Poisson's ratio 0, where the energy method and Cowper (The
// shear coefficient in Timoshenko's beam theory, J. Appl. Mech. 33, 1966) agree.
func TestShearAreas(t *testing.T) {
	plate, _ := shearAreas([]wall{
		{edge: edge{a: point{0, 0}, b: point{0, 0.2}}, t: 0.01, from: 0, to: 1},
		{edge: edge{a: point{0, 0.2}, b: point{0.001, 0.2}}, t: 1e-9, from: 1, to: 2}, // gives the line a width
	})
	near(t, "plate", plate, 5.0/6*0.2*0.01, 1e-3)

	i := Dims{D: 0.3, B: 0.15, Tf: 0.012, Tw: 0.008}
	h := i.D - i.Tf
	m, n := 2*i.B*i.Tf/(h*i.Tw), i.B/h
	k := 10 * (1 + 3*m) * (1 + 3*m) / (12 + 72*m + 150*m*m + 90*m*m*m + 30*n*n*(m+m*m))
	x, y := shearAreas(i.midline(UB))
	near(t, "I along the web", x, k*(2*i.B*i.Tf+h*i.Tw), 1e-9)
	near(t, "I across the web", y, 5.0/6*2*i.B*i.Tf, 1e-9)

	const sharp = 1e-9
	b := Dims{D: 0.205, B: 0.105, T: 0.005, Ro: sharp, Ri: sharp}
	p := compute(RHS, b)
	box := func(b, h float64) float64 {
		m, n := b/h, b/h
		k := 10 * (1 + 3*m) * (1 + 3*m) / (12 + 72*m + 150*m*m + 90*m*m*m + 10*n*n*(3*m+3*m*m))
		return k * 2 * (b + h) * 0.005
	}
	near(t, "box along the depth", p.Avx, box(0.1, 0.2), 1e-6)
	near(t, "box across", p.Avy, box(0.2, 0.1), 1e-6)
}
