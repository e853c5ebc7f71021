package asnzs1170

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/actions"
	"leanbay/solver"
)

// packhouse is an orchard's packing shed: 16.2 m span, 26 m long, a gable of 1.6 m rise, doors on all sides.
func packhouse() (*actions.Building, *actions.Site) {
	b := &actions.Building{
		FrameLines: []float64{0, 4.9, 9.8, 15.4, 21, 26}, Span: 16.2, EavesSouth: 5.2, EavesNorth: 5.2, Ridge: 6.8, RidgeY: 8.1,
		Shape: actions.Gable, RoofDead: 60, RoofExtra: 50, WallDead: 60,
		Floors: []actions.Floor{{Name: "office", X0: 0, X1: 9.8, Y0: 0, Y1: 4.4, Level: 2.75, Use: "office", Imposed: 3000, Permanent: 700}},
	}
	for _, o := range []struct {
		name           string
		f              actions.Face
		u0, u1, v0, v1 float64
	}{
		{"south window 1", actions.SouthWall, 0.9, 4.0, 1.1, 2.0},
		{"south window 2", actions.SouthWall, 5.8, 8.9, 1.1, 2.0},
		{"south window 3", actions.SouthWall, 5.8, 8.9, 3.7, 4.6},
		{"south roller door", actions.SouthWall, 10.8, 14.4, 0, 4},
		{"south personnel door", actions.SouthWall, 21.6, 22.52, 0, 2.1},
		{"dock door 1", actions.NorthWall, 11.0, 14.2, 0, 3.6},
		{"dock door 2", actions.NorthWall, 16.6, 19.8, 0, 3.6},
		{"dock door 3", actions.NorthWall, 21.9, 25.1, 0, 3.6},
		{"north personnel door", actions.NorthWall, 3.6, 4.52, 0, 2.1},
		{"north window", actions.NorthWall, 6.2, 8.6, 1.1, 2.0},
		{"west window", actions.WestGable, 1.0, 3.4, 3.7, 4.6},
		{"west roller door", actions.WestGable, 10, 13, 0, 3},
		{"east sliding door", actions.EastGable, 5.6, 10.6, 0, 4.4},
	} {
		p := actions.Opening{Name: o.name, Face: o.f, U0: o.u0, U1: o.u1, V0: o.v0, V1: o.v1, Door: strings.Contains(o.name, "door")}
		if !p.Door {
			p.State = actions.StaysShut
		}
		b.Openings = append(b.Openings, p)
	}
	s := &actions.Site{Region: "A4", ImportanceLevel: 2, Terrain: 2, BearingX: 60 * rad, HazardFactor: 0.10, SoilClass: "De"}
	return b, s
}

func mustCases(t *testing.T, p *Pack, b *actions.Building, s *actions.Site) []actions.Case {
	t.Helper()
	cs, err := p.Cases(b, s)
	if err != nil {
		t.Fatal(err)
	}
	return cs
}

func find(t *testing.T, cs []actions.Case, id string) *actions.Case {
	t.Helper()
	for i := range cs {
		if cs[i].ID == id {
			return &cs[i]
		}
	}
	t.Fatalf("no case %q", id)
	return nil
}

func totalForce(b *actions.Building, c *actions.Case) (sum r3.Vec) {
	for _, p := range c.Patches {
		f, _ := b.PatchForce(p)
		sum = r3.Add(sum, f)
	}
	return sum
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.6g, want %.6g ± %.2g", what, got, want, tol)
	}
}

// TestNorthWindByHand follows the wind from the north on the packhouse, roof set a, highest internal pressure. All
// figures below were worked with a pocket calculator from the tables of the notes.
func TestNorthWindByHand(t *testing.T) {
	b, s := packhouse()
	p := New(nil, Options{})
	// V_R = 67 - 41/500^0.1 = 67 - 41/1.86165 = 44.98 -> 45 m/s; Mc = 1; h = 5.2 + 1.6/2 = 6.0 m;
	// Mz,cat = 0.91 + (6-5)/5·(1.00-0.91) = 0.928. The north wall looks to 60° - 90° = 330°; within ±45° lie NW (Md 1.00)
	// and N (0.85): V_des = 45·0.928·1.00 = 41.76 m/s; q = 0.6·41.76² = 1046.34 Pa.
	winds, err := p.Winds(nil, b, s)
	if err != nil {
		t.Fatal(err)
	}
	w := winds[actions.NorthWall]
	near(t, "V_des", w.Ultimate.V, 41.76, 0.005)
	near(t, "q", w.Ultimate.Q, 1046.34, 0.05)
	// North personnel door alone open: A = 0.92·2.1 = 1.932 m², Ka = 1; a = min(5.2, 3.24, 6.0) = 3.24 m, 0.25a² = 2.624 m²:
	// Kl = 1.5. Vol = 26(16.2·5.2 + 16.2·1.6/2) = 2527.2 m³; 100·1.932^1.5/2527.2 = 0.10626; Kv = 1.01 + 0.15·(-0.97363) =
	// 0.86396; ratio to the leaks over 6. Cp,i = 0.7·1.5·0.86396 = 0.90715.
	near(t, "Cp,i", w.InternalU.Hi, 0.90715, 5e-5)
	// Pitch 11.174°, h/d = 0.37037: shares 0.23480 and 0.48148. U, set a: -0.7+0.2·0.2348 = -0.65304; -0.9+0.04696 =
	// -0.85304; between: -0.74934. D: -0.34696 and -0.5; between: -0.42065.
	near(t, "U", w.External.Roof[0].Cpe[0], -0.74934, 5e-5)
	near(t, "D", w.External.Roof[1].Cpe[0], -0.42065, 5e-5)
	// Walls: (0.7 + 0.3)·1046.34·26·5.2 = 141465 N towards -Y (the inside cancels). Slopes: (0.74934 + 0.90715)·1046.34 =
	// 1733.25 Pa and (0.42065 + 0.90715)·1046.34 = 1389.33 Pa on 210.6 m² of plan each: up 365023 + 292593 = 657616 N;
	// sideways times the rise over the run, 0.197531: 72103 - 57796 = +14307 N. Together -127158 N along Y.
	f := totalForce(b, find(t, mustCases(t, p, b, s), "Wu north cpi+ roof a"))
	near(t, "force X", f.X, 0, 1)
	near(t, "force Y", f.Y, -127158, 60)
	near(t, "force Z", f.Z, 657616, 300)
}

func TestPackhouseCombinations(t *testing.T) {
	b, s := packhouse()
	p := New(nil, Options{})
	cs := mustCases(t, p, b, s)
	combos, err := p.Combinations(b, s, cs)
	if err != nil {
		t.Fatal(err)
	}
	count := map[solver.LimitState]int{}
	ids := map[string]bool{}
	for _, c := range combos {
		count[c.State]++
		if ids[c.ID] || c.Reason == "" || len(c.Terms) == 0 {
			t.Errorf("%s: named twice, without reason or without terms", c.ID)
		}
		ids[c.ID] = true
		for _, term := range c.Terms {
			k := cs[term.Case]
			if term.Factor == 0.9 && k.Kind != solver.KindPermanent {
				t.Errorf("%s: 0.9 on %s: only certain permanent action holds down", c.ID, k.ID)
			}
			if strings.Contains(c.ID, "0.9G") && (k.Kind == solver.KindFloorImposed || k.Kind == solver.KindPermanentExtra) {
				t.Errorf("%s: %s helps against uplift", c.ID, k.ID)
			}
		}
	}
	if n := count[solver.Strength]; n < 30 || n > 60 {
		t.Errorf("%d strength combinations, want 30 to 60", n)
	}
	all, err := New(nil, Options{KeepAll: true}).Combinations(b, s, cs)
	if err != nil {
		t.Fatal(err)
	}
	if len(all) <= len(combos) {
		t.Errorf("keeping all gives %d of %d combinations", len(all), len(combos))
	}
}

// TestNotionalFollowsGravity checks 1.2G+1.5Qf with its notional force: each vertical load's own factor.
func TestNotionalFollowsGravity(t *testing.T) {
	b, s := packhouse()
	p := New(nil, Options{})
	cs := mustCases(t, p, b, s)
	combos, _ := p.Combinations(b, s, cs)
	want := map[string]float64{"G": 1.2, "Gx": 1.2, "Qf1": 1.5, "H Y of G": -1.2, "H Y of Gx": -1.2, "H Y of Qf1": -1.5}
	for _, c := range combos {
		if c.ID != "1.2G+1.5Qf+H -Y" {
			continue
		}
		for _, term := range c.Terms {
			id := cs[term.Case].ID
			if want[id] != term.Factor {
				t.Errorf("%s: factor %g, want %g", id, term.Factor, want[id])
			}
			delete(want, id)
		}
	}
	if len(want) > 0 {
		t.Errorf("not taken: %v", want)
	}
}

func TestEarthquakeOfPackhouse(t *testing.T) {
	b, s := packhouse()
	cs := mustCases(t, New(nil, Options{}), b, s)
	// By hand: kpZ = 1.0·0.10 (least 0.08); T1 across = 1.25·0.11·5.2^0.75 = 0.1375·3.4435 = 0.4735 s, along
	// 1.25·0.05·3.4435 = 0.2152 s: both below 1.98/3.68 = 0.538 s, so Ch = 3.68; V/W = 0.10·3.68·0.385 = 0.14168.
	for _, id := range []string{"E X +0.1b", "E Y -0.1b"} {
		near(t, id, find(t, cs, id).Fraction, 0.14168, 1e-6)
	}
	measured := New(nil, Options{Period: [2]float64{0, 1.2}})
	// Ch(1.2) = 1.98/1.2 = 1.65, but not below 80 %: 0.8·0.14168 = 0.113344.
	near(t, "measured", find(t, mustCases(t, measured, b, s), "E Y +0.1b").Fraction, 0.113344, 1e-6)
	s.ImportanceLevel = 1
	cs = mustCases(t, New(nil, Options{}), b, s)
	if slices.ContainsFunc(cs, func(c actions.Case) bool { return c.Kind == solver.KindEarthquake }) {
		t.Error("importance level 1 needs no earthquake")
	}
	find(t, cs, "R X")
}

// randomShed makes a building within the tables: gable or mono-pitch, any pitch to 30°, some with open walls.
func randomShed(r *rand.Rand) (*actions.Building, *actions.Site) {
	between := func(lo, hi float64) float64 { return lo + r.Float64()*(hi-lo) }
	span, bay := between(6, 30), between(3, 8)
	b := &actions.Building{FrameLines: []float64{0}, Span: span, EavesSouth: between(2.5, 8), RoofDead: 60, WallDead: 50}
	for range 2 + r.IntN(9) {
		b.FrameLines = append(b.FrameLines, b.Length()+bay)
	}
	rise := span * math.Tan(between(1, 30)*rad)
	b.EavesNorth, b.Shape = b.EavesSouth, actions.Gable
	b.RidgeY = span / 2
	b.Ridge = b.EavesSouth + rise/2
	if r.IntN(2) == 0 {
		b.Shape, rise = actions.MonoPitch, rise/3
		b.Ridge, b.EavesNorth, b.RidgeY = b.EavesSouth+rise, b.EavesSouth+rise, span
		if r.IntN(2) == 0 {
			b.EavesSouth, b.EavesNorth, b.RidgeY = b.EavesNorth, b.EavesSouth, 0
		}
	}
	for n := r.IntN(3); n > 0 && r.IntN(2) == 0; n-- {
		b.OpenFaces = append(b.OpenFaces, actions.Face(r.IntN(4)))
	}
	regions := []string{"A0", "A1", "A2", "A3", "A4", "A5", "B1", "B2", "C", "D"}
	s := &actions.Site{Region: regions[r.IntN(len(regions))], ImportanceLevel: 1 + r.IntN(4), Terrain: between(1, 4), BearingX: between(0, 2*math.Pi), HazardFactor: 0.1, SoilClass: "Ce"}
	return b, s
}

// TestPatchesTile: on random buildings, in every case, the patches of a face fill it once, or leave an open face bare.
func TestPatchesTile(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 25 {
		b, s := randomShed(r)
		for _, c := range mustCases(t, New(nil, Options{}), b, s) {
			if len(c.Patches) == 0 {
				continue
			}
			var area [actions.NumFaces]float64
			for i, p := range c.Patches {
				area[p.Face] += b.PatchArea(p)
				for _, q := range c.Patches[:i] {
					if p.Face == q.Face && overlap(p.U0, p.U1, q.U0, q.U1) && overlap(p.V0, p.V1, q.V0, q.V1) {
						t.Fatalf("%s: patches overlap on the %v: %+v, %+v", c.ID, p.Face, p, q)
					}
				}
			}
			wind := c.Kind == solver.KindWindUltimate || c.Kind == solver.KindWindService
			for f := actions.SouthWall; f < actions.NumFaces; f++ {
				want := b.FaceArea(f)
				if b.Open(f) || (!wind && f < actions.SouthRoof && c.Kind != solver.KindPermanent) {
					want = 0
				}
				near(t, c.ID+" "+f.String(), area[f], want, 1e-9*(1+want))
			}
		}
	}
}

func overlap(a0, a1, b0, b1 float64) bool { return min(a1, b1)-max(a0, b0) > 1e-9 }

// TestForceIsPressureTimesArea integrates the coefficients of Table 5.2 and 5.3(A), written out here once more, over
// thin strips of random flat-roofed buildings, and wants the whole force of every wind case.
func TestForceIsPressureTimesArea(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	p := New(nil, Options{})
	for range 15 {
		b, s := randomShed(r)
		flatten(b)
		winds, err := p.Winds(nil, b, s)
		if err != nil {
			t.Fatal(err)
		}
		cs := mustCases(t, p, b, s)
		for i := range winds {
			w := &winds[i]
			for _, ci := range internalPair(w.InternalU) {
				for k, set := range setNames {
					c := find(t, cs, "Wu "+w.Name()+" "+ci.name+" roof "+set)
					got, want := totalForce(b, c), integrated(b, w, k, ci.cpi)
					size := w.Ultimate.Q * b.Length() * b.Span
					near(t, c.ID+" X", got.X, want.X, 4e-3*size)
					near(t, c.ID+" Y", got.Y, want.Y, 4e-3*size)
					near(t, c.ID+" Z", got.Z, want.Z, 4e-3*size)
				}
			}
		}
	}
}

// flatten lowers the roof under 9°, and lengthens the plan until h/d is at most 0.5 both ways.
func flatten(b *actions.Building) {
	rise := min(b.Ridge-min(b.EavesSouth, b.EavesNorth), b.Span/2*math.Tan(9*rad))
	low := min(b.EavesSouth, b.EavesNorth, b.Span/2-rise, b.Length()/2-rise)
	b.Ridge = low + rise
	switch {
	case b.Shape == actions.Gable:
		b.EavesSouth, b.EavesNorth = low, low
	case b.RidgeY == 0:
		b.EavesSouth, b.EavesNorth = b.Ridge, low
	default:
		b.EavesSouth, b.EavesNorth = low, b.Ridge
	}
}

// integrated is the force of a wind in strips across it: walls by their height at each strip, the roof by its plan.
func integrated(b *actions.Building, w *Wind, k int, cpi float64) (sum r3.Vec) {
	const n = 800
	step := func(s float64, cs [4]float64) float64 { return cs[min(int(s/w.H), 3)] }
	roof := [2][4]float64{{-0.9, -0.5, -0.3, -0.2}, {-0.4, 0, 0.1, 0.2}}[k]
	lee := [3]float64{-0.5, -0.3, -0.2}
	r := w.D / w.B
	leeward := lee[0]
	switch {
	case r > 4:
		leeward = lee[2]
	case r > 2:
		leeward = lee[1] + (r-2)/2*(lee[2]-lee[1])
	case r > 1:
		leeward = lee[0] + (r-1)*(lee[1]-lee[0])
	}
	q := w.Ultimate.Q
	push := func(f actions.Face, pa, area float64) {
		if !b.Open(f) {
			sum = r3.Sub(sum, r3.Scale(pa*area, b.FaceNormal(f)))
		}
	}
	push(w.From, q*(0.7-cpi), b.FaceArea(w.From))
	push(w.Leeward, q*(leeward-cpi), b.FaceArea(w.Leeward))
	dragged := w.D/w.H > 4 || w.D/w.B > 4
	clear := 4 * min(w.H, w.B)
	for i := range n {
		ds := w.D / n
		s := (float64(i) + 0.5) * ds
		c := w.distance(s)
		sides, heights := []actions.Face{actions.SouthWall, actions.NorthWall}, []float64{b.EavesSouth, b.EavesNorth}
		if !w.Along {
			sides, heights = []actions.Face{actions.WestGable, actions.EastGable}, []float64{b.RoofHeight(c), b.RoofHeight(c)}
		}
		drag := r3.Vec{}
		if dragged && s > clear {
			drag = r3.Scale(q*0.04*ds, w.BlowsTo())
		}
		for j, f := range sides {
			push(f, q*(step(s, [4]float64{-0.65, -0.5, -0.3, -0.2})-cpi), heights[j]*ds)
			if !b.Open(f) {
				sum = r3.Add(sum, r3.Scale(w.H, drag))
			}
		}
		sum = r3.Add(sum, r3.Scale(w.B, drag))
		for _, f := range []actions.Face{actions.SouthRoof, actions.NorthRoof} {
			_, _, v0, v1 := b.Extent(f)
			width := v1 - v0
			if !w.Along {
				width = b.Length()
				if c < v0 || c >= v1 {
					width = 0
				}
			}
			push(f, q*(step(s, roof)-cpi), width*ds*b.Stretch(f))
		}
	}
	return sum
}

// TestTurningTheBuilding: turning X by a quarter turn hands each wall its neighbour's wind.
func TestTurningTheBuilding(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	p := New(nil, Options{})
	for range 15 {
		b, s := randomShed(r)
		for i := range s.Shielding {
			s.Shielding[i] = 0.7 + 0.3*r.Float64()
		}
		before, err := p.Winds(nil, b, s)
		if err != nil {
			t.Fatal(err)
		}
		turned := *s
		turned.BearingX += math.Pi / 2
		after, err := p.Winds(nil, b, &turned)
		if err != nil {
			t.Fatal(err)
		}
		// East looks where south looked, and so on round the clock.
		was := map[actions.Face]actions.Face{actions.EastGable: actions.SouthWall, actions.SouthWall: actions.WestGable,
			actions.WestGable: actions.NorthWall, actions.NorthWall: actions.EastGable}
		for now, old := range was {
			near(t, "speed on the "+now.String(), after[now].Ultimate.V, before[old].Ultimate.V, 1e-9)
		}
	}
}

func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*actions.Building, *actions.Site)
		want   string
	}{
		{"too high", func(b *actions.Building, s *actions.Site) { b.EavesSouth, b.EavesNorth, b.Ridge = 25, 25, 26.6 }, "above 25 m"},
		{"three walls open", func(b *actions.Building, s *actions.Site) {
			b.OpenFaces = []actions.Face{actions.SouthWall, actions.NorthWall, actions.WestGable}
		}, "three walls open"},
		{"New Zealand", func(b *actions.Building, s *actions.Site) { s.Region = "NZ2" }, "regional_speed"},
		{"no hazard", func(b *actions.Building, s *actions.Site) { s.HazardFactor = 0 }, "hazard factor Z is not given"},
		{"no soil", func(b *actions.Building, s *actions.Site) { s.SoilClass = "" }, "give one of Ae"},
		{"no importance", func(b *actions.Building, s *actions.Site) { s.ImportanceLevel = 0 }, "give 1 to 4"},
		{"use", func(b *actions.Building, s *actions.Site) { b.Floors[0].Use = "disco" }, "the uses are office"},
		{"opening outside", func(b *actions.Building, s *actions.Site) { b.Openings[0].V1 = 9 }, "does not lie within the south wall"},
		{"terrain", func(b *actions.Building, s *actions.Site) { s.Terrain = 5 }, "give 1 to 4"},
		{"pitches", func(b *actions.Building, s *actions.Site) { b.RidgeY = 3 }, "both sides of 10°"},
	} {
		t.Run(c.name, func(t *testing.T) {
			b, s := packhouse()
			c.change(b, s)
			_, err := New(nil, Options{}).Cases(b, s)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want an error with %q", err, c.want)
			}
		})
	}
}

func TestFreeRoof(t *testing.T) {
	b, s := packhouse()
	b.Openings, b.Floors = nil, nil
	b.OpenFaces = []actions.Face{actions.SouthWall, actions.NorthWall, actions.WestGable, actions.EastGable}
	p := New(nil, Options{})
	cs := mustCases(t, p, b, s)
	combos, err := p.Combinations(b, s, cs)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, c := range cs {
		if c.Kind == solver.KindWindUltimate {
			n++
			for _, patch := range c.Patches {
				if patch.Face < actions.SouthRoof {
					t.Errorf("%s loads the %v", c.ID, patch.Face)
				}
			}
		}
	}
	// Across a gable under 15°: blocked -1.2/-0.9 alone, empty {-0.3, 0.4} × {-0.4, 0}: 5 a direction. Along: the blocked
	// flat roof's four corners hold the empty ones: 4 a direction.
	if n != 18 {
		t.Errorf("%d wind cases, want 18", n)
	}
	// The blocked gable: q·(1.2 + 0.9)·210.6 m² of lift from the north, q = 1046.34 Pa (as above): 462747 N.
	f := totalForce(b, find(t, cs, "Wu north blocked 1"))
	near(t, "lift", f.Z, 462747, 200)
	if len(combos) == 0 {
		t.Error("no combinations")
	}
	l, err := p.Local(b, s)
	if err != nil {
		t.Fatal(err)
	}
	// Corner of a roof of 11°: no RC1; strip factor 2.0 on the blocked -1.2: 2·1.2·1046.34 = 2511 Pa.
	r := l.Panel(actions.NorthRoof, 0, 0.5, 15.5, 16.2, -1)
	near(t, "corner suction", r.Out, -2511, 2)
}
