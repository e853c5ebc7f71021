package shed

// list gathers what is asked of a layout again and again.
func (b *builder) list() {
	for f := range b.Rafters {
		b.Spans = append(b.Spans, b.Shed.rafterSpans(b.Design, f))
		if f > 0 && f < len(b.Rafters)-1 {
			b.Inner = append(append(b.Inner, b.Columns[f][:]...), b.Rafters[f]...)
		}
	}
	for _, line := range b.Beams {
		b.beams = append(b.beams, line.member)
		if line.primary {
			b.joists = append(b.joists, JoistBeam{line.member, b.Shed.Mezzanines[line.mezzanine].JoistSpacing})
		}
	}
}

// listMeetings gathers which columns and props meet which rafters.
func (b *builder) listMeetings() {
	for f := range b.Rafters {
		for side, r := range b.Rafters[f] {
			b.Knees = append(b.Knees, [2]int{b.Columns[f][side], r})
			if len(b.Rafters[f]) == 1 {
				b.Knees = append(b.Knees, [2]int{b.Columns[f][1], r})
			}
		}
	}
	for _, p := range b.Props {
		if r := b.RafterAt(b.FarNode(p)); r >= 0 {
			b.Heads = append(b.Heads, [2]int{p, r})
		}
	}
}

// rafterSpans are the developed lengths of rafter between columns and props of frame f, from A to B.
func (s *Shed) rafterSpans(d *Design, f int) []float64 {
	ys := []float64{0}
	for _, line := range d.Props {
		for _, pf := range line.Frames {
			if pf == f {
				ys = append(ys, line.Y)
			}
		}
	}
	ys = append(ys, s.Span)
	var out []float64
	for i := 0; i+1 < len(ys); i++ {
		out = append(out, s.Developed(ys[i], ys[i+1]))
	}
	return out
}

// FarNode is the node at the far end of a member.
func (m *Model) FarNode(member int) int {
	es := m.Structure.Members[member].Elements
	return m.Structure.Elements[es[len(es)-1]].J
}

// RafterAt is the rafter on which a node lies, or -1.
func (m *Model) RafterAt(node int) int {
	for _, rs := range m.Rafters {
		for _, r := range rs {
			for _, e := range m.Structure.Members[r].Elements {
				if el := &m.Structure.Elements[e]; el.I == node || el.J == node {
					return r
				}
			}
		}
	}
	return -1
}

// BeamMembers are the members of the mezzanines' beams, one floor after the other. The list is the model's: it is only read.
func (m *Model) BeamMembers() []int { return m.beams }

// BeamsOf are the members of one mezzanine's beams, by its place in Shed.Mezzanines, likewise.
func (m *Model) BeamsOf(floor int) []int {
	from := 0
	for from < len(m.Beams) && m.Beams[from].mezzanine < floor {
		from++
	}
	to := from
	for to < len(m.Beams) && m.Beams[to].mezzanine == floor {
		to++
	}
	return m.beams[from:to]
}
