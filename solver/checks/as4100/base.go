package as4100

import (
	"fmt"
	"math"

	"leanbay/solver/checks"
)

// BasePlate is a pinned base: a plate under a column with bolts in two rows outside its depth. AS 4100 has no clause of
// its own for it; the rules are cantilever strips from memory, and the working says so. The bolts' anchorage in the
// concrete is not covered.
type BasePlate struct {
	Depth, Width  float64 // m, along and across the column's depth
	Thickness     float64 // m
	Fy            float64 // Pa
	ColumnDepth   float64 // m
	ColumnWidth   float64 // m
	Hollow        bool
	Concrete      float64 // Pa, f'c
	Pad           float64 // m², A2: the pad's area concentric with the plate; 0 is the plate's own
	Bolt          Bolt
	BoltsEachSide int     // at least 1
	BoltFromFace  float64 // m, bolt row to the column's face
	BoltArm       float64 // m, bolt row from the middle, for moment; 0: half the column's depth and BoltFromFace
	BoltSpacing   float64 // m, between bolts of a row
	Rules         *Rules  // nil: the code's own
}

// stripFactors are the shares of depth and width within which a column stiffens its plate.
var stripFactors = []struct {
	hollow       bool
	depth, width float64
	clause, mark string
}{
	{false, 0.95, 0.80, "no clause: cantilever strips", checks.MarkMemory},
	{true, 0.95, 0.95, "no clause: cantilever strips", checks.MarkMemory},
}

// concreteFactor is the capacity factor for bearing on concrete (AS 3600; from memory).
const concreteFactor = 0.6

// BearingPressure is the design bearing strength of the concrete (Pa): 0.6 min(0.9 f'c sqrt(A2/A1), 1.8 f'c) (AS 3600
// 12.6; from memory).
func (p BasePlate) BearingPressure() float64 {
	a1 := p.Depth * p.Width
	return concreteFactor * math.Min(0.9*p.Concrete*math.Sqrt(math.Max(1, p.Pad/a1)), 1.8*p.Concrete)
}

// overhang is the greater cantilever of plate beyond the column's stiffened area (m).
func (p BasePlate) overhang() float64 {
	f := stripFactors[0]
	if p.Hollow {
		f = stripFactors[1]
	}
	return math.Max(0, math.Max((p.Depth-f.depth*p.ColumnDepth)/2, (p.Width-f.width*p.ColumnWidth)/2))
}

// Compression gives the utilisations of concrete bearing and of plate bending for compression n (N): pressure over its
// strength, and p m²/2 over 0.9 fy t²/4 per unit width.
func (p BasePlate) Compression(n float64, w *checks.Working) (concrete, plate float64) {
	pressure := n / (p.Depth * p.Width)
	m := p.overhang()
	moment, ms := pressure*m*m/2, p.Rules.Phi()*p.Fy*p.Thickness*p.Thickness/4
	concrete, plate = pressure/p.BearingPressure(), moment/ms
	if w != nil {
		w.Add(checks.Step{Clause: "AS 3600 12.6", Symbol: "u, bearing", Formula: "N*/A1 over 0.6 min(0.9 f'c sqrt(A2/A1), 1.8 f'c)", Mark: checks.MarkMemory,
			Numbers: fmt.Sprintf("%.3g/%.3g MPa", pressure/1e6, p.BearingPressure()/1e6), Value: concrete, Unit: "-"})
		w.Add(checks.Step{Clause: "no clause", Symbol: "u, plate", Formula: "(p m²/2)/(0.9 fy tp²/4), cantilever strip", Mark: checks.MarkMemory,
			Numbers: fmt.Sprintf("m %.1f mm, %.4g/%.4g kN·m/m", m*1e3, moment/1e3, ms/1e3), Value: plate, Unit: "-"})
	}
	return concrete, plate
}

// Uplift gives the utilisations of the plate as a cantilever from the column's face to the bolts, and of the bolts with
// their share of the base shear, for uplift t and shear (N). The strip that bends spreads at 45 degrees from each bolt, not beyond
// the plate; prying adds PryingShare to the bolts.
func (p BasePlate) Uplift(t, shear float64, w *checks.Working) (plate, bolt float64) {
	side := t / 2
	n := float64(p.BoltsEachSide)
	reach := 2 * p.BoltFromFace
	strip := math.Min(p.Width, reach+(n-1)*math.Min(reach, p.BoltSpacing))
	ms := p.Rules.Phi() * p.Fy * strip * p.Thickness * p.Thickness / 4
	plate = side * p.BoltFromFace / ms
	bolt = p.Bolt.Radial(shear/(2*n), side/n*(1+PryingShare), w)
	if w != nil {
		w.Add(checks.Step{Clause: "no clause", Symbol: "u, plate in uplift", Formula: "(N*/2) a over 0.9 fy b tp²/4", Mark: checks.MarkOwnRule,
			Numbers: fmt.Sprintf("%.4g x %.1f over a strip of %.0f mm", side/1e3, p.BoltFromFace*1e3, strip*1e3), Value: plate, Unit: "-"})
	}
	return plate, bolt
}

// PryingShare is added to bolt tension where no T-stub is worked: the handbook's upper figure for a thin plate (seen).
const PryingShare = 0.40
