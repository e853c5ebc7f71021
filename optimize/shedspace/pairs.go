package shedspace

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leanbay/catalog"
	"leanbay/model/brief"
	"leanbay/model/joints"
	"leanbay/model/shed"
)

// framePair is a column with a rafter, and what both weigh.
type framePair struct {
	column, rafter shed.Steel
	kg             float64
}

// mostPairs bounds how many pairs of a branch are looked at before the next one's mass is taken as the bound: each may cost an
// analysis of the plane frames.
const mostPairs = 60

// addPair adds column and rafter together: the lightest pair that is left, fits at the knee, and with which the inner frames,
// each by itself, are not too weak. In a branch whose prop lines are open, or whose frames hang together with groups that are
// open, the frames say nothing, and only the fit counts.
func (b *branch) addPair(sum *least, column, rafter *shed.GroupWeight) {
	key, c := b.pairKey(), &b.p.bench.parts
	c.mu.RLock()
	l, ok := c.pairs[key]
	c.mu.RUnlock()
	if !ok {
		l = b.leastPair(column, rafter)
		c.mu.Lock()
		if c.pairs == nil {
			c.pairs = map[string]least{}
		}
		c.pairs[key] = l
		c.mu.Unlock()
	}
	sum.add(l.kg, l.complying, l.money)
}

// pairKey names what leastPair depends on: spacings, secondaries, props where they are decided, what holds the frames, and what is chosen
// of the groups that stand in plane frames.
func (b *branch) pairKey() string {
	p := b.p
	var t strings.Builder
	fmt.Fprintf(&t, "%s;", setupKey(b.d))
	if b.fixed >= p.propsDecided() {
		fmt.Fprintf(&t, "%v;", b.d.Props)
	}
	for i := range p.genes[:b.fixed] {
		if g := &p.genes[i]; slices.ContainsFunc(g.groups, func(of brief.Group) bool { return slices.Contains(planeGroups, of) }) {
			fmt.Fprintf(&t, "%d=%d;", i, b.point[i])
		}
	}
	if b.fixed >= p.layoutDecided() {
		for _, kind := range [][2]bool{{true, true}, {true, false}, {false, true}, {false, false}} {
			t.WriteString(p.holdingOf(b.d)[kind] + "|")
		}
	}
	return t.String()
}

// leastPair finds the least of the pairs.
func (b *branch) leastPair(column, rafter *shed.GroupWeight) least {
	pairs := b.pairs(column, rafter)
	ranked, complying := math.Inf(1), math.Inf(1)
	for i, k := range pairs {
		if i == mostPairs { // all lighter ones were excluded
			ranked, complying = math.Min(ranked, k.kg), math.Min(complying, k.kg)
			break
		}
		w := b.pairPart(k)
		if w.unfit(b.p) {
			continue
		}
		ranked = math.Min(ranked, k.kg)
		if w.u <= 1 {
			complying = k.kg
			break
		}
	}
	money := math.Inf(1)
	for _, k := range pairs {
		money = math.Min(money, b.p.price(column, k.column)+b.p.price(rafter, k.rafter))
	}
	return least{kg: ranked, complying: complying, money: money}
}

// pairs lists the pairs that are left and fit, the lightest first. Rafters are weighed without fly braces.
func (b *branch) pairs(column, rafter *shed.GroupWeight) []framePair {
	light := *rafter
	light.FlyBraces = 0
	details := &b.p.Brief.Proposal.Details
	var out []framePair
	rafters := b.left(brief.GroupRafter)
	for _, c := range b.left(brief.GroupColumn) {
		for _, r := range rafters {
			fits := joints.FitsOf([][2]*catalog.Section{{c.Section, r.Section}}, nil, details)
			if !slices.ContainsFunc(fits, func(f joints.Fit) bool { return f.Ratio > 1 }) {
				out = append(out, framePair{c, r, column.Kilograms(c.Section) + light.Kilograms(r.Section)})
			}
		}
	}
	slices.SortStableFunc(out, func(x, y framePair) int { return sign(x.kg - y.kg) })
	return out
}

// pairPart is what the inner frames by themselves say of a pair, where the props of the branch are decided, and what all frames
// together say by their sway.
func (b *branch) pairPart(k framePair) part {
	if b.fixed < b.p.propsDecided() {
		return b.swayAnyProps(k)
	}
	if w := b.swayPair(k); w.fails {
		return w
	}
	d := b.with(map[brief.Group]shed.Steel{brief.GroupColumn: k.column, brief.GroupRafter: k.rafter})
	open := func(g brief.Group) bool { return g != brief.GroupColumn && g != brief.GroupRafter && b.open(g) }
	anyLayout := b.fixed < b.p.layoutDecided()
	props := b.left(brief.GroupProp)
	if !open(brief.GroupProp) || b.p.bareFrame(d) || len(props) > mostProps {
		return b.p.framePart(d, open, anyLayout)
	}
	best := part{u: math.Inf(1), fails: true}
	for _, s := range props { // the best that any prop makes of it
		d.Steel[brief.GroupProp] = s
		w := b.p.framePart(d, func(g brief.Group) bool { return g != brief.GroupProp && open(g) }, anyLayout)
		best = part{math.Min(best.u, w.u), best.fails && w.fails}
	}
	return best
}

// mostProps is the number of prop sections up to which a pair is looked at with each of them.
const mostProps = 6

// propsDecided is the number of genes after which the lines of props are known.
func (p *Problem) propsDecided() int {
	n := 0
	for i := range p.genes {
		if p.genes[i].props {
			n = i + 1
		}
	}
	return n
}

// layoutDecided is the number of genes after which only sections are open.
func (p *Problem) layoutDecided() int {
	n := slices.IndexFunc(p.genes, func(g gene) bool { return len(g.groups) > 0 })
	if n < 0 {
		return len(p.genes)
	}
	return n
}
