package shedspace

import (
	"math"
	"testing"

	"leanbay/model/brief"
)

// TestLoadPath follows the braced packhouse. The feet take what the actions push (equilibrium); under a wind towards the east
// no mullion of the windward or the leeward gable pushes the roof back by more than a tenth of the rest; and each wall's
// feet take, within what its columns' bending adds, the horizontal parts of its braces.
func TestLoadPath(t *testing.T) {
	b, err := brief.ReadFile("../../experiments/briefs/packhouse.yaml")
	if err != nil {
		t.Fatal(err)
	}
	p, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	d, _, err := p.Braced()
	if err != nil {
		t.Fatal(err)
	}
	paths, err := p.LoadPaths(d)
	if err != nil {
		t.Fatal(err)
	}
	if len(paths) != 2 || paths[0].Forward == paths[1].Forward {
		t.Fatalf("want one path each way, got %d", len(paths))
	}
	for i := range paths {
		l := &paths[i]
		if l.Trouble != "" {
			t.Fatalf("%s: %s", l.Combination, l.Trouble)
		}
		if sum := l.Feet[0] + l.Feet[1] + l.Feet[2]; math.Abs(sum-l.Applied) > 1e-4*math.Abs(l.Applied) {
			t.Errorf("%s: the feet take %.0f N, the actions push %.0f N", l.Combination, sum, l.Applied)
		}
		way := math.Copysign(1, l.Applied)
		with, against := 0.0, 0.0
		for _, k := range l.Of(StepHeads) {
			if k.Axial*way > 0 {
				with += k.Axial * way
			} else {
				against -= k.Axial * way
			}
		}
		if with == 0 || against > 0.1*with {
			t.Errorf("%s: mullion heads push %.0f N with the actions and %.0f N against them", l.Combination, with, against)
		}
		walls := [2]float64{}
		for _, k := range l.Of(StepWalls) {
			side := 0
			if k.A.Y > 1 {
				side = 1
			}
			dx, dz := k.B.X-k.A.X, k.B.Z-k.A.Z
			// A pull in a brace that rises with X pulls its foot towards +X.
			walls[side] += k.Axial * dx / math.Hypot(dx, dz) * math.Copysign(1, dz)
		}
		for side := range 2 {
			if math.Abs(walls[side]-l.Feet[side]) > 0.25*math.Abs(l.Feet[side]) {
				t.Errorf("%s: braces of wall %d bring %.0f N, its feet take %.0f N", l.Combination, side, walls[side], l.Feet[side])
			}
		}
	}
}
