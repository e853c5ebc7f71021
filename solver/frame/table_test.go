package frame

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// tabled returns a shed with point forces in the cases' lists, and one with the same in a table: of more places than are loaded, some
// twice, by numbers of another structure whose first member this one does not have. Case 2 keeps its own forces beside those of the
// table, and the last column is nobody's.
func tabled() (listed, tabled *solver.Structure) {
	listed, tabled = shed(4), shed(4)
	rng := rand.New(rand.NewPCG(71, 72))
	cases := len(listed.Cases)
	columns := cases + 1
	var places []solver.PointPlace
	var force []float64
	for m := range 12 { // columns and rafters of the first three frames
		for k := range 5 {
			places = append(places, solver.PointPlace{Member: m + 1, At: 0.4 + float64(k%4)}) // the fifth is where the first is
		}
	}
	places = append(places, solver.PointPlace{Member: 0, At: 1})
	force = make([]float64, 3*len(places)*columns)
	tabled.TableIndex = make([]int, len(tabled.Members)+1)
	for m := range tabled.TableIndex {
		tabled.TableIndex[m] = m - 1
	}
	listed.Cases[1].Point = nil
	for _, c := range []int{0, 1, 2, cases} {
		var points []solver.PointLoad
		for k, p := range places {
			if k%7 == 3 || c == 1 && k%2 == 0 {
				continue
			}
			f := [3]float64{300 * rng.NormFloat64(), 300 * rng.NormFloat64(), -2000 * rng.Float64()}
			for axis, v := range f {
				force[(3*k+axis)*columns+c] = v
			}
			if p.Member > 0 {
				points = append(points, solver.PointLoad{Member: p.Member - 1, At: p.At, F: r3.Vec{X: f[0], Y: f[1], Z: f[2]}})
			}
		}
		if c < cases {
			listed.Cases[c].Point = append(points, listed.Cases[c].Point...)
			tabled.Cases[c].Column = c + 1
		}
	}
	tabled.Cases[1].Point = nil
	push := &tabled.Cases[3]
	push.Along = r3.Vec{X: 0.6, Y: 0.8}
	for k := len(places) - 1; k >= 0; k -= 2 {
		q := solver.Push{Place: k, Force: 100 * rng.NormFloat64()}
		push.Pushes = append(push.Pushes, q)
		if m := places[k].Member - 1; m >= 0 {
			listed.Cases[3].Point = append(listed.Cases[3].Point, solver.PointLoad{Member: m, At: places[k].At, F: r3.Scale(q.Force, push.Along)})
		}
	}
	tabled.Table = solver.NewPointTable(places, columns, force)
	return listed, tabled
}

// TestTableOfPoints: forces in a table do what the same in lists do, bit for bit, quickly and carefully.
func TestTableOfPoints(t *testing.T) {
	listed, tabled := tabled()
	m, err := Compile(listed)
	if err != nil {
		t.Fatal(err)
	}
	for c := range listed.Cases {
		if got := append(tabled.PointsOf(c, nil), tabled.Cases[c].Point...); !reflect.DeepEqual(got, listed.Cases[c].Point) {
			t.Errorf("case %d: PointsOf lists other forces", c)
		}
	}
	for _, quick := range []bool{false, true} {
		got, want := answersOf(t, m.NewWorkspace(), tabled, quick), answersOf(t, m.NewWorkspace(), listed, quick)
		if !reflect.DeepEqual(got, want) {
			t.Errorf("quick %v: other answers than with lists", quick)
		}
	}
}

// TestTableIsChecked: what a table cannot be is refused with its place.
func TestTableIsChecked(t *testing.T) {
	for what, spoil := range map[string]func(s *solver.Structure){
		"a force that is not a number": func(s *solver.Structure) {
			s.Table = solver.NewPointTable(s.Table.Places()[:1], 1, []float64{0, math.NaN(), 0})
			s.Cases[0].Column, s.Cases[1].Column, s.Cases[2].Column, s.Cases[3].Pushes = 1, 0, 0, nil
		},
		"case Q: the table of point loads has no column 9":  func(s *solver.Structure) { s.Cases[1].Column = 9 },
		"the table of point loads has no column 1":          func(s *solver.Structure) { s.Table = nil },
		"push 2: the table of point loads has no place 999": func(s *solver.Structure) { s.Cases[3].Pushes[1].Place = 999 },
		"push 1: it is not a number":                        func(s *solver.Structure) { s.Cases[3].Pushes[0].Force = math.Inf(1) },
		"direction of its pushes is not a number":           func(s *solver.Structure) { s.Cases[3].Along.Z = math.NaN() },
		"station 40 m does not lie on it": func(s *solver.Structure) {
			s.Table = solver.NewPointTable([]solver.PointPlace{{Member: 1, At: 40}}, 3, []float64{1, 1, 1, 1, 1, 1, 1, 1, 1})
			s.Cases[3].Pushes = nil
		},
	} {
		for _, quick := range []bool{false, true} {
			_, s := tabled()
			spoil(s)
			m, err := Compile(s)
			if err != nil {
				t.Fatal(err)
			}
			w := m.NewWorkspace()
			w.Quick = quick
			if err := w.Load(s); err == nil || !strings.Contains(err.Error(), what) {
				t.Errorf("quick %v: got %v, want %q", quick, err, what)
			}
		}
	}
}

// TestSeatings: structures with tables, in random order on one workspace, are answered as by one that has seen no other: the same
// again, one whose frames stand wider apart, one with longer rafters, one with hinged rafters' ends, one with fewer columns of the
// table, one with another table, one with point loads of its own.
func TestSeatings(t *testing.T) {
	change := []func(s *solver.Structure){
		func(*solver.Structure) {},
		func(s *solver.Structure) {
			for i := range s.Nodes {
				s.Nodes[i].Pos.X *= 1.1
			}
		},
		func(s *solver.Structure) {
			for i := range s.Nodes {
				if n := &s.Nodes[i]; n.Pos.Z > 5 {
					n.Pos.Z = 5 + 1.2*(n.Pos.Z-5)
				}
			}
		},
		func(s *solver.Structure) {
			for _, m := range []int{1, 5} {
				s.Elements[s.Members[m].Elements[0]].ReleaseI[solver.N] = true
			}
		},
		func(s *solver.Structure) { s.Cases[1].Column = 0 },
		func(s *solver.Structure) {
			s.Table = solver.NewPointTable([]solver.PointPlace{{Member: 2, At: 3}, {Member: 5, At: 1}}, 3, []float64{
				0, 1e3, 0, 5e2, 0, 0, -2e3, -3e3, -1e3, 0, 0, 0, 1e3, 2e3, 0, -4e3, 0, -5e2})
			s.Cases[3].Pushes = []solver.Push{{Place: 1, Force: 700}, {Place: 0, Force: 300}}
		},
		func(s *solver.Structure) {
			s.Cases[1].Point = append(s.Cases[1].Point, solver.PointLoad{Member: 6, At: 2.2, F: r3.Vec{Z: -900}})
		},
	}
	var list []*solver.Structure
	var models []*Model
	var want [][]any
	for i, f := range change {
		_, s := tabled()
		if i > 0 { // where no column has a force: places of the first one's own
			s.Cases[3].Pushes = slices.DeleteFunc(s.Cases[3].Pushes, func(q solver.Push) bool { return q.Place%7 == 3 })
		}
		f(s)
		m, err := Compile(s)
		if err != nil {
			t.Fatal(err)
		}
		for _, k := range models { // as compiled.load does
			if k.SameTopology(s) {
				m = k
			}
		}
		list, models, want = append(list, s), append(models, m), append(want, answersOf(t, m.NewWorkspace(), s, true))
	}
	// Tables are compared by themselves, so that structures share the first one's where they have not their own.
	for i, s := range list {
		if i != 5 {
			s.Table = list[0].Table
		}
	}
	w := models[0].NewWorkspace()
	rng := rand.New(rand.NewPCG(73, 74))
	again := 0
	for range 6 {
		for _, k := range rng.Perm(len(list)) {
			w.Use(models[k])
			got := answersOf(t, w, list[k], true)
			if w.loads.places.seated != nil {
				again++
			}
			if !reflect.DeepEqual(got, want[k]) {
				t.Errorf("structure %d: other answers than of a new workspace", k)
			}
		}
	}
	if again < 20 {
		t.Errorf("places were taken over %d times: the test shows little", again)
	}
	if n := len(w.loads.places.seatings.kept); n > keptSeatings {
		t.Errorf("%d seatings are kept", n)
	}
}
