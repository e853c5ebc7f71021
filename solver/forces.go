package solver

// Forces are the internal forces of a member at a station, in the order N, Vy, Vz, T, My, Mz (N and N·m, local axes).
// They are what the part beyond the station exerts on the part before it: N is positive in tension, and a positive Mz
// puts the -y side in tension. So dMz/dx = -Vy, dMy/dx = +Vz, EIz·v″ = Mz and EIy·w″ = -My.
type Forces [6]float64

// Add returns f + s·g.
func (f Forces) Add(s float64, g Forces) Forces {
	for i := range f {
		f[i] += s * g[i]
	}
	return f
}

// Moment is what a bound says of Mz at station X (m) of a member: between two stations its curve lies within the Off of either of
// the straight line through them (N·m).
type Moment struct{ X, Mz, Off float64 }
