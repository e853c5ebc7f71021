package optimize

import (
	"math"
	"math/rand/v2"
	"slices"
)

// operator varies a child in place. A crossover takes material from mate; a mutation ignores it.
type operator struct {
	name  string
	apply func(v *variation, child, mate []int, rng *rand.Rand)
	// others is set instead of apply by an operator that takes the difference of two more variants.
	others func(v *variation, child, a, b []int, rng *rand.Rand)
}

// variation holds what the operators need to know of the space.
type variation struct {
	space  *Space
	blocks [][]int // genes of each block, in gene order
	twins  [][]int // twins[b] lists the other blocks of the same layout as b
	open   []int   // genes with more than one option
	fine   []int   // genes varied like real numbers
	steps  []int   // open genes that can step: ordered and not fine
	chain  [][]int // by gene: the options that no earlier one equals in value, in order; nil where that is all of them
	kin    [][]int // by gene: the others of its kin
	kindly []int   // genes that have any
	single bool    // local improvement takes no steps in pairs
	cross  []operator
	mutate []operator
}

func newVariation(s *Space) *variation {
	v := &variation{space: s}
	for i := range s.Genes {
		g := &s.Genes[i]
		switch {
		case g.Count() < 2:
			continue
		case g.fine():
			v.fine = append(v.fine, i)
		case g.Ordered:
			v.steps = append(v.steps, i)
		}
		v.open = append(v.open, i)
	}
	v.findBlocks()
	v.findKin()
	for i := range s.Genes {
		v.chain = append(v.chain, chainOf(&s.Genes[i]))
	}
	v.cross = []operator{{name: "uniform", apply: crossUniform}, {name: "two-point", apply: crossTwoPoint}, {name: "clone", apply: crossNone}}
	v.mutate = []operator{{name: "jump", apply: mutateJump}, {name: "none", apply: mutateNone}}
	if len(v.fine) > 0 {
		v.cross = append(v.cross, operator{name: "blend", apply: crossBlend})
		v.cross = append(v.cross, operator{name: "differential", others: crossDifferential})
		v.mutate = append(v.mutate, operator{name: "drift", apply: mutateDrift})
	}
	if len(v.steps) > 0 {
		v.mutate = append(v.mutate, operator{name: "step", apply: mutateStep}, operator{name: "pair", apply: mutatePair})
	}
	if slices.ContainsFunc(s.Genes, func(g Gene) bool { return g.Family != nil }) {
		v.mutate = append(v.mutate, operator{name: "family", apply: mutateFamily})
	}
	if len(v.kindly) > 0 {
		v.mutate = append(v.mutate, operator{name: "same", apply: mutateSame})
	}
	if len(v.blocks) > 1 && len(v.blocks) < len(s.Genes) {
		v.cross = append(v.cross, operator{name: "block", apply: crossBlock})
	}
	if slices.ContainsFunc(v.twins, func(t []int) bool { return len(t) > 0 }) {
		v.mutate = append(v.mutate, operator{name: "mirror", apply: mutateMirror})
	}
	return v
}

// without takes out what a configuration switches off.
func (v *variation) without(c Config) *variation {
	if v.single = c.NoPairs; c.NoPairs {
		v.mutate = slices.DeleteFunc(v.mutate, func(o operator) bool { return o.name == "pair" })
	}
	if c.NoDifference {
		v.cross = slices.DeleteFunc(v.cross, func(o operator) bool { return o.name == "differential" })
	}
	return v
}

// findBlocks gathers the genes of each block and finds blocks of the same layout. A gene without a block is alone, and
// is nobody's twin.
func (v *variation) findBlocks() {
	at := map[string]int{}
	named := []bool{}
	for i := range v.space.Genes {
		name := v.space.Genes[i].Block
		b, ok := at[name]
		if !ok || name == "" {
			b = len(v.blocks)
			v.blocks, named = append(v.blocks, nil), append(named, name != "")
			at[name] = b
		}
		v.blocks[b] = append(v.blocks[b], i)
	}
	v.twins = make([][]int, len(v.blocks))
	for a := range v.blocks {
		for b := range v.blocks {
			if a != b && named[a] && named[b] && v.alike(a, b) {
				v.twins[a] = append(v.twins[a], b)
			}
		}
	}
}

func (v *variation) alike(a, b int) bool {
	return slices.EqualFunc(v.blocks[a], v.blocks[b], v.same)
}

// same says that two genes have the same options.
func (v *variation) same(i, j int) bool {
	g, h := &v.space.Genes[i], &v.space.Genes[j]
	return g.Count() == h.Count() && slices.Equal(g.Options, h.Options)
}

func (v *variation) findKin() {
	v.kin = make([][]int, len(v.space.Genes))
	for _, i := range v.open {
		for _, j := range v.open {
			kin := v.space.Genes[i].Kin
			if i != j && kin != "" && kin == v.space.Genes[j].Kin && v.same(i, j) {
				v.kin[i] = append(v.kin[i], j)
			}
		}
		if v.kin[i] != nil {
			v.kindly = append(v.kindly, i)
		}
	}
}

// chainOf lists the options of an ordered gene whose values are above those of all before them: in a list ordered by mass,
// the sections worth their weight. It is nil where the gene has no values or all of them rise.
func chainOf(g *Gene) []int {
	if !g.Ordered || g.Values == nil {
		return nil
	}
	var out []int
	most := 0.0
	for o, v := range g.Values {
		if v > most {
			out, most = append(out, o), v
		}
	}
	if len(out) == len(g.Values) {
		return nil
	}
	return out
}

// along returns the n-th option from o along the chain of gene i, up or down (d 1 or -1); the last one there is if there are fewer,
// o itself if there is none.
func (v *variation) along(i, o, d, n int) int {
	at, found := slices.BinarySearch(v.chain[i], o)
	if d > 0 {
		if at += n - 1; found {
			at++
		}
		at = min(at, len(v.chain[i])-1)
	} else {
		at = max(at-n, 0)
	}
	if to := v.chain[i][at]; (to-o)*d > 0 {
		return to
	}
	return o
}

// random returns a point with every gene drawn evenly.
func (v *variation) random(rng *rand.Rand) []int {
	p := make([]int, len(v.space.Genes))
	for i := range p {
		p[i] = rng.IntN(v.space.Genes[i].Count())
	}
	return p
}

func crossNone(*variation, []int, []int, *rand.Rand) {}

func crossUniform(_ *variation, child, mate []int, rng *rand.Rand) {
	for i := range child {
		if rng.IntN(2) == 0 {
			child[i] = mate[i]
		}
	}
}

func crossTwoPoint(_ *variation, child, mate []int, rng *rand.Rand) {
	a, b := rng.IntN(len(child)+1), rng.IntN(len(child)+1)
	if a > b {
		a, b = b, a
	}
	copy(child[a:b], mate[a:b])
}

func crossBlock(v *variation, child, mate []int, rng *rand.Rand) {
	for _, block := range v.blocks {
		if rng.IntN(2) == 0 {
			for _, i := range block {
				child[i] = mate[i]
			}
		}
	}
}

// blendSpread is the distribution index of simulated binary crossover, driftSpread that of polynomial mutation (Deb and
// Agrawal 1995; Deb 2001 recommends these values for fronts).
const (
	blendSpread = 15
	driftSpread = 20
)

// crossBlend is simulated binary crossover on fine genes; the children's values are exchanged gene by gene, without
// which the operator loses much of its strength. Other genes come from either parent.
func crossBlend(v *variation, child, mate []int, rng *rand.Rand) {
	for i := range child {
		if !v.space.Genes[i].fine() {
			if rng.IntN(2) == 0 {
				child[i] = mate[i]
			}
			continue
		}
		if rng.IntN(2) == 0 {
			if rng.IntN(2) == 0 { // this gene is only exchanged
				child[i] = mate[i]
			}
			continue
		}
		lo, hi := float64(min(child[i], mate[i])), float64(max(child[i], mate[i]))
		top := float64(v.space.Genes[i].Count() - 1)
		if hi == lo {
			continue
		}
		u := rng.Float64()
		if rng.IntN(2) == 0 {
			child[i] = whole(0.5*((lo+hi)-spread(u, 1+2*lo/(hi-lo))*(hi-lo)), top)
		} else {
			child[i] = whole(0.5*((lo+hi)+spread(u, 1+2*(top-hi)/(hi-lo))*(hi-lo)), top)
		}
	}
}

// wholeDifference is the chance that a differential step is a whole difference and not a share of one.
const wholeDifference = 0.3

// crossDifferential adds to all fine genes, or to a few, a share of the difference of two other variants (Storn and Price 1997):
// its steps are as long as the population is wide in each gene.
func crossDifferential(v *variation, child, a, b []int, rng *rand.Rand) {
	f := 1.0 // a whole difference leads from one basin to the like place in another
	if rng.Float64() >= wholeDifference {
		f = 0.2 + float64(0.6*rng.Float64())
	}
	genes := v.fine
	if rng.IntN(2) == 0 {
		genes = some(v.fine, rng)
	}
	for _, i := range genes {
		top := float64(v.space.Genes[i].Count() - 1)
		child[i] = whole(float64(child[i])+float64(f*float64(a[i]-b[i])), top)
	}
}

// spread draws the spread factor of bounded simulated binary crossover; beta is the distance to the bound.
func spread(u, beta float64) float64 {
	alpha := 2 - math.Pow(beta, -(blendSpread+1))
	if u <= 1/alpha {
		return math.Pow(u*alpha, 1.0/(blendSpread+1))
	}
	return math.Pow(1/(2-u*alpha), 1.0/(blendSpread+1))
}

// whole rounds x to an index from 0 to top.
func whole(x, top float64) int { return int(math.Round(min(max(x, 0), top))) }

func mutateNone(*variation, []int, []int, *rand.Rand) {}

// mutateDrift is bounded polynomial mutation of one fine gene: a step into a better basin shows only if nothing else moves.
func mutateDrift(v *variation, child, _ []int, rng *rand.Rand) {
	i := v.fine[rng.IntN(len(v.fine))]
	top := float64(v.space.Genes[i].Count() - 1)
	y := float64(child[i]) / top
	u := rng.Float64()
	var d float64
	if u < 0.5 {
		d = math.Pow(2*u+(1-2*u)*math.Pow(1-y, driftSpread+1), 1.0/(driftSpread+1)) - 1
	} else {
		d = 1 - math.Pow(2*(1-u)+2*(u-0.5)*math.Pow(y, driftSpread+1), 1.0/(driftSpread+1))
	}
	child[i] = whole((y+d)*top, top)
}

// some draws a subset of genes: each with chance 1/n, one at least.
func some(genes []int, rng *rand.Rand) []int {
	var out []int
	for _, i := range genes {
		if rng.IntN(len(genes)) == 0 {
			out = append(out, i)
		}
	}
	if len(out) == 0 {
		out = append(out, genes[rng.IntN(len(genes))])
	}
	return out
}

// mutateJump gives some genes any other option.
func mutateJump(v *variation, child, _ []int, rng *rand.Rand) {
	if len(v.open) == 0 {
		return
	}
	for _, i := range some(v.open, rng) {
		child[i] = (child[i] + 1 + rng.IntN(v.space.Genes[i].Count()-1)) % v.space.Genes[i].Count()
	}
}

// mutateStep moves some ordered genes by a step or a few, up or down.
func mutateStep(v *variation, child, _ []int, rng *rand.Rand) {
	for _, i := range some(v.steps, rng) {
		child[i] = v.step(i, child[i], 1-2*rng.IntN(2), rng)
	}
}

// mutatePair moves one ordered gene up and another one down, so that little changes in sum.
func mutatePair(v *variation, child, _ []int, rng *rand.Rand) {
	i := v.steps[rng.IntN(len(v.steps))]
	j := v.steps[rng.IntN(len(v.steps))]
	child[i] = v.step(i, child[i], 1, rng)
	child[j] = v.step(j, child[j], -1, rng)
}

// step moves option o of gene i in direction d by 1 or more, each further one with chance 1/3, and stops at the ends. Where the
// gene has a chain, every other step goes along it.
func (v *variation) step(i, o, d int, rng *rand.Rand) int {
	n := 1
	for rng.IntN(3) == 0 {
		n++
	}
	if v.chain[i] != nil && rng.IntN(2) == 0 {
		return v.along(i, o, d, n)
	}
	return min(max(o+d*n, 0), v.space.Genes[i].Count()-1)
}

// mutateFamily sends some genes to another option of their own family or to the like place in another family.
func mutateFamily(v *variation, child, _ []int, rng *rand.Rand) {
	for _, i := range some(v.open, rng) {
		g := &v.space.Genes[i]
		if g.Family == nil {
			continue
		}
		if rng.IntN(2) == 0 {
			same := familyOptions(g, g.Family[child[i]])
			child[i] = same[rng.IntN(len(same))]
			continue
		}
		if likes := likePlaces(g, child[i]); len(likes) > 0 {
			child[i] = likes[rng.IntN(len(likes))]
		}
	}
}

func familyOptions(g *Gene, family int) []int {
	var out []int
	for o, f := range g.Family {
		if f == family {
			out = append(out, o)
		}
	}
	return out
}

// likePlaces returns, for each other family of g, the option that stands at the same share of the way through it as
// option o does in its own, in the order in which families first appear.
func likePlaces(g *Gene, o int) []int {
	own := familyOptions(g, g.Family[o])
	share := 0.0
	if len(own) > 1 {
		share = float64(slices.Index(own, o)) / float64(len(own)-1)
	}
	var out []int
	seen := map[int]bool{g.Family[o]: true}
	for _, f := range g.Family {
		if seen[f] {
			continue
		}
		seen[f] = true
		options := familyOptions(g, f)
		out = append(out, options[whole(share*float64(len(options)-1), float64(len(options)-1))])
	}
	return out
}

// mutateMirror copies one block onto another of the same layout: symmetric designs are one move away.
func mutateMirror(v *variation, child, _ []int, rng *rand.Rand) {
	from := rng.IntN(len(v.blocks))
	if len(v.twins[from]) == 0 {
		return
	}
	to := v.twins[from][rng.IntN(len(v.twins[from]))]
	for k, i := range v.blocks[from] {
		child[v.blocks[to][k]] = child[i]
	}
}

// mutateSame gives the option of one gene to some or to all of its kin: fewer distinct sizes.
func mutateSame(v *variation, child, _ []int, rng *rand.Rand) {
	i := v.kindly[rng.IntN(len(v.kindly))]
	to := v.kin[i]
	if rng.IntN(4) > 0 {
		to = some(to, rng)
	}
	for _, j := range to {
		child[j] = child[i]
	}
}
