package sparse

import "testing"

// TestChunks: a factor that is filled chunk by chunk has the bits of one that is filled at once, also after a breakdown, and
// every value and column is in one chunk.
func TestChunks(t *testing.T) {
	s := newShed(120)
	sym := Analyze(s.pattern)
	if len(sym.chunks) < 10 {
		t.Fatalf("%d chunks of %d doubles: the test wants more", len(sym.chunks), sym.storage)
	}
	whole := *sym
	whole.chunks, whole.chunkOf = nil, nil
	seen := make([]bool, len(sym.from))
	column, base := int32(0), int32(0)
	for _, c := range sym.chunks {
		if c.first != column || c.base != base {
			t.Fatalf("a chunk begins at column %d and %d, the one before ends at %d and %d", c.first, c.base, column, base)
		}
		column, base = c.last, c.end
		for i, e := range sym.from[c.entry:c.lastOne] {
			if at := sym.to[int(c.entry)+i]; seen[e] || at < c.base || at >= c.end {
				t.Fatalf("value %d goes to %d, its chunk is %d to %d", e, at, c.base, c.end)
			}
			seen[e] = true
		}
	}
	if int(column) != sym.n || int(base) != sym.storage || len(sym.to) != len(seen) {
		t.Fatalf("the chunks end at column %d and %d", column, base)
	}
	f, g := NewFactor(sym), NewFactor(&whole)
	broken := append([]float64(nil), s.val...)
	broken[s.pattern.Ptr[s.pattern.N/2]] = 0
	for _, val := range [][]float64{s.val, broken, s.val} {
		if (f.Refactor(val) == nil) != (g.Refactor(val) == nil) {
			t.Fatal("one of the two breaks down")
		}
		assertSameBits(t, "pivots", f.d, g.d)
		if f.valid {
			assertSameBits(t, "panels", f.lx, g.lx)
			assertSameBits(t, "growth", f.grow, g.grow)
		}
	}
}
