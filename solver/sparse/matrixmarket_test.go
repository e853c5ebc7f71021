package sparse

import (
	"bufio"
	"bytes"
	"strconv"
	"strings"
	"testing"
)

// marketFile is what an independent small reader of Matrix Market files finds: the words of the banner, the comment, and the
// values of a full matrix, row by row.
type marketFile struct {
	words      []string
	comment    []string
	rows, cols int
	entries    int // lines of values
	full       [][]float64
}

// readMarket reads the coordinate and array forms as NISTIR 5935 describes them; it shares nothing with the writer.
func readMarket(t *testing.T, text []byte) marketFile {
	t.Helper()
	var m marketFile
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	sc := bufio.NewScanner(bytes.NewReader(text))
	var size []string
	for sc.Scan() {
		line := sc.Text()
		f := strings.Fields(line)
		switch {
		case m.words == nil:
			m.words = f
		case strings.HasPrefix(line, "%"):
			m.comment = append(m.comment, strings.TrimSpace(line[1:]))
		case size == nil:
			size = f
			m.rows, m.cols = int(number(f[0])), int(number(f[1]))
			m.full = make([][]float64, m.rows)
			for i := range m.full {
				m.full[i] = make([]float64, m.cols)
			}
		case m.words[2] == "coordinate":
			i, j, v := int(number(f[0]))-1, int(number(f[1]))-1, number(f[2])
			if i < j || m.full[i][j] != 0 {
				t.Fatalf("entry (%d, %d) is above the diagonal or given twice", i+1, j+1)
			}
			m.full[i][j], m.full[j][i] = v, v
			m.entries++
		default:
			m.full[m.entries%m.rows][m.entries/m.rows] = number(f[0])
			m.entries++
		}
	}
	if m.words[2] == "coordinate" && int(number(size[2])) != m.entries {
		t.Fatalf("%s entries promised, %d found", size[2], m.entries)
	}
	return m
}

// TestMatrixMarket writes the stiffness of a generated shed with right-hand sides, reads both back, and multiplies the dense
// matrix with the solution of the factor.
func TestMatrixMarket(t *testing.T) {
	s := newShed(3)
	const nrhs = 3
	n := s.pattern.N
	b := make([]float64, n*nrhs)
	for i := range b {
		b[i] = float64(i%7) - 2.5/float64(1+i%3)
	}
	var k, r bytes.Buffer
	if err := s.pattern.WriteMatrixMarket(&k, s.val, "stiffness\nN/m"); err != nil {
		t.Fatal(err)
	}
	if err := WriteMatrixMarketBlock(&r, b, n, nrhs, "loads"); err != nil {
		t.Fatal(err)
	}
	a, f := readMarket(t, k.Bytes()), readMarket(t, r.Bytes())
	if got := strings.Join(a.words, " "); got != "%%MatrixMarket matrix coordinate real symmetric" {
		t.Errorf("banner %q", got)
	}
	if got := strings.Join(f.words, " "); got != "%%MatrixMarket matrix array real general" {
		t.Errorf("banner %q", got)
	}
	if got := strings.Join(a.comment, "|"); got != "stiffness|N/m" {
		t.Errorf("comment %q", got)
	}
	if a.rows != n || a.cols != n || a.entries != s.pattern.NNZ() || f.rows != n || f.cols != nrhs || f.entries != n*nrhs {
		t.Fatalf("matrix %dx%d with %d entries, block %dx%d with %d", a.rows, a.cols, a.entries, f.rows, f.cols, f.entries)
	}
	fac := NewFactor(Analyze(s.pattern))
	if err := fac.Refactor(s.val); err != nil {
		t.Fatal(err)
	}
	x := append([]float64(nil), b...)
	fac.Solve(x, nrhs)
	for i := range n {
		for c := range nrhs {
			if f.full[i][c] != b[i*nrhs+c] {
				t.Fatalf("right-hand side %d of unknown %d: read %v, written %v", c, i, f.full[i][c], b[i*nrhs+c])
			}
			sum, size := 0.0, abs(b[i*nrhs+c])
			for j := range n {
				sum += a.full[i][j] * x[j*nrhs+c]
				size += abs(a.full[i][j] * x[j*nrhs+c])
			}
			if abs(sum-f.full[i][c]) > 1e-13*size {
				t.Fatalf("row %d, vector %d: K·x is %g, the load %g", i, c, sum, f.full[i][c])
			}
		}
	}
}

// TestFlopsCountDense: on a full matrix the counted operations are those of the textbook Cholesky factorisation, counted one by
// one: a root, divisions, multiplications and subtractions.
func TestFlopsCountDense(t *testing.T) {
	for _, n := range []int{1, 2, 7, 30} {
		p := NewPattern(n, func(yield func(int, int) bool) {
			for i := range n {
				for j := range i {
					if !yield(i, j) {
						return
					}
				}
			}
		})
		count := int64(0)
		for j := range n {
			count++ // the root
			for range n - 1 - j {
				count++ // a division
			}
			for i := j + 1; i < n; i++ {
				for range i - j {
					count += 2 // a product and its subtraction from the lower triangle of what is left
				}
			}
		}
		s := Analyze(p)
		if s.Flops() != count || s.NNZ() != n*(n+1)/2 {
			t.Errorf("n = %d: %d operations and %d entries, counted %d and %d", n, s.Flops(), s.NNZ(), count, n*(n+1)/2)
		}
	}
}
