package shed

import (
	"fmt"
	"slices"
	"strings"

	"leanbay/model/actions"
	"leanbay/model/bracing"
)

// Finding is something that a geometric reading of the design shows, before any analysis.
type Finding struct {
	// Missing says that a link of the load path along the building is not there: the design cannot comply.
	Missing bool
	Where   string // "north wall", "roof"
	Text    string // in words that an engineer would send to the fabricator
}

// wallNames are the long walls, south first.
var wallNames = [2]string{"south", "north"}

// readLoadPath follows the wind on the gables and every frame's lean along the building to the ground: gable, roof plane,
// struts, wall bracing, feet. What is missing is a finding, in the order in which an engineer would raise it.
func (s *Shed) readLoadPath(d *Design) []Finding {
	var out []Finding
	braced := [2]bool{len(d.Walls[0]) > 0, len(d.Walls[1]) > 0}
	switch {
	case !braced[0] && !braced[1]:
		out = append(out, Finding{true, "both long walls", "the shed can sway along the building: neither long wall has a brace or a rigid frame, so nothing carries wind on the gables, or the lean of the frames, to the ground"})
	case !braced[0] || !braced[1]:
		w := 0
		if braced[0] {
			w = 1
		}
		text := fmt.Sprintf("the %s wall has no longitudinal line: no brace and no rigid frame in its plane; its share of the force along the building goes round through the roof to the %s wall, and the shed twists under it", wallNames[w], wallNames[1-w])
		out = append(out, Finding{false, wallNames[w] + " wall", text + s.whatIsFree(w)})
	}
	out = append(out, s.readRoof(d)...)
	return append(out, s.readFloors()...)
}

// whatIsFree says which panels of a wall could take a brace.
func (s *Shed) whatIsFree(side int) string {
	var free, blocked []string
	for _, c := range s.Candidates(side) {
		if c.Free() {
			free = append(free, fmt.Sprintf("%s in bay %d", c.Pattern, c.Panel.Bay))
		} else if c.Pattern == bracing.CrossedRods {
			blocked = append(blocked, c.Reason())
		}
	}
	switch {
	case len(free) > 0:
		return "; free of openings: " + strings.Join(free, ", ")
	case len(blocked) > 0:
		return "; no full panel is free: " + strings.Join(blocked, "; ")
	}
	return ""
}

// readRoof looks for roof bracing and the struts that make it a truss.
func (s *Shed) readRoof(d *Design) []Finding {
	var out []Finding
	hasGables := !s.OpenGable[0] || !s.OpenGable[1]
	if len(d.Roof) == 0 && hasGables {
		out = append(out, Finding{true, "roof", "no roof bracing: the heads of the gable columns have no path to the eaves"})
	}
	if !d.Struts.Eaves && s.bays() > 1 {
		out = append(out, Finding{true, "eaves", "no struts at the eaves: frames away from the braced bay are not tied to it"})
	}
	if len(d.Roof) == 0 {
		return out
	}
	if !d.Struts.Ridge && s.Shape == actions.Gable {
		out = append(out, Finding{true, "roof", fmt.Sprintf("the roof bracing has no strut at the ridge (bays %s): crossed rods pull but cannot push, so the truss lacks its post there", bayList(d.Roof))})
	}
	return append(out, s.readMullions(d)...)
}

// readMullions looks for a strut from the head of every mullion to the roof bracing that serves its gable.
func (s *Shed) readMullions(d *Design) []Finding {
	var out []Finding
	lines := s.strutLines(d)
	for gable, name := range []string{"west", "east"} {
		f := gable * (len(s.Frames) - 1)
		var loose []string
		for _, y := range s.Mullions[gable] {
			held := slices.ContainsFunc(lines, func(l strutLine) bool { return near(l.y, y) && f >= l.from && f <= l.to })
			if !held {
				loose = append(loose, fmt.Sprintf("%.2f", y))
			}
		}
		if len(loose) > 0 {
			out = append(out, Finding{true, name + " gable", fmt.Sprintf("the mullion heads at Y %s have no strut to the roof bracing: their wind pushes on the end rafter, which must carry it sideways", strings.Join(loose, ", "))})
		}
	}
	return out
}

// bayList numbers bays as drawings do.
func bayList(bays []int) string {
	var out []string
	for _, b := range bays {
		out = append(out, fmt.Sprint(b+1))
	}
	return strings.Join(out, ", ")
}

// readFloors asks of every floor what keeps it from swaying.
func (s *Shed) readFloors() []Finding {
	var out []Finding
	for i := range s.Mezzanines {
		m := &s.Mezzanines[i]
		if !m.Diaphragm && !near(m.Y0, 0) && !near(m.Y1, s.Span) {
			out = append(out, Finding{false, m.Name, m.Name + " stands on pinned posts and no frame column holds it: it needs bracing of its own, fixed feet, or a floor that the brief calls a diaphragm"})
		} else if !m.Diaphragm {
			out = append(out, Finding{false, m.Name, m.Name + " is not called a diaphragm: its posts lean along the building unless their feet are fixed or braced"})
		}
	}
	return out
}
