package sparse

import (
	"fmt"
	"math"
)

// MulVec sets y = A x for the symmetric matrix whose lower triangle is val. It panics on wrong lengths; y must not be x.
func (p *Pattern) MulVec(y, val, x []float64) {
	p.checkValues("MulVec", val)
	p.checkBlock("MulVec", x, 1)
	p.checkBlock("MulVec", y, 1)
	clear(y)
	for j := range p.N {
		lo, hi := p.Ptr[j], p.Ptr[j+1]
		xj := x[j]
		sum := val[lo] * xj
		rows := p.Row[lo+1 : hi]
		v := val[lo+1 : hi][:len(rows)]
		for k, i := range rows {
			y[i] += v[k] * xj
			sum += v[k] * x[i]
		}
		y[j] += sum
	}
}

// Mul sets Y = A X for nrhs vectors, row-major as in Factor.Solve. It panics on wrong lengths; y must not be x.
func (p *Pattern) Mul(y, val, x []float64, nrhs int) {
	p.checkValues("Mul", val)
	p.checkBlock("Mul", x, nrhs)
	p.checkBlock("Mul", y, nrhs)
	clear(y)
	for j := range p.N {
		xj, yj := x[j*nrhs:][:nrhs], y[j*nrhs:][:nrhs]
		axpy(yj, val[p.Ptr[j]], xj)
		for e := p.Ptr[j] + 1; e < p.Ptr[j+1]; e++ {
			i := int(p.Row[e])
			axpy(y[i*nrhs:][:nrhs], val[e], xj)
			axpy(yj, val[e], x[i*nrhs:][:nrhs])
		}
	}
}

// Residual sets r = b - A x for nrhs vectors, row-major. It panics on wrong lengths; r must be neither x nor b.
func (p *Pattern) Residual(r, val, x, b []float64, nrhs int) {
	p.checkBlock("Residual", b, nrhs)
	p.Mul(r, val, x, nrhs)
	for i := range r {
		r[i] = b[i] - r[i]
	}
}

// Norm1 returns the 1-norm (the largest column sum of magnitudes, equal to the infinity norm) of the symmetric matrix
// whose lower triangle is val. work has p.N entries or is nil.
func (p *Pattern) Norm1(val, work []float64) float64 {
	p.checkValues("Norm1", val)
	if work == nil {
		work = make([]float64, p.N)
	}
	p.checkBlock("Norm1", work, 1)
	clear(work)
	for j := range p.N {
		work[j] += math.Abs(val[p.Ptr[j]])
		for e := p.Ptr[j] + 1; e < p.Ptr[j+1]; e++ {
			a := math.Abs(val[e])
			work[j] += a
			work[p.Row[e]] += a
		}
	}
	var norm float64
	for _, v := range work {
		if v > norm || v != v {
			norm = v
		}
	}
	return norm
}

func (p *Pattern) checkBlock(who string, x []float64, nrhs int) {
	if len(x) != p.N*nrhs {
		panic(fmt.Sprintf("sparse: %s: %d values for %d unknowns and %d vectors", who, len(x), p.N, nrhs))
	}
}

func axpy(y []float64, a float64, x []float64) {
	x = x[:len(y)]
	for i := range y {
		y[i] += a * x[i]
	}
}
