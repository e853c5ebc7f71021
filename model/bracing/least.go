package bracing

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// Ground is every line that bracing of a plane could take, with the pieces that are there anyway.
type Ground struct {
	Points []Point
	Held   [][2]bool // which points are held along u and v
	Lines  []GroundLine
}

// GroundLine joins two points. A free line is a piece that is there anyway (column, rafter, strut): it carries what it must,
// and its volume is not counted.
type GroundLine struct {
	I, J int
	Free bool
}

// length is a line's length (m).
func (g *Ground) length(l GroundLine) float64 {
	p, q := g.Points[l.I], g.Points[l.J]
	return math.Hypot(q.U-p.U, q.V-p.V)
}

// ErrNoPath is wrapped where no set of the lines can carry the forces.
var ErrNoPath = errors.New("no set of the admissible lines carries the forces")

// LeastVolume is the least of Σ length·|axial force| over all ways to carry the forces (N, by point along u and v) to the
// held points by the lines (N·m; divided by a stress it is the least volume of braces), and one axial force for each line
// that attains it (tension positive). It is the least volume of a layout under one load case with equal stress in tension
// and compression (W. S. Dorn, R. E. Gomory, H. J. Greenberg, Automatic design of optimal structures, J. de Mécanique 3,
// 1964), a linear programme in the tensions and compressions of the lines, solved by the simplex method. What it returns is
// certified by the programme's dual: displacements that stretch no line beyond its length do the same work on the forces.
func (g *Ground) LeastVolume(forces [][2]float64) (volume float64, axial []float64, err error) {
	a, b, c, columns := g.programme(forces)
	if len(b) == 0 {
		return 0, make([]float64, len(g.Lines)), nil
	}
	if a == nil {
		return 0, nil, fmt.Errorf("least brace volume: %w", ErrNoPath)
	}
	x, bound, err := simplex(c, a, b)
	switch {
	case errors.Is(err, lp.ErrInfeasible), errors.Is(err, lp.ErrSingular): // singular: some points no line holds at all
		return 0, nil, fmt.Errorf("least brace volume: %w", ErrNoPath)
	case err != nil:
		return 0, nil, fmt.Errorf("least brace volume: %w", err)
	}
	axial = make([]float64, len(g.Lines))
	size := scaleOf(forces)
	for k, col := range columns {
		axial[col/2] += x[k] * size * float64(1-2*(col%2))
	}
	for i, l := range g.Lines {
		if !l.Free {
			volume += g.length(l) * math.Abs(axial[i])
		}
	}
	if gap := math.Abs(volume - bound*size); gap > certified*(volume+size) {
		return 0, nil, fmt.Errorf("least brace volume: %.6g N·m is not certified by its dual, %.6g N·m", volume, bound*size)
	}
	return volume, axial, nil
}

// certified is the greatest gap between a least volume and its dual, as a share of it (and of the force times 1 m).
const certified = 1e-4

// simplex solves the programme. One force on many points makes it degenerate, at which pivoting can break down; so every
// right-hand side is moved by a few parts in a million, differently each time until it goes through.
// bound is the value of a feasible dual: what no solution can be below.
func simplex(c []float64, a *mat.Dense, b []float64) (x []float64, bound float64, err error) {
	for try := range 6 {
		moved := make([]float64, len(b))
		for i, v := range b {
			moved[i] = v + nudge*float64(1+(i*7919+try*104729)%1009)/1009 // primes spread the shifts
		}
		if _, x, err = lp.Simplex(c, a, moved, 1e-10, nil); err == nil {
			if bound, err = dual(c, a, b, x); err == nil {
				return x, bound, nil
			}
		}
	}
	return nil, 0, err
}

// dual is the value of the dual at the prices y of a basic solution, B'y = c over the columns B that x uses, scaled down by
// as much as they break the dual's constraints a'y ≤ c: a lower bound of the programme, whatever x is.
func dual(c []float64, a *mat.Dense, b, x []float64) (float64, error) {
	rows, cols := a.Dims()
	var basis []int
	for j, v := range x {
		if v > 0 {
			basis = append(basis, j)
		}
	}
	if len(basis) != rows {
		return 0, fmt.Errorf("%d of %d columns carry: not a basic solution", len(basis), rows)
	}
	bt, cb := mat.NewDense(rows, rows, nil), mat.NewVecDense(rows, nil)
	for k, j := range basis {
		for r := range rows {
			bt.Set(k, r, a.At(r, j))
		}
		cb.SetVec(k, c[j])
	}
	var y mat.VecDense
	if err := y.SolveVec(bt, cb); err != nil {
		return 0, err
	}
	over := 1.0
	for j := range cols {
		over = math.Max(over, mat.Dot(a.ColView(j), &y)/c[j])
	}
	return mat.Dot(mat.NewVecDense(rows, b), &y) / over, nil
}

// nudge is the greatest shift of a right-hand side, as a share of the greatest force: the volume is exact to about as much.
const nudge = 1e-6

// freeCost is the cost of a free line beside that of a counted one: small enough not to matter, and not zero, so that free
// lines do not go round in circles.
const freeCost = 1e-6

// scaleOf is the greatest force, by which the programme is scaled.
func scaleOf(forces [][2]float64) float64 {
	s := 0.0
	for _, f := range forces {
		s = math.Max(s, math.Max(math.Abs(f[0]), math.Abs(f[1])))
	}
	return s
}

// programme is the linear programme min c·x, a·x = b, x ≥ 0: two columns a line (tension, compression), one row for each
// direction in which a point is not held and some line or force acts. columns gives each column's line times two, plus one for compression.
// a is nil where a force acts in a direction that no line reaches.
func (g *Ground) programme(forces [][2]float64) (a *mat.Dense, b, c []float64, columns []int) {
	size := scaleOf(forces)
	if size == 0 {
		return nil, nil, nil, nil
	}
	row := make([][2]int, len(g.Points))
	reached := make([][2]bool, len(g.Points))
	for _, l := range g.Lines {
		d := g.direction(l)
		for _, n := range []int{l.I, l.J} {
			for k := range 2 {
				reached[n][k] = reached[n][k] || math.Abs(d[k]) > 1e-9
			}
		}
	}
	rows, lost := 0, false
	for n := range g.Points {
		for k := range 2 {
			row[n][k] = -1
			switch {
			case g.Held[n][k]:
			case reached[n][k]:
				row[n][k] = rows
				rows++
				b = append(b, forces[n][k]/size)
			case forces[n][k] != 0:
				lost = true
			}
		}
	}
	if lost {
		return nil, []float64{1}, nil, nil
	}
	var entries [][]float64
	for i, l := range g.Lines {
		d := g.direction(l)
		col := make([]float64, rows)
		any := false
		for k := range 2 {
			// A pull on a point acts towards the other end; equilibrium: Σ pulls + force = 0.
			if r := row[l.I][k]; r >= 0 && d[k] != 0 {
				col[r], any = -d[k], true
			}
			if r := row[l.J][k]; r >= 0 && d[k] != 0 {
				col[r], any = d[k], true
			}
		}
		if !any {
			continue
		}
		cost := g.length(l)
		if l.Free {
			cost *= freeCost
		}
		for sense := range 2 {
			s := float64(1 - 2*sense)
			signed := make([]float64, rows)
			for r := range col {
				signed[r] = s * col[r]
			}
			entries, c, columns = append(entries, signed), append(c, cost), append(columns, 2*i+sense)
		}
	}
	if len(entries) < rows {
		return nil, b, nil, nil
	}
	a = mat.NewDense(rows, len(entries), nil)
	for j, col := range entries {
		a.SetCol(j, col)
	}
	return a, b, c, columns
}

// direction is the unit vector from I to J.
func (g *Ground) direction(l GroundLine) [2]float64 {
	p, q := g.Points[l.I], g.Points[l.J]
	length := g.length(l)
	return [2]float64{(q.U - p.U) / length, (q.V - p.V) / length}
}
