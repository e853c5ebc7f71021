package speed

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
	"leanbay/solver/frame"
)

func generated(t *testing.T, frames int) *solver.Structure {
	t.Helper()
	s, err := Generate(frames)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// answers analyses every case of s by itself in first order.
func answers(t *testing.T, s *solver.Structure) (*frame.Model, []frame.Result) {
	t.Helper()
	m, err := frame.Compile(s)
	if err != nil {
		t.Fatal(err)
	}
	w := m.NewWorkspace()
	if err := w.Load(s); err != nil {
		t.Fatal(err)
	}
	rs := make([]frame.Result, len(s.Cases))
	for c := range rs {
		if err := w.Analyse(&solver.Combination{Terms: []solver.Term{{Case: c, Factor: 1}}}, frame.Linear, &rs[c]); err != nil || !rs[c].Stable {
			t.Fatal(err, rs[c].Notes)
		}
	}
	return m, rs
}

// TestGeneratedCounts: by the statement of the generator. Fifteen joints of six freedoms and two bases with two turns a frame.
func TestGeneratedCounts(t *testing.T) {
	for _, c := range []struct{ frames, braced int }{{2, 1}, {5, 1}, {11, 1}, {12, 2}, {21, 2}, {50, 5}} {
		s := generated(t, c.frames)
		m, err := frame.Compile(s)
		if err != nil {
			t.Fatal(err)
		}
		rods := 0
		for i := range s.Elements {
			if s.Elements[i].Acts == solver.TensionOnly {
				rods++
			}
		}
		bays := c.frames - 1
		members := 4*c.frames + 3*bays + (2+12)*c.braced
		elements := 16*c.frames + 3*bays + (2+12)*c.braced
		if len(s.Nodes) != 17*c.frames || len(s.Members) != members || len(s.Elements) != elements || rods != 12*c.braced || m.Unknowns() != 94*c.frames {
			t.Errorf("%d frames: %d nodes, %d members, %d elements, %d rods, %d unknowns; want %d, %d, %d, %d, %d", c.frames,
				len(s.Nodes), len(s.Members), len(s.Elements), rods, m.Unknowns(), 17*c.frames, members, elements, 12*c.braced, 94*c.frames)
		}
		if len(s.Cases) != 6 || len(s.Combinations) != 20 || identical(s.Combinations, 6) != 0 {
			t.Errorf("%d cases, %d combinations, %d identical", len(s.Cases), len(s.Combinations), identical(s.Combinations, 6))
		}
	}
	if _, err := Generate(1); err == nil {
		t.Error("a shed of one frame was made")
	}
}

// TestGeneratedEquilibrium: the reactions of every case balance its load, which follows from areas and pressures by hand.
func TestGeneratedEquilibrium(t *testing.T) {
	const frames = 12
	length := 7.5 * (frames - 1)
	s := generated(t, frames)
	m, rs := answers(t, s)
	own := 0.0
	for i := range s.Elements {
		e := &s.Elements[i]
		own += e.Density * e.A * r3.Norm(r3.Sub(s.Nodes[e.J].Pos, s.Nodes[e.I].Pos)) * 9.80665
	}
	slope := math.Hypot(1, 0.15)
	const rise, q = 1.8, 600.0
	want := []r3.Vec{
		{Z: -own - 100*24*slope*length},
		{Z: -250 * 24 * length},
		{Y: q * length * (6*(0.7+0.3) + rise*(0.5-0.6)), Z: q * length * 12 * (0.6 + 0.5)},
		{Y: -q * length * (6*(0.7+0.3) + rise*(0.5-0.6)), Z: q * length * 12 * (0.6 + 0.5)},
		{X: q * (0.7 + 0.3) * 24 * (6.0 + 6.9) / 2 / 2 * 1.0, Z: q * length * 24 * 0.4},
		{Z: q * length * 24},
	}
	// The mean height of the gable is (6.0 + 7.8)/2 = 6.9 m; its upper half reaches the roof.
	want[4].X = q * (0.7 + 0.3) * 24 * 6.9 / 2
	for c := range rs {
		var sum r3.Vec
		for i := range s.Nodes {
			r := rs[c].Reactions[6*i : 6*i+6]
			sum = r3.Add(sum, r3.Vec{X: r[0], Y: r[1], Z: r[2]})
		}
		if d := r3.Norm(r3.Add(sum, want[c])); d > 1e-6*r3.Norm(want[c]) {
			t.Errorf("case %s: reactions %v, load %v", s.Cases[c].ID, sum, want[c])
		}
	}
	if m.Unknowns() != 1128 {
		t.Errorf("%d unknowns", m.Unknowns())
	}
}

// TestGeneratedSymmetry: the shed is its own mirror image across the ridge, and so are the answers to symmetrical loads; the
// answer to the wind from the north is that to the wind from the south, mirrored.
func TestGeneratedSymmetry(t *testing.T) {
	s := generated(t, 5)
	_, rs := answers(t, s)
	mirror := func(i int) int { return i/17*17 + 16 - i%17 }
	for i := range s.Nodes {
		p, q := s.Nodes[i].Pos, s.Nodes[mirror(i)].Pos
		if d := r3.Norm(r3.Sub(p, r3.Vec{X: q.X, Y: 24 - q.Y, Z: q.Z})); d > 1e-12 {
			t.Fatalf("joint %d is %v from the mirror image of its partner", i, d)
		}
	}
	sign := [6]float64{1, -1, 1, -1, 1, -1}
	for _, c := range [][2]int{{genG, genG}, {genQ, genQ}, {genPI, genPI}, {genWX, genWX}, {genWS, genWN}} {
		size := 0.0
		for _, u := range rs[c[0]].U {
			size = math.Max(size, math.Abs(u))
		}
		for i := range s.Nodes {
			for d := range 6 {
				a, b := rs[c[0]].U[6*i+d], sign[d]*rs[c[1]].U[6*mirror(i)+d]
				if math.Abs(a-b) > 1e-8*size {
					t.Fatalf("cases %d and %d, joint %d, freedom %d: %g and %g", c[0], c[1], i, d, a, b)
				}
			}
		}
	}
}

// TestGeneratedPeriod: ten bays on, the shed repeats itself, and far from its ends so do the answers to loads that do.
func TestGeneratedPeriod(t *testing.T) {
	const frames, from, period = 121, 55, 10
	s := generated(t, frames)
	for i := range s.Elements { // pieces of the frames come first, sixteen each
		if j := i + 16*period; j < 16*frames {
			a, b := s.Elements[i], s.Elements[j]
			if a.I+17*period != b.I || a.J+17*period != b.J || a.A != b.A || a.Iz != b.Iz || a.YAxis != b.YAxis {
				t.Fatalf("elements %s and %s differ", a.ID, b.ID)
			}
		}
	}
	_, rs := answers(t, s)
	for _, c := range []int{genG, genQ, genWS, genPI} {
		most := 0.0
		for _, v := range rs[c].Reactions {
			most = math.Max(most, math.Abs(v))
		}
		for k := range 17 {
			for d := range 6 {
				i, j := 6*(17*from+k)+d, 6*(17*(from+period)+k)+d
				a, b := rs[c].Reactions[i], rs[c].Reactions[j]
				if math.Abs(a-b) > 3e-4*most { // a lean along the building dies away by half in ten bays
					t.Errorf("case %d, joint %d, freedom %d: %g at frame %d, %g a period on", c, k, d, a, from, b)
				}
			}
		}
	}
}
