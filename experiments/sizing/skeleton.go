package sizing

import "leanbay/solver/sparse"

// skeleton is what the forecasts of a truss share: its unknowns, and how stiffness is put together.
type skeleton struct {
	problem *problem
	group   []int        // by member
	length  []float64    // by member
	up      []float64    // by member: stretch at its limit in tension
	down    []float64    // and in compression
	axis    [][3]float64 // by member: unit vector from its first end to its second
	unknown []int32      // 3*node + direction → unknown, -1 if held
	n       int
	sym     *sparse.Symbolic
	slots   [][21]int32 // by member: places of the lower triangle of its stiffness, -1 where held
}

func newSkeleton(p *problem) *skeleton {
	t := p.truss
	s := &skeleton{problem: p, group: t.groupOf()}
	joined := make([]bool, len(t.Nodes)) // a node that no bar meets is no unknown
	for _, ends := range t.Members {
		joined[ends[0]], joined[ends[1]] = true, true
	}
	for n, held := range t.Held {
		for d := range 3 {
			if held[d] || !joined[n] {
				s.unknown = append(s.unknown, -1)
				continue
			}
			s.unknown = append(s.unknown, int32(s.n))
			s.n++
		}
	}
	var cliques [][]int32
	for m, ends := range t.Members {
		l := t.length(m)
		var axis [3]float64
		for d := range 3 {
			axis[d] = (t.Nodes[ends[1]][d] - t.Nodes[ends[0]][d]) / l
		}
		s.length, s.axis = append(s.length, l), append(s.axis, axis)
		s.up, s.down = append(s.up, t.Tension*l/t.E), append(s.down, t.Compression*l/t.E)
		f := s.freedoms(m)
		cliques = append(cliques, f[:])
	}
	pattern := sparse.NewPatternFromCliques(s.n, cliques)
	s.sym = sparse.Analyze(pattern)
	for m := range t.Members {
		f := s.freedoms(m)
		var slot [21]int32
		for k, i := 0, 0; i < 6; i++ {
			for j := 0; j <= i; j++ {
				slot[k] = -1
				if f[i] >= 0 && f[j] >= 0 {
					slot[k] = int32(pattern.Index(int(f[i]), int(f[j])))
				}
				k++
			}
		}
		s.slots = append(s.slots, slot)
	}
	return s
}

// freedoms returns the unknowns at the two ends of a member.
func (s *skeleton) freedoms(m int) (f [6]int32) {
	ends := s.problem.truss.Members[m]
	for d := range 3 {
		f[d], f[3+d] = s.unknown[3*ends[0]+d], s.unknown[3*ends[1]+d]
	}
	return f
}

// stretch returns the lengthening of member m under column k of solutions u, row-major with n columns.
func (s *skeleton) stretch(m int, u []float64, k, n int) float64 {
	f, sum := s.freedoms(m), 0.0
	for d := range 3 {
		if f[3+d] >= 0 {
			sum += float64(s.axis[m][d] * u[int(f[3+d])*n+k])
		}
		if f[d] >= 0 {
			sum -= float64(s.axis[m][d] * u[int(f[d])*n+k])
		}
	}
	return sum
}

// pull adds a pair of forces that pulls the ends of member m apart to column k of loads, row-major with n columns.
func (s *skeleton) pull(m int, force float64, loads []float64, k, n int) {
	f := s.freedoms(m)
	for d := range 3 {
		if f[3+d] >= 0 {
			loads[int(f[3+d])*n+k] += float64(s.axis[m][d] * force)
		}
		if f[d] >= 0 {
			loads[int(f[d])*n+k] -= float64(s.axis[m][d] * force)
		}
	}
}

// factor factorises the stiffness for areas by group.
func (s *skeleton) factor(areas []float64) (*sparse.Factor, error) {
	val := make([]float64, s.sym.Pattern().NNZ())
	for m, slot := range s.slots {
		ea := s.problem.truss.E * areas[s.group[m]] / s.length[m]
		for k, i := 0, 0; i < 6; i++ {
			for j := 0; j <= i; j++ {
				if slot[k] >= 0 {
					v := float64(ea * s.axis[m][i%3] * s.axis[m][j%3])
					if (i < 3) != (j < 3) {
						v = -v
					}
					val[slot[k]] += v
				}
				k++
			}
		}
	}
	f := sparse.NewFactor(s.sym)
	return f, f.Refactor(val)
}
