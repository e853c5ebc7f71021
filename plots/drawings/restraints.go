package drawings

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"leanbay/model/shed"
	"leanbay/solver"
)

// flangeNames are the words for the flange that a restraint holds: a member's top flange is the outer one.
var flangeNames = map[solver.Flange]string{solver.TopFlange: "outer", solver.BottomFlange: "inner", solver.BothFlanges: "both"}

// restraintRow is one drawn member and those that are held alike.
type restraintRow struct {
	member  *solver.Member
	members []string
	held    []solver.Restraint // by station
}

// restraintRows collects columns and rafters of one role, steel, length and restraints.
func restraintRows(m *shed.Model) []restraintRow {
	var out []restraintRow
	var keys []string
	for i := range m.Structure.Members {
		mem := &m.Structure.Members[i]
		if mem.Role != solver.RoleColumn && mem.Role != solver.RoleRafter {
			continue
		}
		held := slices.Clone(mem.Restraints)
		slices.SortStableFunc(held, func(a, b solver.Restraint) int {
			switch {
			case a.Station < b.Station-1e-6:
				return -1
			case a.Station > b.Station+1e-6:
				return 1
			}
			return 0
		})
		key := fmt.Sprintf("%s %s %.3f", mem.Role, steelOf(mem), mem.Length)
		for _, r := range held {
			key += fmt.Sprintf(";%.3f %d %c %s", r.Station, r.Flange, r.Kind, plainSource(r.Source))
		}
		if k := slices.Index(keys, key); k >= 0 {
			out[k].members = append(out[k].members, mem.ID)
			continue
		}
		keys, out = append(keys, key), append(out, restraintRow{mem, []string{mem.ID}, held})
	}
	return out
}

// plainSource is a source without the name of the member's own node, so that members held alike compare equal: only what
// stands before the anchor for purlins, and for nodes their kind.
func plainSource(s string) string {
	if word, _, ok := strings.Cut(s, ", anchored"); ok {
		if name, _, ok := strings.Cut(word, " "); ok && !strings.HasPrefix(word, "purlin") {
			return name
		}
		return word
	}
	return s
}

// Restraints draws the restraint map: every column and rafter stretched out, its outer flange above and its inner flange
// below, with a tick where a flange is held. What holds it is numbered and listed under the member.
func Restraints(m *shed.Model) SVG {
	rows := restraintRows(m)
	longest := 1.0
	for _, r := range rows {
		longest = math.Max(longest, r.member.Length)
	}
	d := newDrawing(m.Shed, "restraint map of columns and rafters", usualWidth)
	d.scale = math.Min(120, (d.width-2*edge-120)/longest)
	y := headHeight + 10
	for i := range rows {
		y = d.restraintRow(&rows[i], y)
	}
	d.reach(y)
	d.notes = append(d.notes,
		"Classes of restraint after AS 4100 5.4.2: F full, P partial, L lateral. Stations in m from the foot of a column and from the eaves of a rafter. A purlin counts only where its line runs to an anchored node of the bracing. Where several members are held alike, the nodes named are those of the first.",
		"A flange without a tick is not held there; a stretch between ticks is free to buckle sideways over its whole length.")
	return d.finish()
}

// restraintRow draws one member below y and returns where its room ends.
func (d *drawing) restraintRow(r *restraintRow, y float64) float64 {
	const gap = 26.0 // between the flanges
	x0 := edge + 60
	title := fmt.Sprintf("%s, %.2f m: %s", steelOf(r.member), r.member.Length, strings.Join(r.members, ", "))
	for _, l := range breakText(title, 12, d.width-2*edge) {
		y += 18
		d.text(edge, y, label{size: 12, anchor: "start", bold: true}, l)
	}
	top := y + 46
	x1 := x0 + d.scale*r.member.Length
	d.line("flange", x0, top, x1, top, r.member.ID, "outer flange")
	d.line("flange", x0, top+gap, x1, top+gap, r.member.ID, "inner flange")
	d.text(x0-8, top, label{size: 9.5, anchor: "end"}, "outer")
	d.text(x0-8, top+gap, label{size: 9.5, anchor: "end"}, "inner")
	var texts []string
	lastX, level := math.Inf(-1), 0
	for i, h := range r.held {
		x := x0 + d.scale*h.Station
		d.heldTick(h, x, top, gap)
		level = (level + 1) % 2
		if x-lastX > 26 {
			level = 0
		}
		lastX = x
		d.text(x, top-16-11*float64(level), label{size: 9.5, halo: true}, fmt.Sprintf("%d%c", i+1, h.Kind))
		texts = append(texts, fmt.Sprintf("%d: %.2f, %s, %s (%c)", i+1, h.Station, h.Source, flangeWord(h.Flange), h.Kind))
	}
	y = top + gap + 20
	if len(texts) == 0 {
		texts = []string{"nothing holds this member along its length"}
	}
	for _, l := range breakText(strings.Join(texts, "; ")+".", 9.5, d.width-2*edge) {
		d.text(edge, y, label{size: 9.5, anchor: "start"}, l)
		y += 13
	}
	return y + 12
}

// flangeWord says which flange is held.
func flangeWord(f solver.Flange) string {
	if f == solver.BothFlanges {
		return "both flanges"
	}
	return flangeNames[f] + " flange"
}

// heldTick draws a tick on the flanges that a restraint holds.
func (d *drawing) heldTick(h solver.Restraint, x, top, gap float64) {
	tip := fmt.Sprintf("%.2f m, %s, %c: %s", h.Station, flangeWord(h.Flange), h.Kind, h.Source)
	if h.Flange != solver.BottomFlange {
		d.line("held", x, top-8, x, top+6, "", tip)
	}
	if h.Flange != solver.TopFlange {
		d.line("held", x, top+gap-6, x, top+gap+8, "", tip)
	}
}

// RestraintsCSV writes every restraint of columns and rafters, one a line; a member that nothing holds has a line that
// says so. The caution stands in the first line, as a comment.
func RestraintsCSV(w io.Writer, m *shed.Model) error {
	if _, err := fmt.Fprintf(w, "# %s\n", solver.Caution); err != nil {
		return err
	}
	c := csv.NewWriter(w)
	rows := [][]string{{"member", "group", "section", "grade", "length_m", "station_m", "flange", "class", "held_by"}}
	for i := range m.Structure.Members {
		mem := &m.Structure.Members[i]
		if mem.Role != solver.RoleColumn && mem.Role != solver.RoleRafter {
			continue
		}
		name := ""
		if mem.Section != nil {
			name = mem.Section.Name
		}
		head := []string{mem.ID, mem.Group, name, mem.Grade.Name, fmt.Sprintf("%.3f", mem.Length)}
		if len(mem.Restraints) == 0 {
			rows = append(rows, append(slices.Clone(head), "", "none", "U", "nothing"))
		}
		for _, r := range mem.Restraints {
			rows = append(rows, append(slices.Clone(head), fmt.Sprintf("%.3f", r.Station), flangeNames[r.Flange], string(rune(r.Kind)), r.Source))
		}
	}
	return c.WriteAll(rows)
}
