package as4100

import (
	"fmt"
	"math"

	"leanbay/solver/checks"
)

// BaseState is how a base plate under axial force and moment stands: a block of concrete at its design strength, of length
// Block (m) about Middle (m from the plate's middle), at the edge where bolts of the other side pull with Tension (N);
// BothPull says that both rows pull, with Tension in the worse one.
type BaseState struct {
	Block, Middle, Tension float64
	BothPull               bool
}

// arm is the bolt rows' distance from the middle (m).
func (p BasePlate) arm() float64 {
	if p.BoltArm > 0 {
		return p.BoltArm
	}
	return p.ColumnDepth/2 + p.BoltFromFace
}

// State solves a plate for compression n (N, negative in uplift) and moment m (N·m, magnitude) about the axis square to its
// depth. ok is false where the concrete cannot carry them.
func (p BasePlate) State(n, m float64) (s BaseState, ok bool) {
	line := p.BearingPressure() * p.Width // N/m
	arm := p.arm()
	reach := arm + p.Depth/2
	about := n*arm + m // about the bolts that pull
	if n < 0 && about <= 0 {
		return BaseState{Tension: -n/2 + m/(2*arm), BothPull: true}, true
	}
	if n > 0 && m <= n*p.Depth/2 { // concentric with a block that needs no bolts
		if a := n / line; a <= p.Depth-2*m/n {
			return BaseState{Block: a, Middle: m / n}, true
		}
	}
	root := reach*reach - 2*about/line
	if root < 0 {
		return BaseState{}, false
	}
	s.Block = reach - math.Sqrt(root)
	s.Middle, s.Tension = (p.Depth-s.Block)/2, line*s.Block-n
	return s, s.Block <= p.Depth && s.Tension >= -1e-6*line*p.Depth
}

// WithMoment gives the utilisations of concrete, plate and bolts for compression n (N, negative in uplift), moment m and
// shear, all radial: the factor by which the actions are divided to meet the limit, each at least the concrete's, beyond which
// there is no equilibrium. The plate bends as a cantilever beyond the
// column, from the block of concrete on one side and from the bolts on the other.
func (p BasePlate) WithMoment(n, m, shear float64, w *checks.Working) (concrete, plate, bolt float64) {
	rows := float64(p.BoltsEachSide)
	f := stripFactors[0]
	if p.Hollow {
		f = stripFactors[1]
	}
	over := math.Max(0, (p.Depth-f.depth*p.ColumnDepth)/2)
	unit := p.Rules.Phi() * p.Fy * p.Thickness * p.Thickness / 4 // N·m per m
	reach := 2 * p.BoltFromFace
	strip := math.Min(p.Width, reach+(rows-1)*math.Min(reach, p.BoltSpacing))
	bends := func(s BaseState, k float64) float64 {
		face := p.Depth/2 - over // of the stiffened part; the block beyond it bends the plate
		to, from := s.Middle+s.Block/2-face, s.Middle-s.Block/2-face
		to, from = math.Max(0, to), math.Max(0, from)
		spread := math.Max(0, k*n) / (p.Depth * p.Width) * p.overhang() * p.overhang() / 2 // as without moment
		return math.Max(math.Max(p.BearingPressure()*(to*to-from*from)/2, spread)/unit, s.Tension*p.BoltFromFace/(unit*strip))
	}
	pulls := func(s BaseState, k float64, w *checks.Working) float64 {
		return p.Bolt.Radial(k*shear/(2*rows), s.Tension/rows*(1+PryingShare), w)
	}
	at := func(of func(BaseState, float64) float64) func(float64) float64 {
		return func(k float64) float64 {
			s, ok := p.State(k*n, k*m)
			if !ok {
				return math.Inf(1)
			}
			return of(s, k)
		}
	}
	concrete = limitScale(at(func(BaseState, float64) float64 { return 0 }))
	plate = limitScale(at(bends))
	bolt = limitScale(at(func(s BaseState, k float64) float64 { return pulls(s, k, nil) }))
	if w != nil {
		s, _ := p.State(n, m)
		w.Add(checks.Step{Clause: "no clause: statics", Symbol: "block, bolts", Formula: "a = (f + h/2) - sqrt((f + h/2)² - 2 (N* f + M*)/(phi fb B)); T* = phi fb B a - N*", Mark: checks.MarkOwnRule, Value: s.Tension / 1e3, Unit: "kN",
			Numbers: fmt.Sprintf("N* %.4g kN, M* %.4g kN·m, f %.0f, h %.0f, B %.0f mm, phi fb %.3g MPa: a %.1f mm", checks.KN(n), checks.KNm(m), p.arm()*1e3, p.Depth*1e3, p.Width*1e3, p.BearingPressure()/1e6, s.Block*1e3)})
		pulls(s, 1, w)
		w.Add(checks.Step{Clause: "no clause: cantilever plate", Symbol: "plate", Formula: "phi fb on the block beyond the column per width, at least N* spread evenly; and T* a_f over the strip", Mark: checks.MarkOwnRule, Value: bends(s, 1), Unit: "-",
			Numbers: fmt.Sprintf("overhang %.1f mm, bolts %.1f mm off over a strip of %.0f mm, phi Ms %.4g kN·m/m", over*1e3, p.BoltFromFace*1e3, strip*1e3, unit/1e3)})
		w.Add(checks.Step{Clause: "no clause", Symbol: "u", Formula: "actions divided by it meet the limit of concrete, plate, bolts", Numbers: fmt.Sprintf("%.3f, %.3f, %.3f", concrete, plate, bolt), Value: math.Max(concrete, math.Max(plate, bolt)), Unit: "-"})
	}
	return concrete, plate, bolt
}

// limitScale is 1/k for the greatest k at which of(k) is at most 1; of rises with k. It is 0 where no k up to a billion
// reaches the limit.
func limitScale(of func(k float64) float64) float64 {
	lo, hi := 0.0, 1.0
	for of(hi) <= 1 {
		lo, hi = hi, 2*hi
		if hi > 1e9 {
			return 0
		}
	}
	for range 60 {
		if mid := (lo + hi) / 2; of(mid) <= 1 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return 1 / hi
}
