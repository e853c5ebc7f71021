package drawings

import (
	"fmt"
	"math"
)

// lab is a colour in OKLab (B. Ottosson, 2020): equal steps look equal.
type lab struct{ l, a, b float64 }

// The ends and the middle of the diverging scale: blue for suction, orange for pressure, a light grey between. Blue and
// orange stay apart for all common kinds of colour blindness; both ends are equally light, so neither looks stronger.
var (
	suction  = lab{0.62, -0.045, -0.135}
	neutral  = lab{0.97, 0, 0}
	pressing = lab{0.62, 0.085, 0.120}
)

// Diverging is the colour of v from -1 (suction) to 1 (pressure) as #rrggbb; beyond, the ends hold.
func Diverging(v float64) string {
	end := pressing
	if v < 0 {
		end = suction
	}
	f := math.Min(math.Abs(v), 1)
	c := lab{neutral.l + f*(end.l-neutral.l), neutral.a + f*(end.a-neutral.a), neutral.b + f*(end.b-neutral.b)}
	r, g, b := c.rgb()
	return fmt.Sprintf("#%02x%02x%02x", r, g, b)
}

// rgb is the colour in sRGB, cut off at its gamut.
func (c lab) rgb() (r, g, b uint8) {
	cube := func(x float64) float64 { return x * x * x }
	l := cube(c.l + 0.3963377774*c.a + 0.2158037573*c.b)
	m := cube(c.l - 0.1055613458*c.a - 0.0638541728*c.b)
	s := cube(c.l - 0.0894841775*c.a - 1.2914855480*c.b)
	return channel(4.0767416621*l - 3.3077115913*m + 0.2309699292*s),
		channel(-1.2684380046*l + 2.6097574011*m - 0.3413193965*s),
		channel(-0.0041960863*l - 0.7034186147*m + 1.7076147010*s)
}

// channel applies the sRGB transfer function to a linear value.
func channel(x float64) uint8 {
	x = math.Max(0, math.Min(1, x))
	if x <= 0.0031308 {
		x *= 12.92
	} else {
		x = 1.055*math.Pow(x, 1/2.4) - 0.055
	}
	return uint8(math.Round(255 * x))
}
