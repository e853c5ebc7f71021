package sparse

import (
	"fmt"
	"slices"
)

// Symbolic is everything about the factor L D Lᵀ of a pattern that does not depend on values: the elimination order, the
// elimination tree, the supernodes (runs of columns of L with one structure, kept as dense panels) and where each entry and
// each update goes. It is immutable and may be shared by any number of workers.
type Symbolic struct {
	pattern *Pattern
	n       int
	perm    []int32 // perm[k] is the original index of the k-th pivot
	inv     []int32 // inverse of perm
	nnz     int
	flops   int64

	super   []panel
	superOf []int32 // panel of each column
	rows    []int32 // rows below the diagonal block, panel after panel
	below   []int32 // the same as the caller numbers them
	segs    []segment
	rel     []int32    // local row numbers in the target panel, segment after segment
	from    []int32    // values of the pattern, chunk after chunk
	to      []int32    // where each of these goes in the factor's storage
	diag    []int32    // the value on the diagonal of each column
	storage int        // length of that storage
	head    int32      // columns that are eliminated before all others; all of them but in a Border
	heads   int        // their panels
	chunkOf []int32    // chunk of each panel
	chunks  []chunk    // see Factor.begin; none in a small factor
	pieces  [][2]int32 // runs of head's panels, from the first to before the last, of a size that stays near the processor
	tall    int        // rows of the tallest panel
	wide    int        // columns of the widest panel
	most    int        // doubles of the largest panel
}

// panel is one supernode: columns first..first+width-1 of L. It is stored by columns from base on, each from its diagonal entry
// down and right after the one before: solves of long structures wait for this memory, so that it holds nothing else.
type panel struct {
	first, width int32
	height       int32 // width plus rows below
	base         int32
	row          int32 // its rows below start here in Symbolic.rows and Symbolic.below
	seg, segEnd  int32 // its segments in Symbolic.segs
}

// rise is where row 0 of column k would stand, counted from base: row i >= k stands i further on. From one column to the next
// it grows by height-1-k.
func (p *panel) rise(k int) int { return k*(int(p.height)-1) - k*(k-1)/2 }

// size is the number of doubles of the panel.
func (p *panel) size() int { return int(p.width)*int(p.height) - int(p.width)*int(p.width-1)/2 }

// segment is a run of a panel's rows that are columns of one later panel (the target).
type segment struct {
	from, to int32 // rows below, counted from the diagonal block's end
	target   int32
	rel      int32 // rel[rel+q-from] is the local row, in the target, of the source's row q >= from
}

// chunk is a run of panels whose storage is filled with the matrix at once, shortly before it is worked on.
type chunk struct {
	base, end      int32 // its part of the factor's storage
	first, last    int32 // its columns, last not included
	entry, lastOne int32 // its values in Symbolic.from, lastOne not included
}

const (
	// chunkSize is about how many doubles a chunk has: a part of the second-level cache.
	chunkSize = 8192
	// filledWhole is the number of doubles up to which a factor is filled at once: all of it is near the processor then.
	filledWhole = 1 << 17
)

// Analyze orders p by Order and analyses the factor.
func Analyze(p *Pattern) *Symbolic { return AnalyzeWith(p, Order(p)) }

// AnalyzeWith analyses the factor of p for a given elimination order, perm[k] being the unknown eliminated k-th. The order
// is refined to a postorder of its elimination tree, which changes neither fill nor operations. It panics if perm is not a
// permutation of 0..p.N-1.
func AnalyzeWith(p *Pattern, perm []int) *Symbolic { return analyzeSplit(p, perm, p.N) }

// analyzeSplit is AnalyzeWith with the first head columns of the order before the others, and no panel of both.
func analyzeSplit(p *Pattern, perm []int, head int) *Symbolic {
	s := &Symbolic{pattern: p, n: p.N, head: int32(head)}
	s.setOrder(perm)
	ptr, idx := s.upper()
	parent := etree(ptr, idx)
	count := counts(ptr, idx, parent)
	post := splitAt(postorder(parent, count), int32(head))
	s.relabel(post)
	parent, count = relabelTree(parent, post), picked(count, post)
	for _, c := range count {
		s.nnz += int(c)
		s.flops += int64(c) * int64(c)
	}
	s.findSupernodes(parent, count)
	s.findRows(parent)
	s.layOut()
	s.heads = slices.IndexFunc(s.super, func(p panel) bool { return p.first >= s.head })
	if s.heads < 0 {
		s.heads = len(s.super)
	}
	s.pieces = [][2]int32{{0, int32(s.heads)}}
	if s.storage > filledWhole {
		s.cutChunks()
	}
	s.mapValues()
	return s
}

// N returns the order of the matrix.
func (s *Symbolic) N() int { return s.n }

// Pattern returns the pattern that was analysed.
func (s *Symbolic) Pattern() *Pattern { return s.pattern }

// NNZ returns the number of entries of L with its unit diagonal, zeros stored for the sake of panels not counted.
func (s *Symbolic) NNZ() int { return s.nnz }

// Stored returns the number of doubles that hold L, with the zeros of its panels.
func (s *Symbolic) Stored() int { return s.storage }

// Flops returns the multiplications and additions of one factorisation: the sum of the squared column counts of L.
func (s *Symbolic) Flops() int64 { return s.flops }

// Perm returns a copy of the elimination order: the k-th pivot is unknown Perm()[k].
func (s *Symbolic) Perm() []int {
	out := make([]int, s.n)
	for k, v := range s.perm {
		out[k] = int(v)
	}
	return out
}

func (s *Symbolic) setOrder(perm []int) {
	if len(perm) != s.n {
		panic(fmt.Sprintf("sparse: AnalyzeWith: order of %d unknowns for a pattern of %d", len(perm), s.n))
	}
	s.perm, s.inv = make([]int32, s.n), make([]int32, s.n)
	for i := range s.inv {
		s.inv[i] = -1
	}
	for k, v := range perm {
		if v < 0 || v >= s.n || s.inv[v] >= 0 {
			panic(fmt.Sprintf("sparse: AnalyzeWith: order[%d] = %d is outside 0..%d or repeated", k, v, s.n-1))
		}
		s.perm[k], s.inv[v] = int32(v), int32(k)
	}
}

// splitAt moves the columns from head on behind the others, each part in the order that it has. A column's parent comes after it still.
func splitAt(post []int32, head int32) []int32 {
	out := make([]int32, 0, len(post))
	for _, first := range [2]bool{true, false} {
		for _, j := range post {
			if (j < head) == first {
				out = append(out, j)
			}
		}
	}
	return out
}

// relabel composes the order with a postorder: new column k is old column post[k].
func (s *Symbolic) relabel(post []int32) {
	s.perm = picked(s.perm, post)
	for k, v := range s.perm {
		s.inv[v] = int32(k)
	}
}

// picked returns x[at[0]], x[at[1]] and so on.
func picked(x, at []int32) []int32 {
	out := make([]int32, len(at))
	for k, j := range at {
		out[k] = x[j]
	}
	return out
}

// upper lists, for each column k of the ordered matrix, its rows above the diagonal.
func (s *Symbolic) upper() (ptr, idx []int32) {
	p := s.pattern
	ptr = make([]int32, s.n+2)
	for j := range s.n {
		for _, i := range p.Row[p.Ptr[j]+1 : p.Ptr[j+1]] {
			ptr[max(s.inv[i], s.inv[j])+2]++
		}
	}
	for k := range s.n {
		ptr[k+2] += ptr[k+1]
	}
	idx = make([]int32, ptr[s.n+1])
	for j := range s.n {
		for _, i := range p.Row[p.Ptr[j]+1 : p.Ptr[j+1]] {
			a, b := s.inv[i], s.inv[j]
			k := max(a, b)
			idx[ptr[k+1]] = min(a, b)
			ptr[k+1]++
		}
	}
	return ptr[:s.n+1], idx
}

// etree returns the elimination tree; -1 is the parent of a root.
// Source: J. W. H. Liu, The role of elimination trees in sparse factorization, SIAM J. Matrix Anal. Appl. 11 (1990) 134-172.
func etree(ptr, idx []int32) []int32 {
	n := len(ptr) - 1
	parent, ancestor := make([]int32, n), make([]int32, n)
	for k := range int32(n) {
		parent[k], ancestor[k] = -1, -1
		for _, j := range idx[ptr[k]:ptr[k+1]] {
			for j >= 0 && j < k {
				next := ancestor[j]
				ancestor[j] = k
				if next < 0 {
					parent[j] = k
				}
				j = next
			}
		}
	}
	return parent
}

// counts returns the number of entries of each column of L with the diagonal, by walking every row's subtree.
func counts(ptr, idx, parent []int32) []int32 {
	n := len(parent)
	count, mark := make([]int32, n), make([]int32, n)
	for k := range int32(n) {
		mark[k] = k + 1
		count[k]++
		for _, j := range idx[ptr[k]:ptr[k+1]] {
			for ; mark[j] != k+1; j = parent[j] {
				mark[j] = k + 1
				count[j]++
			}
		}
	}
	return count
}

// postorder returns the columns in a postorder of the tree in which the child with the tallest column comes last: it is the
// one that may share its parent's panel.
func postorder(parent, count []int32) []int32 {
	n := len(parent)
	head, next := make([]int32, n+1), make([]int32, n) // children lists; the last list is of the roots
	for i := range head {
		head[i] = -1
	}
	tallest := make([]int32, n+1)
	for i := range tallest {
		tallest[i] = -1
	}
	at := func(j int32) int32 {
		if parent[j] < 0 {
			return int32(n)
		}
		return parent[j]
	}
	for j := range int32(n) {
		if t := tallest[at(j)]; t < 0 || count[j] >= count[t] {
			tallest[at(j)] = j
		}
	}
	push := func(j int32) { next[j], head[at(j)] = head[at(j)], j }
	for j := int32(n) - 1; j >= 0; j-- {
		if tallest[at(j)] == j {
			push(j)
		}
	}
	for j := int32(n) - 1; j >= 0; j-- {
		if tallest[at(j)] != j {
			push(j)
		}
	}
	return walk(head, next)
}

// walk is a depth-first walk without recursion over the children lists that postorder built.
func walk(head, next []int32) []int32 {
	root := int32(len(next))
	post := make([]int32, 0, len(next))
	stack := []int32{root}
	for len(stack) > 0 {
		j := stack[len(stack)-1]
		if c := head[j]; c >= 0 {
			head[j] = next[c]
			stack = append(stack, c)
			continue
		}
		stack = stack[:len(stack)-1]
		if j != root {
			post = append(post, j)
		}
	}
	return post
}

func relabelTree(parent, post []int32) []int32 {
	inv, out := make([]int32, len(post)), make([]int32, len(post))
	for k, j := range post {
		inv[j] = int32(k)
	}
	for j, p := range parent {
		if p >= 0 {
			p = inv[p]
		}
		out[inv[j]] = p
	}
	return out
}

// findSupernodes cuts the columns into panels: runs of equal structure first, then neighbours in the tree merged where
// the zeros that this stores are few.
// Source: C. Ashcraft, R. Grimes, The influence of relaxed supernode partitions on the multifrontal method, ACM Trans. Math.
// Softw. 15 (1989) 291-309.
func (s *Symbolic) findSupernodes(parent, count []int32) {
	var zeros []int64 // of each panel, parallel to s.super
	for j := range int32(s.n) {
		if j > 0 && j != s.head && parent[j-1] == j && count[j-1] == count[j]+1 {
			s.super[len(s.super)-1].width++
			continue
		}
		s.super, zeros = mergeDown(s.super, zeros, parent, s.head)
		s.super = append(s.super, panel{first: j, width: 1, height: count[j]})
		zeros = append(zeros, 0)
	}
	s.super, _ = mergeDown(s.super, zeros, parent, s.head)
	s.superOf = make([]int32, s.n)
	for k, p := range s.super {
		for j := p.first; j < p.first+p.width; j++ {
			s.superOf[j] = int32(k)
		}
	}
}

// mergeDown merges the last panel with the one before it as long as that is its child and worth merging, and none begins at head.
func mergeDown(super []panel, zeros []int64, parent []int32, head int32) ([]panel, []int64) {
	for k := len(super) - 1; k > 0; k-- {
		child, p := super[k-1], super[k]
		up := parent[p.first-1]
		if up < p.first || up >= p.first+p.width || p.first == head {
			break
		}
		width, height := child.width+p.width, child.width+p.height
		// Each child column grows to the merged height.
		z := zeros[k-1] + zeros[k] + int64(child.width)*int64(height-child.height)
		stored := int64(width)*int64(width+1)/2 + int64(width)*int64(height-width)
		if !worthMerging(width, z, stored) {
			break
		}
		super[k-1] = panel{first: child.first, width: width, height: height}
		zeros[k-1] = z
		super, zeros = super[:k], zeros[:k]
	}
	return super, zeros
}

// worthMerging decides on a merger by the merged width and the share of stored zeros; the limits were found by the
// benchmark (benchmarks.md, question 2).
func worthMerging(width int32, zeros, stored int64) bool {
	share := float64(zeros) / float64(stored)
	switch {
	case width <= 4:
		return share < 0.5
	case width <= 12:
		return share < 0.2
	case width <= 32:
		return share < 0.1
	}
	return share < 0.03
}

// findRows lists the rows below each panel: those of its entries and of its children, less its own columns.
func (s *Symbolic) findRows(parent []int32) {
	ptr, idx := s.lower()
	children := make([][]int32, len(s.super))
	mark := make([]int32, s.n)
	var total int
	for _, p := range s.super {
		total += int(p.height - p.width)
	}
	s.rows = make([]int32, 0, total)
	for k := range s.super {
		p := &s.super[k]
		end := p.first + p.width
		p.row = int32(len(s.rows))
		take := func(list []int32) {
			for _, i := range list {
				if i >= end && mark[i] != int32(k)+1 {
					mark[i] = int32(k) + 1
					s.rows = append(s.rows, i)
				}
			}
		}
		take(idx[ptr[p.first]:ptr[end]])
		for _, c := range children[k] {
			take(s.rowsOf(c))
		}
		mine := s.rows[p.row:]
		slices.Sort(mine)
		if len(mine) != int(p.height-p.width) {
			panic("sparse: column counts and panel structure disagree") // an error of this package
		}
		if up := parent[end-1]; up >= 0 {
			children[s.superOf[up]] = append(children[s.superOf[up]], int32(k))
		}
	}
}

// rowsOf returns the rows below panel k.
func (s *Symbolic) rowsOf(k int32) []int32 {
	p := &s.super[k]
	return s.rows[p.row : p.row+p.height-p.width]
}

// lower lists, for each column of the ordered matrix, its rows below the diagonal, in no order.
func (s *Symbolic) lower() (ptr, idx []int32) {
	p := s.pattern
	ptr = make([]int32, s.n+2)
	for j := range s.n {
		for _, i := range p.Row[p.Ptr[j]+1 : p.Ptr[j+1]] {
			ptr[min(s.inv[i], s.inv[j])+2]++
		}
	}
	for k := range s.n {
		ptr[k+2] += ptr[k+1]
	}
	idx = make([]int32, ptr[s.n+1])
	for j := range s.n {
		for _, i := range p.Row[p.Ptr[j]+1 : p.Ptr[j+1]] {
			k := min(s.inv[i], s.inv[j])
			idx[ptr[k+1]] = max(s.inv[i], s.inv[j])
			ptr[k+1]++
		}
	}
	return ptr[:s.n+1], idx
}

// layOut places the panels in storage and finds where each panel's updates go.
func (s *Symbolic) layOut() {
	for k := range s.super {
		p := &s.super[k]
		p.base = int32(s.storage)
		s.storage += p.size()
		s.tall, s.wide, s.most = max(s.tall, int(p.height)), max(s.wide, int(p.width)), max(s.most, p.size())
	}
	s.below = picked(s.perm, s.rows)
	if s.storage > 1<<31-1 {
		panic(fmt.Sprintf("sparse: a factor of %d entries is beyond this package's 32-bit indices", s.storage))
	}
	local := make([]int32, s.n)
	s.rel = make([]int32, 0, 2*len(s.rows))
	for k := range s.super {
		p := &s.super[k]
		p.seg = int32(len(s.segs))
		rows := s.rowsOf(int32(k))
		for from := 0; from < len(rows); {
			target := s.superOf[rows[from]]
			to := from
			for to < len(rows) && s.superOf[rows[to]] == target {
				to++
			}
			s.segs = append(s.segs, segment{int32(from), int32(to), target, int32(len(s.rel))})
			s.localRows(target, local)
			for _, i := range rows[from:] {
				s.rel = append(s.rel, local[i])
			}
			from = to
		}
		p.segEnd = int32(len(s.segs))
	}
}

// localRows writes into local the row number within panel k of each of its rows.
func (s *Symbolic) localRows(k int32, local []int32) {
	p := &s.super[k]
	for j := range p.width {
		local[p.first+j] = j
	}
	for q, i := range s.rowsOf(k) {
		local[i] = p.width + int32(q)
	}
}

// cutChunks groups the panels into chunks.
func (s *Symbolic) cutChunks() {
	s.chunkOf, s.pieces = make([]int32, len(s.super)), nil
	for k, p := range s.super {
		if n := len(s.chunks); n == 0 || k == s.heads || s.chunks[n-1].end-s.chunks[n-1].base >= chunkSize {
			s.chunks = append(s.chunks, chunk{base: p.base, first: p.first})
			if k < s.heads {
				s.pieces = append(s.pieces, [2]int32{int32(k), int32(k)})
			}
		}
		c := &s.chunks[len(s.chunks)-1]
		if k < s.heads {
			s.pieces[len(s.chunks)-1][1] = int32(k) + 1
		}
		c.end, c.last = p.base+int32(p.size()), p.first+p.width
		s.chunkOf[k] = int32(len(s.chunks) - 1)
	}
}

// mapValues finds where each value of the pattern goes, and lists them chunk after chunk, each in the order of the pattern.
func (s *Symbolic) mapValues() {
	p := s.pattern
	s.diag = make([]int32, s.n)
	home, pos := make([]int32, len(p.Row)), make([]int32, len(p.Row))
	for j := range s.n {
		s.diag[s.inv[j]] = p.Ptr[j]
		for e := p.Ptr[j]; e < p.Ptr[j+1]; e++ {
			a, b := s.inv[p.Row[e]], s.inv[j]
			pos[e] = s.place(max(a, b), min(a, b))
			if len(s.chunks) > 0 {
				home[e] = s.chunkOf[s.superOf[min(a, b)]]
			}
		}
	}
	s.from = countingSort(max(1, len(s.chunks)), home)
	s.to = picked(pos, s.from)
	at := int32(0)
	for c := range s.chunks {
		s.chunks[c].entry = at
		for int(at) < len(s.from) && home[s.from[at]] == int32(c) {
			at++
		}
		s.chunks[c].lastOne = at
	}
}

// place returns where row i, column j of L is stored; the entry must exist.
func (s *Symbolic) place(i, j int32) int32 {
	k := s.superOf[j]
	p := &s.super[k]
	local := i - p.first
	if local >= p.width {
		q, _ := slices.BinarySearch(s.rowsOf(k), i)
		local = p.width + int32(q)
	}
	return p.base + int32(p.rise(int(j-p.first))) + local
}
