package as4100

import (
	"fmt"
	"math"

	"leanbay/solver/checks"
)

// boltStrength is one row of 9.2.1: the tensile strength of a bolt category, by diameter.
type boltStrength struct {
	category string
	below    float64 // m, diameters below this
	fuf      float64 // Pa
	krd      float64 // ductility factor with threads in the shear plane (9.2.2.1)
	clause   string
	mark     string
}

// boltStrengths are the rows of the bolt categories, in rising diameter.
var boltStrengths = []boltStrength{
	{"4.6", math.Inf(1), 400e6, 1.0, "AS 4100 Table 9.2.1", checks.MarkSeen},
	{"8.8", 0.016, 800e6, 1.0, "AS 4100 Table 9.2.1", checks.MarkSeen},
	{"8.8", math.Inf(1), 830e6, 1.0, "AS 4100 Table 9.2.1", checks.MarkSeen},
	{"10.9", math.Inf(1), 1040e6, 0.83, "AS 4100 Table 9.2.1", checks.MarkSeen},
}

// boltPitch is one row of the ISO metric coarse thread.
type boltPitch struct{ diameter, pitch float64 } // m

// boltPitches are the coarse pitches of the usual bolts (ISO 261).
var boltPitches = []boltPitch{
	{0.010, 1.5e-3}, {0.012, 1.75e-3}, {0.016, 2e-3}, {0.020, 2.5e-3}, {0.024, 3e-3}, {0.030, 3.5e-3}, {0.036, 4e-3},
}

// Bolt is one bolt of a category such as "8.8".
type Bolt struct {
	Diameter float64 // m
	Category string
	Fuf      float64 // Pa
	As       float64 // m², tensile stress area
	Ac       float64 // core area, threads in the shear plane
	Ao       float64 // shank area
	krd      float64
	phi, ply float64 // capacity factors of bolt and ply
}

// NewBolt looks up a bolt of nominal diameter d (m). The error lists what there is.
func (r *Rules) NewBolt(d float64, category string) (Bolt, error) {
	r = r.in()
	b := Bolt{Diameter: d, Category: category, phi: r.PhiBolt(), ply: r.PhiPly()}
	for _, p := range boltPitches {
		if math.Abs(p.diameter-d) < 1e-6 {
			quarter := math.Pi / 4
			b.As = quarter * math.Pow(d-0.9382*p.pitch, 2)
			b.Ac = quarter * math.Pow(d-1.2269*p.pitch, 2)
			b.Ao = quarter * d * d
		}
	}
	if b.As == 0 {
		return Bolt{}, fmt.Errorf("as4100: no M%g bolt; sizes: M10, M12, M16, M20, M24, M30, M36", d*1e3)
	}
	for _, s := range r.bolts {
		if s.category == category && d < s.below {
			b.Fuf, b.krd = s.fuf, s.krd
			return b, nil
		}
	}
	return Bolt{}, fmt.Errorf("as4100: no bolt category %q; categories: 4.6, 8.8, 10.9", category)
}

// Shear is the nominal shear capacity (N) of 9.2.2.1 for a number of shear planes through the thread and through the
// shank, in a lap joint of length lap (m; 0 for others).
func (b Bolt) Shear(thread, shank int, lap float64, w *checks.Working) float64 {
	krd := 1.0
	if thread > 0 {
		krd = b.krd
	}
	kr := lapFactor(lap)
	v := 0.62 * b.Fuf * krd * kr * (float64(thread)*b.Ac + float64(shank)*b.Ao)
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 9.2.2.1", Symbol: "phi Vf", Formula: "phi 0.62 fuf krd kr (nn Ac + nx Ao)", Mark: checks.MarkSeen, Unit: "kN",
			Numbers: fmt.Sprintf("%.2f x 0.62 x %.0f x %.2f x %.3f (%d x %.1f + %d x %.1f)", b.phi, b.Fuf/1e6, krd, kr, thread, b.Ac*1e6, shank, b.Ao*1e6), Value: checks.KN(b.phi * v)})
	}
	return v
}

// lapFactor is kr of 9.2.2.1 for a lap joint of length l (m).
func lapFactor(l float64) float64 {
	switch {
	case l <= 0.3:
		return 1
	case l <= 1.3:
		return 1.075 - l/4
	}
	return 0.75
}

// Tension is the nominal tension capacity (N) of 9.2.2.2, without prying.
func (b Bolt) Tension(w *checks.Working) float64 {
	t := b.As * b.Fuf
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 9.2.2.2", Symbol: "phi Ntf", Formula: "phi As fuf", Mark: checks.MarkSeen, Unit: "kN",
			Numbers: fmt.Sprintf("%.2f x %.1f x %.0f", b.phi, b.As*1e6, b.Fuf/1e6), Value: checks.KN(b.phi * t)})
	}
	return t
}

// Radial is the radial utilisation of shear v and tension t per bolt (N; t with prying) by 9.2.2.3 with one shear plane
// through the thread: the quadratic form is homogeneous, so its root is radial.
func (b Bolt) Radial(v, t float64, w *checks.Working) float64 {
	x, y := v/(b.phi*b.Shear(1, 0, 0, w)), math.Max(0, t)/(b.phi*b.Tension(w))
	u := math.Hypot(x, y)
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 9.2.2.3", Symbol: "u", Formula: "sqrt((Vf*/phi Vf)² + (Ntf*/phi Ntf)²)", Numbers: fmt.Sprintf("sqrt(%.3f² + %.3f²)", x, y), Value: u, Unit: "-", Mark: checks.MarkSeen})
	}
	return u
}

// PlyBearing is the nominal bearing capacity (N) of a ply of 9.2.2.4: thickness tp, strength fup (Pa), and edge distance
// ae (m) along the force: hole edge to ply edge plus half the bolt.
func (b Bolt) PlyBearing(tp, fup, ae float64, w *checks.Working) float64 {
	v := math.Min(3.2*b.Diameter*tp*fup, ae*tp*fup)
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 9.2.2.4", Symbol: "phi Vb", Formula: "phi min(3.2 df tp fup, ae tp fup)", Mark: checks.MarkSeen, Unit: "kN",
			Numbers: fmt.Sprintf("%.2f min(3.2 x %.0f, %.1f) x %.1f x %.0f", b.ply, b.Diameter*1e3, ae*1e3, tp*1e3, fup/1e6), Value: checks.KN(b.ply * v)})
	}
	return v
}

// FillerFactor reduces bolt shear through a filler plate of thickness t (m, 6 to 20 mm) by 9.2.2.5; thinner ones do not
// count, and NaN marks thicker ones, which the clause does not cover.
func FillerFactor(t float64) float64 {
	switch {
	case t <= 0.006:
		return 1
	case t <= 0.020:
		return 1 - 0.0154*(t*1e3-6)
	}
	return math.NaN()
}

// BlockShear is the nominal block shear capacity (N) of 9.1.9: net and gross areas in shear, net area in tension (m²),
// yield and strength of the ply (Pa); uneven says that the tension is not uniform.
func BlockShear(anv, agv, ant, fy, fu float64, uneven bool) float64 {
	kbs := 1.0
	if uneven {
		kbs = 0.5
	}
	return math.Min(0.6*fu*anv, 0.6*fy*agv) + kbs*fu*ant
}

// TeeStub describes one half of a tee bolted through its flange, per bolt of the pair across the web, for prying.
type TeeStub struct {
	Plate   float64 // m, thickness
	Width   float64 // m, tributary width per bolt along the web
	Hole    float64 // m
	ToTip   float64 // m, bolt to plate tip (ae)
	ToWeb   float64 // m, bolt to the web's face (af)
	Fy      float64 // Pa, plate
	Tension float64 // N, design tension of the pair
	Rules   *Rules  // nil: the code's own
}

// Prying shares the tension between plate bending and prying as 9.1.8 asks without giving a formula: the T-stub method
// reported from the institute's handbook (Hogan 2007). It chooses the least alpha (0..1) at which the plate holds, and
// returns the bolt tension with prying (N), the plate's utilisation, and alpha. No alpha holding gives a plate above 1.
func (s TeeStub) Prying(w *checks.Working) (bolt, plate, alpha float64) {
	delta := (s.Width - s.Hole) / s.Width
	ae, af := s.ToTip+s.Hole/2, s.ToWeb-s.Hole/2
	ms := s.Rules.Phi() * s.Fy * s.Width * s.Plate * s.Plate / 4
	// M1 = Nt* af'/(2 (1 + alpha delta)) <= phi Ms
	need := s.Tension * af / (2 * ms)
	alpha = math.Min(1, math.Max(0, (need-1)/delta))
	m1 := s.Tension * af / (2 * (1 + alpha*delta))
	bolt = s.Tension * (0.5 + af/ae*alpha*delta/(2*(1+alpha*delta)))
	plate = m1 / ms
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 9.1.8", Symbol: "M1*", Formula: "Nt* af'/(2 (1 + alpha delta)) <= phi Ms", Mark: checks.MarkSeen, Unit: "kN·m",
			Numbers: fmt.Sprintf("%.4g x %.1f/(2 (1 + %.3f x %.3f)), phi Ms %.4g", s.Tension/1e3, af*1e3, alpha, delta, ms/1e3), Value: checks.KNm(m1)})
		w.Add(checks.Step{Clause: "AS 4100 9.1.8", Symbol: "Ntf* with prying", Formula: "Nt* [0.5 + (af'/ae') alpha delta/(2 (1 + alpha delta))]", Mark: checks.MarkSeen, Unit: "kN",
			Numbers: fmt.Sprintf("%.4g [0.5 + %.1f/%.1f ...]", s.Tension/1e3, af*1e3, ae*1e3), Value: checks.KN(bolt)})
	}
	return bolt, plate, alpha
}
