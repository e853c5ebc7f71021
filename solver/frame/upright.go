package frame

import (
	"fmt"
	"math"
)

// judgeNulls decides whether motions that meet no resistance from what acts are stopped in both directions by slack
// elements that they would stretch. It notes them in r, or reports the mechanism and returns false.
func (w *Workspace) judgeNulls(r *Result, s *activeSet) bool {
	if s.nulls == 0 {
		return true
	}
	p := len(s.set)
	z := s.tmp[:s.nulls]
	driven := s.drive(z)
	stopped := s.stopped(s.rhs[:s.nulls])
	if !driven && stopped {
		w.noteTouching(r, s)
		return true
	}
	if !driven {
		copy(z, s.rhs[:s.nulls])
	}
	u := make([]float64, w.m.n)
	y := make([]float64, s.m)
	for c := range s.nulls {
		for a, q := range s.set {
			y[q] += z[c] * s.root[q] * s.null[c*p+a]
		}
	}
	s.move(u, y, w.m.n)
	var names []int
	for _, q := range s.set {
		names = append(names, int(w.m.oneWay[q]))
	}
	for i, e := range w.m.oneWay {
		r.Slack[e] = s.slack[i]
	}
	r.Stable = false
	r.Mechanisms = append(r.Mechanisms, w.describe(u, names))
	if driven {
		r.Notes = append(r.Notes, "the load pushes the structure along a motion that no acting element resists")
	} else {
		r.Notes = append(r.Notes, "a motion is not stopped in both directions by elements that it would stretch")
	}
	return false
}

// drive tells whether the load works on the null motions, and puts that direction in z.
func (s *activeSet) drive(z []float64) bool {
	p := len(s.set)
	most := 0.0
	for c := range s.nulls {
		z[c] = 0
		for a, r := range s.set {
			z[c] += s.null[c*p+a] * s.root[r] * s.e0[r]
		}
		most = max(most, math.Abs(z[c]))
	}
	return most > nullWork*s.size
}

// stopped tells whether every combination of null motions, in either direction, stretches some slack element. If not, z is
// a direction that stretches none. By Stiemke's theorem it is so if and only if positive multiples of the rows of lean sum
// to nothing; the nearest sum is found by coordinate descent.
func (s *activeSet) stopped(z []float64) bool {
	p, d := len(s.set), s.nulls
	clear(z)
	y := s.yn[:p]
	for a := range p {
		row := s.lean[a*d : a*d+d]
		n := 0.0
		for _, v := range row {
			n += v * v
		}
		if n = math.Sqrt(n); n > 1e-9/s.root[s.set[a]] {
			for c := range row {
				row[c] /= n
				z[c] -= row[c]
			}
			y[a] = 1
		} else {
			clear(row)
			y[a] = 0
		}
	}
	start := math.Sqrt(dot(z, z))
	for range 4000 {
		worst := 0.0
		for a := range p {
			row := s.lean[a*d : a*d+d]
			if y[a] == 0 {
				continue
			}
			step := max(dot(row, z), 1-y[a])
			y[a] += step
			for c := range row {
				z[c] -= step * row[c]
			}
			worst = max(worst, math.Abs(step))
		}
		if worst < 1e-12 {
			break
		}
	}
	return math.Sqrt(dot(z, z)) <= 1e-6*max(1, start)
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i, v := range a {
		s += v * b[i]
	}
	return s
}

// noteTouching marks the slack elements that would stop a lean, and says so.
func (w *Workspace) noteTouching(r *Result, s *activeSet) {
	names := 0
	for a, q := range s.set {
		moved := false
		for c := range s.nulls {
			moved = moved || s.lean[a*s.nulls+c] != 0
		}
		if moved {
			r.Touching[w.m.oneWay[q]] = true
			names++
		}
	}
	r.Notes = append(r.Notes, w.uprightText(s.nulls, names, len(s.set) == s.m))
}

// uprightText is written once for each set of numbers.
func (w *Workspace) uprightText(nulls, names int, all bool) string {
	key := [3]int{nulls, names, 0}
	lead := ""
	if all {
		key[2], lead = 1, "all rods slack under this load; "
	}
	text, ok := w.upright[key]
	if !ok {
		text = fmt.Sprintf("%s%d independent %s of the structure %s held only by slack elements that act as soon as it leans "+
			"(%d of them stand ready, in both directions); the load does not push it there, and it is shown upright",
			lead, nulls, motions(nulls), isAre(nulls), names)
		if w.upright == nil {
			w.upright = map[[3]int]string{}
		}
		w.upright[key] = text
	}
	return text
}

func motions(n int) string {
	if n == 1 {
		return "motion"
	}
	return "motions"
}

func isAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}
