package asnzs1170

import (
	"math"

	"leanbay/model/actions"
)

// LocalLengths are the lengths a (m) that measure the local zones of walls and of the roof (clause 5.4.4).
type LocalLengths struct{ Wall, Roof float64 }

// LocalLengths finds a for a building of mean roof height h, breadth b and depth d.
func (t *Table) LocalLengths(w *actions.Working, h, b, d float64) LocalLengths {
	plan := t.at(w, "local.a.plan") * min(b, d)
	l := LocalLengths{Wall: min(plan, h), Roof: plan}
	if r := t.at(w, "local.a.low.ratio"); h/b < r && h/d < r {
		l.Roof = t.at(w, "local.a.low.heights") * h
	}
	return l
}

// wallFactor is Kl of an area (m²) on a wall, its middle at distance s (m) from the windward edge.
func (t *Table) wallFactor(w *actions.Working, surface string, a, s, area float64, tall bool) float64 {
	whole, quarter, half := t.at(w, "local.area.whole")*a*a, t.at(w, "local.area.quarter")*a*a, t.at(w, "local.half")*a
	switch {
	case surface == "windward wall" && area <= quarter:
		return t.at(w, "local.WA1")
	case surface != "side wall":
		return 1
	case tall && s <= half && area <= quarter:
		return t.at(w, "local.SA3.SA5")
	case tall && s <= a && area <= whole:
		return t.at(w, "local.SA3.SA4")
	case tall:
		return t.at(w, "local.SA3.SA3")
	case s <= half && area <= quarter:
		return t.at(w, "local.SA2")
	case s <= a && area <= whole:
		return t.at(w, "local.SA1")
	}
	return 1
}

// localSuction is Kl·Cp,e with its limit (clause 5.4.4).
func (t *Table) localSuction(w *actions.Working, kl, cpe float64) float64 {
	return max(kl*cpe, min(cpe, t.at(w, "local.limit")))
}

// infinite is a distance to nothing.
var infinite = math.Inf(1)
