package asnzs1170

import (
	"fmt"
	"math"

	"leanbay/model/actions"
)

// State is one state of the openings and the internal coefficients it can give.
type State struct {
	Name   string
	Open   []int // indices of the openings that stand open
	Lo, Hi float64
	o      Opened // what Table 5.1(B) was entered with; zero area for Table 5.1(A)
	row    string // the coefficient whose clause and mark the working shows
}

// numbers are what the coefficients rest on, for the working.
func (s State) numbers(t *Table) string {
	if s.o.Area == 0 && s.o.LeastRatio == 0 {
		return "walls as the brief has them"
	}
	kv, x := t.VolumeFactor(nil, s.o)
	return fmt.Sprintf("%s, A = %.2f m², ratio %.3g, Cp,e %.3f (with Kl), Ka %.3f, Kv %.3f (100·A^1.5/Vol = %.3g)",
		s.o.Surface, s.o.Area, s.o.Ratio(), s.o.Cpe*s.o.Kl, s.o.Ka, kv, x)
}

// dominated enters Table 5.1(B).
func (in *internalFinder) dominated(name string, open []int, o Opened) State {
	st := State{Name: name, Open: open, o: o, row: "internal.other_share.ratio6"}
	if o.Surface == "windward wall" {
		st.row = "internal.windward_share.ratio6"
	}
	st.Lo, st.Hi = in.t.Dominant(in.w, o)
	return st
}

// Internal is the internal pressure of one volume for one wind direction: the states that can occur, and which of them
// give the lowest and the highest coefficient.
type Internal struct {
	States           []State
	Lo, Hi           float64
	LoState, HiState int
}

// mostSubsets is the number of openings of a wall up to which every subset is tried (2^n states).
const mostSubsets = 6

// Internal finds the envelope of Cp,i for wind on the wall from. shut lists openings that are known to be shut (by index;
// nil for none): the schedule asks for the states in which a door is shut.
//
// States: all shut; every subset of the openings of one wall that can be open (beyond mostSubsets openings each alone
// and all together). Openings of two walls together give no more extreme coefficient: they lower the ratio of either.
// In regions B2, C and D a hole by debris in any wall joins them for the ultimate wind, unless the envelope is rated.
func (t *Table) Internal(w *actions.Working, b *actions.Building, s *actions.Site, from actions.Face, ultimate bool, shut func(int) bool) Internal {
	e := t.External(nil, b, from)
	in := internalFinder{t: t, w: w, b: b, e: e, g: geometryOf(b, from)}
	var states []State
	if open := openWalls(b); len(open) > 0 {
		for _, f := range open {
			states = append(states, in.openWall(f))
			states = append(states, in.openWallWithDoors(f, ultimate, shut)...)
		}
	} else {
		states = append(states, in.allShut())
		for f := actions.SouthWall; f <= actions.EastGable; f++ {
			states = append(states, in.doors(f, ultimate, shut)...)
		}
		if ultimate && cyclonic(s.Region) && !s.DebrisRated {
			for f := actions.SouthWall; f <= actions.EastGable; f++ {
				states = append(states, in.debris(f))
			}
		}
	}
	r := Internal{States: states, Lo: states[0].Lo, Hi: states[0].Hi}
	for i, st := range states {
		if st.Lo < r.Lo {
			r.Lo, r.LoState = st.Lo, i
		}
		if st.Hi > r.Hi {
			r.Hi, r.HiState = st.Hi, i
		}
	}
	return r
}

type internalFinder struct {
	t *Table
	w *actions.Working
	b *actions.Building
	e External
	g Wind
}

func (in *internalFinder) allShut() State {
	n := 0
	for f := actions.SouthWall; f <= actions.EastGable; f++ {
		if in.b.Permeable[f] {
			n++
		}
	}
	p, row := AllPermeable, "internal.all_permeable.lo" // also where nothing is said of the walls
	switch n {
	case 1:
		p, row = OnePermeable, "internal.one_permeable.on"
	case 2, 3:
		p, row = SomePermeable, "internal.some_permeable.on.lo"
	}
	lo, hi := in.t.Permeable(in.w, p, in.b.Permeable[in.g.From])
	return State{Name: "all shut", Lo: lo, Hi: hi, row: row}
}

// cpe is the external coefficient at u on wall f.
func (in *internalFinder) cpe(f actions.Face, u float64) float64 {
	switch surface(f, in.g.From) {
	case "windward wall":
		return in.e.Windward
	case "leeward wall":
		return in.e.Leeward
	}
	return zoneAt(in.e.Side, in.g.distance(u)).Cpe[0]
}

// distance of the coordinate along the wind from the windward edge (m).
func (w *Wind) distance(c float64) float64 {
	if w.From == actions.NorthWall || w.From == actions.EastGable {
		return w.D - c
	}
	return c
}

// zoneAt is the zone at distance s; the nearest outside.
func zoneAt(zs []Zone, s float64) Zone {
	for _, z := range zs {
		if s < z.To {
			return z
		}
	}
	return zs[len(zs)-1]
}

// openWall is the state of a wall that is left open: Table 5.1(B) at a ratio of 6 and more, whatever else is open.
func (in *internalFinder) openWall(f actions.Face) State {
	s := surface(f, in.g.From)
	o := Opened{Surface: s, Area: in.b.FaceArea(f), Ka: 1, Kl: 1, Volume: in.b.Volume(), Cpe: in.e.Side[0].Cpe[0]}
	if s != "side wall" {
		o.Cpe = in.cpe(f, 0)
	}
	o.Ka, _ = in.t.AreaReduction(in.w, s, o.Area)
	return in.dominated(fmt.Sprintf("%v open", f), nil, o)
}

// openWallWithDoors are the states in which the doors of another wall are open besides the open wall f, where they are
// large enough (over half of it) to take its dominance away.
func (in *internalFinder) openWallWithDoors(f actions.Face, ultimate bool, shut func(int) bool) (out []State) {
	for g := actions.SouthWall; g <= actions.EastGable; g++ {
		if in.b.Open(g) {
			continue
		}
		var doors float64
		for i, o := range in.b.Openings {
			if o.Face == g && canOpen(o, ultimate) && (shut == nil || !shut(i)) {
				doors += o.OpeningArea()
			}
		}
		st := in.openWall(f)
		if st.o.Others = doors; st.o.Ratio() < 2 {
			out = append(out, in.dominated(fmt.Sprintf("%v open and the doors of the %v", f, g), nil, st.o))
		}
	}
	return out
}

// debris is a hole of unknown place in wall f.
func (in *internalFinder) debris(f actions.Face) State {
	s := surface(f, in.g.From)
	o := Opened{Surface: s, Others: 1, Ka: 1, Kl: 1, Volume: in.b.Volume(), Cpe: in.e.Side[0].Cpe[0],
		LeastRatio: in.t.at(in.w, "internal.debris_ratio")}
	if s != "side wall" {
		o.Cpe = in.cpe(f, 0)
	}
	return in.dominated(fmt.Sprintf("hole by debris in the %v", f), nil, o)
}

// doors are the states of the openings of wall f.
func (in *internalFinder) doors(f actions.Face, ultimate bool, shut func(int) bool) (out []State) {
	var can []int
	for i, o := range in.b.Openings {
		if o.Face == f && canOpen(o, ultimate) && (shut == nil || !shut(i)) {
			can = append(can, i)
		}
	}
	if len(can) <= mostSubsets {
		for set := 1; set < 1<<len(can); set++ {
			var open []int
			for k, i := range can {
				if set>>k&1 == 1 {
					open = append(open, i)
				}
			}
			out = append(out, in.standOpen(f, open))
		}
		return out
	}
	for _, i := range can {
		out = append(out, in.standOpen(f, []int{i}))
	}
	return append(out, in.standOpen(f, can))
}

// canOpen says whether an opening can stand open in the wind: one that may fail does so in the ultimate wind only.
func canOpen(o actions.Opening, ultimate bool) bool {
	switch o.State {
	case actions.StaysShut:
		return false
	case actions.MayFail:
		return ultimate
	}
	return true
}

// standOpen is the state with the given openings of wall f open and everything else shut.
func (in *internalFinder) standOpen(f actions.Face, open []int) State {
	s := surface(f, in.g.From)
	o := Opened{Surface: s, Kl: 1, Volume: in.b.Volume(), Others: in.leaks(f)}
	for _, i := range open {
		o.Area += in.b.Openings[i].OpeningArea()
	}
	for _, i := range open {
		p := in.b.Openings[i]
		// The zones and factors of several openings count by their areas.
		o.Cpe += in.cpe(f, (p.U0+p.U1)/2) * in.localAt(f, p, o.Area) * p.OpeningArea() / o.Area
	}
	if len(open) == 1 && s == "side wall" {
		p := in.b.Openings[open[0]] // a door across zones takes the stronger suction
		at := min(in.g.distance(p.U0), in.g.distance(p.U1))
		o.Cpe = zoneAt(in.e.Side, at).Cpe[0] * in.localAt(f, p, o.Area)
	}
	o.Ka, _ = in.t.AreaReduction(in.w, s, o.Area)
	return in.dominated(in.openName(f, open), open, o)
}

func (in *internalFinder) openName(f actions.Face, open []int) string {
	if len(open) == 1 {
		return in.b.Openings[open[0]].Name + " open"
	}
	name := fmt.Sprintf("%d openings of the %v open", len(open), f)
	for k, i := range open {
		name += [...]string{", ", ": "}[btoi(k == 0)] + in.b.Openings[i].Name
	}
	return name
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// localAt is Kl of an open area at opening p of wall f, where the rule is switched on.
func (in *internalFinder) localAt(f actions.Face, p actions.Opening, area float64) float64 {
	if in.t.at(in.w, "internal.local_applies") == 0 {
		return 1
	}
	l := in.t.LocalLengths(in.w, in.g.H, in.g.B, in.g.D)
	return in.t.wallFactor(in.w, surface(f, in.g.From), l.Wall, in.g.distance((p.U0+p.U1)/2), area, tall(in.t, in.g))
}

// leaks is the open area of everything but wall f when all doors are shut (m²).
func (in *internalFinder) leaks(f actions.Face) float64 {
	var sum float64
	for g := actions.SouthWall; g < actions.NumFaces; g++ {
		switch {
		case g == f:
		case in.b.OpenAreas[g] > 0:
			sum += in.b.OpenAreas[g]
		case g <= actions.EastGable:
			sum += in.t.at(in.w, "internal.leak") * in.b.FaceArea(g)
		}
	}
	return sum
}

func tall(t *Table, g Wind) bool { return g.H/math.Min(g.B, g.D) > t.at(nil, "local.tall") }
