package brief

// Quantities are typed so that a bare number cannot cross the border in the wrong unit. Each is in the base unit inside;
// the comment says what a bare number means in the file and which units may be written behind it. The table of units
// is in units.go.

// Length is in metres; in the file a bare number is in metres ("4.2", "4.2 m", "4200 mm").
type Length float64

// Size is a small length in metres; in the file a bare number is in millimetres ("5", "5 mm", "0.005 m").
type Size float64

// Area is in m²; in the file a bare number is in m².
type Area float64

// Pressure is in Pa; in the file a bare number is in kPa ("3", "3 kPa", "3000 Pa").
type Pressure float64

// AreaMass is in kg/m²; in the file a bare number is in kg/m², and "0.05 kPa" is turned into a mass by standard gravity.
type AreaMass float64

// Mass is in kg; in the file a bare number is in kg ("500", "0.5 t").
type Mass float64

// Angle is in rad; in the file a bare number is in degrees ("60", "60 deg", "60°").
type Angle float64

// Speed is in m/s.
type Speed float64

// LineForce is in N/m; in the file a bare number is in kN/m.
type LineForce float64

// Stress is in Pa; in the file a bare number is in MPa.
type Stress float64

// RotationalStiffness is in N·m/rad; in the file a bare number is in kN·m/rad.
type RotationalStiffness float64

// Stiffness is in N/m; in the file a bare number is in kN/m.
type Stiffness float64

// Ratio is the number under the stroke of a deflection limit: 150 for height/150. The file may say 150, 1/150, H/150,
// L/150, span/150 or bay/150.
type Ratio float64

// Gravity is standard gravity in m/s² (ISO 80000-3), for masses stated as pressures and back.
const Gravity = 9.80665

// Pressure returns the weight of m per area in Pa.
func (m AreaMass) Pressure() Pressure { return Pressure(float64(m) * Gravity) }

// Range is a stretch from its first to its second number in metres, written [0, 9.8].
type Range [2]Length

// Width is the length of the stretch in metres.
func (r Range) Width() Length { return r[1] - r[0] }

// Overlaps says whether r and s share more than a point.
func (r Range) Overlaps(s Range) bool { return r[0] < s[1] && s[0] < r[1] }

// Holds says whether v lies strictly inside r.
func (r Range) Holds(v Length) bool { return r[0] < v && v < r[1] }

// Rose is a number for each of N, NE, E, SE, S, SW, W, NW; zero is not given. In the file it is one number for all
// directions, or a mapping of the points that differ ({N: 0.9, SW: 0.85}).
type Rose [8]float64

// points are the compass points of a Rose, clockwise from north.
var points = [8]string{"N", "NE", "E", "SE", "S", "SW", "W", "NW"}
