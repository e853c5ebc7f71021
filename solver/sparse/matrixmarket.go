package sparse

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// WriteMatrixMarket writes the symmetric matrix whose lower triangle is val in the Matrix Market exchange form, "matrix
// coordinate real symmetric": the lower triangle column by column, indices from 1, values with the digits that read back to
// the same bits. The lines of comment become comment lines of the file. It panics if val does not fit the pattern.
// Source: R. F. Boisvert, R. Pozo, K. A. Remington, The Matrix Market exchange formats: initial design, NISTIR 5935 (1996).
func (p *Pattern) WriteMatrixMarket(w io.Writer, val []float64, comment string) error {
	p.checkValues("WriteMatrixMarket", val)
	b := bufio.NewWriter(w)
	writeBanner(b, "coordinate real symmetric", comment)
	fmt.Fprintf(b, "%d %d %d\n", p.N, p.N, p.NNZ())
	var line []byte
	for j := range p.N {
		for e := p.Ptr[j]; e < p.Ptr[j+1]; e++ {
			line = strconv.AppendInt(line[:0], int64(p.Row[e])+1, 10)
			line = append(line, ' ')
			line = strconv.AppendInt(line, int64(j)+1, 10)
			line = append(line, ' ')
			line = append(strconv.AppendFloat(line, val[e], 'g', -1, 64), '\n')
			if _, err := b.Write(line); err != nil {
				return err
			}
		}
	}
	return b.Flush()
}

// WriteMatrixMarketBlock writes nrhs vectors of n entries, row-major as in Factor.Solve, as "matrix array real general":
// one value a line, vector after vector. It panics if len(x) is not n*nrhs.
func WriteMatrixMarketBlock(w io.Writer, x []float64, n, nrhs int, comment string) error {
	if len(x) != n*nrhs {
		panic(fmt.Sprintf("sparse: WriteMatrixMarketBlock: %d values for %d unknowns and %d vectors", len(x), n, nrhs))
	}
	b := bufio.NewWriter(w)
	writeBanner(b, "array real general", comment)
	fmt.Fprintf(b, "%d %d\n", n, nrhs)
	var line []byte
	for k := range nrhs {
		for i := range n {
			line = append(strconv.AppendFloat(line[:0], x[i*nrhs+k], 'g', -1, 64), '\n')
			if _, err := b.Write(line); err != nil {
				return err
			}
		}
	}
	return b.Flush()
}

// writeBanner writes the first line and the comment. Errors stay in b until Flush.
func writeBanner(b *bufio.Writer, form, comment string) {
	fmt.Fprintf(b, "%%%%MatrixMarket matrix %s\n", form)
	for l := range strings.Lines(comment) {
		fmt.Fprintf(b, "%% %s\n", strings.TrimRight(l, "\n"))
	}
}
