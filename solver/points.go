package solver

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// PointTable is plain point forces of many cases at the same few places of members, as purlins and girts bring them: what depends on
// a place is then found once. It is immutable and may be shared.
type PointTable struct {
	places  []PointPlace
	force   []float64 // N, global: row 3·place + axis, by column
	columns int
	bad     bool     // has a force that is not a number
	spans   [][2]int // by row: the first column with a force, and the one after the last
}

// PointPlace is a station (m) of a member.
type PointPlace struct {
	Member int
	At     float64
}

// Push is a force at a place of a structure's table: Force (N) times the case's Along.
type Push struct {
	Place int
	Force float64
}

// NewPointTable makes the table of forces (N, global) in rows of columns: 3·place + axis. It keeps both lists, and panics if they do
// not go together.
func NewPointTable(places []PointPlace, columns int, force []float64) *PointTable {
	if len(force) != 3*len(places)*columns {
		panic(fmt.Sprintf("solver: %d forces in a table of %d places and %d columns", len(force), len(places), columns))
	}
	t := &PointTable{places: places, force: force, columns: columns, spans: make([][2]int, 3*len(places))}
	for i, f := range force {
		t.bad = t.bad || math.IsNaN(f) || math.IsInf(f, 0)
		if f == 0 {
			continue
		}
		if at := &t.spans[i/columns]; at[1] == 0 {
			*at = [2]int{i % columns, i%columns + 1}
		} else {
			at[1] = i%columns + 1
		}
	}
	return t
}

// Places lists the places in the order of the rows. It is only read.
func (t *PointTable) Places() []PointPlace { return t.places }

// Row is the forces (N) at place k along a global axis, by column. It is only read.
func (t *PointTable) Row(k, axis int) []float64 {
	from := (3*k + axis) * t.columns
	return t.force[from : from+t.columns : from+t.columns]
}

// Span is the columns of such a row that may have a force: from one to before another, both 0 where there is none.
func (t *PointTable) Span(k, axis int) (from, to int) {
	s := &t.spans[3*k+axis]
	return s[0], s[1]
}

// Columns is how many cases the table has forces for.
func (t *PointTable) Columns() int { return t.columns }

// Sound tells whether all forces are numbers.
func (t *PointTable) Sound() bool { return !t.bad }

// PointsOf appends as point loads what acts in case c at places of the structure's table: its column in the table's order, then its
// pushes.
func (s *Structure) PointsOf(c int, to []PointLoad) []PointLoad {
	lc := &s.Cases[c]
	if column := lc.Column - 1; column >= 0 {
		for k, p := range s.Table.places {
			l := PointLoad{Member: s.Tabled(p.Member), At: p.At}
			l.F.X, l.F.Y, l.F.Z = s.Table.Row(k, 0)[column], s.Table.Row(k, 1)[column], s.Table.Row(k, 2)[column]
			if l.Member >= 0 && l.F != (r3.Vec{}) {
				to = append(to, l)
			}
		}
	}
	for _, q := range lc.Pushes {
		p := s.Table.places[q.Place]
		if m := s.Tabled(p.Member); m >= 0 {
			to = append(to, PointLoad{Member: m, At: p.At, F: r3.Scale(q.Force, lc.Along)})
		}
	}
	return to
}

// Tabled is the member of s that stands for the table's; -1 for one that s does not have.
func (s *Structure) Tabled(member int) int {
	if s.TableIndex == nil {
		return member
	}
	return s.TableIndex[member]
}
