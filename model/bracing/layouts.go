package bracing

import (
	"fmt"
	"math"
	"slices"
)

// Limits of sensible bracing, by site practice: steeper or flatter braces carry little for their length, shallower panels
// leave no room for a gusset, and knees or portal columns need some distance to work.
const (
	flattest    = 20 * math.Pi / 180
	steepest    = 70 * math.Pi / 180
	leastPanel  = 0.8  // m, height of a shortened panel or tier
	leastReach  = 0.6  // m, leg of a knee
	mostLegRoom = 0.45 // m, from a frame line to the portal column beside it
	leastLeg    = 0.25 // m
	leastHead   = 2.0  // m, of a door that a portal stands round
	leastOver   = 0.4  // m, from the beam of such a portal to the eaves: the depth of both and the joint's plates
)

// placing is one pattern with the ways to place it, best first.
type placing struct {
	pattern Pattern
	places  []Place
}

// Candidates returns, panel by panel, what can be done there: each full-panel pattern with what blocks it; then each other
// pattern at the first of its places that is free, or with what blocks its first place. Obstacles are grown by
// clearance (m) on all sides first.
func Candidates(panels []Panel, obstacles []Obstacle, clearance float64) []Candidate {
	var out []Candidate
	for _, panel := range panels {
		inside := within(panel.Rect, obstacles)
		for _, p := range FullPanel {
			out = append(out, judge(panel, p, Place{}, inside, clearance))
		}
		for _, pl := range placings(panel, inside, clearance) {
			out = append(out, firstFree(panel, pl, inside, clearance))
		}
	}
	return out
}

// within are the obstacles that reach into a panel; what stands beyond its columns is out of the way.
func within(r Rect, obstacles []Obstacle) []Obstacle {
	var out []Obstacle
	for _, o := range obstacles {
		if o.U0 < r.U1-1e-6 && o.U1 > r.U0+1e-6 {
			out = append(out, o)
		}
	}
	return out
}

// Clear says whether a line in a panel crosses none of the obstacles that reach into it, grown by clearance (m).
func Clear(l Line, panel Rect, obstacles []Obstacle, clearance float64) bool {
	for _, o := range within(panel, obstacles) {
		if l.Crosses(o.Rect.grow(clearance)) {
			return false
		}
	}
	return true
}

// firstFree is the candidate at the first free place, or the first one with what blocks it.
func firstFree(panel Panel, pl placing, obstacles []Obstacle, clearance float64) Candidate {
	first := judge(panel, pl.pattern, pl.places[0], obstacles, clearance)
	if first.Free() {
		return first
	}
	for _, at := range pl.places[1:] {
		if c := judge(panel, pl.pattern, at, obstacles, clearance); c.Free() {
			return c
		}
	}
	return first
}

// judge finds what stands in the way of a pattern at a place.
func judge(panel Panel, p Pattern, at Place, obstacles []Obstacle, clearance float64) Candidate {
	c := Candidate{Panel: panel, Pattern: p, Place: at}
	whole := at.From == 0 && at.To == 0 && at.Mid == 0 && !panel.Gable
	for i, part := range Parts(p, panel, at) {
		c.Lines = append(c.Lines, part.Line)
		for _, o := range obstacles {
			if part.Crosses(o.Rect.grow(clearance)) {
				c.Blocks = append(c.Blocks, Block{Line: i, Obstacle: o})
			}
		}
		if part.Kind == Diagonal && !whole && c.Unfit == "" {
			c.Unfit = slope(part.Line)
		}
	}
	return c
}

// slope says in words that a line is too flat or too steep to brace; nothing if it is neither.
func slope(l Line) string {
	a := math.Atan2(math.Abs(l.To.V-l.From.V), math.Abs(l.To.U-l.From.U))
	switch {
	case a < flattest:
		return fmt.Sprintf("too flat, %.0f°", a*180/math.Pi)
	case a > steepest:
		return fmt.Sprintf("too steep, %.0f°", a*180/math.Pi)
	}
	return ""
}

// placings lists, for one panel, every pattern beyond the full ones that has a place at all.
func placings(panel Panel, obstacles []Obstacle, clearance float64) []placing {
	r := panel.level()
	heads, sills := levels(r, obstacles, clearance)
	var above, below []Place
	for _, v := range heads {
		above = append(above, Place{From: v})
	}
	for _, v := range slices.Backward(sills) {
		below = append(below, Place{To: v})
	}
	tiers := tierPlaces(r, heads, sills)
	var out []placing
	add := func(p Pattern, places []Place) {
		if len(places) > 0 {
			out = append(out, placing{p, places})
		}
	}
	add(InvertedV, append([]Place{{}}, above...))
	add(VStruts, append([]Place{{}}, above...))
	add(TwoTierRods, tiers)
	if !panel.Gable { // west and east mean nothing there
		add(TwoTierWest, tiers)
		add(TwoTierEast, tiers)
	}
	for _, p := range FullPanel {
		add(p, above)
		add(p, below)
	}
	if panel.Gable {
		return out
	}
	add(KneeBraces, kneePlaces(r))
	add(PortalBay, []Place{{}})
	legs := legPlaces(r, obstacles, clearance)
	add(PortalFrame, legs)
	add(DoorPortal, doorPlaces(r, obstacles, clearance, legs[0]))
	return out
}

// levels are the heights at which a strut passes just above the heads and just below the sills of what stands in a panel,
// rounded to 10 mm away from it, where at least a panel's height is left.
func levels(r Rect, obstacles []Obstacle, clearance float64) (heads, sills []float64) {
	for _, o := range obstacles {
		g := o.Rect.grow(clearance)
		if v := math.Ceil(g.V1*100-1e-6) / 100; v < r.V1-leastPanel && v > r.V0 {
			heads = append(heads, v)
		}
		if v := math.Floor(g.V0*100+1e-6) / 100; v > r.V0+leastPanel && v < r.V1 {
			sills = append(sills, v)
		}
	}
	slices.Sort(heads)
	slices.Sort(sills)
	return slices.Compact(heads), slices.Compact(sills)
}

// tierPlaces are the heights of a strut between two tiers: half the panel first, then nearer to half before farther.
func tierPlaces(r Rect, heads, sills []float64) []Place {
	half := math.Round((r.V0+r.V1)*50) / 100
	vs := slices.Concat([]float64{half}, heads, sills)
	slices.SortStableFunc(vs, func(a, b float64) int {
		da, db := math.Abs(a-half), math.Abs(b-half)
		switch {
		case da < db:
			return -1
		case da > db:
			return 1
		}
		return 0
	})
	var out []Place
	for _, v := range slices.Compact(vs) {
		if v > r.V0+leastPanel && v < r.V1-leastPanel {
			out = append(out, Place{Mid: v})
		}
	}
	return out
}

// kneePlaces are knees of a quarter of the panel's lesser side, then shorter ones.
func kneePlaces(r Rect) []Place {
	var out []Place
	for reach := math.Floor(min(r.U1-r.U0, r.V1-r.V0)*2.5) / 10; reach >= leastReach-1e-9; reach -= 0.1 {
		out = append(out, Place{Reach: math.Round(reach*100) / 100})
	}
	return out
}

// legPlaces puts the columns of a portal half-way between the frame lines and the nearest obstacle, alike on both sides.
func legPlaces(r Rect, obstacles []Obstacle, clearance float64) []Place {
	room := 2 * mostLegRoom
	for _, o := range obstacles {
		g := o.Rect.grow(clearance)
		room = min(room, max(g.U0-r.U0, 2*leastLeg), max(r.U1-g.U1, 2*leastLeg))
	}
	return []Place{{Reach: max(leastLeg, math.Floor(room*50)/100)}}
}

// doorPlaces puts the beam of a portal round a door just above the highest head among the doors of a panel, where there is a
// door and room above it.
func doorPlaces(r Rect, obstacles []Obstacle, clearance float64, legs Place) []Place {
	head := 0.0
	for _, o := range obstacles {
		if o.V0 <= r.V0 {
			head = max(head, math.Ceil((o.V1+clearance)*100-1e-6)/100)
		}
	}
	if head < leastHead || head > r.V1-leastOver {
		return nil
	}
	return []Place{{Mid: head, Reach: legs.Reach}}
}
