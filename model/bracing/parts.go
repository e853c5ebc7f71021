package bracing

// PartKind is what a part of a layout is.
type PartKind int

// A part is a rod or diagonal, a strut between the columns, a knee, the beam of a portal, or a column of its own.
const (
	Diagonal PartKind = iota
	Strut
	Knee
	Beam
	Leg
)

// Part is one piece of a layout, with its end of the lower u (or v) first. Points at the panel's edges are on the columns,
// those at v = 0 between them need a base of their own, those at the panel's top lie on the eaves strut or beam, and those
// between on a strut of the layout.
type Part struct {
	Kind PartKind
	Line
	Name string // what a drawing calls it within its panel: "rising", "lower falling", "strut at 2.60"
}

// Parts returns what pattern p consists of at a place in a panel, whose top is the eaves, or in a gable the end rafter. An
// eaves strut is not among them: it runs through the shed; the beams of knee-braced and portalised bays take its place.
func Parts(p Pattern, panel Panel, at Place) []Part {
	box := at.box(panel)
	out := append(diagonals(p, box, at), at.ties(panel.Rect)...)
	left, right := box.U0, box.U1
	switch p {
	case TwoTierRods, TwoTierWest, TwoTierEast:
		out = append(out, strut(left, right, at.Mid))
	case KneeBraces:
		out = append(out,
			Part{Knee, Line{Point{left, box.V1 - at.Reach}, Point{left + at.Reach, box.V1}}, "west"},
			Part{Knee, Line{Point{right - at.Reach, box.V1}, Point{right, box.V1 - at.Reach}}, "east"},
			beam(box.Rect))
	case PortalBay:
		out = append(out, beam(box.Rect))
	case PortalFrame:
		out = append(out,
			Part{Leg, Line{Point{left + at.Reach, 0}, Point{left + at.Reach, box.V1}}, "west"},
			Part{Leg, Line{Point{right - at.Reach, 0}, Point{right - at.Reach, box.V1}}, "east"},
			beam(box.Rect))
	case DoorPortal:
		out = append(out,
			Part{Leg, Line{Point{left + at.Reach, 0}, Point{left + at.Reach, box.V1}}, "west"},
			Part{Leg, Line{Point{right - at.Reach, 0}, Point{right - at.Reach, box.V1}}, "east"},
			Part{Beam, Line{Point{left + at.Reach, at.Mid}, Point{right - at.Reach, at.Mid}}, "beam"})
	}
	return out
}

// box is the part of the panel that the place takes.
func (p Place) box(r Panel) Panel {
	r.V0 += p.From
	if p.To > 0 {
		r.V1, r.Rise = p.To, [2]float64{}
	}
	return r
}

// ties are the struts that hold the columns where a shortened panel ends.
func (p Place) ties(r Rect) []Part {
	var out []Part
	if p.From > 0 {
		out = append(out, strut(r.U0, r.U1, p.From))
	}
	if p.To > 0 {
		out = append(out, strut(r.U0, r.U1, p.To))
	}
	return out
}

func strut(u0, u1, v float64) Part {
	return Part{Strut, Line{Point{u0, v}, Point{u1, v}}, "strut"}
}

func beam(r Rect) Part {
	return Part{Beam, Line{Point{r.U0, r.V1}, Point{r.U1, r.V1}}, "beam"}
}

// diagonals are the inclined lines of a pattern in its box.
func diagonals(p Pattern, r Panel, at Place) []Part {
	part := func(name string, u0, v0, u1, v1 float64) Part {
		return Part{Diagonal, Line{Point{u0, v0}, Point{u1, v1}}, name}
	}
	mid, top := (r.U0+r.U1)/2, r.far()
	west, east := "west", "east"
	if r.Gable {
		west, east = "south", "north"
	}
	switch p {
	case CrossedRods:
		return []Part{part("rising", r.U0, r.V0, r.U1, top), part("falling", r.U0, r.V1, r.U1, r.V0)}
	case RisingStrut:
		return []Part{part("rising", r.U0, r.V0, r.U1, top)}
	case FallingStrut:
		return []Part{part("falling", r.U0, r.V1, r.U1, r.V0)}
	case TwoTierRods:
		return []Part{
			part("lower rising", r.U0, r.V0, r.U1, at.Mid), part("lower falling", r.U0, at.Mid, r.U1, r.V0),
			part("upper rising", r.U0, at.Mid, r.U1, top), part("upper falling", r.U0, r.V1, r.U1, at.Mid),
		}
	case TwoTierEast:
		return []Part{part("lower rising", r.U0, r.V0, r.U1, at.Mid), part("upper falling", r.U0, r.V1, r.U1, at.Mid)}
	case TwoTierWest:
		return []Part{part("lower falling", r.U0, at.Mid, r.U1, r.V0), part("upper rising", r.U0, at.Mid, r.U1, top)}
	case VStruts:
		return []Part{part(west, r.U0, r.V1, mid, r.V0), part(east, mid, r.V0, r.U1, top)}
	case InvertedV:
		return []Part{part(west, r.U0, r.V0, mid, r.middle()), part(east, mid, r.middle(), r.U1, r.V0)}
	}
	return nil
}
