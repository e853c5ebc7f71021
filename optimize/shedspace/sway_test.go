package shedspace

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"leanbay/model/brief"
)

// oneBay is a shed of two equal frames, in which no frame can lean on another: the bound of its sway is its sway.
const oneBay = `name: one-bay
site: {region: A2, terrain: 2.5, importance: 2, bearing: 0, hazard: 0.08, soil: Ce}
building: {frame_lines: [0, %.2f], span: %.2f, roof: %s, eaves: %.2f, rise: %.2f}
proposal:
  sections: {column: 250x150x6.0RHS, rafter: 250x150x6.0RHS, eaves strut: 89x89x3.5SHS, ridge strut: 89x89x3.5SHS, node strut: 89x89x3.5SHS, wall rod: R20, roof rod: R16}
  struts: {eaves: true, ridge: true, nodes: true}
  wall_bracing: [{wall: south, bay: 1, pattern: crossed rods}, {wall: north, bay: 1, pattern: crossed rods}]
  roof_bracing: [{bay: 1, pattern: crossed rods}]
freedoms: {breadth: wide, bracing: {west: [none], east: [none]}}
`

// TestSwayBoundHolds holds the bound of sway across to the sway of designs: of the examples, of random sheds of two to five bays
// with floors and props, and of sheds of one bay, where it must also be near.
func TestSwayBoundHolds(t *testing.T) {
	rng := rand.New(rand.NewPCG(51, 52))
	for _, name := range []string{"kit", "packhouse", "barn"} {
		p := example(t, name)
		d, err := p.Sturdy()
		if err != nil {
			t.Fatal(err)
		}
		at, _ := p.Encode(d)
		if got := holdSway(t, p, at, rng, 25); got.tried < 10 || got.most < 0.5 {
			t.Errorf("%s: %+v shows little", name, got)
		}
	}
	random := swayTried{least: 1}
	for n := 0; n < 14; {
		text := strings.Replace(randomBrief(rng), "north: "+anyWall+", west: "+anyGable+", east: "+anyGable, "north: "+anyWall, 1)
		b, err := brief.Read("random.yaml", strings.NewReader(text))
		if err != nil {
			continue
		}
		p, err := New(b)
		if err != nil || !p.boundsSway() {
			continue
		}
		n++
		random = random.with(holdSway(t, p, randomPoint(p, rng), rng, 12))
	}
	if random.tried < 20 {
		t.Errorf("random sheds: %+v shows little", random)
	}
	single := swayTried{least: 1}
	for _, roof := range []string{"gable", "mono-pitch, high_side: south"} {
		for range 3 {
			b, err := brief.Read("one.yaml", strings.NewReader(fmt.Sprintf(oneBay, 3+3*rng.Float64(), 6+9*rng.Float64(), roof, 3+2*rng.Float64(), 0.6+rng.Float64())))
			if err != nil {
				t.Fatal(err)
			}
			p, err := New(b)
			if err != nil {
				t.Fatal(err)
			}
			if !p.boundsSway() {
				t.Fatal("nothing is said of a shed of one bay")
			}
			at, _ := p.Encode(p.Drawn)
			single = single.with(holdSway(t, p, at, rng, 12))
		}
	}
	if single.tried < 30 || single.most < 0.9 {
		t.Errorf("one bay: %+v shows little", single)
	}
	t.Logf("random sheds %+v, one bay %+v", random, single)
}

// swayTried is how many designs stood, and the least and greatest share of their sway that the bound came to.
type swayTried struct {
	tried       int
	least, most float64
}

func (s swayTried) with(o swayTried) swayTried {
	return swayTried{s.tried + o.tried, min(s.least, o.least), max(s.most, o.most)}
}

// holdSway holds the bound to designs around a point: those whose sway is far beyond the limit may be bounded too high, since
// second order matters for them, and are excluded either way.
func holdSway(t *testing.T, p *Problem, at []int, rng *rand.Rand, n int) swayTried {
	t.Helper()
	j := newJudge(p)
	j.quick = true
	out := swayTried{least: 1}
	for range n {
		pt := slices.Clone(at)
		for range 4 {
			k := rng.IntN(len(pt))
			pt[k] = rng.IntN(p.genes[k].Count())
		}
		d, _ := p.Decode(pt)
		a, err := j.assess(d, p.setupOf(d))
		if err != nil {
			t.Fatal(err)
		}
		truth := 0.0
		for i := range a.Service {
			if strings.HasPrefix(a.Service[i].Limit, "eaves sway across") {
				truth = a.Service[i].Utilisation
			}
		}
		if truth == 0 { // it does not stand
			continue
		}
		share := p.leastSway(d) / truth
		out = out.with(swayTried{1, share, share})
		if share*(1-swayShare) > 1 && truth < 2 {
			t.Errorf("%s: sway is used to %.4f, its bound says %.4f", p.Key(d), truth, share*truth*(1-swayShare))
		}
	}
	return out
}
