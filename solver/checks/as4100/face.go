package as4100

import (
	"fmt"
	"math"

	"leanbay/solver/checks"
)

// Face is a wall of a rectangular hollow section on which a rectangular patch pulls or turns: a plate welded along the
// member, or the bolts of a group. AS 4100 has no clause for it. The wall yields along lines in the plate between the side
// walls, which hold it clamped (the mechanism of the joint rules of ISO 14346 and CIDECT design guide 3): the least of its
// family of patterns is worked in closed form.
type Face struct {
	Width         float64 // m, of the face, outside
	Wall          float64 // m
	Fy            float64 // Pa
	Across, Along float64 // m, the patch across the face and along the member
	Rules         *Rules  // nil: the code's own
}

// widest is the share of a face's width up to which its wall bends; beyond it the side walls take the force.
const widest = 0.85

// Force is the nominal force (N) square to the face: fy t² (2 eta + 4 sqrt(1 - beta))/(1 - beta), beta and eta the patch's
// sizes over the face's width, and not more than shear through the wall round the patch, 0.6 fy t times its outline.
func (f Face) Force(w *checks.Working) float64 {
	n := f.bending(f.Along)
	punch := 0.6 * f.Fy * f.Wall * 2 * (f.Across + f.Along)
	least := math.Min(n, punch)
	if w != nil {
		w.Add(checks.Step{Clause: "no clause: yield lines", Symbol: "phi N, wall", Formula: "phi fy t² (2 eta + 4 sqrt(1 - beta))/(1 - beta), at most phi 0.6 fy t round the patch", Mark: checks.MarkOwnRule, Unit: "kN",
			Numbers: fmt.Sprintf("t %.1f, face %.0f, patch %.0f across by %.0f mm: %.4g and %.4g", f.Wall*1e3, f.Width*1e3, f.Across*1e3, f.Along*1e3, checks.KN(f.Rules.Phi()*n), checks.KN(f.Rules.Phi()*punch)), Value: checks.KN(f.Rules.Phi() * least)})
	}
	return least
}

// bending is the yield-line force of a patch of the given length.
func (f Face) bending(along float64) float64 {
	beta := math.Min(widest, f.Across/f.Width)
	return f.Fy * f.Wall * f.Wall * (2*along/f.Width + 4*math.Sqrt(1-beta)) / (1 - beta)
}

// Moment is a nominal moment (N·m) that the face takes from a patch that turns in the plane of the member: the couple of its
// two halves, each as a patch by itself; the halves help each other, so that this is on the safe side.
func (f Face) Moment(w *checks.Working) float64 {
	m := f.bending(f.Along/2) * f.Along / 2
	if w != nil {
		w.Add(checks.Step{Clause: "no clause: yield lines", Symbol: "phi M, wall", Formula: "the couple of the patch's halves", Mark: checks.MarkOwnRule, Unit: "kN·m",
			Numbers: fmt.Sprintf("%.4g kN at %.0f mm", checks.KN(f.Rules.Phi()*f.bending(f.Along/2)), f.Along*500), Value: checks.KNm(f.Rules.Phi() * m)})
	}
	return m
}

// Radial is the utilisation under a force and a moment together (linear: both are proportional to load).
func (f Face) Radial(force, moment float64, w *checks.Working) float64 {
	u := math.Abs(force) / (f.Rules.Phi() * f.Force(w))
	if moment != 0 && f.Along > 0 {
		u += math.Abs(moment) / (f.Rules.Phi() * f.Moment(w))
	}
	if w != nil {
		w.Add(checks.Step{Clause: "no clause: yield lines", Symbol: "u, wall", Formula: "N*/(phi N) + M*/(phi M)", Numbers: fmt.Sprintf("N* %.4g kN, M* %.4g kN·m", checks.KN(math.Abs(force)), checks.KNm(math.Abs(moment))), Value: u, Unit: "-"})
	}
	return u
}
