package as4100_test

import (
	"math"
	"testing"

	"leanbay/solver/checks/as4100"
)

// TestBolts holds bolts against the figures of every Australian bolt table (phi included, kN) and values by hand.
func TestBolts(t *testing.T) {
	for _, c := range []struct {
		d        float64
		category string
		tension  float64
		thread   float64
		shank    float64
		source   string
	}{
		{0.020, "8.8", 163, 92.6, 129, "0.8 x 245 x 830; 0.8 x 0.62 x 830 x 225 and x 314"},
		{0.016, "8.8", 104, 59.3, 82.8, "0.8 x 157 x 830; 0.8 x 0.62 x 830 x 144 and x 201"},
		{0.012, "8.8", 54.0, 30.3, 44.9, "fuf 800 below M16: 0.8 x 84.3 x 800; 0.8 x 0.62 x 800 x 76.2 and x 113.1"},
		{0.020, "4.6", 78.4, 44.6, 62.3, "0.8 x 245 x 400; 0.8 x 0.62 x 400 x 225 and x 314"},
		{0.024, "8.8", 234, 133, 186, "0.8 x 353 x 830; 0.8 x 0.62 x 830 x 324 and x 452"},
		{0.020, "10.9", 204, 96.3, 162, "0.8 x 245 x 1040; threads with krd 0.83"},
	} {
		b, err := code.NewBolt(c.d, c.category)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.category+" tension", 0.8*b.Tension(nil)/1e3, c.tension, 0.006, c.source)
		near(t, c.category+" thread", 0.8*b.Shear(1, 0, 0, nil)/1e3, c.thread, 0.006, c.source)
		near(t, c.category+" shank", 0.8*b.Shear(0, 1, 0, nil)/1e3, c.shank, 0.006, c.source)
	}
	b, _ := code.NewBolt(0.020, "8.8")
	near(t, "combined", b.Radial(0.6*92.6e3, 0.8*162.7e3, nil), 1, 0.005, "0.6² + 0.8² = 1")
	near(t, "long lap", b.Shear(1, 0, 0.7, nil)/b.Shear(1, 0, 0, nil), 0.9, 1e-12, "1.075 - 700/4000")
	near(t, "ply, bearing", 0.9*b.PlyBearing(0.010, 410e6, 0.100, nil)/1e3, 236.2, 0.001, "0.9 x 3.2 x 20 x 10 x 410")
	near(t, "ply, tear-out", 0.9*b.PlyBearing(0.010, 410e6, 0.035, nil)/1e3, 129.2, 0.001, "0.9 x 35 x 10 x 410")
	near(t, "filler 10 mm", as4100.FillerFactor(0.010), 0.9384, 1e-9, "1 - 0.0154 x 4")
	if !math.IsNaN(as4100.FillerFactor(0.025)) {
		t.Error("a filler of 25 mm is not covered")
	}
	near(t, "block shear", as4100.BlockShear(600e-6, 1000e-6, 300e-6, 260e6, 410e6, false)/1e3, 147.6+123, 1e-9, "min(0.6 x 410 x 600, 0.6 x 260 x 1000) + 410 x 300")
	if _, err := code.NewBolt(0.018, "8.8"); err == nil {
		t.Error("M18 accepted")
	}
	if _, err := code.NewBolt(0.020, "9.9"); err == nil {
		t.Error("category 9.9 accepted")
	}
}

// TestPrying by hand: 16 mm plate, fy 250, 75 mm per bolt, hole 22, 40 mm to the tip, 40 mm to the web, pair tension 180
// kN: delta 0.7067, ae' 51, af' 29; phi Ms = 0.9 x 250 x 75 x 16²/4 = 1.08 kN·m; need 180 x 29/(2 x 1080) = 2.417, more
// than 1 + delta: alpha 1, M1 = 1.529 kN·m (1.416 of the plate), bolt 180 (0.5 + 0.5686 x 0.7067/3.413) = 111.2 kN.
// With 25 mm: phi Ms 2.637, need 0.990: alpha 0, no prying, bolt 90 kN, plate 0.990.
func TestPrying(t *testing.T) {
	s := as4100.TeeStub{Plate: 0.016, Width: 0.075, Hole: 0.022, ToTip: 0.040, ToWeb: 0.040, Fy: 250e6, Tension: 180e3}
	bolt, plate, alpha := s.Prying(nil)
	near(t, "thin plate, bolt", bolt, 111.2e3, 0.001, "by hand above")
	near(t, "thin plate", plate, 1.416, 0.001, "by hand above")
	near(t, "alpha", alpha, 1, 1e-12, "by hand above")
	s.Plate = 0.025
	bolt, plate, alpha = s.Prying(nil)
	near(t, "thick plate, bolt", bolt, 90e3, 1e-9, "by hand above")
	near(t, "thick plate", plate, 0.990, 0.001, "by hand above")
	if alpha != 0 {
		t.Errorf("alpha %g, by hand 0", alpha)
	}
}

// TestWelds by hand: 6 mm fillet of E49XX: throat 4.243 mm, 0.8 x 0.6 x 490 x 4.243 = 0.998 kN/mm; GP 0.748.
func TestWelds(t *testing.T) {
	f, err := code.FilletOf(0.006, "E49XX", as4100.SP)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "SP", f.Capacity(nil)/1e6, 0.998, 0.001, "by hand above")
	f.ThinTube = true
	near(t, "thin tube", f.Capacity(nil)/1e6, 0.998*0.7/0.8, 0.001, "phi 0.70")
	f.Quality = as4100.GP
	near(t, "GP", f.Capacity(nil)/1e6, 0.748, 0.001, "by hand above")
	near(t, "resultant", as4100.WeldRadial(1, 0.6, 0, 0.8), 1, 1e-12, "3-4-5")
	if _, err := code.FilletOf(0.006, "E99", as4100.SP); err == nil {
		t.Error("metal E99 accepted")
	}
}

// TestMinimumActions are the rows of 9.1.4.
func TestMinimumActions(t *testing.T) {
	for _, c := range []struct {
		kind           as4100.JointKind
		capacity, want float64
	}{
		{as4100.RigidJoint, 100e3, 50e3}, {as4100.SimpleBeam, 200e3, 30e3}, {as4100.SimpleBeam, 400e3, 40e3}, {as4100.TieOrStrutEnd, 100e3, 30e3},
		{as4100.TurnbuckleRod, 82e3, 82e3}, {as4100.ContactSplice, 100e3, 15e3}, {as4100.CompressionSplice, 100e3, 30e3},
	} {
		got, clause := code.MinimumAction(c.kind, c.capacity)
		near(t, string(c.kind), got, c.want, 1e-12, clause)
	}
	near(t, "restraint", as4100.RestraintForce(100e3, 100e3, 80e3), 2500+1250+1000, 1e-12, "0.025 x 100 + 0.0125 x 180 kN")
	ten := make([]float64, 10)
	for i := range ten {
		ten[i] = 1e3
	}
	near(t, "seven at most", as4100.RestraintForce(ten...), 25+6*12.5, 1e-12, "5.4.3.3")
	near(t, "beam's reaction", as4100.BeamEccentricity(0.2), 0.2, 1e-12, "4.3.4: 100 mm off the face")
}

// TestBasePlate by hand: 300 x 300 x 16 plate, fy 250, under a 150 x 150 hollow column, f'c 25, pad 600 x 600: A2/A1 4,
// strength 0.6 min(0.9 x 25 x 2, 45) = 27 MPa; N 300 kN: 3.333 MPa, bearing 0.1235; m = (300 - 142.5)/2 = 78.75; p m²/2 =
// 10.34 kN·m/m; phi Ms = 0.9 x 250 x 64 = 14.4: 0.718. Uplift 60 kN, two M20 8.8 a side 50 mm off the face, 150 apart:
// strip 100 + 100 = 200 mm, 30 x 50 = 1.5 kN·m over 0.9 x 250 x 200 x 64 = 2.88: 0.521; bolts 15 x 1.4/162.7 = 0.129.
func TestBasePlate(t *testing.T) {
	b, _ := code.NewBolt(0.020, "8.8")
	p := as4100.BasePlate{Depth: 0.3, Width: 0.3, Thickness: 0.016, Fy: 250e6, ColumnDepth: 0.15, ColumnWidth: 0.15, Hollow: true, Concrete: 25e6, Pad: 0.36,
		Bolt: b, BoltsEachSide: 2, BoltFromFace: 0.05, BoltSpacing: 0.15}
	concrete, plate := p.Compression(300e3, nil)
	near(t, "bearing", concrete, 0.1235, 0.001, "by hand above")
	near(t, "plate", plate, 0.718, 0.001, "by hand above")
	plate, bolt := p.Uplift(60e3, 0, nil)
	near(t, "plate in uplift", plate, 0.521, 0.001, "by hand above")
	near(t, "bolts in uplift", bolt, 0.129, 0.003, "by hand above")
}
