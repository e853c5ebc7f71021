package brief

// Length of the building: X of the last frame line, m.
func (b *Building) Length() Length {
	if len(b.FrameLines) == 0 {
		return 0
	}
	return b.FrameLines[len(b.FrameLines)-1]
}

// Bays is the number of bays.
func (b *Building) Bays() int { return max(len(b.FrameLines)-1, 0) }

// Bay returns the stretch of X of bay n, numbered from 1; n must be in 1..Bays().
func (b *Building) Bay(n int) Range { return Range{b.FrameLines[n-1], b.FrameLines[n]} }

// EavesAt returns the height of the eaves over the given long wall, m.
func (b *Building) EavesAt(w Wall) Length {
	if b.Roof == MonoPitch && b.HighSide == w {
		return b.Eaves + b.Rise
	}
	return b.Eaves
}

// RidgeY returns the Y of the roof's highest line, m.
func (b *Building) RidgeY() Length {
	switch {
	case b.Roof == Gable:
		return b.Span / 2
	case b.HighSide == North:
		return b.Span
	}
	return 0
}

// RidgeZ returns the height of the roof's highest line, m.
func (b *Building) RidgeZ() Length { return b.Eaves + b.Rise }

// RoofZ returns the height of the rafters' centre-line at y, m.
func (b *Building) RoofZ(y Length) Length {
	south, north := b.EavesAt(South), b.EavesAt(North)
	if b.Roof == MonoPitch {
		return south + (north-south)*y/b.Span
	}
	half := b.Span / 2
	if y > half {
		y = b.Span - y
	}
	return b.Eaves + b.Rise*y/half
}

// Open says whether wall w has no cladding.
func (b *Building) Open(w Wall) bool {
	for _, o := range b.OpenSides {
		if o == w {
			return true
		}
	}
	return false
}

// LineAt returns the number, from 1, of the frame line at x within a millimetre, or 0.
func (b *Building) LineAt(x Length) int {
	for i, l := range b.FrameLines {
		if d := l - x; d < snap && d > -snap {
			return i + 1
		}
	}
	return 0
}

// snap is how far a position may be off a line and still be on it: 1 mm, under any fabrication tolerance.
const snap Length = 0.001
