package catalog

import "math"

// torsion returns the torsion constant (m4) and, for hollow sections, the torsion modulus (m3).
//
// Hollow: J = t^3 h/3 + 2 K Ah, C = J/(t + K/t), K = 2 Ah t/h with h the mid-line length and Ah the area it encloses
// (the formula of the AS/NZS 1163 section tables, EN 10219-2 Annex B). Round: exact. Hot-rolled open sections: thin rectangles with
// junction and end terms (El Darwish and Johnston, Torsion of structural shapes, J. Struct. Div. ASCE 91 ST1, 1965;
// fits also printed in SCI P385 Annex B), or plain rectangles where the proportions lie outside the fits. Cold-formed:
// A t^2/3.
func (d Dims) torsion(f Family, area float64) (j, c float64) {
	switch f {
	case RHS, SHS:
		h, ah := d.boxMid()
		k := 2 * ah * d.T / h
		j = d.T*d.T*d.T*h/3 + 2*k*ah
		return j, j / (d.T + k/d.T)
	case CHS:
		in := d.D - 2*d.T
		j = math.Pi / 32 * (math.Pow(d.D, 4) - math.Pow(in, 4))
		return j, j / (d.D / 2)
	case Rod:
		return math.Pi / 32 * math.Pow(d.D, 4), 0
	case UB, PFC, EA:
		if !d.fitted(f) {
			return d.rectangles(f), 0
		}
		return d.rolled(f), 0
	default:
		return area * d.T * d.T / 3, 0
	}
}

// fitted tells whether the proportions lie where the junction terms were fitted: those of rolled shapes, with the web no
// thicker than the flange, the root radius up to twice and the flange at least three times its thickness.
func (d Dims) fitted(f Family) bool {
	b, tf, tw := d.B, d.Tf, d.Tw
	if f == EA {
		b, tf, tw = d.D, d.T, d.T
	}
	return tw <= tf && d.R1 <= 2*tf && b >= 3*tf
}

// rectangles is the sum of two flanges (legs) and the clear web as separate rectangles: less than the whole, the safe
// side (Young and Budynas, Roark's formulas for stress and strain, Table 10.7).
func (d Dims) rectangles(f Family) float64 {
	one := func(w, h float64) float64 {
		l, t := max(w, h), min(w, h)
		return l * t * t * t * (1.0/3 - 0.21*t/l*(1-math.Pow(t/l, 4)/12))
	}
	if f == EA {
		return one(d.D, d.T) + one(d.D-d.T, d.T)
	}
	return 2*one(d.B, d.Tf) + one(d.D-2*d.Tf, d.Tw)
}

// rolled is the fitted torsion constant of a hot-rolled open section.
func (d Dims) rolled(f Family) float64 {
	ends := math.Pow(d.Tf, 4)
	switch f {
	case UB:
		return d.plates() + 2*d.teeJunction() - 0.420*ends
	case PFC:
		return d.plates() + 2*elbow(d.Tf, d.Tw, d.R1) - 0.420*ends
	}
	t3 := d.T * d.T * d.T
	return (2*d.D-d.T)*t3/3 + elbow(d.T, d.T, d.R1) - 0.210*t3*d.T
}

// plates is the torsion constant of two flanges and the clear web as thin rectangles.
func (d Dims) plates() float64 {
	return 2*d.B*math.Pow(d.Tf, 3)/3 + (d.D-2*d.Tf)*math.Pow(d.Tw, 3)/3
}

// teeJunction is alpha D^4 of a flange-web junction with root fillets, D the inscribed circle.
func (d Dims) teeJunction() float64 {
	r, tf, tw := d.R1, d.Tf, d.Tw
	alpha := -0.042 + 0.2204*tw/tf + 0.1355*r/tf - 0.0865*tw*r/(tf*tf) - 0.0725*tw*tw/(tf*tf)
	dia := ((tf+r)*(tf+r) + tw*(r+tw/4)) / (2*r + tf)
	return alpha * math.Pow(dia, 4)
}

// elbow is alpha D^4 of a corner junction with a root fillet (channels and angles).
func elbow(tf, tw, r float64) float64 {
	alpha := -0.0908 + 0.2621*tw/tf + 0.1231*r/tf - 0.0752*tw*r/(tf*tf) - 0.0945*tw*tw/(tf*tf)
	dia := 2 * ((3*r + tw + tf) - math.Sqrt(2*(2*r+tw)*(2*r+tf)))
	return alpha * math.Pow(dia, 4)
}
