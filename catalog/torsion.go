package catalog

import "math"

// torsion returns the torsion constant (m4) and, for hollow sections, the torsion modulus (m3).
//
// Hollow: J = t^3 h/3 + 2 K Ah, C = J/(t + K/t), K = 2 Ah t/h with h the mid-line length and Ah the area it encloses
// (the formula of the AS/NZS 1163 section tables, EN 10219-2 Annex B). Round: exact. Hot-rolled open sections: thin rectangles with
// junction and end terms (El Darwish and Johnston, Torsion of structural shapes, J. Struct. Div. ASCE 91 ST1, 1965;
// fits also printed in SCI P385 Annex B). Cold-formed: A t^2/3.
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
	case UB:
		return d.plates() + 2*d.teeJunction() - 0.420*math.Pow(d.Tf, 4), 0
	case PFC:
		return d.plates() + 2*elbow(d.Tf, d.Tw, d.R1) - 0.420*math.Pow(d.Tf, 4), 0
	case EA:
		t3 := d.T * d.T * d.T
		return (2*d.D-d.T)*t3/3 + elbow(d.T, d.T, d.R1) - 0.210*t3*d.T, 0
	default:
		return area * d.T * d.T / 3, 0
	}
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
