package asnzs1170

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/actions"
)

// Wind is the wind on one wall of a building: speeds, coefficients and the states of its openings.
type Wind struct {
	From    actions.Face // the windward wall
	Leeward actions.Face
	Along   bool    // along the ridge, or along the eaves of a mono-pitch
	Bearing float64 // rad clockwise from north: where it comes from
	B, D    float64 // breadth square to the wind and depth along it, m
	H       float64 // mean roof height, m

	Ultimate, Service Speed
	External          External
	// Internal pressure over the states that can occur in the ultimate and in the service wind.
	InternalU, InternalS Internal
	Free                 []FreeSet // a roof without walls: the sets replace External and Internal
}

// Speed is a design speed (m/s) and its pressure (Pa).
type Speed struct{ V, Q float64 }

// External holds the external coefficients of an enclosed building for one wind direction.
type External struct {
	Windward, Leeward float64
	Side, Roof        []Zone // along the depth; the roof's zones run over the ridge
	Sloped            bool   // upwind and downwind slopes (Tables 5.3(B), (C)); else zones of Table 5.3(A)
	Both              bool   // within the step at 10°: the worse of both tables at every point
}

// FreeSet is one pair of net coefficients of a roof without walls, positive down.
type FreeSet struct {
	Name string // "empty 1"
	Cpn  []Zone
}

// words for the four winds, by windward wall.
var windNames = [...]string{"south", "north", "west", "east"}

// Name is the windward side in a word: "south".
func (w *Wind) Name() string { return windNames[w.From] }

// BlowsTo is the unit vector of the wind's travel.
func (w *Wind) BlowsTo() r3.Vec { return blowsTo(w.From) }

func blowsTo(from actions.Face) r3.Vec {
	switch from {
	case actions.SouthWall:
		return r3.Vec{Y: 1}
	case actions.NorthWall:
		return r3.Vec{Y: -1}
	case actions.WestGable:
		return r3.Vec{X: 1}
	}
	return r3.Vec{X: -1}
}

// opposite is the wall across the building.
func opposite(f actions.Face) actions.Face {
	return [...]actions.Face{actions.NorthWall, actions.SouthWall, actions.EastGable, actions.WestGable}[f]
}

// bearingOf is the compass bearing (rad) of a wall's outward normal. Seen from above, Y lies a quarter turn against the
// clock from X.
func bearingOf(f actions.Face, bearingX float64) float64 {
	turn := [...]float64{math.Pi / 2, -math.Pi / 2, math.Pi, 0}[f]
	return math.Mod(bearingX+turn+4*math.Pi, 2*math.Pi)
}

// surface names a wall as Table 5.4 does, for wind on the wall from.
func surface(f, from actions.Face) string {
	switch {
	case f >= actions.SouthRoof:
		return "roof"
	case f == from:
		return "windward wall"
	case f == opposite(from):
		return "leeward wall"
	}
	return "side wall"
}

// geometryOf fills what follows from the building alone.
func geometryOf(b *actions.Building, from actions.Face) Wind {
	w := Wind{From: from, Leeward: opposite(from), Along: from == actions.WestGable || from == actions.EastGable,
		H: b.MeanRoofHeight(), B: b.Length(), D: b.Span}
	if w.Along {
		w.B, w.D = w.D, w.B
	}
	return w
}

// External finds Cp,e of every surface for wind on the wall from (clauses 5.4.1, 5.4.2).
func (t *Table) External(w *actions.Working, b *actions.Building, from actions.Face) External {
	g := geometryOf(b, from)
	e := External{Windward: t.Windward(w), Side: t.Side(w, g.H, g.D)}
	up, down, ridge := slopes(b, from)
	e.Leeward = min(t.Leeward(w, g.Along, up, g.D, g.B), t.Leeward(w, g.Along, down, g.D, g.B))
	if g.Along {
		e.Roof = t.FlatRoof(w, g.H, g.D)
		return e
	}
	step := t.at(w, "roof.step")
	near := math.Abs(min(up, down)-10) < step || math.Abs(max(up, down)-10) < step
	switch flat := max(up, down) < 10; {
	case near:
		e.Both = true
		e.Leeward = min(e.Leeward, t.Leeward(w, false, 10, g.D, g.B), t.Leeward(w, true, 0, g.D, g.B))
		e.Roof = worse(t.FlatRoof(w, g.H, g.D), t.slopedRoof(w, b, g, max(up, 10), max(down, 10), ridge))
	case flat:
		e.Roof = t.FlatRoof(w, g.H, g.D)
	default:
		e.Sloped = true
		e.Roof = t.slopedRoof(w, b, g, up, down, ridge)
	}
	return e
}

// slopes gives the pitches (degrees) that the wind meets first and last and the distance of the ridge from the windward
// edge. For a mono-pitch both are its own.
func slopes(b *actions.Building, from actions.Face) (up, down, ridge float64) {
	s := b.Pitch(actions.SouthRoof) * 180 / math.Pi
	if b.Shape == actions.MonoPitch {
		return s, s, b.Span
	}
	n := b.Pitch(actions.NorthRoof) * 180 / math.Pi
	if from == actions.NorthWall {
		return n, s, b.Span - b.RidgeY
	}
	return s, n, b.RidgeY
}

// slopedRoof is the roof from 10° in wind across the ridge.
func (t *Table) slopedRoof(w *actions.Working, b *actions.Building, g Wind, up, down, ridge float64) []Zone {
	dn := t.Downwind(w, down, g.H/g.D, g.B, g.D)
	d := [2]float64{dn, dn}
	if b.Shape == actions.MonoPitch {
		if lowEdge(b) == g.From {
			return []Zone{{0, g.D, t.Upwind(w, up, g.H/g.D), "upwind slope", upRow}}
		}
		return []Zone{{0, g.D, d, "downwind slope", downRow}}
	}
	return []Zone{{0, ridge, t.Upwind(w, up, g.H/g.D), "upwind slope", upRow}, {ridge, g.D, d, "downwind slope", downRow}}
}

// rows whose clause stands for the slopes' in the working.
const (
	upRow   = "roof.up.hd0.25.a.p10"
	downRow = "roof.down.hd0.25.p10"
)

// lowEdge is the wall under the lower eaves of a mono-pitch.
func lowEdge(b *actions.Building) actions.Face {
	if b.EavesSouth <= b.EavesNorth {
		return actions.SouthWall
	}
	return actions.NorthWall
}

// worse lays two sets of zones over each other: at every point the lower of the first and the higher of the second
// values.
func worse(x, y []Zone) []Zone {
	var out []Zone
	for i, j := 0, 0; i < len(x) && j < len(y); {
		a, c := x[i], y[j]
		z := Zone{From: max(a.From, c.From), To: min(a.To, c.To), Name: a.Name + ", " + c.Name, row: a.row}
		z.Cpe = [2]float64{min(a.Cpe[0], c.Cpe[0]), max(a.Cpe[1], c.Cpe[1])}
		if z.To > z.From {
			out = append(out, z)
		}
		if a.To <= c.To {
			i++
		}
		if c.To <= a.To {
			j++
		}
	}
	return out
}

// covered refuses what the tables do not reach, naming what to give or change.
func (t *Table) covered(b *actions.Building) error {
	var errs []error
	bad := func(format string, a ...any) { errs = append(errs, fmt.Errorf(format, a...)) }
	h := b.MeanRoofHeight()
	if h > 25 {
		bad("mean roof height %.1f m: above 25 m the tables for low buildings and C_dyn = 1 do not hold; not covered", h)
	}
	if least := min(b.Span, b.Length()); h > 3*least {
		bad("height %.1f m over %.1f m of plan: a slender building needs its dynamic response; not covered", h, least)
	}
	up, down, _ := slopes(b, actions.SouthWall)
	if max(up, down) > 60 {
		bad("roof pitch %.1f°: above 60° is not covered; lower the rise", max(up, down))
	}
	step := t.at(nil, "roof.step")
	if min(up, down) <= 10-step && max(up, down) >= 10+step {
		bad("roof pitches %.1f° and %.1f°: slopes on both sides of 10° are not covered; give both under or both over 10°", up, down)
	}
	if n := len(openWalls(b)); n == 3 {
		bad("three walls open: partly enclosed sheds with one wall have tables of their own (Appendix B), not covered; close one wall or open all four")
	}
	return errors.Join(errs...)
}

// openWalls lists the open walls, each once.
func openWalls(b *actions.Building) (out []actions.Face) {
	for f := actions.SouthWall; f <= actions.EastGable; f++ {
		if b.Open(f) {
			out = append(out, f)
		}
	}
	return out
}
