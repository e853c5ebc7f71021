package drawings

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leanbay/model/shed"
	"leanbay/solver"
)

// ChangeKind says what became of a member.
type ChangeKind string

// The kinds of change.
const (
	Added   ChangeKind = "added"
	Removed ChangeKind = "removed"
	Changed ChangeKind = "changed"
)

// Change is one line of what a design changes against another: a group's members, or a setting.
type Change struct {
	Kind     ChangeKind
	What     string // group, or the setting's name
	From, To string // section and grade, or the setting's values; empty where there is none
	Members  []string
}

// String says the change in words.
func (c Change) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s", c.Kind, c.What)
	switch {
	case c.From != "" && c.To != "":
		fmt.Fprintf(&b, ", %s becomes %s", c.From, c.To)
	case c.From+c.To != "":
		fmt.Fprintf(&b, ", %s", c.From+c.To)
	}
	if len(c.Members) > 0 {
		fmt.Fprintf(&b, " (%d: %s)", len(c.Members), strings.Join(c.Members, ", "))
	}
	return b.String()
}

// ChangeList compares two designs of one shed, members by their places: what changed section or grade, what was added, what
// was removed, then spacings, the wind that secondaries are sized for, and fly braces. A member that moved is removed and added.
func ChangeList(old, new *shed.Model) []Change {
	before, after := places(old), places(new)
	var out []Change
	note := func(c Change, id string) {
		for i := range out {
			o := &out[i]
			if o.Kind == c.Kind && o.What == c.What && o.From == c.From && o.To == c.To {
				o.Members = append(o.Members, id)
				return
			}
		}
		c.Members = []string{id}
		out = append(out, c)
	}
	for _, p := range after.order {
		if k, ok := before.at[p]; ok {
			was, is := &old.Structure.Members[k], &new.Structure.Members[after.at[p]]
			from, to := steelOf(was), steelOf(is)
			if was.Group != is.Group {
				from, to = was.Group+" "+from, is.Group+" "+to
			}
			if from != to {
				note(Change{Kind: Changed, What: is.Group, From: from, To: to}, is.ID)
			}
		}
	}
	for _, p := range after.order {
		if _, ok := before.at[p]; !ok {
			m := &new.Structure.Members[after.at[p]]
			note(Change{Kind: Added, What: m.Group, To: steelOf(m)}, m.ID)
		}
	}
	for _, p := range before.order {
		if _, ok := after.at[p]; !ok {
			m := &old.Structure.Members[before.at[p]]
			note(Change{Kind: Removed, What: m.Group, From: steelOf(m)}, m.ID)
		}
	}
	return append(out, settings(old.Design, new.Design)...)
}

// settings compares what is no member.
func settings(old, new *shed.Design) []Change {
	var out []Change
	for _, c := range []struct {
		what, from, to string
	}{
		{"purlin spacing", metres(old.PurlinSpacing), metres(new.PurlinSpacing)}, {"girt spacing", metres(old.GirtSpacing), metres(new.GirtSpacing)},
		{"secondaries sized", shed.SecondaryWindText(old.SecondaryWind), shed.SecondaryWindText(new.SecondaryWind)},
		{"fly braces", flyText(old.FlyBraces), flyText(new.FlyBraces)},
	} {
		if c.from != c.to {
			out = append(out, Change{Kind: Changed, What: c.what, From: c.from, To: c.to})
		}
	}
	return out
}

func metres(v float64) string { return fmt.Sprintf("%.2f m", v) }

// flyText says how often fly braces come.
func flyText(n int) string {
	switch n {
	case 0:
		return "none"
	case 1:
		return "every purlin"
	}
	return fmt.Sprintf("every %d purlins", n)
}

// placeIndex finds members by where they are, in the model's order.
type placeIndex struct {
	order []string
	at    map[string]int
}

// places indexes the pieces of steel of a model by role and the nodes of their ends, either way round, to the millimetre.
func places(m *shed.Model) placeIndex {
	st := &m.Structure
	out := placeIndex{at: map[string]int{}}
	for i := range st.Members {
		mem := &st.Members[i]
		if standIn(mem) {
			continue
		}
		key := placeOf(st, i)
		out.order, out.at[key] = append(out.order, key), i
	}
	return out
}

// placeOf is the place of a member in words.
func placeOf(st *solver.Structure, i int) string {
	mem := &st.Members[i]
	name := func(n int) string {
		p := st.Nodes[n].Pos
		// Adding 0 turns a negative zero into zero.
		return fmt.Sprintf("%.3f,%.3f,%.3f", p.X+0, p.Y+0, p.Z+0)
	}
	ends := []string{name(st.Elements[mem.Elements[0]].I), name(st.Elements[mem.Elements[len(mem.Elements)-1]].J)}
	slices.Sort(ends)
	return string(mem.Role) + " " + ends[0] + " " + ends[1]
}

// Changes draws what a design changes against another of the same shed, in the roof plan, both long walls and both gables:
// added, removed, and of other section, told apart by line and sign; all else is grey. The list stands below.
func Changes(old, new *shed.Model) SVG {
	s := new.Shed
	last := s.Frames[len(s.Frames)-1]
	scale := scaleFor(math.Max(last, 2*s.Span+2), usualWidth-2*sideRoom)
	d := newDrawing(s, "what changes", 2*edge+2*sideRoom+scale*math.Max(last, 2*s.Span)+between)
	list := ChangeList(old, new)
	items := changedItems(old, new, list)
	d.scale = scale
	y := d.roofPlan(s, headHeight, items, 0)
	for side := range 2 {
		y = d.longWall(s, side, y, items, feetOf(new))
	}
	west := d.gable(s, 0, edge+sideRoom, y, items, feetOf(new))
	east := d.gable(s, 1, edge+2*sideRoom+scale*s.Span+between, y, items, feetOf(new))
	d.bottom = math.Max(west, east)
	for i, c := range list {
		d.table = append(d.table, c.mark(i)+"  "+c.String())
	}
	if len(d.table) == 0 {
		d.table = []string{"Nothing changes: both designs have the same members of the same steel."}
	}
	return d.finish()
}

// signs mark the kinds of change on drawings.
var signs = map[ChangeKind]string{Added: "+", Removed: "-", Changed: "~"}

// mark is the sign and number of the i-th change of a list.
func (c Change) mark(i int) string { return fmt.Sprintf("%s%d", signs[c.Kind], i+1) }

// changedItems are the members of both designs with their change as class and mark; what changes is drawn last, on top.
func changedItems(old, new *shed.Model, list []Change) []item {
	marks, kinds := map[string]string{}, map[string]ChangeKind{} // by id; those of removed members are the old design's
	gone := map[string]string{}
	for i, c := range list {
		for _, id := range c.Members {
			if c.Kind == Removed {
				gone[id] = c.mark(i)
			} else {
				marks[id], kinds[id] = c.mark(i), c.Kind
			}
		}
	}
	var same, out []item
	for _, it := range itemsOf(new, newSchedule(new)) {
		it.mark, it.count, it.class = marks[it.id], false, string(kinds[it.id])
		if it.class == "" {
			it.class = "same"
			same = append(same, it)
			continue
		}
		it.tip = it.class + ": " + it.tip
		out = append(out, it)
	}
	for _, it := range itemsOf(old, newSchedule(old)) {
		if mark, ok := gone[it.id]; ok {
			it.mark, it.count, it.class, it.tip = mark, false, string(Removed), string(Removed)+": "+it.tip
			out = append(out, it)
		}
	}
	return append(same, out...)
}
