package frame

import (
	"math"

	"leanbay/solver"
)

// MemberLength is the effective length of a member by elastic buckling.
type MemberLength struct {
	Member int
	N      float64 // greatest compression in the state, N, positive; 0 for a member that is not compressed
	// Major and Minor are π·√(EI/(λ·N)) in m about the section's x and y axis (Iz and Iy) for the lowest mode in which the
	// member bends about that axis; 0 if no mode given involves it. They compare the member's force in that mode with its own
	// Euler load: a member with little force in a mode that others drive gets a great length.
	Major, Minor float64
	// ShareMajor and ShareMinor are the member's part of the strain energy of that mode, by bending about that axis; the mode
	// belongs to the member to the extent that they are large.
	ShareMajor, ShareMinor   float64
	FactorMajor, FactorMinor float64 // λ of the modes used
}

// takesPart is the share of the largest member's bending energy in a mode from which a member counts as involved.
const takesPart = 0.05

// EffectiveLengths returns one row per member from the modes of Buckling for the state r, which must be in ascending order.
func (w *Workspace) EffectiveLengths(modes []BucklingMode, r *Result) ([]MemberLength, error) {
	if r.w != w || r.load != w.loadNo || !r.Stable {
		return nil, errStale
	}
	w.factors = append(w.factors[:0], r.factors...)
	w.gatherAll()
	out := make([]MemberLength, len(w.m.members))
	var d solver.Diagram
	for m := range out {
		out[m].Member = m
		if len(w.m.members[m]) == 0 {
			continue
		}
		r.Diagram(m, &d)
		for i := range d.Pieces {
			out[m].N = max(out[m].N, -d.Pieces[i].N[0], -(d.Pieces[i].N[0] + d.Pieces[i].N[1] + d.Pieces[i].N[2]))
		}
	}
	for i := range modes {
		w.lengthsOf(&modes[i], r, out)
	}
	return out, nil
}

// lengthsOf fills the rows that mode is the first to involve.
func (w *Workspace) lengthsOf(mode *BucklingMode, r *Result, out []MemberLength) {
	energy, total := w.bendingEnergy(mode, r)
	most := 0.0
	for m := range out {
		most = max(most, energy[m][0], energy[m][1])
	}
	if most == 0 {
		return
	}
	for m := range out {
		o := &out[m]
		if o.N == 0 {
			continue
		}
		el := &w.els[w.m.members[m][0]]
		for p, at := range [2]struct{ length, share, factor *float64 }{
			{&o.Major, &o.ShareMajor, &o.FactorMajor}, {&o.Minor, &o.ShareMinor, &o.FactorMinor},
		} {
			if *at.length == 0 && energy[m][p] >= takesPart*most && el.EI[p] > 0 {
				*at.length = math.Pi * math.Sqrt(el.EI[p]/(mode.Factor*o.N))
				*at.share, *at.factor = energy[m][p]/total, mode.Factor
			}
		}
	}
}

// bendingEnergy returns the strain energy of each member in a mode, by plane, and that of the whole structure. With W the
// work of the axial forces, K(λ) = U + λW and dK/dλ = W, so U = K - λ·dK/dλ.
func (w *Workspace) bendingEnergy(mode *BucklingMode, r *Result) (energy [][2]float64, total float64) {
	energy = make([][2]float64, len(w.m.members))
	local := map[int]bool{}
	for _, e := range mode.Local {
		local[e] = true
	}
	var at, near state
	h := 1e-5 * mode.Factor
	for e := range w.els {
		el, t := &w.els[e], &w.m.elements[e]
		if r.Slack[e] {
			continue
		}
		var u [2]float64
		if mode.Local != nil {
			if local[e] {
				weak := 0
				if el.EI[1] < el.EI[0] {
					weak = 1
				}
				u[weak] = 1
			}
		} else {
			d := el.local(mode.Shape[6*t.i:6*t.i+6], mode.Shape[6*t.j:6*t.j+6])
			w.exactState(e, r.axialOf(e), mode.Factor-h, 0, &near)
			w.exactState(e, r.axialOf(e), mode.Factor+h, 0, &at)
			for p := range 2 {
				v := planeOf(&d, p)
				hi, lo := form(&at.plane[p], &v), form(&near.plane[p], &v)
				if !el.slender[p] {
					u[p] = max(0, (hi+lo)/2-mode.Factor*(hi-lo)/(2*h))
				}
			}
			stretch, twist := d[6]-d[0], d[9]-d[3]
			total += el.linear.kA*stretch*stretch + el.linear.kT*twist*twist
		}
		total += u[0] + u[1]
		if m := w.s.Elements[e].Member; m >= 0 {
			energy[m][0] += u[0]
			energy[m][1] += u[1]
		}
	}
	return energy, total
}

func form(k *block, v *[4]float64) (s float64) {
	for i := range v {
		for j := range v {
			s += v[i] * k[i][j] * v[j]
		}
	}
	return s
}
