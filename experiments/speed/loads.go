package speed

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// tributary is the length of building that frame f carries (m).
func (g *generator) tributary(f int) float64 {
	if f == 0 || f == g.frames-1 {
		return genBay / 2
	}
	return genBay
}

// loads makes the cases. Roof loads come by purlins, as points on the rafters, wall loads as lines on the columns, the wind on
// gables as forces at eaves and ridge.
func (g *generator) loads() {
	g.s.Cases = []solver.Case{
		genG:  {ID: "G", Kind: solver.KindPermanent, Title: "own weight and roofing", SelfWeight: r3.Vec{Z: -1}},
		genQ:  {ID: "Q", Kind: solver.KindRoofImposed, Title: "imposed on the roof"},
		genWS: {ID: "WS", Kind: solver.KindWindUltimate, Title: "wind from the south"},
		genWN: {ID: "WN", Kind: solver.KindWindUltimate, Title: "wind from the north"},
		genWX: {ID: "WX", Kind: solver.KindWindUltimate, Title: "wind along the building"},
		genPI: {ID: "PI", Kind: solver.KindWindUltimate, Title: "internal pressure"},
	}
	slope := math.Sqrt(1 + genSlope*genSlope)
	for f := range g.frames {
		w := g.tributary(f)
		for side := range 2 {
			rafter := 4*f + 1 + side
			g.purlins(rafter, genG, r3.Vec{Z: -genRoofing * slope * w}, solver.GlobalAxes)
			g.purlins(rafter, genQ, r3.Vec{Z: -genImposed * w}, solver.GlobalAxes)
			for c, cp := range map[int]float64{genWS: genAcross[1+side], genWN: genAcross[2-side], genWX: genAlong[1+side], genPI: -1} {
				g.purlins(rafter, c, r3.Vec{Y: -genWind * cp * slope * w}, solver.LocalAxes)
			}
			for c, cp := range map[int]float64{genWS: genAcross[3*side], genWN: genAcross[3-3*side], genWX: genAlong[3*side], genPI: -1} {
				q := r3.Vec{Y: -genWind * cp * w}
				g.s.Cases[c].Line = append(g.s.Cases[c].Line, solver.LineLoad{Member: 4*f + 3*side, To: genEaves, Q1: q, Q2: q, Axes: solver.LocalAxes})
			}
		}
	}
	g.gables()
}

// purlins puts a load per metre of plan across the frame, q (N/m), as points at the purlins of a rafter: half a strip at eaves
// and ridge, where the last purlins stand a hand's breadth inside.
func (g *generator) purlins(rafter, c int, q r3.Vec, axes solver.LoadAxes) {
	const inside = 0.1 // m
	length := g.s.Members[rafter].Length
	n := int(math.Round(genSpan / 2 / genPurlin))
	for k := range n + 1 {
		share := genPurlin
		if k == 0 || k == n {
			share /= 2
		}
		at := min(max(length*float64(k)/float64(n), inside), length-inside)
		g.s.Cases[c].Point = append(g.s.Cases[c].Point, solver.PointLoad{Member: rafter, At: at, F: r3.Scale(share, q), Axes: axes})
	}
}

// gables puts the wind along the building on both gables: a half of each half-gable at its eaves, a half at the ridge, taking
// the upper half of the height.
func (g *generator) gables() {
	south, ridge, north := genColumns, genColumns+genRafters, genColumns+2*genRafters
	area := genSpan / 2 * (genEaves/2 + genSlope*genSpan/8)
	for end, f := range []int{0, g.frames - 1} {
		force := genWind * genGable[end] * area
		for _, q := range []struct {
			k     int
			share float64
		}{{south, 0.5}, {ridge, 1}, {north, 0.5}} {
			g.s.Cases[genWX].Nodal = append(g.s.Cases[genWX].Nodal, solver.NodalLoad{Node: g.joint(f, q.k), F: r3.Vec{X: q.share * force}})
		}
	}
}

// combinations are 1.35G, 1.2G+1.5Q, and 0.9G and 1.2G with each wind and three internal pressures: twenty in all.
func (g *generator) combinations() {
	add := func(id string, terms ...solver.Term) {
		g.s.Combinations = append(g.s.Combinations, solver.Combination{ID: id, State: solver.Strength, Terms: terms, Reason: "generated"})
	}
	add("1.35G", solver.Term{Case: genG, Factor: 1.35})
	add("1.2G+1.5Q", solver.Term{Case: genG, Factor: 1.2}, solver.Term{Case: genQ, Factor: 1.5})
	for _, own := range []float64{0.9, 1.2} {
		for _, wind := range []int{genWS, genWN, genWX} {
			for _, inside := range []float64{-0.3, 0, 0.2} {
				terms := []solver.Term{{Case: genG, Factor: own}, {Case: wind, Factor: 1}}
				if inside != 0 {
					terms = append(terms, solver.Term{Case: genPI, Factor: inside})
				}
				add(fmt.Sprintf("%gG+%s%+gPI", own, g.s.Cases[wind].ID, inside), terms...)
			}
		}
	}
}
