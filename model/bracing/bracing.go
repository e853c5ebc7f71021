// Package bracing finds, from geometry alone, the layouts that bracing can take in the plane of a wall or gable, and what
// each is made of.
//
// In: the panels of a plane (one per bay) and the obstacles in it, as rectangles in the plane's own (u, v) metres. Out:
// candidates, each free or blocked with the reason, and the parts of a layout as lines between named kinds of ends. It
// knows no sections, no loads and no brief.
package bracing

import (
	"fmt"
	"strings"
)

// Pattern is the way a panel is braced, in the trade's words.
type Pattern string

// The patterns. A rising diagonal climbs with u, a falling one descends. Two tiers meet at a strut between the columns;
// two-tier diagonals point west where they meet the column of the lower u, east where they meet the other. A V meets at the
// middle of the floor or of a strut, an inverted V at the middle of the eaves.
const (
	None           Pattern = "none"
	CrossedRods    Pattern = "crossed rods"
	RisingStrut    Pattern = "diagonal strut, rising"
	FallingStrut   Pattern = "diagonal strut, falling"
	TwoTierRods    Pattern = "two tiers of crossed rods"
	TwoTierWest    Pattern = "two-tier diagonals, pointing west"
	TwoTierEast    Pattern = "two-tier diagonals, pointing east"
	VStruts        Pattern = "V"
	InvertedV      Pattern = "inverted V"
	KneeBraces     Pattern = "knee braces"
	PortalBay      Pattern = "portalised bay, frame columns"  // a beam joined rigidly to the frames' own columns, about their minor axis
	PortalFrame    Pattern = "portalised bay, own columns"    // a beam on two columns of its own, about their major axis
	DoorPortal     Pattern = "portal round a door"            // two columns of its own up to the eaves, joined by a beam over the door's head
	SingleDiagonal Pattern = "single diagonals, to the ridge" // roof only: mirrored about the middle of the span
	ZigZag         Pattern = "zig-zag"                        // roof only: single diagonals, alternating
)

// Kind is the type of bracing that a pattern belongs to; a brief that wants one type on both walls means these.
type Kind string

// The kinds.
const (
	Rods      Kind = "rods"
	Diagonals Kind = "diagonals"
	Knees     Kind = "knees"
	Portals   Kind = "portals"
)

// Kind returns the pattern's type of bracing; none for None.
func (p Pattern) Kind() Kind {
	switch p {
	case CrossedRods, TwoTierRods:
		return Rods
	case KneeBraces:
		return Knees
	case PortalBay, PortalFrame, DoorPortal:
		return Portals
	case None, "":
		return ""
	}
	return Diagonals
}

// FullPanel lists the patterns that fill a whole panel, lightest habit first.
var FullPanel = []Pattern{CrossedRods, RisingStrut, FallingStrut}

// Rods reports whether the pattern's lines act in tension only.
func (p Pattern) Rods() bool { return p.Kind() == Rods }

// Place is where in its panel a layout sits (m). The zero value is the whole panel, from the floor to the eaves.
type Place struct {
	From  float64 // lower end above the floor; above 0 a strut ties the columns there and they bend below it
	To    float64 // upper end above the floor; 0 is the eaves; else a strut ties the columns there and they bend above it
	Mid   float64 // two tiers: height of the strut between them; portal round a door: height of its beam
	Reach float64 // knee braces: leg along beam and column; own columns of a portal: distance from the frame lines
}

// Bends says whether the frames' columns carry force along the wall by bending about their minor axis.
func (p Place) Bends(pattern Pattern) bool {
	return p.From > 0 || p.To > 0 || pattern == KneeBraces || pattern == PortalBay
}

// String gives the place in words for tables; nothing for a whole panel.
func (p Place) String() string { return p.In(false) }

// In is String for a place in a long wall, or in a gable, whose panels end at the rafter.
func (p Place) In(gable bool) string {
	top := "eaves"
	if gable {
		top = "rafter"
	}
	var out []string
	switch {
	case p.From > 0 && p.To > 0:
		out = append(out, fmt.Sprintf("from %.2f to %.2f m", p.From, p.To))
	case p.From > 0:
		out = append(out, fmt.Sprintf("from %.2f m to the %s", p.From, top))
	case p.To > 0:
		out = append(out, fmt.Sprintf("up to %.2f m", p.To))
	}
	switch {
	case p.Mid > 0 && p.Reach > 0:
		out = append(out, fmt.Sprintf("beam at %.2f m", p.Mid))
	case p.Mid > 0:
		out = append(out, fmt.Sprintf("strut at %.2f m", p.Mid))
	}
	if p.Reach > 0 {
		out = append(out, fmt.Sprintf("reach %.2f m", p.Reach))
	}
	return strings.Join(out, ", ")
}

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

// Panel is one bay of a plane, with its number as drawings give it. V1 is the height of its top at U0.
type Panel struct {
	Rect
	Bay int
	// Rise is how far the top at its middle, and at U1, lies above V1 (m): zero under level eaves.
	Rise [2]float64
	// Gable says that the plane is that of an end frame, rigid by itself: knees and portals are no question there.
	Gable bool
}

// far is the height of the top at U1, middle that half-way.
func (p Panel) far() float64    { return p.V1 + p.Rise[1] }
func (p Panel) middle() float64 { return p.V1 + p.Rise[0] }

// level is the panel up to the lower end of its top.
func (p Panel) level() Rect {
	r := p.Rect
	r.V1 = min(p.V1, p.far())
	return r
}

// Candidate is a pattern at a place in a panel and what stands in its way.
type Candidate struct {
	Panel   Panel
	Pattern Pattern
	Place
	Lines  []Line // of all its parts
	Blocks []Block
	Unfit  string // why it is no brace though nothing blocks it: "too flat, 14°"
}

// Block is one obstacle on one line of a candidate.
type Block struct {
	Line     int
	Obstacle Obstacle
}

// Free reports whether nothing stands in the way.
func (c *Candidate) Free() bool { return len(c.Blocks) == 0 && c.Unfit == "" }

// Reason says in words why the candidate is possible or not.
func (c *Candidate) Reason() string {
	title := string(c.Pattern)
	if where := c.Place.In(c.Panel.Gable); where != "" {
		title += ", " + where
	}
	switch {
	case c.Free():
		return fmt.Sprintf("bay %d: %s: clear of every opening", c.Panel.Bay, title)
	case len(c.Blocks) == 0:
		return fmt.Sprintf("bay %d: %s would be %s", c.Panel.Bay, title, c.Unfit)
	}
	verb := "blocks"
	if c.several() {
		verb = "block"
	}
	what := title
	if c.Pattern == CrossedRods && len(c.blockedLines()) == 1 {
		what = "one diagonal of " + what
	}
	return fmt.Sprintf("bay %d: %s %s %s", c.Panel.Bay, c.names(), verb, what)
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
