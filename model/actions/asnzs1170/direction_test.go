package asnzs1170

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"leanbay/model/actions"
	"leanbay/solver"
)

// TestDesignSpeed searches the interval of ±45° in small steps for the largest interpolated speed.
func TestDesignSpeed(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	for range 200 {
		var s SiteSpeeds
		for i := range s.V {
			s.V[i] = 30 + 20*r.Float64()
		}
		bearing := 4*math.Pi*r.Float64() - 2*math.Pi
		want := 0.0
		for k := -4500; k <= 4500; k++ {
			deg := math.Mod(bearing/rad+float64(k)/100+720, 360)
			i := int(deg / 45)
			f := deg/45 - float64(i)
			want = max(want, (1-f)*s.V[i%8]+f*s.V[(i+1)%8])
		}
		near(t, "V_des", s.Design(bearing), want, 0.01)
		s.LeastUltimate = 60
		near(t, "least", s.Design(bearing), 60, 0)
	}
	// A wall between N and NE whose best direction, N, lies inside the interval: 22.5° ± 45°.
	s := SiteSpeeds{V: [8]float64{50, 40, 30, 30, 30, 30, 30, 30}}
	near(t, "inside", s.Design(22.5*rad), 50, 1e-12)
}

// TestMonoPitchEdges takes cases C7 and C8 of the check file as a building: 9 m span, low edge 3.0 m, 12.5°.
func TestMonoPitchEdges(t *testing.T) {
	rise := 9 * math.Tan(12.5*rad)
	for _, c := range []struct {
		name         string
		south, north float64
		low          actions.Face
	}{{"north high", 3, 3 + rise, actions.SouthWall}, {"south high", 3 + rise, 3, actions.NorthWall}} {
		b := &actions.Building{FrameLines: []float64{0, 18}, Span: 9, EavesSouth: c.south, EavesNorth: c.north, Ridge: 3 + rise, Shape: actions.MonoPitch}
		table := NewTable(nil)
		up := table.External(nil, b, c.low)
		near(t, c.name+" low edge a", up.Roof[0].Cpe[0], -0.7553, 1e-4)
		near(t, c.name+" low edge b", up.Roof[0].Cpe[1], -0.3053, 1e-4)
		down := table.External(nil, b, opposite(c.low))
		near(t, c.name+" high edge", down.Roof[0].Cpe[0], -0.4777, 1e-4)
		along := table.External(nil, b, actions.WestGable)
		near(t, c.name+" along", along.Roof[0].Cpe[0], -0.9, 1e-12)
	}
}

// TestFreeMonoPitch: 15°, the raised edge facing the wind is lifted (-1.0 empty, -1.5 blocked under), the low edge
// pressed (0.8).
func TestFreeMonoPitch(t *testing.T) {
	rise := 9 * math.Tan(15*rad)
	b := &actions.Building{FrameLines: []float64{0, 9}, Span: 9, EavesSouth: 3, EavesNorth: 3 + rise, Ridge: 3 + rise, RidgeY: 9, Shape: actions.MonoPitch,
		OpenFaces: []actions.Face{actions.SouthWall, actions.NorthWall, actions.WestGable, actions.EastGable}}
	_, s := packhouse()
	winds, err := New(nil, Options{}).Winds(nil, b, s)
	if err != nil {
		t.Fatal(err)
	}
	least, most := 0.0, 0.0
	for _, set := range winds[actions.NorthWall].Free {
		least = min(least, set.Cpn[0].Cpe[0])
	}
	for _, set := range winds[actions.SouthWall].Free {
		most = max(most, set.Cpn[0].Cpe[0])
	}
	near(t, "high edge upwind", least, -1.5, 1e-9)
	near(t, "low edge upwind", most, 0.8, 1e-9)
	cw, cl, err := NewTable(nil).FreeRoof(nil, actions.MonoPitch, false, 15, "high")
	if err != nil || cw != [2]float64{-1, -1} || cl != [2]float64{-0.6, 0} {
		t.Errorf("empty under: %v, %v (%v)", cw, cl, err)
	}
}

// TestUnequalSlopes: ridge at 5 m of 16 m, 20° to the south and 11.9° to the north. Wind meets the near slope first, and
// the zones break at the ridge's distance from the windward edge.
func TestUnequalSlopes(t *testing.T) {
	b := &actions.Building{FrameLines: []float64{0, 30}, Span: 16, EavesSouth: 4, RidgeY: 5, Shape: actions.Gable}
	b.Ridge = 4 + 5*math.Tan(20*rad)
	b.EavesNorth = b.Ridge - 11*math.Tan(12*rad)
	if err := b.Validate(); err != nil {
		t.Fatal(err)
	}
	table := NewTable(nil)
	hd := b.MeanRoofHeight() / 16
	south, north := table.External(nil, b, actions.SouthWall), table.External(nil, b, actions.NorthWall)
	near(t, "ridge from the south", south.Roof[0].To, 5, 1e-12)
	near(t, "ridge from the north", north.Roof[0].To, 11, 1e-12)
	near(t, "20° first", south.Roof[0].Cpe[0], table.Upwind(nil, 20, hd)[0], 1e-9)
	near(t, "12° first", north.Roof[0].Cpe[0], table.Upwind(nil, 12, hd)[0], 1e-9)
	near(t, "20° last", north.Roof[1].Cpe[0], table.Downwind(nil, 20, hd, 30, 16), 1e-9)
}

// TestStepAtTenDegrees: at 10° sharp the cases take the worse of both tables at every point: set a at least as low, set
// b at least as high as either.
func TestStepAtTenDegrees(t *testing.T) {
	b, _ := packhouse()
	b.Ridge = b.EavesSouth + b.RidgeY*math.Tan(10*rad)
	table := NewTable(nil)
	e := table.External(nil, b, actions.SouthWall)
	h := b.MeanRoofHeight()
	flat, up := table.FlatRoof(nil, h, b.Span), table.Upwind(nil, 10, h/b.Span)
	down := table.Downwind(nil, 10, h/b.Span, b.Length(), b.Span)
	for s := 0.05; s < b.Span; s += 0.1 {
		z, f := zoneAt(e.Roof, s), zoneAt(flat, s)
		other := up
		if s > b.RidgeY {
			other = [2]float64{down, down}
		}
		near(t, "set a", z.Cpe[0], min(f.Cpe[0], other[0]), 1e-12)
		near(t, "set b", z.Cpe[1], max(f.Cpe[1], other[1]), 1e-12)
	}
	if e.Leeward != -0.5 { // d/b = 0.62 by the table under 10°, -0.3 by that from 10°
		t.Errorf("leeward %g, want -0.5", e.Leeward)
	}
}

// TestPurlinAtTheEaves follows a purlin 0.1 m from the north eaves of the packhouse, first bay, strip 1.2 m. By hand: a =
// 3.24 m, a² = 10.498 m², so RA1 (1.5) covers 8.75 m: the whole 4.9 m span; RA2 (2.0) 2.624/1.2 = 2.187 m at mid-span.
// Wind from the north: q = 1046.34 Pa, U -0.74934; highest Cp,i 0.90715 (as in the hand calculation of the north wind).
func TestPurlinAtTheEaves(t *testing.T) {
	b, s := packhouse()
	l, err := New(nil, Options{}).Local(b, s)
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, c := range l.Line(actions.NorthRoof, 16.1, 0, 4.9, 1.2) {
		switch c.Case {
		case "from the north, outwards, RA1":
			found++
			near(t, "RA1", c.Stretches[0].Pressure, 1046.34*(-1.5*0.74934-0.90715), 0.5)
			near(t, "RA1 to", c.Stretches[0].To, 4.9, 1e-9)
		case "from the north, outwards, RA2":
			found++
			if len(c.Stretches) != 3 {
				t.Fatalf("stretches %v", c.Stretches)
			}
			near(t, "RA2 from", c.Stretches[1].From, 2.45-2.187/2, 1e-3)
			near(t, "RA2", c.Stretches[1].Pressure, 1046.34*(-2*0.74934-0.90715), 0.5)
			near(t, "beside", c.Stretches[0].Pressure, 1046.34*(-0.74934-0.90715), 0.5)
		}
		if strings.Contains(c.Case, "RC1") {
			t.Errorf("%s: the pitch is over 10°", c.Case)
		}
	}
	if found != 2 {
		t.Errorf("%d of two cases found", found)
	}
}

// TestGirtOfSideWall: west end of the south wall in wind from the west: SA1 1.5 on ≤ 10.498 m² within 3.24 m, strip 1.5 m.
func TestGirtOfSideWall(t *testing.T) {
	b, s := packhouse()
	l, err := New(nil, Options{}).Local(b, s)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range l.Line(actions.SouthWall, 2, 0, 4.9, 1.5) {
		if c.Case != "from the west, outwards, SA1" {
			continue
		}
		// 3.24 m of the bay, at 1.5·0.65 = 0.975; beyond it 0.65.
		near(t, "SA1 to", c.Stretches[0].To, 3.24, 1e-9)
		hi := l.winds[actions.WestGable].InternalU.Hi
		near(t, "SA1", c.Stretches[0].Pressure, 1046.34*(-0.975-hi), 0.5)
		near(t, "beyond", c.Stretches[1].Pressure, 1046.34*(-0.65-hi), 0.5)
		return
	}
	t.Error("no SA1 in wind from the west")
}

// TestSchedule works the first dock door: wind from the north presses with 0.7 + 0.6593. The lowest Cp,i is the west
// roller door's: 9 m², Ka 1, middle 4.7 m from the windward edge so Kl 1, nearer edge in 0-1h: -0.65; 100·9^1.5/2527.2 =
// 1.0684, Kv = 1.01 + 0.15·0.02873 = 1.01431. 1046.34·1.3593 = 1422.3 Pa.
func TestSchedule(t *testing.T) {
	b, s := packhouse()
	l, err := New(nil, Options{}).Local(b, s)
	if err != nil {
		t.Fatal(err)
	}
	list := l.Schedule()
	if len(list) != len(b.Openings) {
		t.Fatalf("%d lines for %d openings", len(list), len(b.Openings))
	}
	for _, d := range list {
		if d.Name == "dock door 1" {
			near(t, "inwards", d.In, 1422.3, 0.5)
		}
		if !(d.In > 0) || !(d.Out < 0) || d.RestsOn == "" {
			t.Errorf("%s: %+v", d.Name, d)
		}
	}
}

// TestPeriods: eaves at 12 m leave the plateau across the building only: T = 1.25·0.11·12^0.75 = 0.8865 s, Ch = 1.98/T =
// 2.2334, V/W = 0.1·2.2334·0.385 = 0.08599; along, T = 0.403 s: 0.14168.
func TestPeriods(t *testing.T) {
	b, s := packhouse()
	b.EavesSouth, b.EavesNorth, b.Ridge, b.Openings = 12, 12, 13.6, nil
	cs := mustCases(t, New(nil, Options{}), b, s)
	near(t, "across", find(t, cs, "E Y +0.1b").Fraction, 0.08599, 2e-5)
	near(t, "along", find(t, cs, "E X +0.1b").Fraction, 0.14168, 1e-6)
	// k grows from 1 at 0.5 s to 2 at 2.5 s: 1 + 0.3865/2.
	near(t, "k", find(t, cs, "E Y +0.1b").HeightPower, 1.1933, 1e-3)
}

// TestRecurrence reads the code's tables for places where they differ.
func TestRecurrence(t *testing.T) {
	table := NewTable(nil)
	for _, c := range []struct {
		region, state string
		north         bool
		il            int
		want          float64
	}{
		{"A4", "NSW", false, 1, 100}, {"C", "QLD", false, 1, 200}, {"B2", "QLD", false, 1, 100}, {"B2", "WA", false, 1, 200},
		{"D", "WA", true, 1, 250}, {"D", "WA", true, 2, 1000}, {"D", "WA", false, 2, 500}, {"NZ1", "NZ", false, 4, 2500}, {"A0", "SA", false, 4, 2000},
	} {
		got, err := table.Recurrence(nil, &actions.Site{Region: c.region, State: c.state, NorthOfTropic: c.north, ImportanceLevel: c.il}, "wind")
		if err != nil || got != c.want {
			t.Errorf("%+v: got %g (%v)", c, got, err)
		}
	}
}

// TestDebris: in region C an unrated envelope takes a hole in the windward wall at a ratio of 2: 0.7·0.7 = 0.49.
func TestDebris(t *testing.T) {
	b, s := packhouse()
	b.Openings = nil
	s.Region = "C"
	p := New(nil, Options{})
	winds, err := p.Winds(nil, b, s)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "highest", winds[0].InternalU.Hi, 0.49, 1e-9)
	near(t, "lowest, side wall", winds[0].InternalU.Lo, -0.65, 1e-9)
	near(t, "service", winds[0].InternalS.Hi, 0, 1e-9)
	s.DebrisRated = true
	winds, _ = p.Winds(nil, b, s)
	near(t, "rated", winds[0].InternalU.Hi, 0, 1e-9)
}

// TestMayFail: a door that may fail is gone in the ultimate wind and shut in service; one that stays shut never opens.
func TestMayFail(t *testing.T) {
	b, s := packhouse()
	for i := range b.Openings {
		b.Openings[i].State = actions.StaysShut
	}
	b.Openings[5].State = actions.MayFail // dock door 1
	winds, err := New(nil, Options{}).Winds(nil, b, s)
	if err != nil {
		t.Fatal(err)
	}
	w := winds[actions.NorthWall]
	// 11.52 m² at Ka = 1 - 0.05·1.52/15 = 0.99493; 100·11.52^1.5/2527.2 = 1.5472; Kv = 1.01 + 0.15·0.18954 = 1.03843.
	near(t, "ultimate", w.InternalU.Hi, 0.7*0.99493*1.03843, 1e-4)
	near(t, "service", w.InternalS.Hi, 0, 0)
}

// TestOpenWallWithDoors: a wall of 40 m² left open and doors of 30 m² opposite: the ratio 1.33 lies between the rows for 1
// and 2, so in wind along the building, on neither, the highest value is above that of the open side alone.
func TestOpenWallWithDoors(t *testing.T) {
	b := &actions.Building{FrameLines: []float64{0, 10}, Span: 12, EavesSouth: 4, EavesNorth: 4, Ridge: 5, RidgeY: 6, Shape: actions.Gable,
		OpenFaces: []actions.Face{actions.SouthWall},
		Openings:  []actions.Opening{{Name: "doors", Face: actions.NorthWall, U0: 1, U1: 8.5, V1: 4, Door: true}}}
	_, s := packhouse()
	p := New(nil, Options{})
	winds, err := p.Winds(nil, b, s)
	if err != nil {
		t.Fatal(err)
	}
	// Open side alone: -0.65·Ka·Kv, Ka = 0.9 - 0.1·15/75 = 0.88, Kv = 1.085 (100·40^1.5/540 = 46.9): -0.62062.
	// With the doors: from (-0.3, 0.0) at ratio 1 a third of the way to -0.65·0.88 = -0.572 at 2: -0.39067, -0.19067.
	w := winds[actions.WestGable].InternalU
	near(t, "lowest", w.Lo, -0.62062, 1e-5)
	near(t, "highest", w.Hi, -0.19067, 1e-5)
}

// TestReports: every random shed within the tables can be reported, and its numbers are finite.
func TestReports(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	for range 10 {
		b, s := randomShed(r)
		rep, err := New(nil, Options{}).Report(b, s)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := json.Marshal(rep); err != nil {
			t.Error(err)
		}
		if len(rep.Working) == 0 || len(rep.Confirm) == 0 || len(rep.LocalZones) == 0 || rep.Caution == "" {
			t.Error("a part of the report is empty")
		}
		for i := range rep.Directions {
			if len(rep.Extremes(i)) == 0 {
				t.Errorf("no case from the %s", rep.Directions[i].Name())
			}
		}
	}
}

// TestGravityByHand: slopes 2·26·√(8.1² + 1.6²) = 429.339 m², plan 421.2 m², walls 2·135.2 + 2·97.2 = 464.8 m².
func TestGravityByHand(t *testing.T) {
	b, s := packhouse()
	b.GroundSnow = 900
	p := New(nil, Options{})
	cs := mustCases(t, p, b, s)
	for _, c := range []struct {
		id   string
		want float64 // N, down
	}{
		{"G", 429.339*60 + 464.8*60},
		{"Gx", 421.2 * 50},
		{"Qr", 421.2 * 250},           // every frame carries over 13.8 m²
		{"S", 0.683564 * 900 * 421.2}, // μ = 0.7(60 - 11.174)/50
		{"S south", 0.683564 * 900 * 210.6},
	} {
		near(t, c.id, -totalForce(b, find(t, cs, c.id)).Z, c.want, 2)
	}
	near(t, "floor", find(t, cs, "Qf1").Floors[0].Pressure, 3000, 0)
	near(t, "floor, permanent", find(t, cs, "G").Floors[0].Pressure, 700, 0)
	combos, err := p.Combinations(b, s, cs)
	if err != nil {
		t.Fatal(err)
	}
	// Both signs of each earthquake case, and snow with ψc of the office.
	want := map[string]float64{"G+E -Y +0.1b": -1, "G+E +Y +0.1b": 1, "1.2G+S south": 0.4}
	for _, c := range combos {
		f, ok := want[c.ID]
		if !ok {
			continue
		}
		delete(want, c.ID)
		for _, term := range c.Terms {
			k := cs[term.Case]
			switch {
			case k.Kind == solver.KindEarthquake:
				near(t, c.ID, term.Factor, f, 0)
			case k.Kind == solver.KindFloorImposed && strings.Contains(c.ID, "S south"):
				near(t, c.ID, term.Factor, f, 0)
			}
		}
	}
	if len(want) > 0 {
		t.Errorf("not generated: %v", want)
	}
	if h := find(t, cs, "H Y of G"); h.Direction.Y != 1 || h.Fraction != 0.002 || h.Shares[0].Case != "G" {
		t.Errorf("notional: %+v", h)
	}
}
