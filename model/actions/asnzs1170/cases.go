package asnzs1170

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/actions"
	"leanbay/solver"
)

// Cases implements actions.Pack. In order: permanent (certain, possible), roof imposed, floors imposed one by one, snow,
// wind (ultimate, service) by direction, notional, robustness, earthquake.
//
// The area reduction Ka is 1.0 in every case of the frames: a patch does not know whose member it loads, and 1.0 is
// safe. Pressure acts on shut doors and windows as on the wall around them; a face that is left open carries none.
func (p *Pack) Cases(b *actions.Building, s *actions.Site) ([]actions.Case, error) {
	if err := p.check(b, s); err != nil {
		return nil, err
	}
	out := p.gravity(nil, b, s)
	winds, err := p.Winds(nil, b, s)
	if err != nil {
		return nil, err
	}
	for i := range winds {
		out = append(out, p.windCases(b, &winds[i], true)...)
	}
	for i := range winds {
		out = append(out, p.windCases(b, &winds[i], false)...)
	}
	out = append(out, p.notional(out)...)
	out = append(out, p.robustness(b, s)...)
	return append(out, p.earthquakeCases(b, s)...), nil
}

// gravity are the permanent, imposed and snow cases.
func (p *Pack) gravity(w *actions.Working, b *actions.Building, s *actions.Site) []actions.Case {
	down := func(pa float64) r3.Vec { return r3.Vec{Z: -pa} }
	g := actions.Case{ID: "G", Kind: solver.KindPermanent, Title: "permanent, certain: steel, cladding, floors", SelfWeight: true}
	extra := actions.Case{ID: "Gx", Kind: solver.KindPermanentExtra, Title: "permanent, possible: services, panels, ceilings"}
	q := actions.Case{ID: "Qr", Kind: solver.KindRoofImposed, Title: "roof imposed"}
	imposed := p.RoofImposed(w, leastTributary(b))
	for f := actions.SouthWall; f < actions.NumFaces; f++ {
		if b.Open(f) || b.Outline(f) == nil {
			continue
		}
		roof := f >= actions.SouthRoof
		if dead := [...]float64{b.WallDead, b.RoofDead}[btoi(roof)]; dead != 0 {
			g.Patches = append(g.Patches, whole(b, actions.Patch{Face: f, Traction: down(dead), Note: "cladding"}))
		}
		if roof && b.RoofExtra != 0 {
			extra.Patches = append(extra.Patches, whole(b, actions.Patch{Face: f, Traction: down(b.RoofExtra), PlanArea: true, Note: "services, panels"}))
		}
		if roof {
			q.Patches = append(q.Patches, whole(b, actions.Patch{Face: f, Traction: down(imposed), PlanArea: true, Note: "imposed"}))
		}
	}
	for i, f := range b.Floors {
		if f.Permanent != 0 {
			g.Floors = append(g.Floors, floorPatch(i, f, f.Permanent))
		}
	}
	out := []actions.Case{g}
	if len(extra.Patches) > 0 {
		out = append(out, extra)
	}
	out = append(out, q)
	for i, f := range b.Floors {
		pa, _ := p.floorImposed(w, &b.Floors[i]) // checked before
		out = append(out, actions.Case{ID: floorID(i), Kind: solver.KindFloorImposed, Title: "imposed on floor " + f.Name + ", " + f.Use,
			Floors: []actions.FloorPatch{floorPatch(i, f, pa)}})
	}
	return append(out, p.snow(w, b)...)
}

// whole fills a patch's rectangle with the face's extent.
func whole(b *actions.Building, p actions.Patch) actions.Patch {
	p.U0, p.U1, p.V0, p.V1 = b.Extent(p.Face)
	return p
}

func floorPatch(i int, f actions.Floor, pa float64) actions.FloorPatch {
	return actions.FloorPatch{Floor: i, X0: f.X0, X1: f.X1, Y0: f.Y0, Y1: f.Y1, Pressure: pa}
}

// floorID is the case of floor i's imposed action.
func floorID(i int) string { return fmt.Sprintf("Qf%d", i+1) }

// leastTributary is the smallest plan area that a frame of b carries (m²).
func leastTributary(b *actions.Building) float64 {
	least := math.Inf(1)
	x := b.FrameLines
	for i := range x {
		width := 0.0
		if i > 0 {
			width += (x[i] - x[i-1]) / 2
		}
		if i+1 < len(x) {
			width += (x[i+1] - x[i]) / 2
		}
		least = min(least, width*b.Span)
	}
	return least
}

// snow are balanced and unbalanced cases (AS/NZS 1170.3): none without ground snow.
func (p *Pack) snow(w *actions.Working, b *actions.Building) []actions.Case {
	if b.GroundSnow == 0 {
		return nil
	}
	loaded, bare := p.t.at(w, "snow.unbalanced.loaded"), p.t.at(w, "snow.unbalanced.bare")
	out := []actions.Case{p.snowCase(w, b, "S", "snow, balanced", 1, 1)}
	if b.Shape == actions.Gable {
		out = append(out, p.snowCase(w, b, "S south", "snow, unbalanced, south slope loaded", loaded, bare),
			p.snowCase(w, b, "S north", "snow, unbalanced, north slope loaded", bare, loaded))
	}
	return out
}

func (p *Pack) snowCase(w *actions.Working, b *actions.Building, id, title string, south, north float64) actions.Case {
	c := actions.Case{ID: id, Kind: solver.KindSnow, Title: title}
	ce := orElse(b.SnowExposed, p.t.at(w, "snow.exposure"))
	for i, f := range []actions.Face{actions.SouthRoof, actions.NorthRoof} {
		if b.Outline(f) == nil {
			continue
		}
		pa := b.GroundSnow * ce * p.t.SnowShape(w, b.Pitch(f)*180/math.Pi) * [...]float64{south, north}[i]
		c.Patches = append(c.Patches, whole(b, actions.Patch{Face: f, Traction: r3.Vec{Z: -pa}, PlanArea: true, Note: "snow"}))
	}
	return c
}

// strip is a stretch of a face along the wind with one coefficient.
type strip struct {
	from, to float64 // from the windward edge, m
	cpe      float64
	name     string
}

// windCases are the cases of one wind: roof set × internal pressure, or the sets of a free roof. Equal ones are left out.
func (p *Pack) windCases(b *actions.Building, wd *Wind, ultimate bool) []actions.Case {
	kind, speed, in := solver.KindWindUltimate, wd.Ultimate, wd.InternalU
	if !ultimate {
		kind, speed, in = solver.KindWindService, wd.Service, wd.InternalS
	}
	title := fmt.Sprintf("wind from the %s, %.1f m/s", wd.Name(), speed.V)
	id := string(kind) + " " + wd.Name()
	var out []actions.Case
	if wd.Free != nil {
		for _, set := range wd.Free {
			c := actions.Case{ID: id + " " + set.Name, Kind: kind, Title: title + ", roof without walls, " + set.Name, Direction: wd.BlowsTo()}
			c.Patches = p.freePatches(b, wd, set, speed.Q)
			out = append(out, c)
		}
		return out
	}
	for _, ci := range internalPair(in) {
		for k := range distinctSets(wd.External.Roof) {
			c := actions.Case{ID: fmt.Sprintf("%s %s roof %s", id, ci.name, setNames[k]), Kind: kind, Direction: wd.BlowsTo()}
			c.Title = fmt.Sprintf("%s, Cp,i %.2f (%s), roof set %s", title, ci.cpi, ci.state, setNames[k])
			c.Patches = p.windPatches(b, wd, k, ci.cpi, speed.Q)
			if ultimate {
				c.Pulls = pulls(b)
			}
			out = append(out, c)
		}
	}
	return out
}

type internalValue struct {
	name, state string
	cpi         float64
}

// internalPair is the highest and the lowest internal coefficient ("cpi+", "cpi-"), or the one there is ("cpi").
func internalPair(in Internal) []internalValue {
	hi := internalValue{"cpi+", in.States[in.HiState].Name, in.Hi}
	lo := internalValue{"cpi-", in.States[in.LoState].Name, in.Lo}
	if in.Hi == in.Lo {
		hi.name = "cpi"
		return []internalValue{hi}
	}
	return []internalValue{hi, lo}
}

// distinctSets are the roof sets that differ.
func distinctSets(zs []Zone) []int {
	if slices.ContainsFunc(zs, func(z Zone) bool { return z.Cpe[0] != z.Cpe[1] }) {
		return []int{0, 1}
	}
	return []int{0}
}

// pulls are the lock pulls of the shut doors.
func pulls(b *actions.Building) (out []actions.DoorPull) {
	for i, o := range b.Openings {
		if o.LockPull > 0 {
			out = append(out, actions.DoorPull{Opening: i, Pull: o.LockPull})
		}
	}
	return out
}

// windPatches tile every loaded face with net pressures for roof set k and one internal coefficient.
func (p *Pack) windPatches(b *actions.Building, wd *Wind, k int, cpi, q float64) []actions.Patch {
	kce, kci := p.combinationFactors(cpi)
	var out []actions.Patch
	for f := actions.SouthWall; f < actions.NumFaces; f++ {
		if b.Open(f) || b.Outline(f) == nil {
			continue
		}
		drag, from := p.drag(b, wd, f, q)
		for _, st := range p.strips(wd, f, k, drag, from) {
			patch := stripPatch(b, wd, f, st)
			patch.Pressure = q * (st.cpe*kce - cpi*kci)
			if drag > 0 && st.from >= from {
				patch.Traction, patch.PlanArea = r3.Scale(drag, wd.BlowsTo()), f >= actions.SouthRoof
			}
			patch.Note = fmt.Sprintf("%s %s, Cpe %.3g, Cpi %.3g", surface(f, wd.From), st.name, st.cpe, cpi)
			out = append(out, patch)
		}
	}
	return out
}

// strips are the stretches of face f along the wind for roof set k, split at the place from which drag counts.
func (p *Pack) strips(wd *Wind, f actions.Face, k int, drag, from float64) []strip {
	e := wd.External
	zones := []Zone{{From: 0, To: wd.D, Cpe: [2]float64{e.Windward, e.Windward}}}
	switch surface(f, wd.From) {
	case "leeward wall":
		zones[0].Cpe = [2]float64{e.Leeward, e.Leeward}
		return []strip{{0, wd.D, e.Leeward, ""}}
	case "windward wall":
		return []strip{{0, wd.D, e.Windward, ""}}
	case "side wall":
		zones = e.Side
	case "roof":
		zones = e.Roof
	}
	var out []strip
	for _, z := range zones {
		cuts := []float64{z.From, z.To}
		if drag > 0 && z.From < from && from < z.To {
			cuts = []float64{z.From, from, z.To}
		}
		for i := 1; i < len(cuts); i++ {
			out = append(out, strip{cuts[i-1], cuts[i], z.Cpe[k], z.Name})
		}
	}
	return out
}

// stripPatch places a strip on its face; it is cut off at the face's edges.
func stripPatch(b *actions.Building, wd *Wind, f actions.Face, st strip) actions.Patch {
	patch := whole(b, actions.Patch{Face: f})
	lo, hi := &patch.U0, &patch.U1
	switch s := surface(f, wd.From); {
	case s == "windward wall" || s == "leeward wall":
		return patch
	case s == "roof" && !wd.Along:
		lo, hi = &patch.V0, &patch.V1
	}
	a, c := wd.distance(st.from), wd.distance(st.to)
	*lo, *hi = max(*lo, min(a, c)), min(*hi, max(a, c))
	return patch
}

// drag is the traction by friction on face f (Pa) and the distance from the windward edge from which it acts (clause
// 5.5): on the roof per plan area, on side walls so that each carries the force of its h(d - 4h).
func (p *Pack) drag(b *actions.Building, wd *Wind, f actions.Face, q float64) (traction, from float64) {
	s := surface(f, wd.From)
	if s == "windward wall" || s == "leeward wall" {
		return 0, 0
	}
	cf := p.t.at(nil, "friction.across")
	_, area := p.t.Friction(nil, q, cf, wd.B, wd.D, wd.H)
	if area == 0 {
		return 0, 0
	}
	from = p.t.at(nil, "friction.ratio") * min(wd.H, wd.B)
	if s == "roof" {
		return q * cf, from
	}
	cut := whole(b, actions.Patch{Face: f})
	st := stripPatch(b, wd, f, strip{from: from, to: wd.D})
	cut.U0, cut.U1 = st.U0, st.U1
	return q * cf * wd.H * (wd.D - from) / b.PatchArea(cut), from
}

// combinationFactors are Kc,e and Kc,i of the frames: both walls, the roof and, from the threshold on, the inside.
func (p *Pack) combinationFactors(cpi float64) (e, i float64) {
	if !p.opt.CombinationFactor {
		return 1, 1
	}
	e = max(p.t.CombinationFactor(nil, 3), p.t.at(nil, "combination.least"))
	if math.Abs(cpi) >= p.t.at(nil, "combination.threshold") {
		return e, p.t.CombinationFactor(nil, 4)
	}
	return e, 1
}

// freePatches load the roof of a shed without walls.
func (p *Pack) freePatches(b *actions.Building, wd *Wind, set FreeSet, q float64) []actions.Patch {
	var out []actions.Patch
	for _, f := range []actions.Face{actions.SouthRoof, actions.NorthRoof} {
		if b.Outline(f) == nil {
			continue
		}
		for _, z := range set.Cpn {
			patch := stripPatch(b, wd, f, strip{from: z.From, to: z.To})
			if patch.U1 <= patch.U0 || patch.V1 <= patch.V0 {
				continue
			}
			patch.Pressure = q * z.Cpe[0]
			patch.Note = fmt.Sprintf("roof %s, Cpn %.3g", z.Name, z.Cpe[0])
			out = append(out, patch)
		}
	}
	return out
}
