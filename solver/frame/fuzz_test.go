package frame

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// randomStructure makes a small structure of anything: any supports, releases, springs, arms, bars, rods and loads.
func randomStructure(data []byte) *solver.Structure {
	at := 0
	next := func(n int) int {
		if len(data) == 0 {
			return 0
		}
		v := int(data[at%len(data)]) + 31*(at/len(data))
		at++
		return v % n
	}
	var b build
	nodes := 2 + next(6)
	for k := range nodes {
		i := b.node(float64(k%2)*3+0.2*float64(next(5)), float64(k/4)*4, float64(k/2%2)*3+0.1*float64(next(3)), "")
		switch kind := next(5); {
		case k == 0 || kind == 0:
			b.s.Nodes[i].Held = [6]bool{true, true, true, true, true, true}
		case kind == 1:
			for d := range 6 {
				b.s.Nodes[i].Held[d] = next(2) == 0
			}
		case kind == 2:
			b.s.Nodes[i].Spring[next(6)] = 1e5
		}
	}
	for k := range nodes - 1 + next(6) {
		i, j := next(nodes), 0
		if k < nodes-1 {
			i = k + 1
			j = next(k + 1)
		} else {
			j = (i + 1 + next(nodes-1)) % nodes
		}
		e := b.beam(i, j, r3.Vec{X: 0.31, Y: 0.1 + float64(next(3)), Z: 1})
		switch next(9) {
		case 0:
			e.Bar = true
		case 1, 2:
			e.Bar, e.Acts = true, solver.Activity(1+next(2))
		case 3:
			for c := range 6 {
				e.ReleaseI[c], e.ReleaseJ[c] = next(4) == 0, next(4) == 0
			}
		case 4:
			e.SpringI[3+next(3)] = 1e5
			e.Asy = 1e-3
		case 5:
			e.OffsetI = r3.Vec{X: 0.1, Z: 0.2}
			e.Iy = 1e-5 * float64(next(2))
		}
	}
	for range 1 + next(3) {
		m := next(len(b.s.Members))
		el := &b.s.Elements[m]
		_, l := denseAxes(&b.s, el)
		b.point(m, l*float64(next(5))/4, r3.Vec{X: float64(next(9)) - 4, Z: -1000 * float64(next(9))}, r3.Vec{}, solver.LoadAxes(next(2)))
		b.line(m, 0, l*float64(1+next(4))/4, r3.Vec{Z: -100}, r3.Vec{Y: float64(next(200))}, solver.LoadAxes(next(2)))
		b.force(next(nodes), r3.Vec{X: float64(next(100)), Z: -1e3 * float64(next(100))}, r3.Vec{})
	}
	b.load().SelfWeight = r3.Vec{Z: -float64(next(2))}
	return &b.s
}

// FuzzAnalyse: whatever the structure, there is an answer in balance, an explanation, or an error; never a panic, and
// never a stable answer that is not a number.
func FuzzAnalyse(f *testing.F) {
	x := uint32(1)
	for range 400 {
		seed := make([]byte, 24)
		for i := range seed {
			x = x*1664525 + 1013904223
			seed[i] = byte(x >> 24)
		}
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		s := randomStructure(data)
		m, err := Compile(s)
		if err != nil {
			return
		}
		w := m.NewWorkspace()
		w.WantCondition = true
		if err := w.Load(s); err != nil {
			return
		}
		if _, err := w.Mechanisms(); err != nil {
			t.Fatal(err)
		}
		for _, a := range kinds {
			var r Result
			if err := w.Analyse(&one, a, &r); err != nil {
				t.Fatal(err)
			}
			if !r.Stable {
				if len(r.Mechanisms)+len(r.Notes) == 0 {
					t.Fatalf("%v: not stable, and no word why", a)
				}
				continue
			}
			if !(r.Residual < 1e-6) {
				t.Errorf("%v: residual %g, %v", a, r.Residual, r.Notes)
			}
			var d solver.Diagram
			for k := range s.Members {
				r.Diagram(k, &d)
				for _, st := range d.Extremes(nil) {
					for _, v := range st.Forces {
						if math.IsNaN(v) {
							t.Fatalf("%v: not a number in member %d", a, k)
						}
					}
				}
			}
			modes, err := w.Buckling(&r, 2)
			if err != nil {
				t.Errorf("%v: %v", a, err)
			}
			for _, mode := range modes {
				if !(mode.Factor > 0) {
					t.Errorf("factor %g", mode.Factor)
				}
				if a.second() && mode.Factor < 0.999 {
					t.Errorf("%v: stable with a load factor of %g", a, mode.Factor)
				}
			}
		}
		w.Periods(Mass{}, nil, 2)
	})
}
