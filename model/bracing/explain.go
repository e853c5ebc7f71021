package bracing

import (
	"fmt"
	"slices"
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

// sentence explains one bay: the whole panel, what fits above or below what is in the way, two tiers, and bending.
func sentence(list []Candidate) string {
	var parts []string
	var whole []string
	for i := range list {
		c := &list[i]
		switch {
		case c.Pattern == CrossedRods && c.Place == (Place{}) && !c.Free():
			parts = append(parts, fullPanel(c))
		case c.Free() && c.Place == (Place{}) && c.Pattern.Kind() != Portals:
			whole = append(whole, short(c.Pattern))
		case c.Free() && c.Pattern == TwoTierRods:
			whole = append(whole, fmt.Sprintf("two tiers (strut at %.2f m)", c.Mid))
		}
	}
	switch {
	case len(whole) > 0 && len(parts) > 0:
		parts = append(parts, "over its whole height free for "+listed(whole))
	case len(whole) > 0:
		parts = append(parts, "the whole panel is free for "+listed(whole))
	}
	parts = append(parts, shortened(list)...)
	for i := range list {
		if c := &list[i]; c.Pattern == TwoTierRods && !c.Free() {
			parts = append(parts, "no two tiers clear "+c.names())
		}
	}
	return strings.Join(append(parts, bending(list)...), "; ")
}

// short names a pattern within a list.
func short(p Pattern) string {
	switch p {
	case RisingStrut:
		return "a rising diagonal"
	case FallingStrut:
		return "a falling diagonal"
	case VStruts, InvertedV:
		return map[Pattern]string{VStruts: "a V", InvertedV: "an inverted V"}[p]
	}
	return string(p)
}

// listed joins words for a sentence.
func listed(words []string) string {
	if len(words) == 1 {
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// shortened says, place by place, what panels above or below an obstacle are free for, and why they are not.
func shortened(list []Candidate) []string {
	var places []Place
	for i := range list {
		if c := &list[i]; (c.From > 0 || c.To > 0) && !slices.Contains(places, c.Place) {
			places = append(places, c.Place)
		}
	}
	var out []string
	for _, at := range places {
		var free []string
		var unfit string
		gable := false
		for i := range list {
			c := &list[i]
			switch {
			case c.Place != at:
			case c.Free():
				free = append(free, short(c.Pattern))
			case c.Unfit != "" && len(c.Blocks) == 0 && c.Pattern == CrossedRods:
				unfit = c.Unfit
			}
			gable = c.Panel.Gable
		}
		where := "above"
		if at.To > 0 {
			where = "below"
		}
		text := fmt.Sprintf("%s, %s,", where, at.In(gable))
		switch {
		case len(free) > 0 && unfit != "":
			out = append(out, fmt.Sprintf("%s a panel is free for %s, and too flat for rods (%s)", text, listed(free), degrees(unfit)))
		case len(free) > 0:
			out = append(out, text+" a panel is free for "+listed(free))
		case unfit != "":
			out = append(out, text+" a panel would be "+unfit)
		}
	}
	return out
}

// degrees is the angle at the end of a reason why a panel does not fit.
func degrees(unfit string) string { return unfit[strings.LastIndex(unfit, " ")+1:] }

// bending says which ways to carry the force by bending fit.
func bending(list []Candidate) []string {
	var fits, none []string
	for i := range list {
		c := &list[i]
		if !c.Free() {
			switch c.Pattern {
			case KneeBraces:
				none = append(none, "knees")
			case PortalFrame:
				none = append(none, "a portal's own columns")
			}
			continue
		}
		switch c.Pattern {
		case KneeBraces:
			fits = append(fits, fmt.Sprintf("knees of %.2f m", c.Reach))
		case PortalBay:
			fits = append(fits, "a portal on the frames' columns")
		case PortalFrame:
			fits = append(fits, fmt.Sprintf("a portal on columns of its own (%.2f m from the frame lines)", c.Reach))
		case DoorPortal:
			fits = append(fits, fmt.Sprintf("a portal round the door with its beam at %.2f m", c.Mid))
		}
	}
	var out []string
	if len(fits) > 0 {
		out = append(out, "by bending: "+listed(fits))
	}
	if len(none) > 0 {
		out = append(out, "no room for "+strings.Join(none, " or "))
	}
	return out
}

// fullPanel says what is in the way of the crossed diagonals of the whole panel.
func fullPanel(c *Candidate) string {
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
	return listed(c.blockers())
}
