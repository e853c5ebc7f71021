package as4100

import (
	"fmt"
	"math"

	"leanbay/catalog"
	"leanbay/solver/checks"
)

// Actions are design actions on a cross-section or member: N* positive in compression (N), Mx*, My* as magnitudes (N·m).
type Actions struct{ N, Mx, My float64 }

// scaled divides all actions by u.
func (a Actions) scaled(u float64) Actions { return Actions{a.N / u, a.Mx / u, a.My / u} }

// Interaction is what the combined checks of section 8 need beside the section: member capacities, nominal, in N, N·m.
type Interaction struct {
	C        *Capacity
	Ncx, Ncy float64 // in the plane of bending with ke = 1.0 or a braced member's lower length
	Nt       float64 // with the member's kt
	Mbx      float64 // alpha_m alpha_s Ms <= Ms
	Msy      float64 // for the direction of bending about y
	BetaX    float64 // beta_m of bending about x; -1 where there is load between the ends
	BetaY    float64
	Tier     LateralTier
}

// LateralTier is what the second form of 8.4.4.1 needs: a segment without load across the member, restrained F or P at
// both ends, of a compact I-section with kf = 1. The zero value leaves the form out.
type LateralTier struct {
	Mbxo float64 // N·m, nominal, alpha_m = 1; 0 leaves the form out
	Noz  float64 // N, elastic torsional buckling load over the segment
	Beta float64 // beta_m of the segment's end moments
}

// Noz is the elastic torsional buckling load of 8.4.4.1 (N) over length lz (m) between torsional restraints: infinite at
// zero length.
func (c *Capacity) Noz(lz float64) float64 {
	if lz <= 0 {
		return math.Inf(1)
	}
	p := &c.Section.Props
	return (G*p.J + math.Pi*math.Pi*E*p.Iw/(lz*lz)) / ((p.Ix + p.Iy) / p.A)
}

// lateralTier reports whether the section is open to the second form of 8.4.4.1.
func (c *Capacity) lateralTier() bool {
	return c.Section.Family == catalog.UB && c.ClassX == Compact && c.Kf == 1
}

// secondMox is Mox by the second form of 8.4.4.1 for compression n, and the factor alpha_bc; zero at and beyond a buckling load.
func (k *Interaction) secondMox(n float64) (mox, abc float64) {
	t := &k.Tier
	v, z := n/(k.C.phi*k.Ncy), n/(k.C.phi*t.Noz)
	h := (1 + t.Beta) / 2
	abc = 1 / ((1-t.Beta)/2 + h*h*h*(0.4-0.23*math.Min(v, 1)))
	if v >= 1 || z >= 1 {
		return 0, abc
	}
	return abc * t.Mbxo * math.Sqrt((1-v)*(1-z)), abc
}

// reducedFactors fills the factors on Msx (1 - n) of 8.3.2.
func (c *Capacity) reducedFactors() {
	c.mrxTension, c.mrxCompression = 1, 1
	if !c.doubly() || c.ClassX != Compact {
		return
	}
	c.mrxTension, c.mrxCompression = 1.18, 1.18
	if c.Kf < 1 {
		d1, _, tw, _ := c.clearWeb()
		web := element{support: bothEdges, stress: uniform, b: d1, t: tw}
		ey := c.Rules.compressionLimit(web, forming[c.Section.Family]).ey
		c.mrxCompression = 1 + 0.18*math.Max(0, 82-web.slenderness(c.Fy))/(82-ey)
		c.mrxCompression = math.Min(c.mrxCompression, 1.18)
	}
}

// ratio is n = N*/(phi Ns) in compression or |N*|/(phi Nt) in tension.
func (k *Interaction) ratio(n float64) float64 {
	if n >= 0 {
		return n / (k.C.phi * k.C.Ns)
	}
	return -n / (k.C.phi * k.Nt)
}

// Mrx is the nominal section moment capacity about x reduced by axial force n (8.3.2); not below zero.
func (k *Interaction) Mrx(n float64, w *checks.Working) float64 {
	r, factor := k.ratio(n), k.C.mrxCompression
	if n < 0 {
		factor = k.C.mrxTension
	}
	m := math.Max(0, math.Min(k.C.Msx, k.C.Msx*factor*(1-r)))
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 8.3.2", Symbol: "phi Mrx", Formula: "phi Msx k (1 - n) <= phi Msx", Mark: checks.MarkSeen, Unit: "kN·m",
			Numbers: fmt.Sprintf("%.4g x %.4g x (1 - %.4g)", checks.KNm(k.C.phi*k.C.Msx), factor, r), Value: checks.KNm(k.C.phi * m)})
	}
	return m
}

// Mry is the nominal section moment capacity about y reduced by axial force n (8.3.3); not below zero.
func (k *Interaction) Mry(n float64, w *checks.Working) float64 {
	r := k.ratio(n)
	m, formula := k.Msy*(1-r), "phi Msy (1 - n)"
	if k.C.doubly() && k.C.ClassY == Compact {
		if k.C.Section.Family == catalog.UB {
			m, formula = 1.19*k.Msy*(1-r*r), "phi 1.19 Msy (1 - n²) <= phi Msy"
		} else {
			m, formula = 1.18*k.Msy*(1-r), "phi 1.18 Msy (1 - n) <= phi Msy"
		}
	}
	m = math.Max(0, math.Min(k.Msy, m))
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 8.3.3", Symbol: "phi Mry", Formula: formula, Mark: checks.MarkSeen, Unit: "kN·m",
			Numbers: fmt.Sprintf("Msy %.4g, n %.4g", checks.KNm(k.Msy), r), Value: checks.KNm(k.C.phi * m)})
	}
	return m
}

// inPlane is Mi of 8.4.2.2 for section capacity ms, its reduced value mr, compression n, member capacity nc and end
// moment ratio beta. The higher tier holds for compact doubly symmetric sections with kf = 1.
func (k *Interaction) inPlane(ms, mr, n, nc, beta float64, class Compactness) (mi float64, tier bool) {
	v := n / (k.C.phi * nc)
	if v >= 1 {
		return 0, false
	}
	mi = ms * (1 - v)
	if !k.C.higherTier(beta, class) {
		return mi, false
	}
	h := (1 + beta) / 2
	h3 := h * h * h
	high := math.Min(mr, ms*((1-h3)*(1-v)+1.18*h3*math.Sqrt(1-v)))
	return math.Max(mi, high), high > mi
}

// higherTier reports whether the second form of 8.4.2.2 is open: compact doubly symmetric, kf = 1, no uniform moment.
func (c *Capacity) higherTier(beta float64, class Compactness) bool {
	return beta > -1 && c.Kf == 1 && class == Compact && c.doubly()
}

// higherTier is that of bending about an axis.
func (k *Interaction) higherTier(axis Axis) bool {
	if axis == Y {
		return k.C.higherTier(k.BetaY, k.C.ClassY)
	}
	return k.C.higherTier(k.BetaX, k.C.ClassX)
}

// Mix is the nominal in-plane member moment capacity about x for compression n (8.4.2.2).
func (k *Interaction) Mix(n float64, w *checks.Working) float64 {
	mi, tier := k.inPlane(k.C.Msx, k.Mrx(n, nil), n, k.Ncx, k.BetaX, k.C.ClassX)
	k.noteInPlane(w, "x", k.C.Msx, n, k.Ncx, k.BetaX, mi, tier)
	return mi
}

// Miy is the nominal in-plane member moment capacity about y for compression n (8.4.2.2).
func (k *Interaction) Miy(n float64, w *checks.Working) float64 {
	mi, tier := k.inPlane(k.Msy, k.Mry(n, nil), n, k.Ncy, k.BetaY, k.C.ClassY)
	k.noteInPlane(w, "y", k.Msy, n, k.Ncy, k.BetaY, mi, tier)
	return mi
}

// noteInPlane records Mi.
func (k *Interaction) noteInPlane(w *checks.Working, axis string, ms, n, nc, beta, mi float64, tier bool) {
	if w == nil {
		return
	}
	formula := "phi Ms (1 - N*/(phi Nc))"
	if tier {
		formula = "phi Ms {[1 - ((1+beta_m)/2)³](1 - N*/(phi Nc)) + 1.18 ((1+beta_m)/2)³ sqrt(1 - N*/(phi Nc))} <= phi Mr"
	}
	w.Add(checks.Step{Clause: "AS 4100 8.4.2.2", Symbol: "phi Mi" + axis, Formula: formula, Mark: checks.MarkSeen, Unit: "kN·m",
		Numbers: fmt.Sprintf("phi Ms %.4g, N* %.4g, phi Nc %.4g, beta_m %.3g", checks.KNm(k.C.phi*ms), checks.KN(n), checks.KN(k.C.phi*nc), beta), Value: checks.KNm(k.C.phi * mi)})
}

// Mox is the nominal out-of-plane member moment capacity about x (8.4.4.1 in compression, 8.4.4.2 in tension).
func (k *Interaction) Mox(n float64, w *checks.Working) float64 {
	var m float64
	clause, formula := "AS 4100 8.4.4.1", "phi Mbx (1 - N*/(phi Ncy)) <= phi Mrx"
	axial := k.C.phi * k.Ncy
	if n >= 0 {
		m = k.Mbx * math.Max(0, 1-n/axial)
	} else {
		clause, formula, axial = "AS 4100 8.4.4.2", "phi Mbx (1 + N*/(phi Nt)) <= phi Mrx", k.C.phi*k.Nt
		m = k.Mbx * (1 - n/axial)
	}
	mrx := k.Mrx(n, nil)
	m = math.Min(m, mrx)
	if w != nil {
		w.Add(checks.Step{Clause: clause, Symbol: "phi Mox", Formula: formula, Mark: checks.MarkSeen, Unit: "kN·m",
			Numbers: fmt.Sprintf("phi Mbx %.4g, N* %.4g, capacity %.4g", checks.KNm(k.C.phi*k.Mbx), checks.KN(math.Abs(n)), checks.KN(axial)), Value: checks.KNm(k.C.phi * m)})
	}
	if n <= 0 || k.Tier.Mbxo == 0 {
		return m
	}
	second, abc := k.secondMox(n)
	if second = math.Min(second, mrx); second <= m {
		return m
	}
	if w != nil {
		t := &k.Tier
		w.Add(checks.Step{Clause: clause, Symbol: "phi Mox", Formula: "phi alpha_bc Mbxo sqrt((1 - N*/(phi Ncy))(1 - N*/(phi Noz))) <= phi Mrx", Mark: checks.MarkSeen, Unit: "kN·m",
			Numbers: fmt.Sprintf("beta_m %.3g, alpha_bc %.4g, phi Mbxo %.4g, phi Ncy %.4g, phi Noz %.5g", t.Beta, abc, checks.KNm(k.C.phi*t.Mbxo), checks.KN(k.C.phi*k.Ncy), checks.KN(k.C.phi*t.Noz)), Value: checks.KNm(k.C.phi * second)})
	}
	return second
}
