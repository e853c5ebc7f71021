package bracing

import (
	"fmt"
	"strings"
)

// Explain says bay by bay, in one sentence each, what a wall's candidates come to: what blocks the full panel, and what is
// free instead. name is the wall's ("north").
func Explain(name string, list []Candidate) []string {
	var out []string
	for i := 0; i < len(list); {
		j := i
		for j < len(list) && list[j].Panel.Bay == list[i].Panel.Bay {
			j++
		}
		out = append(out, fmt.Sprintf("%s bay %d: %s", name, list[i].Panel.Bay, sentence(list[i:j])))
		i = j
	}
	return out
}

// sentence explains one bay.
func sentence(list []Candidate) string {
	var parts []string
	for i := range list {
		c := &list[i]
		if c.Pattern == CrossedRods && c.Place == (Place{}) {
			parts = append(parts, fullPanel(c))
		}
	}
	var free, blocked []string
	for i := range list {
		c := &list[i]
		switch {
		case c.Free() && c.Place != (Place{}):
			free = append(free, string(c.Pattern)+" "+c.Place.String())
		case c.Free() && c.Pattern != CrossedRods:
			free = append(free, string(c.Pattern))
		case !c.Free() && c.Place == (Place{}) && c.Pattern != CrossedRods && !isDiagonal(c.Pattern):
			blocked = append(blocked, string(c.Pattern)+" is blocked by "+c.names())
		case !c.Free() && c.Mid > 0 && c.Pattern == TwoTierRods:
			blocked = append(blocked, "no two tiers of crossed rods clear "+c.names())
		}
	}
	if len(free) > 0 {
		parts = append(parts, "free: "+strings.Join(free, ", "))
	}
	return strings.Join(append(parts, blocked...), "; ")
}

func isDiagonal(p Pattern) bool { return p == RisingStrut || p == FallingStrut }

// fullPanel says what becomes of the crossed diagonals of the whole panel.
func fullPanel(c *Candidate) string {
	if c.Free() {
		return "crossed rods over the whole panel are free"
	}
	if len(c.Blocks) == 0 {
		return "diagonals of the whole panel would be " + c.Unfit
	}
	verb := "blocks"
	if c.several() {
		verb = "block"
	}
	which := "both diagonals"
	if lines := c.blockedLines(); len(lines) == 1 {
		which = "the " + []string{"rising", "falling"}[lines[0]] + " diagonal"
	}
	return fmt.Sprintf("%s %s %s of the whole panel", c.names(), verb, which)
}

// blockers are the names of what blocks the candidate, once each.
func (c *Candidate) blockers() []string {
	var out []string
	for _, b := range c.Blocks {
		if !contains(out, b.Obstacle.Name) {
			out = append(out, b.Obstacle.Name)
		}
	}
	return out
}

func (c *Candidate) several() bool { return len(c.blockers()) > 1 }

// names joins the blockers, or says why the candidate is no brace.
func (c *Candidate) names() string {
	if len(c.Blocks) == 0 {
		return "its slope (" + c.Unfit + ")"
	}
	return strings.Join(c.blockers(), " and ")
}
