package brief

import "fmt"

// wallName gives the wall in words.
func wallName(w Wall) string {
	if w.Long() {
		return string(w) + " wall"
	}
	return string(w) + " gable"
}

// axis is the letter of positions along w.
func axis(w Wall) string {
	if w.Long() {
		return "X"
	}
	return "Y"
}

// Title gives the opening in words: its own name, or "roller door at X 10.80 m in the south wall".
func (o Opening) Title() string {
	if o.Name != "" {
		return o.Name
	}
	return fmt.Sprintf("%s at %s %s in the %s", o.Kind, axis(o.Wall), metres(o.At), wallName(o.Wall))
}

// openings checks each opening and each pair.
func (v *validator) openings() {
	for i := range v.b.Openings {
		path := fmt.Sprintf("openings[%d]", i)
		if !v.good(path) || !v.heights(path, &v.b.Openings[i]) {
			continue
		}
		o := v.b.Openings[i]
		if v.plan {
			v.inWall(path, o)
		}
		for j := range i {
			other := fmt.Sprintf("openings[%d]", j)
			p := v.b.Openings[j]
			if v.good(other) && o.Wall == p.Wall && o.Extent().Overlaps(p.Extent()) && o.Sill < p.Head && p.Sill < o.Head {
				v.fault(path, "%s overlaps %s%s; move or narrow one of them", o.Title(), p.Title(), v.line(other))
			}
		}
	}
}

// heights completes sill, height and head, and says whether they make an opening.
func (v *validator) heights(path string, o *Opening) bool {
	stated := func(key string) bool { return v.b.Stated(path + "." + key) }
	ok := true
	fault := func(at, format string, args ...any) {
		v.bad.add(path)
		v.fault(path+at, format, args...)
		ok = false
	}
	switch {
	case stated("height") && stated("head"):
		fault(".head", "%s has both height and head%s; keep one", o.Title(), v.line(path+".height"))
	case !stated("height") && !stated("head"):
		fault("", "%s has neither height nor head; give one, in m", o.Title())
	case stated("height"):
		o.Head = o.Sill + o.Height
	default:
		o.Height = o.Head - o.Sill
	}
	if ok && o.Height <= 0 {
		fault(".head", "head %s is not above the sill, %s%s; raise the head or lower the sill", metres(o.Head), metres(o.Sill), v.line(path+".sill"))
	}
	if o.Door() && o.Sill > 0 {
		fault(".sill", "a %s stands on the floor; take the sill out, or make it a window", o.Kind)
	}
	if !o.Door() && !stated("sill") {
		fault("", "%s has no sill; give the height of its lower edge above the floor, in m", o.Title())
	}
	if !o.Door() && o.LockPull > 0 {
		fault(".lock_pull", "a window has no wind locks; take lock_pull out")
	}
	return ok
}

// inWall checks the opening against its wall: its ends, its top, its columns and mullions.
func (v *validator) inWall(path string, o Opening) {
	b := &v.b.Building
	length := b.Length()
	if !o.Wall.Long() {
		length = b.Span
	}
	end := o.At + o.Width
	if end > length+snap {
		v.fault(path+".at", "%s ends at %s %s, beyond the %s, %s long; move it back or narrow it", o.Title(), axis(o.Wall), metres(end), wallName(o.Wall), metres(length))
		return
	}
	if b.Open(o.Wall) {
		v.fault(path+".wall", "the %s is open%s and has no room for an opening; take one of them out", wallName(o.Wall), v.line("building.open_sides"))
	}
	if v.shape {
		v.underRoof(path, o)
	}
	v.betweenColumns(path, o)
}

// underRoof checks the head against eaves or roof slope.
func (v *validator) underRoof(path string, o Opening) {
	b := &v.b.Building
	headPath := path + ".head"
	if !v.b.Stated(headPath) {
		headPath = path + ".height"
	}
	what := "door"
	if !o.Door() {
		what = "window"
	}
	if o.Wall.Long() {
		if eaves := b.EavesAt(o.Wall); eaves < o.Head {
			v.fault("building.eaves", "eaves %s is below the %s head, %s%s; raise the eaves or lower the %s", metres(eaves), what, metres(o.Head), v.line(headPath), what)
		}
		return
	}
	y := o.At
	if b.RoofZ(o.At+o.Width) < b.RoofZ(y) {
		y = o.At + o.Width
	}
	if roof := b.RoofZ(y); roof < o.Head {
		v.fault(headPath, "the %s head, %s, is above the roof at Y %s, %s; lower the %s or move it towards the ridge", what, metres(o.Head), metres(y), metres(roof), what)
	}
}

// betweenColumns checks that no column or mullion stands in the opening.
func (v *validator) betweenColumns(path string, o Opening) {
	if o.Wall.Long() {
		for i, x := range v.b.Building.FrameLines {
			if within := o.Extent(); within[0] < x-snap && x+snap < within[1] {
				v.fault(path+".at", "%s runs over frame line %d at X %s, where a column stands; move it into one bay", o.Title(), i+1, metres(x))
			}
		}
		return
	}
	mullions, key := v.b.Proposal.Mullions.West, "west"
	if o.Wall == East {
		mullions, key = v.b.Proposal.Mullions.East, "east"
	}
	for i, y := range mullions {
		place := fmt.Sprintf("proposal.mullions.%s[%d]", key, i)
		if v.good(place) && o.At < y && y < o.At+o.Width {
			v.fault(place, "the mullion at Y %s stands in %s%s; move it beside the opening", metres(y), o.Title(), v.line(path))
		}
	}
}
