package frame

import "math"

// The vector code of a program does not keep the order in which the program was written: there the two planes of a beam come one after
// the other, and each is a chain in which an operation waits for the one before. Chains go side by side instead, the one that has
// farthest to go first, as long as registers last. Which operations there are, and so every bit, stays.

// manyLive is from how many values in hand on those operations come first that leave fewer. With 16 registers, of which what is read
// from memory takes some, 6 to 14 give code as fast within the noise, 24 code slower than in the written order (values put aside).
const manyLive = 8

// latency is how many cycles an operation's result takes, about; an order needs no better.
func (o *operation) latency() int {
	switch o.code {
	case opDiv:
		return 13
	case opFuse, opFuseNeg, opFuseSub:
		return 4
	case opAdd, opSub, opMul:
		return 3
	}
	return 1
}

// ordering finds the order of a program's operations.
type ordering struct {
	p     *program
	after [][]int // per operation: those that wait for it
	waits []int   // per operation: for how many it waits
	far   []int   // cycles from its start to the end of the longest chain that begins with it
	left  []int   // per value: how often it is still to be used
	live  int     // values in hand
	ready []int   // per operation: the cycle at which what it needs is there
}

// ordered is the program with leaves first, and the others in the order of the vector code.
func (p *program) ordered() *program {
	o := &ordering{p: p, after: make([][]int, len(p.ops)), waits: make([]int, len(p.ops)), far: make([]int, len(p.ops)),
		left: make([]int, len(p.ops)), ready: make([]int, len(p.ops))}
	o.link()
	for i := len(p.ops) - 1; i >= 0; i-- {
		for _, k := range o.after[i] {
			o.far[i] = max(o.far[i], o.far[k])
		}
		o.far[i] += p.ops[i].latency()
	}
	q, at := *p, make([]value, len(p.ops))
	q.ops = nil
	put := func(i int) {
		op := p.ops[i]
		if !op.leaf() {
			op.a, op.b, op.d = at[op.a], at[op.b], at[op.d]
		}
		at[i] = value(len(q.ops))
		q.ops = append(q.ops, op)
	}
	for i := range p.ops {
		if p.ops[i].leaf() {
			put(i)
		}
	}
	for _, i := range o.list() {
		put(i)
	}
	return &q
}

// link notes which operations wait for which: for their operands, and a store for all that read what it overwrites.
func (o *ordering) link() {
	uses := o.p.uses()
	wait := func(first, i int) {
		o.after[first] = append(o.after[first], i)
		o.waits[i]++
	}
	for i := range o.p.ops {
		op := &o.p.ops[i]
		o.left[i] = len(uses[i])
		if !op.wants {
			continue
		}
		for _, v := range op.operands() {
			if !o.p.ops[v].leaf() {
				wait(int(v), i)
			}
		}
		if op.code != opStore {
			continue
		}
		for r := range i {
			before := &o.p.ops[r]
			if !before.wants || before.arg != op.arg || before.at != op.at {
				continue
			}
			if before.code == opStore {
				wait(r, i)
			} else if before.code == opRow {
				for _, u := range uses[r] {
					switch {
					case u < i:
						wait(u, i)
					case u > i:
						panic(o.p.name + " reads a row after it has stored it")
					}
				}
			}
		}
	}
}

// list is a simulation: one operation begins a cycle, of those that may the one with the farthest to go.
func (o *ordering) list() (order []int) {
	var open []int
	for i := range o.p.ops {
		if op := &o.p.ops[i]; op.wants && !op.leaf() && o.waits[i] == 0 {
			open = append(open, i)
		}
	}
	for cycle := 0; len(open) > 0; cycle++ {
		best, score := -1, math.MinInt
		for k, i := range open {
			s := o.far[i]
			if o.live >= manyLive {
				s -= 1_000_000 * o.gain(i)
			}
			if o.ready[i] <= cycle && (s > score || s == score && i < open[best]) {
				best, score = k, s
			}
		}
		if best < 0 {
			continue
		}
		i := open[best]
		open = append(open[:best], open[best+1:]...)
		order = append(order, i)
		o.live += o.gain(i)
		for _, v := range o.p.ops[i].operands() {
			o.left[v]--
		}
		for _, k := range o.after[i] {
			o.ready[k] = max(o.ready[k], cycle+o.p.ops[i].latency())
			if o.waits[k]--; o.waits[k] == 0 {
				open = append(open, k)
			}
		}
	}
	return order
}

// gain is by how many operation i raises the values in hand.
func (o *ordering) gain(i int) int {
	op := &o.p.ops[i]
	gain, uses := 1, map[value]int{}
	if op.code == opStore {
		gain = 0
	}
	for _, v := range op.operands() {
		uses[v]++
	}
	for v, n := range uses {
		if !o.p.ops[v].leaf() && o.left[v] == n {
			gain--
		}
	}
	return gain
}
