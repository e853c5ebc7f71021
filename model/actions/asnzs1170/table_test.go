package asnzs1170

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"leanbay/model/actions"
)

// offered are coefficients that no case reads: they are for whoever designs a part by hand (Table.Value).
var offered = map[string]string{
	"speed.yearly.":                  "R = 1 year is asked for by nobody but the clause itself",
	"psi.roof_floor.":                "roofs used as floors are mezzanines here",
	"floor.partitions":               "the brief gives partitions as permanent action",
	"local.porosity":                 "sheeting",
	"friction.corrugated":            "drag takes the rougher value",
	"friction.along":                 "drag takes the rougher value",
	"earthquake.kt.eccentric":        "no eccentric braces",
	"earthquake.performance.ductile": "frames count as ordinary",
	"combination.stability.G_alone":  "gravity alone overturns no shed",
	"combination.stability.G":        "the wind's own uplift governs stability, with the holding factor",
	"combination.stability.Q":        "gravity alone overturns no shed",
	"guide.":                         "advice on deflection",
}

func isOffered(name string) bool {
	for prefix := range offered {
		if name == prefix || strings.HasSuffix(prefix, ".") && strings.HasPrefix(name, prefix) {
			return true
		}
	}
	return false
}

// A probe runs one part of what reads coefficients and says every number that comes out.
type probe func(t *Table, say func(any))

// probes are run apart, so that an override is tried only on those that read it.
func probes() []probe {
	out := []probe{probeSite, probeExternal, probeInternal, probeFree, probeImposed, probeEarthquake, probeCases}
	for i, change := range probeSheds {
		opt := Options{CombinationFactor: i%3 == 0}
		out = append(out, func(t *Table, say func(any)) { probePack(t, opt, change, say) })
	}
	return out
}

// run returns all that a probe says with the overrides o, and which coefficients it read.
func (p probe) run(o *Overrides) (said string, read []string) {
	var out strings.Builder
	t := NewTable(o)
	t.log = &actions.Working{}
	p(t, func(v any) {
		text, err := json.Marshal(v)
		if err != nil {
			text = fmt.Append(nil, v)
		}
		out.Write(text)
	})
	return out.String(), t.log.Used
}

func probeSite(t *Table, say func(any)) {
	for _, region := range regions {
		s := actions.Site{Region: region, Terrain: 2.5, ImportanceLevel: 2}
		for _, state := range []string{"NSW", "WA", "NZ"} {
			s.State, s.NorthOfTropic = state, state == "WA"
			for s.ImportanceLevel = 1; s.ImportanceLevel <= 4; s.ImportanceLevel++ {
				for _, action := range []string{"wind", "snow", "earthquake"} {
					y, _ := t.Recurrence(nil, &s, action)
					say(y)
				}
			}
		}
		v, _ := t.RegionalSpeed(nil, region, 500)
		mc, _ := t.Climate(nil, region)
		say([]float64{v, mc})
		for _, use := range []Use{Frame, Cladding} {
			md, _ := t.DirectionMultipliers(nil, region, use)
			say(md)
		}
		for _, z := range []float64{3, 5, 10, 15, 20, 30, 40, 50} {
			for _, tc := range terrainCategories {
				m, _ := t.TerrainHeight(nil, region, tc, z)
				say(m)
			}
		}
		say(t.Topographic(nil, region, 1.3, 550))
		say(t.Topographic(nil, region, 1.3, 480))
	}
	for _, s := range []float64{1.5, 3, 6, 12, 20} {
		ms, _, ls := t.Shielding(nil, 6, 4, 6*7.5*6*7.5/(s*s)/10, 10)
		say([]float64{ms, ls})
	}
	ms, _, _ := t.Shielding(nil, 27, 4, 100, 100)
	say(ms)
	answer, _ := AnswerCase(t, nil, []byte(`{"type":"shielding","inputs":{"h_m":5,"ns":6,"hs_m":5,"bs_m":15,"upwind_slope":0.19}}`))
	say(answer)
	for _, h := range []actions.Hill{{Height: 40, UpwindHalf: 120, Distance: 30}, {Height: 60, UpwindHalf: 30, Distance: 14, Downwind: true},
		{Height: 60, UpwindHalf: 55, Distance: 10, Downwind: true, Escarpment: true}, {Height: 60, UpwindHalf: 590, Distance: 10},
		{Height: 60, UpwindHalf: 65, Distance: 10, Downwind: true}, {Height: 11, UpwindHalf: 30}, {Height: 60, UpwindHalf: 50, Distance: 16, Downwind: true}} {
		say(t.Hill(nil, h, 5))
		say(t.Hill(nil, h, 7))
	}
}

func probeExternal(t *Table, say func(any)) {
	say(t.Pressure(nil, 40))
	for _, r := range []float64{0.1, 0.3, 1, 2, 4} {
		for _, pitch := range []float64{5, 10, 15, 20, 25} {
			say(t.Leeward(nil, false, pitch, r, 1))
		}
	}
	say(t.Side(nil, 5, 30))
	for _, d := range []float64{5, 8, 30} {
		say(t.FlatRoof(nil, 5, d))
	}
	for _, hd := range []float64{0.25, 0.5, 1} {
		for _, pitch := range []float64{10, 15, 20, 25, 30, 35, 45, 50} {
			say(t.Upwind(nil, pitch, hd))
			for _, bd := range []float64{1, 5, 9} {
				say(t.Downwind(nil, pitch, hd, bd, 1))
			}
		}
	}
	for n := range 5 {
		say(t.CombinationFactor(nil, n))
	}
	for _, surface := range openingSurfaces {
		for _, a := range []float64{5, 10, 25, 60, 100} {
			ka, _ := t.AreaReduction(nil, surface, a)
			say(ka)
		}
	}
}

func probeInternal(t *Table, say func(any)) {
	for _, surface := range openingSurfaces {
		for _, ratio := range []float64{0.3, 0.5, 1, 2, 3, 5.9, 6, 6.5} {
			for _, area := range []float64{0.5, 2, 20, 24.4} {
				lo, hi := t.Dominant(nil, Opened{Surface: surface, Area: area, Others: area / ratio, Cpe: 0.7, Ka: 1, Kl: 1, Volume: 1200})
				say([]float64{lo, hi})
			}
		}
	}
	for v := 800.0; v < 1500; v += 50 { // the ends of Kv's range
		lo, _ := t.Dominant(nil, Opened{Surface: "side wall", Area: 10, Others: 0.1, Cpe: 0.7, Ka: 1, Kl: 1, Volume: v})
		hi, _ := t.Dominant(nil, Opened{Surface: "side wall", Area: 1, Others: 0.1, Cpe: 0.7, Ka: 1, Kl: 1, Volume: v})
		say([]float64{lo, hi})
	}
	for _, p := range []Permeability{AllPermeable, SomePermeable, OnePermeable} {
		for _, on := range []bool{true, false} {
			lo, hi := t.Permeable(nil, p, on)
			say([]float64{lo, hi})
		}
	}
}

func probeFree(t *Table, say func(any)) {
	for _, shape := range []actions.RoofShape{actions.Gable, actions.MonoPitch} {
		for _, up := range []string{"high", "low"} {
			for _, pitch := range []float64{0, 15, 22.5, 30} {
				for _, blocked := range []bool{true, false} {
					cw, cl, _ := t.FreeRoof(nil, shape, blocked, pitch, up)
					say(cw)
					say(cl)
				}
			}
		}
	}
}

func probeImposed(t *Table, say func(any)) {
	for _, use := range append(slices.Clone(uses), "roof") {
		a, p, _ := t.FloorImposed(nil, use, 0)
		b, _, _ := t.FloorImposed(nil, use, 3)
		say([]float64{a, p, b, t.FloorReduction(nil, use, 12), t.FloorReduction(nil, use, 400)})
		say(t.Psi(nil, use))
	}
	a, c := t.RoofPoint(nil)
	d, e := t.Barrier(nil)
	say([]float64{a, c, d, e, t.RoofImposed(nil, 5), t.RoofImposed(nil, 50)})
	for _, pitch := range []float64{5, 10, 20, 40} {
		say(t.SnowShape(nil, pitch))
	}
}

func probeEarthquake(t *Table, say func(any)) {
	for _, years := range recurrences {
		for _, z := range []float64{0.01, 0.2} {
			for _, soil := range soilClasses {
				for _, hn := range []float64{1, 12, 50} {
					for _, measured := range []float64{0, 0.8, 2.2} {
						r, err := t.BaseShear(nil, z, years, soil, 0.11, hn, 0.385, measured)
						say(r)
						say(fmt.Sprint(err))
					}
				}
			}
		}
	}
}

func probeCases(t *Table, say func(any)) {
	for _, text := range []string{
		`{"type":"roof imposed action","inputs":{"areas_m2":[5,20],"roof_use":"accessible"}}`,
		`{"type":"combinations","inputs":{"psi_floor_s_l_c_E":[1,0.6,0.6,0.6]}}`,
	} {
		answer, err := AnswerCase(t, nil, []byte(text))
		say(answer)
		say(fmt.Sprint(err))
	}
}

// probeSheds are changes to the packhouse that reach the far corners of the tables.
var probeSheds = []func(*actions.Building, *actions.Site){
	func(b *actions.Building, s *actions.Site) {},
	func(b *actions.Building, s *actions.Site) { s.ImportanceLevel = 1 },
	func(b *actions.Building, s *actions.Site) {
		s.Region, b.GroundSnow = "C", 900
		b.Floors[0].Use = "storage"
	},
	func(b *actions.Building, s *actions.Site) { // a tall narrow box
		b.FrameLines, b.Openings, b.Floors = []float64{0, 4, 8}, nil, nil
		b.EavesSouth, b.EavesNorth, b.Ridge, b.Span, b.RidgeY = 12, 12, 12.2, 7, 3.5
	},
	func(b *actions.Building, s *actions.Site) { // low and wide
		b.FrameLines, b.Openings, b.Floors = []float64{0, 20, 40}, nil, nil
		b.EavesSouth, b.EavesNorth, b.Ridge, b.Span, b.RidgeY = 3, 3, 6, 32, 16
	},
	func(b *actions.Building, s *actions.Site) {
		b.Openings, b.Floors, b.OpenFaces = nil, nil, []actions.Face{0, 1, 2, 3}
		b.Ridge = b.EavesSouth + 0.8
	},
	func(b *actions.Building, s *actions.Site) { // free.depth
		b.Openings, b.Floors, b.OpenFaces = nil, nil, []actions.Face{0, 1, 2, 3}
		b.Shape, b.RidgeY, b.EavesNorth = actions.MonoPitch, b.Span, b.Ridge
		b.FrameLines = []float64{0, 5, 6.6}
	},
	func(b *actions.Building, s *actions.Site) { b.Ridge = b.EavesSouth + b.RidgeY*math.Tan(9.6*rad) }, // the step
	func(b *actions.Building, s *actions.Site) {
		s.Region, s.State = "NZ1", "NZ"
		s.RegionalSpeed = map[int]float64{500: 45, 25: 37}
		s.Direction = [8]float64{1, 1, 1, 1, 1, 1, 1, 1}
	},
	func(b *actions.Building, s *actions.Site) {
		s.Shielding = [8]float64{.7, .7, .7, .7, .7, .7, .7, .7}
		s.Terrain = 4
	},
}

func probePack(t *Table, opt Options, change func(*actions.Building, *actions.Site), say func(any)) {
	b, s := packhouse()
	change(b, s)
	p := &Pack{t: t, opt: opt}
	cs, err := p.Cases(b, s)
	say(fmt.Sprint(err))
	if err != nil {
		return
	}
	say(cs)
	combos, _ := p.Combinations(b, s, cs)
	say(combos)
	l, err := p.Local(b, s)
	if err != nil {
		say(err.Error())
		return
	}
	say(l.a)
	for f := actions.SouthWall; f < actions.NumFaces; f++ {
		u0, u1, v0, v1 := b.Extent(f)
		if b.Open(f) || u1 == u0 {
			continue
		}
		for _, v := range []float64{v0 + 0.1, v0 + 0.4*(v1-v0), v1 - 0.1} {
			say(l.Line(f, v, u0, u0+4, 1.2))
		}
	}
	say(l.Schedule())
}

// TestEveryOverrideCounts sets each coefficient in turn: something must change, or the coefficient is one of those that
// are only offered, and those are read by nothing.
func TestEveryOverrideCounts(t *testing.T) {
	type state struct {
		probe
		said string
	}
	readers := map[string][]state{}
	for _, p := range probes() {
		said, read := p.run(nil)
		for _, name := range read {
			readers[name] = append(readers[name], state{p, said})
		}
	}
	for _, c := range Defaults() {
		changed := false
		// Several values: a limit may bite one way only, and a switch knows 0.
		for _, v := range []float64{1.15*c.Value + 0.013, 0.6*c.Value - 0.05, 0} {
			for _, r := range readers[c.Name] {
				if changed {
					break
				}
				said, _ := r.run(&Overrides{Entries: []Override{{Name: c.Name, Value: v, Reason: "test"}}})
				changed = said != r.said
			}
		}
		if changed == isOffered(c.Name) {
			t.Errorf("%s = %g: an override changes something: %v; only offered: %v", c.Name, c.Value, changed, isOffered(c.Name))
		}
	}
}

// TestTableEnds reads each table at and beyond its ends and at a middle, values from the notes.
func TestTableEnds(t *testing.T) {
	c := NewTable(nil)
	mz := func(tc, z float64) float64 { m, _ := c.TerrainHeight(nil, "A1", tc, z); return m }
	ka := func(s string, a float64) float64 { k, _ := c.AreaReduction(nil, s, a); return k }
	for _, x := range []struct {
		name      string
		got, want float64
	}{
		{"TC1 at 0 m", mz(1, 0), 0.97}, {"TC4 at 50 m", mz(4, 50), 0.90}, {"TC2 at 13.3 m, source {5}", mz(2, 13.3), 1.033},
		{"TC1 at 3.1 m, source {4}", mz(1, 3.1), 0.972},
		{"Ka roof 0", ka("roof", 0), 1}, {"Ka roof 1000", ka("roof", 1000), 0.8}, {"Ka leeward 25", ka("leeward wall", 25), 1},
		{"leeward d/b 0.1", c.Leeward(nil, true, 5, 0.1, 1), -0.5}, {"leeward d/b 9", c.Leeward(nil, true, 30, 9, 1), -0.2},
		{"leeward 17.5°", c.Leeward(nil, false, 17.5, 1, 1), -0.35}, {"leeward 40°, d/b 0.05", c.Leeward(nil, false, 40, 0.05, 1), -0.75},
		{"U 45°", c.Upwind(nil, 45, 0.3)[1], 0.8 * math.Sqrt2 / 2}, {"U 10°, h/d 3", c.Upwind(nil, 10, 3)[0], -1.3},
		{"D 25°, b/d 1", c.Downwind(nil, 25, 0.3, 1, 1), -0.6}, {"D 25°, b/d 5", c.Downwind(nil, 25, 0.3, 5, 1), -0.72},
		{"D 30°, b/d 20", c.Downwind(nil, 30, 0.3, 20, 1), -0.9},
		{"snow 5°", c.SnowShape(nil, 5), 0.7}, {"snow 60°", c.SnowShape(nil, 60), 0}, {"snow 35°", c.SnowShape(nil, 35), 0.35},
		{"hill crest, slope 0.2: 1 + 40/(3.5·36)", c.Hill(nil, actions.Hill{Height: 40, UpwindHalf: 100}, 0).Mh, 1.3175},
		{"hill crest, slope 0.5", c.Hill(nil, actions.Hill{Height: 100, UpwindHalf: 100}, 0).Mh, 1.71},
	} {
		near(t, x.name, x.got, x.want, 1.5e-3)
	}
}

// TestSignsAreNotMixed: between two values of one sign the result lies between them; where signs differ, the first
// value stays suction, the second pressure, and neither passes its neighbours.
func TestSignsAreNotMixed(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 2000 {
		vals := []float64{4*r.Float64() - 2, 4*r.Float64() - 2}
		f := r.Float64()
		shares := []float64{1 - f, f}
		for k := range 2 {
			got := sameSign(vals, shares, k)
			lo, hi := slices.Min(vals), slices.Max(vals)
			switch {
			case k == 0 && (got > 0 || got < min(lo, 0)):
				t.Fatalf("%v at %v: suction %g", vals, f, got)
			case k == 1 && hi > 0 && (got < 0 || got > hi):
				t.Fatalf("%v at %v: pressure %g", vals, f, got)
			case k == 1 && hi <= 0 && (got < lo || got > hi):
				t.Fatalf("%v at %v: suction %g outside", vals, f, got)
			}
		}
	}
	// By hand, 17.5°, h/d 0.25: second values 0.0 and +0.2 give +0.1; first -0.5 and -0.3 give -0.4.
	got := NewTable(nil).Upwind(nil, 17.5, 0.25)
	near(t, "first", got[0], -0.4, 1e-12)
	near(t, "second", got[1], 0.1, 1e-12)
	// 17.5°, h/d 0.375: second values 0.0, 0.2, -0.3, 0.0: a pressure is among them, so +0.05, never -0.025.
	near(t, "mixed", NewTable(nil).Upwind(nil, 17.5, 0.375)[1], 0.05, 1e-12)
}

func TestReadOverrides(t *testing.T) {
	o, err := ReadOverrides("mine.yaml", []byte("# checked\nwall.windward: {value: 0.8, reason: \"speed varies with height\"}\n"))
	if err != nil {
		t.Fatal(err)
	}
	if len(o.Hash) != 64 || len(o.Entries) != 1 || o.Entries[0].Value != 0.8 {
		t.Errorf("got %+v", o)
	}
	if got := NewTable(o).Windward(nil); got != 0.8 {
		t.Errorf("windward %g, want 0.8", got)
	}
	bad := "wall.windwart: {value: 0.8, reason: x}\nwall.windward: {value: big}\nair_density: 1.3\nair_density: {value: 1, reason: y, colour: z}\n"
	_, err = ReadOverrides("mine.yaml", []byte(bad))
	if err == nil {
		t.Fatal("no error")
	}
	for _, want := range []string{
		`mine.yaml:1:1: no coefficient is named "wall.windwart"; the nearest is "wall.windward"`,
		`mine.yaml:2:24: wall.windward: the value must be a finite number, not "big"`,
		"its reason is missing", "mine.yaml:3:14: air_density: give '{value", "mine.yaml:4:1: air_density is given twice", `unknown key "colour"`,
	} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q is not in:\n%v", want, err)
		}
	}
}

func FuzzReadOverrides(f *testing.F) {
	f.Add([]byte("wall.windward: {value: 0.8, reason: x}"))
	f.Add([]byte("a: &a {value: 1}\nb: *a"))
	f.Add([]byte("- 1\n---\n- 2"))
	f.Add([]byte("? [1]\n: {value: .inf}"))
	f.Fuzz(func(t *testing.T, content []byte) {
		o, err := ReadOverrides("f.yaml", content)
		if (o == nil) == (err == nil) {
			t.Fatalf("%v with %v", o, err)
		}
		if o != nil {
			NewTable(o) // every accepted name is known
		}
	})
}
