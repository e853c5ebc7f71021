package sparse

// Order returns a fill-reducing elimination order for p: order[k] is the unknown that is eliminated k-th.
//
// The graph is first compressed by indistinguishable vertices (equal closed neighbourhoods: the freedoms of one joint
// usually are), then ordered by approximate minimum degree.
// Source: P. R. Amestoy, T. A. Davis, I. S. Duff, An approximate minimum degree ordering algorithm, SIAM J. Matrix Anal.
// Appl. 17 (1996) 886-905; compression: C. Ashcraft, Compressed graphs and the minimum degree algorithm, SIAM J. Sci.
// Comput. 16 (1995) 1404-1411.
func Order(p *Pattern) []int {
	order, _ := orderLast(p, make([]bool, p.N), p.N)
	return order
}

// orderLast is Order with the unknowns of last, and others whose elimination before them would couple more than limit unknowns, at the
// end; head is how many come before.
func orderLast(p *Pattern, last []bool, limit int) (order []int, head int) {
	ptr, adj := p.adjacency()
	class, members := indistinguishable(p.N, ptr, adj, last)
	q := newQuotient(ptr, adj, class, members, last)
	order = make([]int, 0, p.N)
	late := q.eliminate(int32(limit))
	for k, c := range q.order {
		if k == late {
			head = len(order)
		}
		for _, v := range members[c] {
			order = append(order, int(v))
		}
	}
	if late == len(q.order) {
		head = len(order)
	}
	return order, head
}

// indistinguishable groups the vertices whose closed neighbourhoods are equal, those of last apart from the others. class[v] is
// the group of v; members lists each group's vertices, ascending.
func indistinguishable(n int, ptr, adj []int32, last []bool) (class []int32, members [][]int32) {
	class = make([]int32, n)
	mark := make([]int32, n)
	latest := make(map[uint64]int32, n/4) // class of each hash; looked up by key only, so its order never shows
	var before []int32                    // the class before it of the same hash, or -1
	for v := range int32(n) {
		nb := adj[ptr[v]:ptr[v+1]]
		h := mix(v)
		for _, u := range nb {
			h += mix(u)
		}
		c, seen := latest[h]
		if !seen {
			c = -1
		}
		newest := c
		for ; c >= 0; c = before[c] {
			first := members[c][0]
			if last[v] == last[first] && sameClosed(v, nb, first, adj[ptr[first]:ptr[first+1]], mark) {
				break
			}
		}
		if c < 0 {
			c = int32(len(members))
			latest[h] = c
			before = append(before, newest)
			members = append(members, make([]int32, 0, 6))
		}
		class[v] = c
		members[c] = append(members[c], v)
	}
	return class, members
}

// mix spreads the bits of a vertex number (the finaliser of splitmix64), so that sums of them seldom collide.
func mix(v int32) uint64 { return mix64(uint64(v)) }

func mix64(v uint64) uint64 {
	z := (v + 1) * 0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// sameClosed tells whether u with nu and v with nv are the same set. mark is scratch: it holds u+1 on the set of u, and v
// is always an earlier vertex, so stale marks never match.
func sameClosed(u int32, nu []int32, v int32, nv []int32, mark []int32) bool {
	if len(nu) != len(nv) {
		return false
	}
	mark[u] = u + 1
	for _, x := range nu {
		mark[x] = u + 1
	}
	if mark[v] != u+1 {
		return false
	}
	for _, x := range nv {
		if mark[x] != u+1 {
			return false
		}
	}
	return true
}

// quotient is the quotient graph of a partly eliminated matrix. Vertices are variables until they are eliminated or merged,
// and elements (the cliques left by eliminated pivots) afterwards.
type quotient struct {
	vars   [][]int32 // of a variable: its variable neighbours not covered by an element
	elems  [][]int32 // of a variable: its elements
	clique [][]int32 // of an element: its variables (some may since have been merged away)
	size   []int32   // of an element: the weight of its clique
	nv     []int32   // weight of a variable; 0 when eliminated or merged; negative while it is in the pivot's clique
	alive  []bool    // of an element
	merged [][]int32 // variables merged into this one, in order
	deg    []int32   // approximate external degree
	left   int32     // weight not yet eliminated
	waits  []bool    // variables that are not eliminated before all others are
	late   int32     // their weight
	order  []int32   // variables as they are eliminated
	lists  degreeLists
	w      []int64 // |Le \ Lp| + wflag of elements
	wflag  int64
	hash   []uint64
	mark   []int32
	tick   int32
}

// newQuotient builds the compressed graph: one variable per class, weighted by its number of vertices.
func newQuotient(ptr, adj, class []int32, members [][]int32, last []bool) *quotient {
	n := len(members)
	q := &quotient{
		vars: make([][]int32, n), elems: make([][]int32, n), clique: make([][]int32, n), size: make([]int32, n),
		nv: make([]int32, n), alive: make([]bool, n), merged: make([][]int32, n), deg: make([]int32, n),
		w: make([]int64, n), wflag: 1, hash: make([]uint64, n), mark: make([]int32, n), waits: make([]bool, n),
	}
	for c, m := range members {
		q.nv[c] = int32(len(m))
		q.left += q.nv[c]
		if last[m[0]] {
			q.waits[c] = true
			q.late += q.nv[c]
		}
	}
	for c, m := range members {
		q.tick++
		q.mark[c] = q.tick
		for _, u := range adj[ptr[m[0]]:ptr[m[0]+1]] {
			if d := class[u]; q.mark[d] != q.tick {
				q.mark[d] = q.tick
				q.vars[c] = append(q.vars[c], d)
				q.deg[c] += int32(len(members[d]))
			}
		}
	}
	q.lists.init(n, int(q.left))
	for c := n - 1; c >= 0; c-- {
		if !q.waits[c] {
			q.lists.add(int32(c), q.deg[c])
		}
	}
	return q
}

// admit puts the variables that waited into the degree lists.
func (q *quotient) admit() {
	for c := len(q.waits) - 1; c >= 0; c-- {
		if q.waits[c] && q.nv[c] > 0 {
			q.lists.add(int32(c), q.deg[c])
		}
		q.waits[c] = false
	}
}

// eliminate puts all variables into the order, those that wait as soon as none is left that couples at most limit unknowns. It returns
// how many came before that.
func (q *quotient) eliminate(limit int32) (early int) {
	q.order = make([]int32, 0, len(q.nv))
	early = -1
	for q.left > 0 {
		if early < 0 && (q.left == q.late || q.lists.min() > limit) {
			q.admit()
			early = len(q.order)
		}
		p := q.lists.popMin()
		q.left -= q.nv[p]
		lp := q.pivotClique(p)
		q.outside(lp)
		lp = q.updateDegrees(p, lp)
		lp = q.mergeEqual(lp)
		q.finish(p, lp)
		q.emit(p)
	}
	if early < 0 {
		early = len(q.order)
	}
	return early
}

// emit appends p and everything merged into it.
func (q *quotient) emit(p int32) {
	q.order = append(q.order, p)
	for _, v := range q.merged[p] {
		q.emit(v)
	}
}

// pivotClique gathers the variables coupled with p, takes them from the degree lists, marks them by a negative weight,
// and absorbs the elements of p.
func (q *quotient) pivotClique(p int32) []int32 {
	var lp []int32
	take := func(list []int32) {
		for _, i := range list {
			if q.nv[i] > 0 && i != p {
				q.nv[i] = -q.nv[i]
				if !q.waits[i] {
					q.lists.remove(i, q.deg[i])
				}
				lp = append(lp, i)
			}
		}
	}
	for _, e := range q.elems[p] {
		if q.alive[e] {
			take(q.clique[e])
			q.alive[e], q.clique[e] = false, nil
		}
	}
	take(q.vars[p])
	return lp
}

// outside sets w[e] - wflag to |Le \ Lp| for every element e that touches lp.
func (q *quotient) outside(lp []int32) {
	for _, i := range lp {
		for _, e := range q.elems[i] {
			if !q.alive[e] {
				continue
			}
			if q.w[e] < q.wflag {
				q.w[e] = int64(q.size[e]) + q.wflag
			}
			q.w[e] += int64(q.nv[i]) // negative: takes i's weight off
		}
	}
}

// updateDegrees prunes the lists of every variable of lp, absorbs elements inside the new clique, bounds the degrees, and
// merges into p what is coupled with nothing else (mass elimination). It returns what remains of lp.
func (q *quotient) updateDegrees(p int32, lp []int32) []int32 {
	var total int32
	for _, i := range lp {
		total -= q.nv[i]
	}
	kept := lp[:0]
	for _, i := range lp {
		ext := q.prune(p, i)
		if ext == 0 && !q.waits[i] {
			q.left += q.nv[i]
			total += q.nv[i]
			q.nv[i] = 0
			q.merged[p] = append(q.merged[p], i)
			continue
		}
		q.deg[i] = min(q.deg[i], ext)
		kept = append(kept, i)
	}
	for _, i := range kept {
		// The bounds of the paper, eq. (4): what is left, the old degree plus the new clique, and the sum over elements.
		q.deg[i] = min(q.left, q.deg[i]+total) + q.nv[i]
	}
	q.size[p] = total
	q.wflag += int64(total) + 1
	for _, i := range kept {
		for _, e := range q.elems[i] {
			q.wflag = max(q.wflag, q.w[e]+1)
		}
	}
	return kept
}

// prune rewrites the element and variable lists of i, p becoming its first element, and returns the weight that i touches
// outside the pivot's clique; it sets the hash of i.
func (q *quotient) prune(p, i int32) (ext int32) {
	h := mix(p)
	elems := q.elems[i][:0]
	for _, e := range q.elems[i] {
		if !q.alive[e] {
			continue
		}
		if out := q.w[e] - q.wflag; out > 0 {
			ext += int32(out)
			elems = append(elems, e)
			h += mix(e)
		} else {
			q.alive[e], q.clique[e] = false, nil // inside the new clique: aggressive absorption
		}
	}
	vars := q.vars[i][:0]
	for _, j := range q.vars[i] {
		if q.nv[j] > 0 && j != p {
			ext += q.nv[j]
			vars = append(vars, j)
			h += mix(j)
		}
	}
	q.elems[i] = append(elems, p)
	q.vars[i] = vars
	q.hash[i] = h
	return ext
}

// mergeEqual merges the variables of lp that have become indistinguishable (equal lists), found by their hashes.
func (q *quotient) mergeEqual(lp []int32) []int32 {
	kept := lp[:0]
	for _, i := range lp {
		into := int32(-1)
		for _, j := range kept { // cliques of compressed graphs are short: no table of hashes pays
			if q.hash[i] == q.hash[j] && q.waits[i] == q.waits[j] && q.sameLists(i, j) {
				into = j
				break
			}
		}
		if into < 0 {
			kept = append(kept, i)
			continue
		}
		q.deg[into] += q.nv[i] // the merged weight is no longer outside (nv is negative here)
		q.nv[into] += q.nv[i]
		q.nv[i] = 0
		q.merged[into] = append(q.merged[into], i)
		q.vars[i], q.elems[i] = nil, nil
	}
	return kept
}

// sameLists tells whether i and j have the same elements and the same variables.
func (q *quotient) sameLists(i, j int32) bool {
	if len(q.elems[i]) != len(q.elems[j]) || len(q.vars[i]) != len(q.vars[j]) {
		return false
	}
	q.tick++
	for _, e := range q.elems[i] {
		q.mark[e] = q.tick
	}
	for _, v := range q.vars[i] {
		q.mark[v] = q.tick
	}
	for _, e := range q.elems[j] {
		if q.mark[e] != q.tick {
			return false
		}
	}
	for _, v := range q.vars[j] {
		if q.mark[v] != q.tick {
			return false
		}
	}
	return true
}

// finish turns p into an element and puts the variables of its clique back into the degree lists.
func (q *quotient) finish(p int32, lp []int32) {
	q.nv[p] = 0
	q.vars[p], q.elems[p] = nil, nil
	for _, i := range lp {
		q.nv[i] = -q.nv[i]
		q.deg[i] = max(0, min(q.deg[i], q.left-q.nv[i]))
		if !q.waits[i] {
			q.lists.add(i, q.deg[i])
		}
	}
	q.clique[p] = lp
	q.alive[p] = len(lp) > 0
}

// degreeLists keeps variables in doubly linked lists by degree.
type degreeLists struct {
	head, next, prev []int32
	least            int32
}

func (d *degreeLists) init(n, maxDegree int) {
	d.head = make([]int32, maxDegree+1)
	for i := range d.head {
		d.head[i] = -1
	}
	d.next, d.prev = make([]int32, n), make([]int32, n)
}

func (d *degreeLists) add(i, deg int32) {
	h := d.head[deg]
	d.next[i], d.prev[i] = h, -1
	if h >= 0 {
		d.prev[h] = i
	}
	d.head[deg] = i
	d.least = min(d.least, deg)
}

func (d *degreeLists) remove(i, deg int32) {
	if d.prev[i] >= 0 {
		d.next[d.prev[i]] = d.next[i]
	} else {
		d.head[deg] = d.next[i]
	}
	if d.next[i] >= 0 {
		d.prev[d.next[i]] = d.prev[i]
	}
}

// min returns the least degree; there must be a variable.
func (d *degreeLists) min() int32 {
	for d.head[d.least] < 0 {
		d.least++
	}
	return d.least
}

// popMin takes a variable of least degree.
func (d *degreeLists) popMin() int32 {
	i := d.head[d.min()]
	d.remove(i, d.least)
	return i
}
