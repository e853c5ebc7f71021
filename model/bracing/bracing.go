// Package bracing finds, from geometry alone, the lines that a brace can take in a wall or roof plane.
//
// In: the panels of a plane (one per bay) and the obstacles in it, as rectangles in the plane's own (u, v) metres. Out:
// candidates, each free or blocked with the reason. It knows no sections, no loads and no brief.
package bracing

import (
	"fmt"
	"strings"
)

// Pattern is the way a panel is braced, in the trade's words.
type Pattern string

// The patterns of a full panel. A rising diagonal climbs with u, a falling one descends.
const (
	None         Pattern = "none"
	CrossedRods  Pattern = "crossed rods"
	RisingStrut  Pattern = "diagonal strut, rising"
	FallingStrut Pattern = "diagonal strut, falling"
)

// FullPanel lists the patterns that fill a whole panel, lightest habit first.
var FullPanel = []Pattern{CrossedRods, RisingStrut, FallingStrut}

// Rods reports whether the pattern's lines act in tension only.
func (p Pattern) Rods() bool { return p == CrossedRods }

// Point is a place in a plane (m).
type Point struct{ U, V float64 }

// Line is one brace line between two corners of a panel.
type Line struct{ From, To Point }

// Rect is a rectangle in a plane (m), U0 < U1 and V0 < V1.
type Rect struct{ U0, U1, V0, V1 float64 }

// Obstacle is something that no brace may cross.
type Obstacle struct {
	Rect
	Name string // "the window at X 6.2-8.6"
}

// Panel is one bay of a plane, with its number as drawings give it.
type Panel struct {
	Rect
	Bay int
}

// Candidate is a pattern in a panel and what stands in its way.
type Candidate struct {
	Panel   Panel
	Pattern Pattern
	Lines   []Line
	Blocks  []Block
}

// Block is one obstacle on one line of a candidate.
type Block struct {
	Line     int
	Obstacle Obstacle
}

// Free reports whether nothing stands in the way.
func (c *Candidate) Free() bool { return len(c.Blocks) == 0 }

// Reason says in words why the candidate is possible or not.
func (c *Candidate) Reason() string {
	if c.Free() {
		return fmt.Sprintf("bay %d: %s fits clear of every opening", c.Panel.Bay, c.Pattern)
	}
	var names []string
	for _, b := range c.Blocks {
		if !contains(names, b.Obstacle.Name) {
			names = append(names, b.Obstacle.Name)
		}
	}
	verb := "blocks"
	if len(names) > 1 {
		verb = "block"
	}
	what := string(c.Pattern)
	if c.Pattern == CrossedRods && len(c.blockedLines()) == 1 {
		what = "one diagonal of " + what
	}
	return fmt.Sprintf("bay %d: %s %s %s", c.Panel.Bay, strings.Join(names, " and "), verb, what)
}

// blockedLines lists the indices of the lines that something stands on.
func (c *Candidate) blockedLines() []int {
	var out []int
	for _, b := range c.Blocks {
		if len(out) == 0 || out[len(out)-1] != b.Line {
			out = append(out, b.Line)
		}
	}
	return out
}

// Lines returns the brace lines of pattern p in r.
func Lines(p Pattern, r Rect) []Line {
	rising := Line{Point{r.U0, r.V0}, Point{r.U1, r.V1}}
	falling := Line{Point{r.U0, r.V1}, Point{r.U1, r.V0}}
	switch p {
	case CrossedRods:
		return []Line{rising, falling}
	case RisingStrut:
		return []Line{rising}
	case FallingStrut:
		return []Line{falling}
	}
	return nil
}

// Candidates returns, panel by panel and in the order of FullPanel, every pattern with what blocks it. Obstacles are
// grown by clearance (m) on all sides first.
func Candidates(panels []Panel, obstacles []Obstacle, clearance float64) []Candidate {
	var out []Candidate
	for _, panel := range panels {
		for _, p := range FullPanel {
			c := Candidate{Panel: panel, Pattern: p, Lines: Lines(p, panel.Rect)}
			for i, line := range c.Lines {
				for _, o := range obstacles {
					if line.Crosses(o.Rect.grow(clearance)) {
						c.Blocks = append(c.Blocks, Block{Line: i, Obstacle: o})
					}
				}
			}
			out = append(out, c)
		}
	}
	return out
}

func (r Rect) grow(c float64) Rect { return Rect{r.U0 - c, r.U1 + c, r.V0 - c, r.V1 + c} }

// Crosses reports whether the line passes through the inside of r; touching an edge or corner is not crossing. It clips
// the line against the four half planes (Liang and Barsky, ACM Trans. Graphics 3, 1984).
func (l Line) Crosses(r Rect) bool {
	du, dv := l.To.U-l.From.U, l.To.V-l.From.V
	t0, t1 := 0.0, 1.0
	clip := func(p, q float64) bool { // keeps the part where t·p < q
		switch {
		case p == 0:
			return q > 0
		case p < 0:
			t0 = max(t0, q/p)
		default:
			t1 = min(t1, q/p)
		}
		return t0 < t1
	}
	return clip(-du, l.From.U-r.U0) && clip(du, r.U1-l.From.U) && clip(-dv, l.From.V-r.V0) && clip(dv, r.V1-l.From.V)
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
