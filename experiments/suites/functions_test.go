package suites

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"leanbay/optimize"
)

// Each true front sampled finely and measured by the archive's own routine must approach the stated volume from below.
func TestVolumesOfTrueFronts(t *testing.T) {
	for _, f := range Functions() {
		reference := slices.Repeat([]float64{Reference}, f.Objectives)
		var points [][]float64
		const n = 20000
		for i := range n {
			x := slices.Repeat([]float64{0}, len(f.Lower))
			x[0] = float64(i) / (n - 1)
			if f.Objectives == 3 {
				side := 141
				for k := range x {
					x[k] = 0.5
				}
				x[0], x[1] = float64(i/side)/float64(side), float64(i%side)/float64(side-1)
			}
			out := make([]float64, f.Objectives)
			f.Eval(x, out)
			points = append(points, out)
		}
		got := optimize.Hypervolume(points, reference)
		tol := 1e-3
		if f.Objectives == 3 {
			tol = 0.03 // a grid of 141 x 141 points leaves more open
		}
		if got > f.Volume+1e-6 || got < f.Volume-tol {
			t.Errorf("%s: sampled front %.6f, stated %.6f", f.Name, got, f.Volume)
		}
	}
}

// The curve drawn as the true front has the stated volume where there are two objectives, and ZDT3's is in five pieces (the
// paper's figure).
func TestFrontsDrawn(t *testing.T) {
	for _, f := range Functions() {
		pieces := f.Front(20000)
		if want := map[string]int{"ZDT3": 5}[f.Name]; want != 0 && len(pieces) != want || want == 0 && len(pieces) != 1 {
			t.Errorf("%s: %d pieces", f.Name, len(pieces))
		}
		if f.Objectives == 3 {
			for _, v := range pieces[0] {
				if r := math.Hypot(math.Hypot(v[0], v[1]), v[2]); math.Abs(r-1) > 1e-12 {
					t.Errorf("%s: %v is not on the sphere", f.Name, v)
				}
			}
			continue
		}
		got := optimize.Hypervolume(slices.Concat(pieces...), []float64{Reference, Reference})
		if got > f.Volume+1e-6 || got < f.Volume-1e-3 {
			t.Errorf("%s: the curve drawn has a volume of %.6f, stated %.6f", f.Name, got, f.Volume)
		}
	}
}

// Source: the paper gives 0.2807753191 for ZDT6's least first objective, reached at x = 0.0810.
func TestLeastOfZDT6(t *testing.T) {
	if got := zdt6Least(); math.Abs(got-0.2807753191) > 1e-9 {
		t.Errorf("%.10f", got)
	}
}

// No point can lie beyond the true front: the hypervolume of anything is at most the stated volume.
func TestNothingBeatsTheTrueFront(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for _, f := range Functions() {
		for range 2000 {
			x := make([]float64, len(f.Lower))
			for i := range x {
				x[i] = f.Lower[i] + (f.Upper[i]-f.Lower[i])*rng.Float64()*rng.Float64()
			}
			out := make([]float64, f.Objectives)
			f.Eval(x, out)
			switch f.Name {
			case "ZDT1", "ZDT4":
				if out[1] < 1-math.Sqrt(out[0])-1e-12 {
					t.Errorf("%s: %v is beyond the front", f.Name, out)
				}
			case "DTLZ2":
				if r := math.Hypot(math.Hypot(out[0], out[1]), out[2]); r < 1-1e-12 {
					t.Errorf("%s: %v is beyond the front", f.Name, out)
				}
			}
		}
	}
}

// After 10,000 evaluations a working search has the front of ZDT1 within a twentieth of its volume. Nothing may
// exceed the true front.
func TestSearchReachesTheFront(t *testing.T) {
	b := SearchBench{Functions: Functions()[:1], Evaluations: []int{4000, 10000}, Seeds: 1, Population: 100, Workers: 2}
	rows, err := b.Run(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	early, late := rows[0], rows[1]
	if late.Population.Least < 0.95*late.True || late.Archive.Least > late.True || late.Archive.Least < late.Population.Least-1e-12 || early.Archive.Least > late.Archive.Least {
		t.Errorf("after 4000: %+v, after 10000: %+v", early, late)
	}
}
