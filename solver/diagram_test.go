package solver

import (
	"math"
	"math/rand/v2"
	"testing"
)

// simple is a simple beam of 8 m under 2 kN/m with a point load of 6 kN at 3 m, drawn by statics: RA = 8 + 6·5/8 = 11.75 kN,
// shear 11.75 - 2x, then 5.75 - 2x beyond the load; M = ∫ shear. Vy is the force of the part beyond on the part before: it is
// minus the textbook's shear.
func simple() *Diagram {
	piece := func(x, l, v0, m0 float64) Piece {
		p := Piece{X: x, L: l, N: [3]float64{-5000, 0, 0}, Vy: [3]float64{-v0, 2000 * l, 0}}
		p.Mz.Len = 4
		p.Mz.C = [Terms]float64{m0, v0 * l, -1000 * l * l}
		p.Uy.Len = 2
		p.Uy.C = [Terms]float64{0.01 + 0.002*x, 0.002 * l} // a rigid tilt: nothing relative to the chord
		return p
	}
	m3 := 11750.0*3 - 1000*9
	return &Diagram{Length: 8, Pieces: []Piece{piece(0, 3, 11750, 0), piece(3, 5, 5750-6000, m3)}}
}

func close(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9*(1+math.Abs(want)) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

// TestDiagramAt: values by the hand statics above, with the jump of shear at the load.
func TestDiagramAt(t *testing.T) {
	d := simple()
	close(t, "M(2)", d.At(2)[Mz], 11750*2-1000*4)
	close(t, "V before", d.At(3 - 1e-12)[Vy], -(11750 - 6000))
	close(t, "V beyond", d.At(3)[Vy], 250)
	close(t, "M(8)", d.At(8)[Mz], 0)
	close(t, "outside is the end", d.At(99)[Mz], d.At(8)[Mz])
	close(t, "N", d.At(5)[N], -5000)
	uy, uz := d.ChordDeflection(4)
	close(t, "tilt", uy, 0)
	close(t, "tilt z", uz, 0)
}

// TestExtremes: the greatest moment is at the load (shear changes its sign there: 5.75 before, -0.25 beyond), so the
// stations are the ends and the load twice; with the load's share moved so that shear vanishes inside, there is one more.
func TestExtremes(t *testing.T) {
	d := simple()
	st := d.Extremes(nil)
	if len(st) != 4 {
		t.Fatalf("%d stations: %v", len(st), st)
	}
	close(t, "x", st[1].X, 3)
	close(t, "x", st[2].X, 3)
	close(t, "before", st[1].Forces[Vy], -5750)
	close(t, "beyond", st[2].Forces[Vy], 250)
	m, x := d.MaxAbs(Mz)
	close(t, "Mmax", m, 26250)
	close(t, "at", x, 3)
	v, x := d.MaxAbs(Vy)
	close(t, "Vmax", v, -11750)
	close(t, "at", x, 0)

	d.Pieces = d.Pieces[:1]
	d.Pieces[0].L, d.Length = 8, 8
	d.Pieces[0].Vy = [3]float64{-11750, 16000, 0}
	d.Pieces[0].Mz.C = [Terms]float64{0, 11750 * 8, -1000 * 64}
	st = d.Extremes(st[:0])
	if len(st) != 3 {
		t.Fatalf("%d stations: %v", len(st), st)
	}
	close(t, "shear vanishes", st[1].X, 5.875)
	close(t, "M there", st[1].Forces[Mz], 11750*11750/4000.0)
}

// TestExtremesOfSeries: the roots of a curve of high degree are found: cos 4ξ turns at ξ = π/4.
func TestExtremesOfSeries(t *testing.T) {
	p := Piece{L: 2}
	p.Mz.Len = 24
	f := 1.0
	for k := 0; k < 24; k += 2 {
		p.Mz.C[k] = f
		f *= -16 / float64((k+1)*(k+2))
	}
	d := &Diagram{Length: 2, Pieces: []Piece{p}}
	m, x := d.MaxAbs(Mz)
	close(t, "M", math.Abs(m), 1) // at the start, and -1 at the turn
	if x != 0 && math.Abs(x-math.Pi/2) > 1e-6 {
		t.Errorf("greatest at %g", x)
	}
	st := d.Extremes(nil)
	if len(st) != 3 {
		t.Fatalf("%v", st)
	}
	close(t, "turn", st[1].X, 2*math.Pi/4)
	close(t, "value", st[1].Forces[Mz], -1)
}

// TestEmptyDiagram: asking an empty diagram is the caller's mistake.
func TestEmptyDiagram(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("no panic")
		}
	}()
	new(Diagram).At(1)
}

// TestStationaryRoots: stations found on quintic moment curves are where the slope, written as a product, vanishes.
func TestStationaryRoots(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	for range 200 {
		var roots [4]float64
		for i := range roots {
			roots[i] = (float64(i)+0.1+0.8*rng.Float64())/2 - 0.5 // two inside 0..1 at most, apart by a tenth of a half
		}
		slope := []float64{1 + rng.Float64()}
		for _, r := range roots {
			next := make([]float64, len(slope)+1)
			for k, v := range slope {
				next[k] -= r * v
				next[k+1] += v
			}
			slope = next
		}
		p := Piece{L: 1}
		p.Mz.Len = 6
		for k, v := range slope {
			p.Mz.C[k+1] = v / float64(k+1)
		}
		var want, got []float64
		for _, r := range roots {
			if r > 0 && r < 1 {
				want = append(want, r)
			}
		}
		for _, s := range p.stationary(nil, &p.Mz) {
			got = append(got, s.X)
		}
		if len(got) != len(want) {
			t.Fatalf("roots %v: found %v", want, got)
		}
		for i := range want {
			if math.Abs(got[i]-want[i]) > 1e-10 {
				t.Errorf("root %.15g: found %.15g", want[i], got[i])
			}
		}
	}
}

// TestExtremesOfNothing: a curve that is zero all along, long as it may be, adds no stations to those of the ends and of what bends
// the other way.
func TestExtremesOfNothing(t *testing.T) {
	d := simple()
	want := len(d.Extremes(nil))
	for i := range d.Pieces {
		d.Pieces[i].My.Len = 12
	}
	if st := d.Extremes(nil); len(st) != want {
		t.Errorf("%d stations instead of %d: %v", len(st), want, st)
	}
}
