package shedspace

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"strconv"
	"testing"

	"leanbay/model/brief"
	"leanbay/model/shed"
)

// spaces are the search problems of the shipped examples, narrow and with more freedom.
func spaces(t *testing.T) map[string]*Problem {
	t.Helper()
	out := map[string]*Problem{}
	for _, name := range []string{"packhouse", "kit", "barn"} {
		b, err := brief.ReadFile("../../experiments/briefs/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		out[name] = unbenched(t, b)
		wide := *b
		f := &wide.Freedoms
		all := []brief.Pattern{brief.NoBracing, brief.CrossedRods, brief.SingleStrut, brief.TwoTier, brief.VBrace, brief.InvertedV, brief.KneeBrace, brief.PortalisedBay}
		f.Symmetric, f.OneOuterSize, f.EndFramesDiffer, f.Bracing.SameType, f.Bracing.SameBay = false, false, true, false, false
		f.Bracing.South, f.Bracing.North, f.Props.MaxLines, f.Props.Add = all, all, 3, true
		out[name+", wide"] = unbenched(t, &wide)
	}
	return out
}

// unbenched is a problem whose points can be decoded but not judged: it needs no actions.
func unbenched(t *testing.T, b *brief.Brief) *Problem {
	t.Helper()
	s, err := shed.FromBrief(b)
	if err != nil {
		t.Fatal(err)
	}
	drawn, err := s.Proposal(b.Library().Find)
	if err != nil {
		t.Fatal(err)
	}
	p := &Problem{Brief: b, Shed: s, Drawn: drawn}
	if err := p.buildGenes(); err != nil {
		t.Fatal(err)
	}
	return p
}

func randomPoint(p *Problem, rng *rand.Rand) []int {
	point := make([]int, len(p.genes))
	for i := range p.genes {
		point[i] = rng.IntN(p.genes[i].Count())
	}
	return point
}

// TestDecodeIsExact: any point decodes; repairing a repaired point changes nothing; equal keys have equal repaired points;
// and what was decoded is found again by Encode.
func TestDecodeIsExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	for name, p := range spaces(t) {
		byKey := map[string][]int{}
		for range 300 {
			point := randomPoint(p, rng)
			key, repaired := p.Canonical(point)
			again, twice := p.Canonical(repaired)
			if again != key || !slices.Equal(repaired, twice) {
				t.Fatalf("%s: %v repairs to %v (%s), and that to %v (%s)", name, point, repaired, key, twice, again)
			}
			if other, ok := byKey[key]; ok && !slices.Equal(other, repaired) {
				t.Fatalf("%s: %s has the points %v and %v", name, key, other, repaired)
			}
			byKey[key] = repaired
			d, _ := p.Decode(point)
			if back, ok := p.Encode(d); !ok || !slices.Equal(back, repaired) {
				t.Fatalf("%s: %s is encoded as %v, decoded from %v", name, key, back, repaired)
			}
		}
	}
}

// TestDecodeAsTheGenesSay: what is kept of plans and kits is what the genes say when they are applied one after the other, mended and
// read back.
func TestDecodeAsTheGenesSay(t *testing.T) {
	rng := rand.New(rand.NewPCG(35, 36))
	for name, p := range spaces(t) {
		for range 300 {
			point := randomPoint(p, rng)
			want, repaired := decodedByGenes(p, point)
			for range 2 { // new, and known
				got, r := p.Decode(point)
				key, again := p.Canonical(point)
				if !reflect.DeepEqual(got, want) || key != p.Key(want) || !slices.Equal(r, repaired) || !slices.Equal(again, repaired) {
					t.Fatalf("%s: %v comes to %s, %v; gene by gene to %s, %v", name, point, key, r, p.Key(want), repaired)
				}
			}
		}
	}
}

// decodedByGenes decodes a point gene by gene.
func decodedByGenes(p *Problem, point []int) (*shed.Design, []int) {
	repaired := slices.Clone(point)
	d := &shed.Design{Steel: map[brief.Group]shed.Steel{}, FlyBraces: p.Drawn.FlyBraces}
	d.Struts.Eaves = true
	for i := range p.genes {
		p.genes[i].apply(d, repaired[i])
	}
	p.repairWalls(d)
	used := p.Shed.UsedGroups(d)
	for i := range p.genes {
		if p.genes[i].idleAmong(d, used) {
			repaired[i] = 0
		} else if o := p.genes[i].option(d); o >= 0 {
			repaired[i] = o
		}
	}
	for g := range d.Steel {
		if !slices.Contains(used, g) {
			delete(d.Steel, g)
		}
	}
	return d, repaired
}

// TestRecentKeepsTheLast: the entries put or asked for last are there, and no more than twice the bound.
func TestRecentKeepsTheLast(t *testing.T) {
	var r recent[int]
	key := func(i int) []byte { return []byte(strconv.Itoa(i)) }
	for i := range 5 * mostRecent / 2 {
		r.put(key(i), i)
		if v, ok := r.get(key(7)); i >= 7 && (!ok || v != 7) {
			t.Fatalf("what is asked for again and again is gone after %d entries", i)
		}
	}
	for i := 3 * mostRecent / 2; i < 5*mostRecent/2; i++ {
		if v, ok := r.get(key(i)); !ok || v != i {
			t.Fatalf("entry %d of %d is gone", i, 5*mostRecent/2)
		}
	}
	if n := len(r.young) + len(r.old); n > 2*mostRecent {
		t.Errorf("%d entries are kept", n)
	}
}

// TestWallGround: the least brace steel of the packhouse's south wall is that of its best single diagonal, bay 5's falling
// one, clear of the personnel door: H(b²+h²)/b over b = 5.0 m, h = 5.2 m, 10.408·H; bay 4's is 58.4/5.6 = 10.429·H, and two
// tiers or a V take more there.
func TestWallGround(t *testing.T) {
	p := spaces(t)["packhouse"]
	g, forces := p.wallGround(0, 20e3)
	got, _, err := g.LeastVolume(forces)
	if err != nil {
		t.Fatal(err)
	}
	if want := 20e3 * (25 + 27.04) / 5; got > want*1.0001 || got < want*0.9999 {
		t.Errorf("least Σ L|N| %.0f N·m, by hand %.0f", got, want)
	}
}
