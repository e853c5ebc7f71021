package brief

import (
	"fmt"
	"math"
	"reflect"
	"regexp"
	"strconv"
	"strings"
)

// unit turns a number in the file into the base unit: times mul, or divided by div, so that each conversion rounds once
// and 4200 mm equals 4.2 m to the last bit.
type unit struct {
	names    []string // accepted spellings; the first is shown
	mul, div float64
}

// quantity is one row of the table of units; the first unit is that of a bare number.
type quantity struct {
	what  string
	units []unit
}

// quantities is the one table from which the reader, its messages and the schema take units.
var quantities = map[reflect.Type]quantity{
	reflect.TypeFor[Length](): {"a length", []unit{{[]string{"m"}, 1, 1}, {[]string{"mm"}, 1, 1000}}},
	reflect.TypeFor[Size]():   {"a length", []unit{{[]string{"mm"}, 1, 1000}, {[]string{"m"}, 1, 1}}},
	reflect.TypeFor[Area]():   {"an area", []unit{{[]string{"m²", "m2"}, 1, 1}}},
	reflect.TypeFor[Pressure](): {"a pressure", []unit{
		{[]string{"kPa", "kN/m²", "kN/m2"}, 1000, 1}, {[]string{"Pa", "N/m²", "N/m2"}, 1, 1}}},
	reflect.TypeFor[AreaMass](): {"a mass per area", []unit{
		{[]string{"kg/m²", "kg/m2"}, 1, 1}, {[]string{"kPa", "kN/m²", "kN/m2"}, 1000, Gravity}, {[]string{"Pa"}, 1, Gravity}}},
	reflect.TypeFor[Mass]():      {"a mass", []unit{{[]string{"kg"}, 1, 1}, {[]string{"t"}, 1000, 1}}},
	reflect.TypeFor[Angle]():     {"an angle", []unit{{[]string{"deg", "°"}, math.Pi, 180}, {[]string{"rad"}, 1, 1}}},
	reflect.TypeFor[Speed]():     {"a speed", []unit{{[]string{"m/s"}, 1, 1}, {[]string{"km/h"}, 1, 3.6}}},
	reflect.TypeFor[LineForce](): {"a force per length", []unit{{[]string{"kN/m"}, 1000, 1}, {[]string{"N/m"}, 1, 1}}},
	reflect.TypeFor[Stress]():    {"a stress", []unit{{[]string{"MPa"}, 1e6, 1}, {[]string{"Pa"}, 1, 1}}},
	reflect.TypeFor[RotationalStiffness](): {"a rotational stiffness", []unit{
		{[]string{"kN·m/rad", "kNm/rad"}, 1000, 1}, {[]string{"N·m/rad", "Nm/rad"}, 1, 1}}},
	reflect.TypeFor[Stiffness](): {"a stiffness", []unit{{[]string{"kN/m"}, 1000, 1}, {[]string{"N/m"}, 1, 1}}},
}

// bare returns the unit of a bare number.
func (q quantity) bare() string { return q.units[0].names[0] }

// known lists the units that may be written, for messages.
func (q quantity) known() string {
	names := make([]string, len(q.units))
	for i, u := range q.units {
		names[i] = u.names[0]
	}
	return strings.Join(names, " or ")
}

// find returns the unit of that spelling.
func (q quantity) find(name string) (unit, bool) {
	if name == "" {
		return q.units[0], true
	}
	for _, u := range q.units {
		for _, n := range u.names {
			if n == name {
				return u, true
			}
		}
	}
	return unit{}, false
}

// inBare turns a value in the base unit back into the file's unit.
func (q quantity) inBare(v float64) float64 { return v * q.units[0].div / q.units[0].mul }

// numberText is a decimal number and what stands behind it.
var numberText = regexp.MustCompile(`^([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)\s*(.*)$`)

// commaText is a number with a decimal comma.
var commaText = regexp.MustCompile(`^[+-]?[0-9]+,[0-9]+`)

// splitNumber reads a number with an optional unit behind it. The message says what is wrong with text.
func splitNumber(text string) (v float64, unit, wrong string) {
	text = strings.TrimSpace(text)
	if commaText.MatchString(text) {
		return 0, "", fmt.Sprintf("%q has a decimal comma; write a decimal point", text)
	}
	m := numberText.FindStringSubmatch(text)
	if m == nil {
		return 0, "", fmt.Sprintf("%q is not a number", text)
	}
	v, err := strconv.ParseFloat(m[1], 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, "", fmt.Sprintf("%q is too large a number", text)
	}
	return v, m[2], ""
}

// parse reads text as the quantity, in the base unit.
func (q quantity) parse(text string) (v float64, wrong string) {
	v, name, wrong := splitNumber(text)
	if wrong != "" {
		return 0, wrong + fmt.Sprintf("; give %s in %s", q.what, q.known())
	}
	u, ok := q.find(name)
	if !ok {
		return 0, fmt.Sprintf("%q is no unit of %s; use %s", name, q.what, q.known())
	}
	return v * u.mul / u.div, ""
}

// ratioText is a deflection limit with its stroke: H/150, span/150, 1/150.
var ratioText = regexp.MustCompile(`^(?:H|h|L|l|1|height|span|bay|width)\s*/\s*([0-9.]+)$`)

// parseRatio reads a deflection limit.
func parseRatio(text string) (v float64, wrong string) {
	if m := ratioText.FindStringSubmatch(strings.TrimSpace(text)); m != nil {
		text = m[1]
	}
	v, rest, wrong := splitNumber(text)
	if wrong == "" && rest != "" {
		wrong = fmt.Sprintf("%q is not a limit", text)
	}
	if wrong != "" {
		return 0, wrong + "; write 150 or H/150"
	}
	if v > 0 && v < 1 {
		return 0, fmt.Sprintf("%g is the fraction itself; write the number under its stroke, %.0f", v, 1/v)
	}
	return v, ""
}

// bounds are the ends of a `range` tag, in the file's unit.
type bounds struct {
	lo, hi float64
	given  bool
}

// parseBounds reads a `range` tag. It panics on a malformed tag, which is a mistake in this package.
func parseBounds(tag string) bounds {
	if tag == "" {
		return bounds{}
	}
	lo, hi, ok := strings.Cut(tag, "..")
	l, err1 := strconv.ParseFloat(lo, 64)
	h, err2 := strconv.ParseFloat(hi, 64)
	if !ok || err1 != nil || err2 != nil || l > h {
		panic(fmt.Sprintf("brief: range tag %q", tag))
	}
	return bounds{l, h, true}
}

// slack lets a value that was written in another unit sit on its bound in spite of rounding.
const slack = 1e-9

// outside says whether v is out of bounds.
func (b bounds) outside(v float64) bool {
	tol := slack * math.Max(1, math.Abs(v))
	return b.given && (v < b.lo-tol || v > b.hi+tol)
}

// show writes a number as a drawing would: no more digits than it has.
func show(v float64) string {
	if math.Abs(v) >= 1e6 {
		return strconv.FormatFloat(v, 'g', 6, 64)
	}
	s := strconv.FormatFloat(v, 'f', 4, 64)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

// metres writes a length for messages: two decimals, three where millimetres count.
func metres(l Length) string {
	if mm := math.Round(float64(l) * 1000); math.Mod(mm, 10) != 0 {
		return fmt.Sprintf("%.3f m", float64(l))
	}
	return fmt.Sprintf("%.2f m", float64(l))
}
