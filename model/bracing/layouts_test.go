package bracing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// find returns the candidate of a pattern in a bay whose place passes.
func find(list []Candidate, bay int, p Pattern, at func(Place) bool) *Candidate {
	for i := range list {
		if c := &list[i]; c.Panel.Bay == bay && c.Pattern == p && at(c.Place) {
			return c
		}
	}
	return nil
}

func whole(p Place) bool { return p.From == 0 && p.To == 0 && p.Mid == 0 && p.Reach == 0 }

// TestLayoutsByHand works two bays of a wall 5.2 m high, clearance 50 mm.
//
// Bay 1 (4.9 m) has a window at U 1.3-3.7, V 1.1-2.0: an inverted V has u = 2.45·v/5.2 from either foot, 0.49 to 0.97 m at
// V 1.05 to 2.05, and misses the window by 0.28 m; above the window a panel starts at 2.05 m. Bay 2 (5.6 m, U 4.9 on) has a
// door at U 6.1-9.3 up to 3.6 m: a panel above it would start at 3.65 m and be 1.55 m high, its diagonal at
// atan(1.55/5.6) = 15.5°, too flat; an inverted V there is at atan(1.55/2.8) = 29°.
func TestLayoutsByHand(t *testing.T) {
	panels := []Panel{{Rect: Rect{0, 4.9, 0, 5.2}, Bay: 1}, {Rect: Rect{4.9, 10.5, 0, 5.2}, Bay: 2}}
	obstacles := []Obstacle{{Rect{1.3, 3.7, 1.1, 2.0}, "the window"}, {Rect{6.1, 9.3, 0, 3.6}, "the door"}}
	list := Candidates(panels, obstacles, 0.05)
	above := func(p Place) bool { return p.From > 0 }
	for _, tt := range []struct {
		bay     int
		pattern Pattern
		at      func(Place) bool
		free    bool
		from    float64
	}{
		{1, CrossedRods, whole, false, 0}, {1, InvertedV, whole, true, 0}, {1, CrossedRods, above, true, 2.05},
		{2, InvertedV, above, true, 3.65}, {2, CrossedRods, above, false, 3.65}, {2, InvertedV, whole, false, 0},
		{2, PortalBay, whole, true, 0},
	} {
		c := find(list, tt.bay, tt.pattern, tt.at)
		if c == nil {
			if tt.free {
				t.Errorf("bay %d: no %s", tt.bay, tt.pattern)
			}
			continue
		}
		if c.Free() != tt.free || math.Abs(c.From-tt.from) > 1e-9 {
			t.Errorf("bay %d %s: free %v from %.2f, by hand %v from %.2f (%s)", tt.bay, tt.pattern, c.Free(), c.From, tt.free, tt.from, c.Reason())
		}
	}
	if c := find(list, 2, CrossedRods, above); c == nil || !strings.Contains(c.Reason(), "too flat, 15°") {
		t.Errorf("the flat panel is explained as %v", c)
	}
	// Portal columns stand half-way between the frame line and the door: 1.2 m of wall less the clearance, 1.15/2 = 0.575,
	// held to 0.45 m.
	if c := find(list, 2, PortalFrame, func(Place) bool { return true }); c == nil || !c.Free() || c.Reach != 0.45 {
		t.Errorf("portal with own columns: %+v", c)
	}
}

func TestExplain(t *testing.T) {
	window := []Obstacle{{Rect{1.3, 3.7, 1.1, 2.0}, "the window at X 1.3-3.7"}}
	text := Explain("north", Candidates([]Panel{{Rect: Rect{0, 4.9, 0, 5.2}, Bay: 2}}, window, 0.05))
	if len(text) != 1 || !strings.HasPrefix(text[0], "north bay 2: the window at X 1.3-3.7 blocks both diagonals of the whole panel; over its whole height free for an inverted V; ") ||
		!strings.Contains(text[0], "above, from 2.05 m to the eaves, a panel is free for a V, crossed rods, a rising diagonal and a falling diagonal") {
		t.Errorf("got %q", text)
	}
}

// randomWall is a wall of one bay with up to four obstacles.
func randomWall(rng *rand.Rand) (Panel, []Obstacle) {
	p := Panel{Rect: Rect{0, 3 + 4*rng.Float64(), 0, 3 + 3*rng.Float64()}, Bay: 1}
	var out []Obstacle
	for i := range rng.IntN(5) {
		u, v := rng.Float64()*p.U1, rng.Float64()*p.V1
		out = append(out, Obstacle{Rect{u, u + 2*rng.Float64(), v, min(p.V1, v+2*rng.Float64())}, fmt.Sprint("obstacle ", i)})
	}
	return p, out
}

// TestFreeIsClear walks along every line of every free layout of random walls: no point is in an obstacle or its clearance.
func TestFreeIsClear(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 9))
	free := 0
	for range 400 {
		panel, obstacles := randomWall(rng)
		for _, c := range Candidates([]Panel{panel}, obstacles, 0.05) {
			if !c.Free() {
				continue
			}
			free++
			for _, l := range c.Lines {
				for k := range 101 {
					s := float64(k) / 100
					u, v := l.From.U+s*(l.To.U-l.From.U), l.From.V+s*(l.To.V-l.From.V)
					for _, o := range obstacles {
						if u > o.U0-0.049 && u < o.U1+0.049 && v > o.V0-0.049 && v < o.V1+0.049 {
							t.Fatalf("%s at %v: (%.3f, %.3f) is in %v", c.Pattern, c.Place, u, v, o.Rect)
						}
					}
				}
			}
		}
	}
	if free < 1000 {
		t.Errorf("only %d free layouts: the test shows little", free)
	}
}

// TestEndsAreHeld: whatever the layout, each end of each part is on a column, on the floor, at the eaves, or on a strut or
// beam of the same layout: nothing ends in mid-air.
func TestEndsAreHeld(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 9))
	for range 200 {
		panel, obstacles := randomWall(rng)
		for _, c := range Candidates([]Panel{panel}, obstacles, 0.05) {
			parts := Parts(c.Pattern, panel, c.Place)
			var levels []float64
			for _, p := range parts {
				if p.Kind == Strut || p.Kind == Beam {
					levels = append(levels, p.From.V)
				}
			}
			for _, p := range parts {
				for _, pt := range []Point{p.From, p.To} {
					onColumn := pt.U == panel.U0 || pt.U == panel.U1
					onLine := pt.V == 0 || pt.V == panel.V1 || slices.Contains(levels, pt.V)
					tied := pt.V == 0 || pt.V == panel.V1 || slices.Contains(levels, pt.V) || p.Kind == Knee
					if !onColumn && !onLine || !tied {
						t.Fatalf("%s at %+v: %s ends in mid-air at %v", c.Pattern, c.Place, p.Name, pt)
					}
				}
			}
		}
	}
}
