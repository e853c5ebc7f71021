package catalog

import "math"

// Quantity is a dimension or property as the trade writes it. Value is in Unit, a power of mm (or kg/m, or degrees);
// tables show it divided by 10^Exponent.
type Quantity struct {
	Symbol   string
	Name     string
	Unit     string
	Exponent int
	Value    float64
}

// Shown returns the value as tables show it, with its unit: 14.4 and "10⁶ mm⁴".
func (q Quantity) Shown() (value float64, unit string) {
	powers := map[int]string{0: "", 3: "10³ ", 6: "10⁶ ", 9: "10⁹ "}
	return q.Value / math.Pow10(q.Exponent), powers[q.Exponent] + q.Unit
}

// quantity describes a property: which families have it and where it stands.
type quantity struct {
	symbol, name, unit string
	power              int // of m in the SI value
	exponent           int // of the table's unit
	get                func(*Section) float64
	has                func(Family) bool
}

func every(Family) bool    { return true }
func hollow(f Family) bool { return f == RHS || f == SHS || f == CHS }
func open(f Family) bool   { return !hollow(f) && f != Rod }
func skew(f Family) bool   { return f == EA || f == Z }
func uneven(f Family) bool { return f == PFC || f == C || f == EA || f == Z }
func only(fs ...Family) func(Family) bool {
	return func(f Family) bool {
		for _, g := range fs {
			if f == g {
				return true
			}
		}
		return false
	}
}

// dimensionList are the dimensions in the order of a sketch.
var dimensionList = []quantity{
	{"d", "depth", "mm", 1, 0, func(s *Section) float64 { return s.Dims.D }, only(RHS, SHS, UB, PFC, C, Z)},
	{"d", "diameter", "mm", 1, 0, func(s *Section) float64 { return s.Dims.D }, only(CHS, Rod)},
	{"d", "leg", "mm", 1, 0, func(s *Section) float64 { return s.Dims.D }, only(EA)},
	{"b", "width", "mm", 1, 0, func(s *Section) float64 { return s.Dims.B }, only(RHS, SHS)},
	{"b", "flange width", "mm", 1, 0, func(s *Section) float64 { return s.Dims.B }, only(UB, PFC, C)},
	{"b", "wide flange", "mm", 1, 0, func(s *Section) float64 { return s.Dims.B }, only(Z)},
	{"f", "narrow flange", "mm", 1, 0, func(s *Section) float64 { return s.Dims.F }, only(Z)},
	{"lip", "lip, overall", "mm", 1, 0, func(s *Section) float64 { return s.Dims.L }, only(C, Z)},
	{"t", "thickness", "mm", 1, 0, func(s *Section) float64 { return s.Dims.T }, only(RHS, SHS, CHS, EA, C, Z)},
	{"tf", "flange thickness", "mm", 1, 0, func(s *Section) float64 { return s.Dims.Tf }, only(UB, PFC)},
	{"tw", "web thickness", "mm", 1, 0, func(s *Section) float64 { return s.Dims.Tw }, only(UB, PFC)},
	{"ro", "outer corner radius", "mm", 1, 0, func(s *Section) float64 { return s.Dims.Ro }, only(RHS, SHS, C, Z)},
	{"ri", "inner corner radius", "mm", 1, 0, func(s *Section) float64 { return s.Dims.Ri }, only(RHS, SHS, C, Z)},
	{"r1", "root radius", "mm", 1, 0, func(s *Section) float64 { return s.Dims.R1 }, only(UB, PFC, EA)},
	{"r2", "toe radius", "mm", 1, 0, func(s *Section) float64 { return s.Dims.R2 }, only(EA)},
	{"pitch", "thread pitch", "mm", 1, 0, func(s *Section) float64 { return s.Dims.P }, only(Rod)},
}

// propertyList are the properties in the order of a section table.
var propertyList = []quantity{
	{"mass", "mass", "kg/m", 0, 0, func(s *Section) float64 { return s.Props.Mass }, every},
	{"surface", "outer surface to coat, per metre", "m²/m", 0, 0, func(s *Section) float64 { return s.Props.Perimeter }, every},
	{"Ag", "gross area", "mm²", 2, 0, func(s *Section) float64 { return s.Props.A }, every},
	{"As", "tensile stress area of the thread", "mm²", 2, 0, func(s *Section) float64 { return s.Props.As }, only(Rod)},
	{"Ac", "core area of the thread", "mm²", 2, 0, func(s *Section) float64 { return s.Props.Ac }, only(Rod)},
	{"Ix", "second moment of area about x", "mm⁴", 4, 6, func(s *Section) float64 { return s.Props.Ix }, every},
	{"Iy", "second moment of area about y", "mm⁴", 4, 6, func(s *Section) float64 { return s.Props.Iy }, every},
	{"Ixy", "product of area", "mm⁴", 4, 6, func(s *Section) float64 { return s.Props.Ixy }, skew},
	{"Imax", "major principal second moment", "mm⁴", 4, 6, func(s *Section) float64 { return s.Props.Imax }, skew},
	{"Imin", "minor principal second moment", "mm⁴", 4, 6, func(s *Section) float64 { return s.Props.Imin }, skew},
	{"alpha", "angle from x to the major principal axis", "°", 0, 0, func(s *Section) float64 { return s.Props.Alpha * 180 / math.Pi }, skew},
	{"Zx", "elastic modulus about x, the lesser", "mm³", 3, 3, func(s *Section) float64 { return s.Props.Zx }, every},
	{"Zxt", "elastic modulus about x, top edge", "mm³", 3, 3, func(s *Section) float64 { return s.Props.ZxTop }, skew},
	{"Zxb", "elastic modulus about x, bottom edge", "mm³", 3, 3, func(s *Section) float64 { return s.Props.ZxBottom }, skew},
	{"Zy", "elastic modulus about y, the lesser", "mm³", 3, 3, func(s *Section) float64 { return s.Props.Zy }, every},
	{"ZyL", "elastic modulus about y, left edge", "mm³", 3, 3, func(s *Section) float64 { return s.Props.ZyLeft }, uneven},
	{"ZyR", "elastic modulus about y, right edge", "mm³", 3, 3, func(s *Section) float64 { return s.Props.ZyRight }, uneven},
	{"Sx", "plastic modulus about x", "mm³", 3, 3, func(s *Section) float64 { return s.Props.Sx }, every},
	{"Sy", "plastic modulus about y", "mm³", 3, 3, func(s *Section) float64 { return s.Props.Sy }, every},
	{"rx", "radius of gyration about x", "mm", 1, 0, func(s *Section) float64 { return s.Props.Rx }, every},
	{"ry", "radius of gyration about y", "mm", 1, 0, func(s *Section) float64 { return s.Props.Ry }, every},
	{"rmin", "least radius of gyration", "mm", 1, 0, func(s *Section) float64 { return s.Props.Rmin }, skew},
	{"J", "torsion constant", "mm⁴", 4, 3, func(s *Section) float64 { return s.Props.J }, every},
	{"C", "torsion modulus", "mm³", 3, 3, func(s *Section) float64 { return s.Props.Ct }, hollow},
	{"Iw", "warping constant", "mm⁶", 6, 9, func(s *Section) float64 { return s.Props.Iw }, open},
	{"Avx", "shear area along the web, for deformation", "mm²", 2, 0, func(s *Section) float64 { return s.Props.Avx }, every},
	{"Avy", "shear area across the web, for deformation", "mm²", 2, 0, func(s *Section) float64 { return s.Props.Avy }, every},
	{"xc", "centroid from the left edge", "mm", 1, 0, func(s *Section) float64 { return s.Props.Xc }, uneven},
	{"yc", "centroid from the bottom", "mm", 1, 0, func(s *Section) float64 { return s.Props.Yc }, skew},
	{"x0", "shear centre from the centroid, along x", "mm", 1, 0, func(s *Section) float64 { return s.Props.X0 }, uneven},
	{"y0", "shear centre from the centroid, along y", "mm", 1, 0, func(s *Section) float64 { return s.Props.Y0 }, skew},
	{"betax", "monosymmetry constant, major axis", "mm", 1, 0, func(s *Section) float64 { return s.Props.BetaX }, only(Z)},
	{"betay", "monosymmetry constant, minor axis", "mm", 1, 0, func(s *Section) float64 { return s.Props.BetaY }, uneven},
}

// Dimensions lists the section's dimensions in mm.
func (s *Section) Dimensions() []Quantity { return s.list(dimensionList) }

// Quantities lists the properties that the section's family has, in the trade's units.
func (s *Section) Quantities() []Quantity { return s.list(propertyList) }

func (s *Section) list(rows []quantity) []Quantity {
	var out []Quantity
	for _, r := range rows {
		if r.has(s.Family) {
			v := r.get(s) * math.Pow10(3*r.power)
			out = append(out, Quantity{Symbol: r.symbol, Name: r.name, Unit: r.unit, Exponent: r.exponent, Value: v})
		}
	}
	return out
}

// Title is the family in words.
func (f Family) Title() string {
	switch f {
	case RHS:
		return "cold-formed rectangular hollow section"
	case SHS:
		return "cold-formed square hollow section"
	case CHS:
		return "circular hollow section"
	case UB:
		return "hot-rolled universal beam"
	case PFC:
		return "hot-rolled parallel flange channel"
	case EA:
		return "hot-rolled equal angle"
	case Rod:
		return "round bar with threaded ends"
	case C:
		return "cold-formed lipped channel"
	case Z:
		return "cold-formed lipped zed"
	}
	return string(f)
}

// AxesNote says how the section lies in its axes, where that is not plain from symmetry.
func (f Family) AxesNote() string {
	switch f {
	case PFC, C:
		return "web at the left, toes to the right; x across the web, y along it"
	case EA:
		return "corner at the lower left; x and y parallel to the legs, so not principal; betay about the minor principal axis"
	case Z:
		return "wide flange at the bottom to the right, narrow flange at the top to the left; x and y across and along the web, so not principal; betax, betay about the principal axes"
	}
	return ""
}
