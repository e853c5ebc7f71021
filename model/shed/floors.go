package shed

// BeamsOf are the members of one mezzanine's beams, by its place in Shed.Mezzanines.
func (m *Model) BeamsOf(floor int) []int {
	var out []int
	for _, b := range m.Beams {
		if b.mezzanine == floor {
			out = append(out, b.member)
		}
	}
	return out
}
