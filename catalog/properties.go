package catalog

import "math"

// Density of steel, kg/m3 (AS 4100 1.4 gives 7850).
const Density = 7850.0

// compute returns the properties of a section of family f with dimensions d, which must have passed check. The outline's
// properties (area, moments, plastic moduli, centroid, principal axes, monosymmetry) are exact for straight edges and
// circular corners and root fillets; shear areas, shear centre and warping constant are those of the mid-line.
func compute(f Family, d Dims) Properties {
	es := d.outline(f)
	m := areaMoments(es)
	p := Properties{A: m.a, Mass: m.a * Density, Xc: m.x / m.a, Yc: m.y / m.a}
	for i, e := range es {
		es[i] = e.move(-p.Xc, -p.Yc)
	}
	m = areaMoments(es)
	lo, hi := extent(es)
	p.Ix, p.Iy, p.Ixy = m.yy, m.xx, clean(m.xy, m.xx+m.yy)
	p.ZxTop, p.ZxBottom = p.Ix/hi.y, p.Ix/-lo.y
	p.ZyLeft, p.ZyRight = p.Iy/-lo.x, p.Iy/hi.x
	p.Zx, p.Zy = min(p.ZxTop, p.ZxBottom), min(p.ZyLeft, p.ZyRight)
	p.Rx, p.Ry = math.Sqrt(p.Ix/p.A), math.Sqrt(p.Iy/p.A)
	p.principal()
	p.Sx, _ = plasticModulus(es, m)
	p.Sy, _ = plasticModulus(swapped(es), m)
	if f == EA {
		p.angleModuli(es)
	}
	p.J, p.Ct = d.torsion(f, p.A)
	p.Perimeter = coated(f, d, es)
	p.shear(f, d)
	p.monosymmetry(es)
	if f == Rod {
		// AS 1275 / ISO 898-1: tensile stress area; core area of the minor diameter
		p.As = math.Pi / 4 * math.Pow(d.D-0.9382*d.P, 2)
		p.Ac = math.Pi / 4 * math.Pow(d.D-1.2269*d.P, 2)
	}
	return p
}

// clean returns 0 for what is rounding beside scale: a symmetric section has no product of area.
func clean(v, scale float64) float64 {
	if math.Abs(v) < 1e-12*scale {
		return 0
	}
	return v
}

// principal sets the principal second moments and the angle of the major axis.
func (p *Properties) principal() {
	mean, diff := (p.Ix+p.Iy)/2, (p.Ix-p.Iy)/2
	r := math.Hypot(diff, p.Ixy)
	p.Imax, p.Imin = mean+r, mean-r
	p.Rmin = math.Sqrt(p.Imin / p.A)
	if r > 1e-9*mean { // else every axis is principal: leave the angle at 0
		p.Alpha = math.Atan2(0-p.Ixy, diff) / 2
	}
}

// angleModuli sets the moduli about the principal axes of an angle, whose outline es is about its centroid.
func (p *Properties) angleModuli(es []edge) {
	turned := make([]edge, len(es))
	for i, e := range es {
		turned[i] = e.turn(p.Alpha)
	}
	m := areaMoments(turned)
	lo, hi := extent(turned)
	p.Zmajor = p.Imax / max(hi.y, -lo.y)
	p.ZminorHeel, p.ZminorToes = p.Imin/-lo.x, p.Imin/hi.x
	p.Smajor, _ = plasticModulus(turned, m)
	p.Sminor, _ = plasticModulus(swapped(turned), m)
}

// swapped mirrors the outline about x = y, running it so that the area stays at the left.
func swapped(es []edge) []edge {
	out := make([]edge, len(es))
	for i, e := range es {
		out[i] = e.swap()
	}
	return reverse(out)
}

// coated is the outer outline's length: the surface to paint, per metre.
func coated(f Family, d Dims, es []edge) float64 {
	switch f {
	case RHS, SHS:
		es = box(d.B, d.D, 0, d.Ro)
	case CHS:
		es = box(d.D, d.D, 0, d.D/2)
	}
	return perimeter(es)
}

func perimeter(es []edge) (l float64) {
	for _, e := range es {
		l += e.length()
	}
	return l
}

// shear sets shear areas, shear centre and warping constant.
func (p *Properties) shear(f Family, d Dims) {
	ws := d.midline(f)
	switch f {
	case Rod:
		p.Avx = 0.9 * p.A // form factor 10/9 of a solid circle (Gere and Timoshenko, Mechanics of materials, 12.9)
		p.Avy = p.Avx
		return
	case RHS, SHS, CHS:
		half, _ := shearAreas(ws)
		p.Avx = 2 * half
		half, _ = shearAreas(Dims{D: d.width(f), B: d.D, T: d.T, Ro: d.Ro, Ri: d.Ri}.midline(f))
		p.Avy = 2 * half
		return
	}
	p.Avx, p.Avy = shearAreas(ws)
	switch f {
	case UB:
		p.Iw = p.Iy * (d.D - d.Tf) * (d.D - d.Tf) / 4
		return
	case EA:
		// the legs' own warping across their thickness (Bleich, Buckling strength of metal structures, 1952, ch. III):
		// the mid-line's is nil
		b := d.D - d.T/2
		p.Iw = 2 * math.Pow(d.T*b, 3) / 36
		p.X0, p.Y0 = d.T/2-p.Xc, d.T/2-p.Yc
		return
	case PFC:
		if d.fitted(f) {
			p.channelWarping(d)
			return
		}
	}
	s, iw := warping(ws)
	p.Iw = iw
	p.X0, p.Y0 = clean(s.x-p.Xc, d.B), clean(s.y-p.Yc, d.D)
}

// channelWarping sets shear centre and warping constant of a hot-rolled channel from its true A, Ix and Iy, so that root
// fillets count: e = h^2 b^2 tf/(4 Ix) from the web's middle and Iw = (h^2/4) (Iy - A c^2 (h^2 A/(4 Ix) - 1)), with h and
// b between mid-lines and c from the web's middle to the centroid (the closed forms of SCI P385; with the mid-line's own
// A, Ix, Iy they are the thin-walled values), for the proportions of rolled shapes. The bare mid-line gives Iw 4 to 5 % less than published tables.
func (p *Properties) channelWarping(d Dims) {
	h, b, c := d.D-d.Tf, d.B-d.Tw/2, p.Xc-d.Tw/2
	e := h * h * b * b * d.Tf / (4 * p.Ix)
	p.X0 = -e - c
	p.Iw = h * h / 4 * (p.Iy - p.A*c*c*(h*h*p.A/(4*p.Ix)-1))
}

// width is the overall width of a hollow section.
func (d Dims) width(f Family) float64 {
	if f == CHS {
		return d.D
	}
	return d.B
}

// monosymmetry sets beta_x = (integral of y (x^2 + y^2) dA)/Ix - 2 y0 and beta_y likewise with x (AS 4100 Appendix H;
// Trahair, Flexural-torsional buckling of structures, ch. 2). Where x and y are not principal axes (angles, zeds) they
// are taken about the major and the minor principal axis.
func (p *Properties) monosymmetry(es []edge) {
	alpha := 0.0
	if p.Ixy != 0 {
		alpha = p.Alpha
	}
	turned := make([]edge, len(es))
	for i, e := range es {
		turned[i] = e.turn(alpha)
	}
	m := areaMoments(turned)
	s, c := math.Sincos(alpha)
	x0, y0 := c*p.X0+s*p.Y0, c*p.Y0-s*p.X0
	scale := math.Sqrt(p.Imax / p.A)
	p.BetaX = cleanLength((m.xxy+m.yyy)/m.yy-2*y0, scale)
	p.BetaY = cleanLength((m.xxx+m.xyy)/m.xx-2*x0, scale)
}

// cleanLength returns 0 for what is rounding beside the radius of gyration.
func cleanLength(v, scale float64) float64 {
	if math.Abs(v) < 1e-9*scale {
		return 0
	}
	return v
}
