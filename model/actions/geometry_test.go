package actions

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// sheds are a gable and two mono-pitches, 16 m × 24 m.
func sheds() map[string]*Building {
	base := Building{FrameLines: []float64{0, 8, 24}, Span: 16, EavesSouth: 5, EavesNorth: 5, Ridge: 7, RidgeY: 8, Shape: Gable}
	north, south := base, base
	north.Shape, north.EavesNorth, north.Ridge, north.RidgeY = MonoPitch, 7, 7, 16
	south.Shape, south.EavesSouth, south.Ridge, south.RidgeY = MonoPitch, 7, 7, 0
	return map[string]*Building{"gable": &base, "mono-pitch, north high": &north, "mono-pitch, south high": &south}
}

// TestFaces checks areas and heights by hand: gable ends 16·5 + 16·2/2 = 96 m², slopes 24·√(8² + 2²) = 197.91 m².
func TestFaces(t *testing.T) {
	b := sheds()["gable"]
	for f, want := range map[Face]float64{SouthWall: 120, NorthWall: 120, WestGable: 96, EastGable: 96, SouthRoof: 24 * math.Sqrt(68), NorthRoof: 24 * math.Sqrt(68)} {
		if got := b.FaceArea(f); math.Abs(got-want) > 1e-9 {
			t.Errorf("%v: %g m², want %g", f, got, want)
		}
	}
	if b.MeanRoofHeight() != 6 || b.Volume() != 24*96 {
		t.Errorf("h = %g, volume %g; want 6 and 2304", b.MeanRoofHeight(), b.Volume())
	}
	for name, b := range sheds() {
		if b.MeanRoofHeight() != 6 {
			t.Errorf("%s: h = %g, want 6", name, b.MeanRoofHeight())
		}
		if err := b.Validate(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestClosedSurface: uniform pressure on walls and roof leaves only the lift on the floor's area (divergence theorem),
// and its moment is that of the lift at mid-plan.
func TestClosedSurface(t *testing.T) {
	const p = 1000.0
	for name, b := range sheds() {
		var sum, moment r3.Vec
		for f := SouthWall; f < NumFaces; f++ {
			u0, u1, v0, v1 := b.Extent(f)
			force, at := b.PatchForce(Patch{Face: f, U0: u0, U1: u1, V0: v0, V1: v1, Pressure: -p})
			sum = r3.Add(sum, force)
			moment = r3.Add(moment, r3.Cross(at, force))
		}
		lift := r3.Vec{Z: p * b.Span * b.Length()}
		if r3.Norm(r3.Sub(sum, lift)) > 1e-6 {
			t.Errorf("%s: force %v, want %v", name, sum, lift)
		}
		// The resultant of a uniform pressure on a flat patch acts at its centre of area, so moments balance too.
		if want := r3.Cross(r3.Vec{X: b.Length() / 2, Y: b.Span / 2}, lift); r3.Norm(r3.Sub(moment, want)) > 1e-5 {
			t.Errorf("%s: moment %v, want %v", name, moment, want)
		}
	}
}

// TestSplitPatch: however a face is cut into rectangles, their areas add up.
func TestSplitPatch(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for name, b := range sheds() {
		for f := SouthWall; f < NumFaces; f++ {
			u0, u1, v0, v1 := b.Extent(f)
			u, v := u0+r.Float64()*(u1-u0), v0+r.Float64()*(v1-v0)
			sum := b.PatchArea(Patch{Face: f, U0: u0, U1: u, V0: v0, V1: v}) + b.PatchArea(Patch{Face: f, U0: u, U1: u1, V0: v0, V1: v}) +
				b.PatchArea(Patch{Face: f, U0: u0, U1: u, V0: v, V1: v1}) + b.PatchArea(Patch{Face: f, U0: u, U1: u1, V0: v, V1: v1})
			if math.Abs(sum-b.FaceArea(f)) > 1e-9 {
				t.Errorf("%s, %v: parts %g, whole %g", name, f, sum, b.FaceArea(f))
			}
		}
	}
}

func TestValidate(t *testing.T) {
	for want, change := range map[string]func(*Building){
		"at least two X positions": func(b *Building) { b.FrameLines = []float64{0, 5, 4} },
		"must be above 0":          func(b *Building) { b.Span = 0 },
		"must lie within the span": func(b *Building) { b.RidgeY = 20 },
		"give \"gable\" or":        func(b *Building) { b.Shape = "dome" },
		"within the west gable":    func(b *Building) { b.Openings = []Opening{{Name: "x", Face: WestGable, U0: 0, U1: 2, V0: 4, V1: 6}} },
		"only walls and gables":    func(b *Building) { b.OpenFaces = []Face{SouthRoof} },
		"within the building":      func(b *Building) { b.Floors = []Floor{{Name: "f", X1: 30, Y1: 3}} },
	} {
		b := *sheds()["gable"]
		change(&b)
		if err := b.Validate(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want an error with %q", err, want)
		}
	}
}
