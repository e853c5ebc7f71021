package shedspace

import (
	"math"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
)

// End stiffness ratios where the code sets them (AS 4100 4.6.3.4): 10 at a pinned footing, 1.0 at a rigid one [M].
const (
	gammaPinned = 10.0
	gammaFixed  = 1.0
)

// betaFarPinned and its fellows weigh a beam's stiffness in a sway frame by its far end (AS 4100 Table 4.6.3.4) [M].
const (
	betaFarRigid  = 1.0
	betaFarPinned = 0.5
)

// setEffectiveLengths gives the columns their sway lengths in the frame's plane by stiffness ratios, and rafters the
// developed length between columns and props, where compression may buckle them in the frame's plane.
func setEffectiveLengths(m *shed.Model) {
	st := &m.Structure
	foot, before, k := footGamma(m), math.NaN(), 0.0
	for f := range m.Columns {
		spans := m.Spans[f]
		for side, c := range m.Columns[f] {
			col := &st.Members[c]
			raf := &st.Members[m.Rafters[f][min(side, len(m.Rafters[f])-1)]]
			beta := betaFarRigid
			if len(spans) > 1 {
				beta = betaFarPinned // the rafter's far end is on a prop
			}
			span := spans[0]
			if side == 1 {
				span = spans[len(spans)-1]
			}
			gamma2 := (col.Section.Props.Ix / col.Length) / (beta * raf.Section.Props.Ix / span)
			if gamma2 != before { // frames are much alike
				k, before = swayFactor(foot, gamma2), gamma2
			}
			col.EffectiveX = solver.EffectiveLength{Length: k * col.Length, Sway: true, Source: "stiffness ratios, AS 4100 4.6.3.3"}
		}
		for _, r := range m.Rafters[f] {
			longest := 0.0
			for _, s := range spans {
				longest = math.Max(longest, s)
			}
			st.Members[r].EffectiveX = solver.EffectiveLength{Length: longest, Source: "between columns and props"}
		}
	}
	setPortalLengths(m)
}

// footGamma is the stiffness ratio at the foot of the frame's columns.
func footGamma(m *shed.Model) float64 {
	if m.Shed.ColumnBase() == brief.FixedBase {
		return gammaFixed
	}
	return gammaPinned
}

// swayFactor is ke of a sway member by the equation behind AS 4100 Figure 4.6.3.3(b):
// (γ1γ2(π/k)² - 36)/(6(γ1+γ2)) = (π/k)/tan(π/k), whose least root has π/k in (0, π).
func swayFactor(g1, g2 float64) float64 {
	f := func(x float64) float64 { return (g1*g2*x*x-36)/(6*(g1+g2)) - x/math.Tan(x) }
	lo, hi := 1e-6, math.Pi-1e-9 // f rises from below zero to plus infinity
	for range 80 {
		mid := (lo + hi) / 2
		if f(mid) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return math.Pi / lo
}
