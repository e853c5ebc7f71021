package as4100_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"leanbay/solver/checks/as4100"
)

// TestFaceIsTheLeastMechanism: the closed form is the least of the yield-line patterns whose ends lie a distance x beyond the
// patch, counted line by line: both sides of the patch and of the face, the ends, and the four lines between.
func TestFaceIsTheLeastMechanism(t *testing.T) {
	r := rand.New(rand.NewPCG(14, 346))
	for range 50 {
		f := as4100.Face{Width: 0.1 + 0.3*r.Float64(), Wall: 0.003 + 0.009*r.Float64(), Fy: 350e6}
		f.Across, f.Along = f.Width*0.7*r.Float64(), f.Width*(0.5+2*r.Float64())
		mp, c := f.Fy*f.Wall*f.Wall/4, (f.Width-f.Across)/2
		work := func(x float64) float64 {
			sides := 2 * ((f.Along+2*x)/c + f.Along/c)
			ends := 2 * (f.Width/x + f.Across/x)
			between := 4 * (x/c + c/x)
			return mp * (sides + ends + between)
		}
		least := math.Inf(1)
		for x := 0.01 * f.Width; x < 3*f.Width; x += 0.001 * f.Width {
			least = math.Min(least, work(x))
		}
		punch := 0.6 * f.Fy * f.Wall * 2 * (f.Across + f.Along)
		near(t, "wall", f.Force(nil), math.Min(least, punch), 1e-5, "yield lines counted one by one")
	}
	// A longer patch is stronger, and more than the couple of its halves.
	f := as4100.Face{Width: 0.2, Wall: 0.006, Fy: 450e6, Across: 0.01, Along: 0.2}
	near(t, "moment", f.Moment(nil), 0.1*450e6*36e-6*(1+4*math.Sqrt(0.95))/0.95, 1e-9, "by hand: fy t² (eta + 4 sqrt(1 - beta))/(1 - beta) x 100 mm")
	near(t, "together", f.Radial(10e3, 1e3, nil), 10e3/(0.9*f.Force(nil))+1e3/(0.9*f.Moment(nil)), 1e-12, "linear")
}

// TestBaseWithMoment by hand: 500 x 300 x 20 plate of fy 250 under a 350 x 250 hollow column, M24 4.6 two a side 40 mm outside
// it (f 215 mm), f'c 25 on a wide pad, phi fb = 27 MPa: line 8.1 MN/m. N* 100 kN, M* 40 kN·m: about the bolts 21.5 + 40 =
// 61.5 kN·m; a = 0.465 - sqrt(0.2162 - 2 x 0.0615/8.1) = 0.01663 m; T* = 134.7 - 100 = 34.7 kN.
func TestBaseWithMoment(t *testing.T) {
	b, err := code.NewBolt(0.024, "4.6")
	if err != nil {
		t.Fatal(err)
	}
	p := as4100.BasePlate{Depth: 0.5, Width: 0.3, Thickness: 0.02, Fy: 250e6, ColumnDepth: 0.35, ColumnWidth: 0.25, Hollow: true, Concrete: 25e6, Pad: 5.76, Bolt: b, BoltsEachSide: 2, BoltFromFace: 0.04, BoltSpacing: 0.18}
	s, ok := p.State(100e3, 40e3)
	if !ok {
		t.Fatal("the concrete carries it")
	}
	near(t, "block", s.Block, 0.01663, 2e-3, "by hand above")
	near(t, "tension", s.Tension, 34.7e3, 5e-3, "by hand above")
	// Uplift of 50 kN with 5 kN·m: both rows pull, 25 + 5/0.43 = 36.6 kN in the worse.
	if s, ok = p.State(-50e3, 5e3); !ok || !s.BothPull {
		t.Fatalf("%+v", s)
	}
	near(t, "both pull", s.Tension, 36.63e3, 1e-3, "by hand")
	// Without moment the plate under compression is that of the base without one: the block lies under the column.
	if s, ok = p.State(300e3, 0); !ok || s.Middle != 0 || s.Tension != 0 {
		t.Errorf("compression alone: %+v", s)
	}
	crushed, under, pulled := p.WithMoment(300e3, 0, 0, nil)
	_, spread := p.Compression(300e3, nil)
	near(t, "plate under compression", under, spread, 1e-6, "Compression")
	near(t, "no tension", pulled, crushed, 1e-9, "nothing pulls: only the concrete's limit")
	// 100 kN with 15 kN·m: 150 mm off the middle, block 12.3 mm, from 143.8 to 156.2 mm: within the stiffened 166.3 mm.
	if s, _ = p.State(100e3, 15e3); s.Tension != 0 || math.Abs(s.Middle-0.15) > 1e-9 {
		t.Errorf("off the middle: %+v", s)
	}
	// Without moment the bolts of uplift are those of the base without one.
	_, plate, bolt := p.WithMoment(-60e3, 0, 40e3, nil)
	wantPlate, wantBolt := p.Uplift(60e3, 40e3, nil)
	near(t, "plate in uplift", plate, wantPlate, 1e-6, "Uplift")
	near(t, "bolts in uplift", bolt, wantBolt, 1e-6, "Uplift")
}

// TestBaseStatics: block and bolts balance force and moment, whatever they are; more moment is never less of anything; and
// actions divided by their utilisation meet the limit.
func TestBaseStatics(t *testing.T) {
	r := rand.New(rand.NewPCG(36, 0))
	b, err := code.NewBolt(0.020, "8.8")
	if err != nil {
		t.Fatal(err)
	}
	solved := 0
	for range 400 {
		p := as4100.BasePlate{Depth: 0.3 + 0.4*r.Float64(), Width: 0.2 + 0.3*r.Float64(), Thickness: 0.02, Fy: 250e6, ColumnDepth: 0.2, ColumnWidth: 0.15, Hollow: r.IntN(2) == 0, Concrete: 25e6,
			Bolt: b, BoltsEachSide: 2, BoltFromFace: 0.03 + 0.02*r.Float64(), BoltSpacing: 0.1}
		n, m := 400e3*(2*r.Float64()-1), 80e3*r.Float64()
		s, ok := p.State(n, m)
		if ok && !s.BothPull {
			solved++
			arm := p.ColumnDepth/2 + p.BoltFromFace
			c := p.BearingPressure() * p.Width * s.Block
			if math.Abs(c-s.Tension-n) > 1e-6*math.Abs(n)+1 {
				t.Errorf("forces %g - %g against %g", c, s.Tension, n)
			}
			if s.Tension > 1 {
				if got := c*(p.Depth-s.Block)/2 + s.Tension*arm; math.Abs(got-m) > 1e-6*m+1 {
					t.Errorf("moment %g against %g", got, m)
				}
			}
		}
		concrete, plate, bolt := p.WithMoment(n, m, 20e3, nil)
		c2, p2, b2 := p.WithMoment(n, m*1.1+100, 20e3, nil)
		for i, v := range [][2]float64{{concrete, c2}, {plate, p2}, {bolt, b2}} {
			if v[1] < v[0]*(1-1e-6) {
				t.Errorf("%d: more moment lowers %g to %g", i, v[0], v[1])
			}
			if v[0] > 0 {
				again := [3]float64{}
				again[0], again[1], again[2] = p.WithMoment(n/v[0], m/v[0], 20e3/v[0], nil)
				near(t, "at the limit", again[i], 1, 1e-6, "radial")
			}
		}
	}
	if solved < 150 {
		t.Errorf("only %d plates with a block", solved)
	}
}
