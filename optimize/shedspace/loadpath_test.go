package shedspace

import (
	"math"
	"slices"
	"testing"

	"leanbay/model/bracing"
	"leanbay/model/shed"
)

// TestLoadPath follows the braced packhouse. The feet take what the actions push (equilibrium); under a wind towards the east
// no mullion of the windward or the leeward gable pushes the roof back by more than a tenth of the rest; and each wall's
// feet take, within what its columns' bending adds, the horizontal parts of its braces.
func TestLoadPath(t *testing.T) {
	p := example(t, "packhouse")
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

// TestAcrossPath braces both gables of the packhouse. The feet take what the actions push (equilibrium); each end takes more
// across the building than without its bracing; the plane frames in which inner frames are judged alone have none of it; and
// the inner frames judged alone are as they were.
func TestAcrossPath(t *testing.T) {
	p := example(t, "packhouse")
	d, _, err := p.Braced()
	if err != nil {
		t.Fatal(err)
	}
	bare, err := p.paths(d, true)
	if err != nil {
		t.Fatal(err)
	}
	if along, err := p.LoadPaths(d); err != nil || len(along) != 2 {
		t.Fatalf("%d paths without bracing in the gables (%v), want those along the building", len(along), err)
	}
	stiff := *d
	stiff.Walls[2] = []shed.Brace{{Bay: 1, Pattern: bracing.CrossedRods}}
	stiff.Walls[3] = []shed.Brace{{Bay: 0, Pattern: bracing.CrossedRods}}
	paths, err := p.LoadPaths(&stiff)
	if err != nil || len(paths) != 4 {
		t.Fatalf("%d paths (%v)", len(paths), err)
	}
	for i, l := range paths[2:] {
		if l.Trouble != "" || !l.Across {
			t.Fatalf("%s: %s", l.Combination, l.Trouble)
		}
		if sum := l.Feet[0] + l.Feet[1] + l.Feet[2]; math.Abs(sum-l.Applied) > 1e-4*math.Abs(l.Applied) {
			t.Errorf("%s: the feet take %.0f N, the actions push %.0f N", l.Combination, sum, l.Applied)
		}
		frames := 0.0
		for _, k := range l.Of(StepFrames) {
			frames += k.Axial
		}
		if posts := l.Applied - frames; math.Abs(posts) > 0.02*math.Abs(l.Applied) {
			t.Errorf("%s: the frames' feet take %.0f N of %.0f", l.Combination, frames, l.Applied)
		}
		for end := range 2 {
			if math.Abs(l.Feet[end]) < 1.05*math.Abs(bare[i].Feet[end]) {
				t.Errorf("%s: gable %d takes %.0f N braced, %.0f N bare", l.Combination, end, l.Feet[end], bare[i].Feet[end])
			}
		}
	}
	j := newJudge(p)
	set := p.setupOf(d)
	m := p.Shed.Build(&stiff)
	m.Load(set.loads, set.joistMass)
	_, index := planeFrames(m)
	for _, i := range slices.Concat(m.Walls[2], m.Walls[3], m.GableStruts) {
		if index[i] >= 0 {
			t.Errorf("%s is in the frames that are judged alone", m.Structure.Members[i].ID)
		}
	}
	var alone [2]map[string]float64
	for k, x := range []*shed.Design{d, &stiff} {
		a, err := j.assess(x, set)
		if err != nil {
			t.Fatal(err)
		}
		alone[k] = map[string]float64{}
		for _, g := range a.Groups {
			if g.Alone {
				alone[k][g.Group] = g.Utilisation
			}
		}
	}
	if u, v := alone[0]["column"], alone[1]["column"]; u == 0 || math.Abs(u-v) > 0.02*u {
		t.Errorf("columns of inner frames alone: %.4f, with braced gables %.4f", u, v)
	}
}
