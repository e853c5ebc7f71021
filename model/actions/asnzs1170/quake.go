package asnzs1170

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/actions"
	"leanbay/solver"
)

func sqrt(x float64) float64 { return math.Sqrt(x) }

// soilClasses are the site sub-soil classes of AS 1170.4.
var soilClasses = []string{"Ae", "Be", "Ce", "De", "Ee"}

// recurrences for which kp is tabulated.
var recurrences = []float64{100, 200, 250, 500, 1000, 1500, 2000, 2500}

// KpZ is the probability factor and its product with the hazard factor, with the least values of the amendment.
func (t *Table) KpZ(w *actions.Working, z, years float64) (kp, kpz float64, err error) {
	name := fmt.Sprintf("earthquake.kp.R%g", years)
	if !t.has(name) {
		return 0, 0, fmt.Errorf("annual probability 1/%g: kp is tabulated for 1 in %v", years, recurrences)
	}
	kp = t.at(w, name)
	kpz = kp * max(z, t.at(w, "earthquake.least_Z"))
	if least := fmt.Sprintf("earthquake.least_kpZ.R%g", years); t.has(least) {
		kpz = max(kpz, t.at(w, least))
	}
	return kp, kpz, nil
}

// Spectrum is the spectral shape Ch(T) of the static method (Table 6.4): a plateau, then v/T to 1.5 s, then d/T².
func (t *Table) Spectrum(w *actions.Working, soil string, period float64) (float64, error) {
	row := "earthquake." + soil
	if !t.has(row + ".plateau") {
		return 0, fmt.Errorf("soil class %q: give one of %s", soil, strings.Join(soilClasses, ", "))
	}
	c := t.series(w, row, "plateau", "v", "d")
	if period <= t.at(w, "earthquake.period.corner") {
		return min(c[0], c[1]/max(period, 1e-9)), nil
	}
	return c[2] / (period * period), nil
}

// Period is T1 = 1.25·kt·hn^0.75 in s (clause 6.2.3).
func (t *Table) Period(w *actions.Working, kt, hn float64) float64 {
	return t.at(w, "earthquake.period.factor") * kt * math.Pow(hn, t.at(w, "earthquake.period.power"))
}

// BaseShear is the result of the static method.
type BaseShear struct {
	Years, Kp, KpZ, Period, Ch, Coefficient float64 // Coefficient is V/Wt
	HeightPower                             float64
}

// BaseShear is V/Wt = kp·Z·Ch(T1)·Sp/μ (clause 6.2.2). measured is a period from an analysis (s), 0 for none: the result
// does not fall below a share of that by the code's period.
func (t *Table) BaseShear(w *actions.Working, z, years float64, soil string, kt, hn, performance, measured float64) (BaseShear, error) {
	r := BaseShear{Years: years}
	var err, err2 error
	r.Kp, r.KpZ, err = t.KpZ(w, z, years)
	r.Period = t.Period(w, kt, hn)
	r.Ch, err2 = t.Spectrum(w, soil, r.Period)
	if err := errors.Join(err, err2); err != nil {
		return r, err
	}
	r.Coefficient = r.KpZ * r.Ch * performance
	if measured > 0 {
		least := t.at(w, "earthquake.least_share") * r.Coefficient
		r.Period = measured
		r.Ch, _ = t.Spectrum(w, soil, measured)
		r.Coefficient = max(least, r.KpZ*r.Ch*performance)
	}
	r.HeightPower = t.heightPower(w, r.Period)
	t.step(w, "earthquake.performance.ordinary", "V/Wt", "kp·Z·Ch(T1)·Sp/μ", r.Coefficient, "-", func() string {
		return fmt.Sprintf("kpZ %.3f × Ch(%.3f s) %.3f × %.3f", r.KpZ, r.Period, r.Ch, performance)
	})
	return r, nil
}

// heightPower is k of the distribution over the height (clause 6.3).
func (t *Table) heightPower(w *actions.Working, period float64) float64 {
	return interpolate([]float64{t.at(w, "earthquake.height.from"), t.at(w, "earthquake.height.to")}, []float64{1, 2}, period)
}

// earthquake is the base shear along X (dim 0) or Y (dim 1). A zero coefficient means that no design is needed.
//
// The static method (category II) is taken for every building of importance level 2 and above, also where the simpler
// category I would do. Frames count as ordinary moment frames; along X the period is that of a braced building. hn is
// the lower eaves, the shortest height: the period that gives the larger action.
func (p *Pack) earthquake(w *actions.Working, b *actions.Building, s *actions.Site, dim int) (BaseShear, error) {
	if newZealand(s.Region) || s.State == "NZ" {
		c := p.t.at(w, "earthquake.NZ.coefficient")
		if c <= 0 {
			return BaseShear{}, fmt.Errorf("earthquake in New Zealand (NZS 1170.5) is not covered: give the base shear over the seismic weight as earthquake.NZ.coefficient in the override file")
		}
		return BaseShear{Coefficient: c, HeightPower: 1}, nil
	}
	if s.ImportanceLevel <= 1 {
		return BaseShear{}, nil
	}
	years, err := p.t.Recurrence(w, s, "earthquake")
	if err != nil {
		return BaseShear{}, nil // reported with the wind's
	}
	if !(s.HazardFactor > 0) {
		return BaseShear{}, fmt.Errorf("the earthquake hazard factor Z is not given; read it from AS 1170.4 Table 3.2 or its maps")
	}
	kt := p.t.at(w, [...]string{"earthquake.kt.other", "earthquake.kt.frame"}[dim])
	hn := min(b.EavesSouth, b.EavesNorth)
	return p.t.BaseShear(w, s.HazardFactor, years, s.SoilClass, kt, hn, p.t.at(w, "earthquake.performance.ordinary"), p.opt.Period[dim])
}

// earthquakeCases are ±0.1b along X and along Y; combinations take both signs of the force.
func (p *Pack) earthquakeCases(b *actions.Building, s *actions.Site) (out []actions.Case) {
	shares := []actions.Share{{Case: "G", Factor: 1}}
	if b.RoofExtra != 0 {
		shares = append(shares, actions.Share{Case: "Gx", Factor: 1})
	}
	for i, f := range b.Floors {
		psi := p.t.at(nil, "earthquake.psi.other")
		if f.Use == "storage" || f.Use == "file room" {
			psi = p.t.at(nil, "earthquake.psi.storage")
		}
		shares = append(shares, actions.Share{Case: floorID(i), Factor: psi})
	}
	ecc := p.t.at(nil, "earthquake.eccentricity")
	for dim, axis := range []r3.Vec{{X: 1}, {Y: 1}} {
		v, _ := p.earthquake(nil, b, s, dim) // checked before
		if v.Coefficient == 0 {
			continue
		}
		for _, sign := range []float64{1, -1} {
			name := [...]string{"X", "Y"}[dim]
			out = append(out, actions.Case{
				ID: fmt.Sprintf("E %s %+.1fb", name, sign*ecc), Kind: solver.KindEarthquake, Direction: axis,
				Title:    fmt.Sprintf("earthquake along %s, %.1f %% of the weight, off centre by %+.2g of the width", name, 100*v.Coefficient, sign*ecc),
				Fraction: v.Coefficient, Offset: sign * ecc, Shares: shares, HeightPower: v.HeightPower,
			})
		}
	}
	return out
}

// notional are the horizontal forces that go with gravity (AS 4100 3.2.4), one case for each gravity case and direction;
// combinations take them with the gravity case's own factor and both signs.
func (p *Pack) notional(gravity []actions.Case) (out []actions.Case) {
	fraction := p.t.at(nil, "notional.fraction")
	for dim, axis := range []r3.Vec{{X: 1}, {Y: 1}} {
		name := [...]string{"X", "Y"}[dim]
		for _, c := range gravity {
			if !actsDown(c.Kind) {
				continue
			}
			out = append(out, actions.Case{
				ID: "H " + name + " of " + c.ID, Kind: solver.KindNotional, Direction: axis, Fraction: fraction,
				Title:  fmt.Sprintf("notional, %.1f %% of %s along %s", 100*fraction, c.ID, name),
				Shares: []actions.Share{{Case: c.ID, Factor: 1}},
			})
		}
	}
	return out
}

// robustness are the least lateral forces on G+ψc Q (AS/NZS 1170.0 6.2.2). They are left out where the earthquake covers
// them: its weight takes no less than three quarters of theirs, so from 2 % of the weight on.
func (p *Pack) robustness(b *actions.Building, s *actions.Site) (out []actions.Case) {
	fraction := p.t.at(nil, "robustness.fraction")
	shares := []actions.Share{{Case: "G", Factor: 1}}
	if b.RoofExtra != 0 {
		shares = append(shares, actions.Share{Case: "Gx", Factor: 1})
	}
	for i, f := range b.Floors {
		shares = append(shares, actions.Share{Case: floorID(i), Factor: p.t.Psi(nil, f.Use).C})
	}
	for dim, axis := range []r3.Vec{{X: 1}, {Y: 1}} {
		v, _ := p.earthquake(nil, b, s, dim) // checked before
		if v.Coefficient >= fraction*4/3 {
			continue
		}
		name := [...]string{"X", "Y"}[dim]
		out = append(out, actions.Case{ID: "R " + name, Kind: solver.KindNotional, Direction: axis, Fraction: fraction, Shares: shares,
			Title: fmt.Sprintf("robustness, %.1f %% of G+ψc Q along %s", 100*fraction, name)})
	}
	return out
}

// actsDown says whether a kind of case is a gravity action.
func actsDown(k solver.CaseKind) bool {
	switch k {
	case solver.KindPermanent, solver.KindPermanentExtra, solver.KindRoofImposed, solver.KindFloorImposed, solver.KindSnow:
		return true
	}
	return false
}
