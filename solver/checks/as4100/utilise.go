package as4100

import (
	"fmt"
	"math"

	"leanbay/catalog"
	"leanbay/solver/checks"
)

// Ratio is one combined check: the clause, the code's own sum, and the radial utilisation.
type Ratio struct {
	Clause string
	Raw    float64
	Radial float64
}

// shares are the actions over the capacities without interaction; the linear sum n + x + y bounds every radial
// utilisation of section 8 from above, and each share bounds it from below.
type shares struct{ n, x, y float64 }

func (s shares) sum() float64      { return s.n + s.x + s.y }
func (s shares) greatest() float64 { return max(s.n, max(s.x, s.y)) }

// quotient is a/b, zero where a is zero, so that an absent capacity matters only under an action.
func quotient(a, b float64) float64 {
	if a == 0 {
		return 0
	}
	return a / b
}

// sectionShares are those of 8.3.
func (k *Interaction) sectionShares(a Actions) shares {
	return shares{k.ratio(a.N), quotient(a.Mx, k.C.phi*k.C.Msx), quotient(a.My, k.C.phi*k.Msy)}
}

// Section is the section check of 8.3.2 to 8.3.4 for actions at one station. The power form is taken where it is
// allowed (compact doubly symmetric sections) and more favourable.
func (k *Interaction) Section(a Actions, w *checks.Working) Ratio {
	s := k.sectionShares(a)
	r := Ratio{Clause: "AS 4100 8.3.4", Raw: s.sum(), Radial: s.sum()}
	if w != nil {
		w.Add(checks.Step{Clause: r.Clause, Symbol: "sum", Formula: "n + Mx*/(phi Msx) + My*/(phi Msy)", Mark: checks.MarkVerified, Unit: "-",
			Numbers: fmt.Sprintf("%.4g + %.4g + %.4g", s.n, s.x, s.y), Value: r.Raw})
	}
	if !k.powerForm() {
		return r
	}
	power := k.reducedRadial(a) // with one moment the power form is M* <= phi Mr
	switch {
	case a.My == 0:
	case a.Mx == 0 && k.C.Section.Family != catalog.UB:
		power = max(s.y, s.y/1.18+s.n)
	default:
		power = root(func(u float64) float64 { return k.sectionPower(a.scaled(u), nil) }, s.greatest(), s.sum())
	}
	if power < r.Radial {
		r.Radial = power
		if raw := k.sectionPower(a, w); !math.IsInf(raw, 1) { // beyond the axial capacity only the first form has a sum
			r.Raw = raw
		}
	}
	noteRadial(w, r)
	return r
}

// powerForm reports whether 8.3.4's second form is open to the section.
func (k *Interaction) powerForm() bool {
	return k.C.doubly() && k.C.ClassX == Compact && k.C.ClassY == Compact
}

// sectionPower is the second form of 8.3.4; infinite at and beyond the axial capacity.
func (k *Interaction) sectionPower(a Actions, w *checks.Working) float64 {
	n := k.ratio(a.N)
	if n >= 1 {
		return math.Inf(1)
	}
	g := min(2, 1.4+n)
	mrx, mry := k.Mrx(a.N, w), k.Mry(a.N, w)
	sum := math.Pow(a.Mx/(k.C.phi*mrx), g) + math.Pow(a.My/(k.C.phi*mry), g)
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 8.3.4", Symbol: "sum", Formula: "(Mx*/(phi Mrx))^g + (My*/(phi Mry))^g, g = 1.4 + n <= 2", Mark: checks.MarkVerified, Unit: "-",
			Numbers: fmt.Sprintf("(%.4g/%.4g)^%.3f + (%.4g/%.4g)^%.3[3]f", checks.KNm(a.Mx), checks.KNm(k.C.phi*mrx), g, checks.KNm(a.My), checks.KNm(k.C.phi*mry)), Value: sum})
	}
	return sum
}

// noteRadial records the factor that lands on the limit surface where it differs from the code's sum.
func noteRadial(w *checks.Working, r Ratio) {
	if w != nil {
		w.Add(checks.Step{Clause: r.Clause, Symbol: "u", Formula: "actions divided by u meet the limit", Value: r.Radial, Unit: "-"})
	}
}

// InPlane is the in-plane member check of 8.4.2.2 about an axis, in compression; in tension and without axial force it
// is the reduced section moment of 8.3.2 or 8.3.3.
func (k *Interaction) InPlane(axis Axis, a Actions, w *checks.Working) Ratio {
	m, ms, nc := a.Mx, k.C.Msx, k.Ncx
	if axis == Y {
		m, ms, nc = a.My, k.Msy, k.Ncy
	}
	if m == 0 && a.N <= 0 {
		return Ratio{Clause: "AS 4100 8.4.2.2"}
	}
	capacity := func(n float64, w *checks.Working) float64 {
		switch {
		case n > 0 && axis == X:
			return k.Mix(n, w)
		case n > 0:
			return k.Miy(n, w)
		case axis == X:
			return k.Mrx(n, w)
		}
		return k.Mry(n, w)
	}
	v := 0.0
	if a.N > 0 {
		v = a.N / (k.C.phi * nc)
	} else {
		v = k.ratio(a.N)
	}
	x := quotient(m, k.C.phi*ms)
	r := Ratio{Clause: "AS 4100 8.4.2.2", Raw: over(m, k.C.phi*capacity(a.N, w))}
	r.Radial = v + x // a straight line, unless a higher tier is open
	if a.N <= 0 || k.higherTier(axis) {
		r.Radial = root(func(u float64) float64 { return over(m/u, k.C.phi*capacity(a.N/u, nil)) }, max(v, x), v+x)
	}
	if w != nil {
		noteRatio(w, r, "M"+axis.String()+"*/(phi Mi"+axis.String()+")")
	}
	return r
}

// over is m/capacity: infinite on an exhausted capacity, even for no moment, since the axial force alone fails then.
func over(m, capacity float64) float64 {
	if capacity <= 0 {
		return math.Inf(1)
	}
	return m / capacity
}

// noteRatio records a simple ratio and its radial reading.
func noteRatio(w *checks.Working, r Ratio, formula string) {
	if w != nil {
		w.Add(checks.Step{Clause: r.Clause, Symbol: "ratio", Formula: formula, Value: r.Raw, Unit: "-"})
		noteRadial(w, r)
	}
}

// OutOfPlane is the out-of-plane member check of 8.4.4. The limits of the first form are straight lines, so that its radial
// value is exact; the second form, where it is open and better, is followed to its limit.
func (k *Interaction) OutOfPlane(a Actions, w *checks.Working) Ratio {
	r := Ratio{Clause: "AS 4100 8.4.4.1"}
	if a.N < 0 {
		r.Clause = "AS 4100 8.4.4.2"
	}
	if a.Mx == 0 && a.N <= 0 {
		return r
	}
	x := quotient(a.Mx, k.C.phi*k.Mbx)
	if a.N >= 0 {
		r.Radial = x + a.N/(k.C.phi*k.Ncy)
	} else {
		r.Radial = x + a.N/(k.C.phi*k.Nt) // tension steadies the member
	}
	r.Radial = max(r.Radial, k.reducedRadial(a))
	r.Raw = over(a.Mx, k.C.phi*k.Mox(a.N, w))
	if a.N > 0 && a.Mx > 0 && k.Tier.Mbxo > 0 {
		r.Radial = root(func(u float64) float64 { return over(a.Mx/u, k.C.phi*k.Mox(a.N/u, nil)) },
			max(a.N/(k.C.phi*min(k.Ncy, k.C.Ns)), quotient(a.Mx, k.C.phi*k.C.Msx)), r.Radial)
	}
	noteRatio(w, r, "Mx*/(phi Mox)")
	return r
}

// reducedRadial is the radial utilisation of Mx* <= phi Mrx (8.3.2): the greater of its two straight lines.
func (k *Interaction) reducedRadial(a Actions) float64 {
	factor := k.C.mrxCompression
	if a.N < 0 {
		factor = k.C.mrxTension
	}
	x := quotient(a.Mx, k.C.phi*k.C.Msx)
	return max(x, x/factor+k.ratio(a.N))
}

// biaxialPower is the exponent of 8.4.5 (verified on a published page of capacity tables).
const biaxialPower = 1.4

// Biaxial is the member check of 8.4.5.1 in compression or 8.4.5.2 in tension.
func (k *Interaction) Biaxial(a Actions, w *checks.Working) Ratio {
	r := Ratio{Clause: "AS 4100 8.4.5.1"}
	if a.N < 0 {
		r.Clause = "AS 4100 8.4.5.2"
	}
	lo, hi := k.memberBounds(a)
	if hi == 0 {
		return r
	}
	r.Raw = k.biaxialSum(a, w)
	r.Radial = root(func(u float64) float64 { return k.biaxialSum(a.scaled(u), nil) }, lo, hi)
	noteRadial(w, r)
	return r
}

// memberBounds are a lower and an upper bound of the radial utilisation of 8.4.5, from shares that cost nothing.
func (k *Interaction) memberBounds(a Actions) (lo, hi float64) {
	x, y := quotient(a.Mx, k.C.phi*k.Mbx), quotient(a.My, k.C.phi*k.Msy)
	v := k.ratio(a.N)
	if a.N > 0 {
		v = a.N / (k.C.phi * min(k.Ncx, k.Ncy))
		// All capacities are at least those reduced by 1 - v, for which the sum is a norm of the moments.
		norm := math.Pow(math.Pow(x, biaxialPower)+math.Pow(y, biaxialPower), 1/biaxialPower)
		if k.Tier.Mbxo > 0 { // the second form may pass Mbx, never Msx
			x = quotient(a.Mx, k.C.phi*k.C.Msx)
		}
		return max(v, max(x, y)), (v + norm) * (1 + radialTolerance)
	}
	// In tension the out-of-plane capacity grows, so that only the section's own shares bound from below.
	xs := quotient(a.Mx, k.C.phi*k.C.Msx)
	if a.Mx == 0 && a.My == 0 {
		v = 0 // tension alone is section 7's
	}
	return max(xs, y), v + x + y
}

// biaxialSum is the code's sum of 8.4.5; infinite where the axial force alone exhausts a capacity.
func (k *Interaction) biaxialSum(a Actions, w *checks.Working) float64 {
	var mcx, mcy float64
	symbols := "(Mx*/(phi Mcx))^1.4 + (My*/(phi Miy))^1.4, Mcx = min(Mix, Mox)"
	if a.N >= 0 {
		mcx, mcy = min(k.Mix(a.N, w), k.Mox(a.N, w)), k.Miy(a.N, w)
	} else {
		symbols = "(Mx*/(phi Mtx))^1.4 + (My*/(phi Mry))^1.4, Mtx = min(Mrx, Mox)"
		mcx, mcy = min(k.Mrx(a.N, w), k.Mox(a.N, w)), k.Mry(a.N, w)
	}
	if mcx <= 0 || mcy <= 0 {
		return math.Inf(1)
	}
	sum := math.Pow(a.Mx/(k.C.phi*mcx), biaxialPower) + math.Pow(a.My/(k.C.phi*mcy), biaxialPower)
	if w != nil {
		clause := "AS 4100 8.4.5.1"
		if a.N < 0 {
			clause = "AS 4100 8.4.5.2"
		}
		w.Add(checks.Step{Clause: clause, Symbol: "sum", Formula: symbols, Mark: checks.MarkVerified, Unit: "-",
			Numbers: fmt.Sprintf("(%.4g/%.4g)^1.4 + (%.4g/%.4g)^1.4", checks.KNm(a.Mx), checks.KNm(k.C.phi*mcx), checks.KNm(a.My), checks.KNm(k.C.phi*mcy)), Value: sum})
	}
	return sum
}

// Axial is N* against the section or member capacity: 6.1 in compression (the least of the given lengths), 7.1 in
// tension. Linear, so that raw and radial agree.
func (k *Interaction) Axial(a Actions, w *checks.Working) Ratio {
	r := Ratio{Clause: "AS 4100 6.1"}
	capacity := min(k.C.Ns, min(k.Ncx, k.Ncy))
	if a.N < 0 {
		r.Clause, capacity = "AS 4100 7.1", k.Nt
	}
	r.Raw = math.Abs(a.N) / (k.C.phi * capacity)
	r.Radial = r.Raw
	if w != nil {
		w.Add(checks.Step{Clause: r.Clause, Symbol: "ratio", Formula: "N*/(phi N)", Value: r.Raw, Unit: "-",
			Numbers: fmt.Sprintf("%.4g/%.4g", checks.KN(math.Abs(a.N)), checks.KN(k.C.phi*capacity))})
	}
	return r
}
