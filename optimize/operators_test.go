package optimize

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// mixed has genes of every sort: ordered, in families, without order, fine, in twin blocks, fixed.
func mixed() *Space {
	return &Space{Genes: []Gene{
		{Name: "a1", Levels: 9, Ordered: true, Block: "1", Kin: "a", Family: []int{0, 0, 0, 1, 1, 1, 1, 2, 2}},
		{Name: "b1", Options: []string{"none", "rods", "strut"}, Block: "1"},
		{Name: "a2", Levels: 9, Ordered: true, Block: "2", Kin: "a", Family: []int{0, 0, 0, 1, 1, 1, 1, 2, 2}},
		{Name: "b2", Options: []string{"none", "rods", "strut"}, Block: "2"},
		{Name: "place", Levels: 1<<20 + 1, Ordered: true},
		{Name: "fixed", Levels: 1, Ordered: true},
	}}
}

// Every operator keeps every gene within its options and leaves the mate alone; each but "none" and "clone" changes
// something within some tries.
func TestOperatorsStayInTheSpace(t *testing.T) {
	s := mixed()
	v := newVariation(s)
	names := map[string]bool{}
	for _, o := range append(slices.Clone(v.cross), v.mutate...) {
		changed := false
		for i := range uint64(300) {
			rng := rand.New(rand.NewPCG(i, 1))
			child, mate := v.random(rng), v.random(rng)
			before, other := slices.Clone(child), slices.Clone(mate)
			if o.others != nil {
				o.others(v, child, mate, v.random(rng), rng)
			} else {
				o.apply(v, child, mate, rng)
			}
			for k, x := range child {
				if x < 0 || x >= s.Genes[k].Count() {
					t.Fatalf("%s: gene %s is %d of %d", o.name, s.Genes[k].Name, x, s.Genes[k].Count())
				}
			}
			if !slices.Equal(mate, other) {
				t.Fatalf("%s changed the mate", o.name)
			}
			changed = changed || !slices.Equal(child, before)
		}
		if changed == (o.name == "none" || o.name == "clone") {
			t.Errorf("%s: changes something: %v", o.name, changed)
		}
		names[o.name] = true
	}
	for _, n := range []string{"uniform", "two-point", "clone", "blend", "differential", "block", "jump", "none", "drift", "step", "pair", "family", "mirror", "same"} {
		if !names[n] {
			t.Errorf("the space calls for operator %s, which is missing", n)
		}
	}
}

// By hand: blocks 1 and 2 are twins; each lone gene is a block of its own and nobody's twin.
func TestBlocks(t *testing.T) {
	v := newVariation(mixed())
	if len(v.blocks) != 4 || !slices.Equal(v.blocks[0], []int{0, 1}) || !slices.Equal(v.twins[0], []int{1}) || v.twins[2] != nil {
		t.Errorf("blocks %v, twins %v", v.blocks, v.twins)
	}
	rng := rand.New(rand.NewPCG(1, 1))
	child := []int{1, 2, 3, 0, 5, 0}
	for range 20 {
		mutateMirror(v, child, nil, rng)
	}
	if child[0] != child[2] || child[1] != child[3] {
		t.Errorf("after mirroring the blocks differ: %v", child)
	}
}

// By hand: option 1 is the middle of its family of three; the middle of the family of four is the third, of two the
// second.
func TestLikePlaces(t *testing.T) {
	if got := likePlaces(&mixed().Genes[0], 1); !slices.Equal(got, []int{5, 8}) {
		t.Errorf("%v, want 5 and 8", got)
	}
}

// By hand, for a point in the middle of one ordered and one unordered gene: steps down and up, two other patterns, then
// every pair of the two.
func TestNeighbours(t *testing.T) {
	s := &Space{Genes: []Gene{{Name: "size", Levels: 5, Ordered: true}, {Name: "pattern", Levels: 3}, {Name: "other", Levels: 2, Ordered: true}}}
	v := newVariation(s)
	var got [][]int
	for _, m := range v.neighbours([]int{2, 0, 0}, nil) {
		got = append(got, m.from([]int{2, 0, 0}))
	}
	want := [][]int{
		{1, 0, 0}, {3, 0, 0}, {2, 1, 0}, {2, 2, 0}, {2, 0, 1},
		{1, 1, 0}, {1, 2, 0}, {1, 0, 1}, {3, 1, 0}, {3, 2, 0}, {2, 1, 1}, {2, 2, 1}, // not {3, 0, 1}: both up
	}
	if !slices.EqualFunc(got, want, slices.Equal[[]int]) {
		t.Errorf("%v\nwant %v", got, want)
	}
	first := v.neighbours([]int{2, 0, 0}, []float64{-1, 0, 3})[0]
	if p := first.from([]int{2, 0, 0}); !slices.Equal(p, []int{2, 0, 1}) {
		t.Errorf("the strongest hint, up on gene 2, comes as %v", p)
	}
}

func TestRatesFollowSuccess(t *testing.T) {
	r := newRates(4, rateFloor)
	for range 50 {
		r.begin()
		for i := range 4 {
			for k := range 10 {
				r.count(i, k < 3*i)
			}
		}
		r.learn()
	}
	sum := 0.0
	for i := range 4 {
		sum += r.share(i)
		if i > 0 && r.share(i) <= r.share(i-1) {
			t.Errorf("share %d is %v, below that of a worse operator, %v", i, r.share(i), r.share(i-1))
		}
	}
	if sum < 0.999999 || sum > 1.000001 || r.share(0) < rateFloor-1e-9 {
		t.Errorf("shares sum to %v, the least is %v", sum, r.share(0))
	}
}

// Generators must differ for every slot, island, generation and seed.
func TestGeneratorsAreApart(t *testing.T) {
	seen := map[uint64]bool{}
	for seed := range uint64(4) {
		for island := range 4 {
			for generation := range 4 {
				for _, slot := range []int{0, 1, 2, streamSurvive, streamMigrate} {
					x := generator(seed, island, generation, slot).Uint64()
					if seen[x] {
						t.Fatalf("seed %d, island %d, generation %d, slot %d repeats another stream", seed, island, generation, slot)
					}
					seen[x] = true
				}
			}
		}
	}
}

// By hand: values 1 3 2 5 4 6 rise above all before them at options 0, 1, 3 and 5.
func TestChain(t *testing.T) {
	g := Gene{Levels: 6, Ordered: true, Values: []float64{1, 3, 2, 5, 4, 6}}
	v := newVariation(&Space{Genes: []Gene{g}})
	if !slices.Equal(v.chain[0], []int{0, 1, 3, 5}) {
		t.Fatalf("chain %v", v.chain[0])
	}
	for _, c := range []struct{ from, way, steps, want int }{
		{1, 1, 1, 3}, {1, 1, 2, 5}, {1, 1, 3, 5}, {2, 1, 1, 3}, {4, 1, 1, 5}, {5, 1, 1, 5}, {3, -1, 1, 1}, {4, -1, 1, 3}, {4, -1, 2, 1}, {1, -1, 2, 0}, {0, -1, 1, 0},
	} {
		if got := v.along(0, c.from, c.way, c.steps); got != c.want {
			t.Errorf("%d steps of %d from %d: %d, want %d", c.steps, c.way, c.from, got, c.want)
		}
	}
	g.Values = []float64{1, 2, 3, 4, 5, 6}
	if c := chainOf(&g); c != nil {
		t.Errorf("values that all rise have the chain %v", c)
	}
	if got := v.upwards(0, 2); !slices.Equal(got, []int{3, 5}) {
		t.Errorf("upwards from 2: %v", got)
	}
}
