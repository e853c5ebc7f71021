package frame

import (
	"math"
	"slices"
)

// stripSet is scratch for the strips of one element under one combination.
type stripSet struct {
	cuts  []float64
	spans []strip // between jumps of the loads
	fine  []strip // the same, short enough for the series
	tailF [3]float64
	tailM [3]float64
}

// gather cuts element e at every jump of the loads that the factors weigh, and sums the loads between. Axial forces are
// left zero.
func (b *stripSet) gather(loads []load, factors []float64, length float64) {
	b.cuts = append(b.cuts[:0], 0, length)
	for i := range loads {
		ld := &loads[i]
		if factors[ld.caseNo] != 0 {
			b.cuts = append(b.cuts, ld.a, ld.b)
		}
	}
	b.spans = b.spans[:0]
	b.tailF, b.tailM = [3]float64{}, [3]float64{}
	if len(b.cuts) > 2 {
		slices.Sort(b.cuts)
	}
	tol := stationSlack * length
	last := b.cuts[0]
	for _, x := range b.cuts[1:] {
		if x-last > tol {
			b.spans = append(b.spans, strip{x0: last, l: x - last})
			last = x
		}
	}
	s := &b.spans[len(b.spans)-1]
	s.l = length - s.x0
	for i := range loads {
		if f := factors[loads[i].caseNo]; f != 0 {
			b.add(&loads[i], f, tol)
		}
	}
}

// add puts one weighed load on the spans.
func (b *stripSet) add(ld *load, factor, tol float64) {
	if ld.point {
		F, M := &b.tailF, &b.tailM
		for i := range b.spans {
			if math.Abs(b.spans[i].x0-ld.a) <= tol {
				F, M = &b.spans[i].F, &b.spans[i].M
				break
			}
		}
		for k := range F {
			F[k] += factor * ld.q1[k]
			M[k] += factor * ld.q2[k]
		}
		return
	}
	h := ld.b - ld.a
	for i := range b.spans {
		s := &b.spans[i]
		if s.x0 < ld.a-tol || s.x0+s.l > ld.b+tol {
			continue
		}
		t0, t1 := (s.x0-ld.a)/h, (s.x0+s.l-ld.a)/h
		for k := range 3 {
			dq := ld.q2[k] - ld.q1[k]
			s.q0[k] += factor * (ld.q1[k] + t0*dq)
			s.q1[k] += factor * (ld.q1[k] + t1*dq)
		}
	}
}

// setAxial gives every span its axial force, starting from that which the node at end i puts in.
func (b *stripSet) setAxial(n float64) {
	for i := range b.spans {
		s := &b.spans[i]
		n -= s.F[0]
		s.n = [3]float64{n, -s.q0[0] * s.l, -(s.q1[0] - s.q0[0]) * s.l / 2}
		n += s.n[1] + s.n[2]
	}
}

// meanAxial is the mean axial force over the element.
func (b *stripSet) meanAxial(length float64) float64 {
	m := 0.0
	for i := range b.spans {
		s := &b.spans[i]
		m += s.l * (s.n[0] + s.n[1]/2 + s.n[2]/3)
	}
	return m / length
}

// refine cuts the spans so that the series of the more slender plane converge: |N|·l²/EI and √(ρA ω² l⁴/EI) within maxReach.
func (b *stripSet) refine(e *element, mu float64) {
	b.fine = b.fine[:0]
	ei := 0.0
	for p := range 2 {
		if !e.slender[p] && (ei == 0 || e.EI[p] < ei) {
			ei = e.EI[p]
		}
	}
	for i := range b.spans {
		s := &b.spans[i]
		parts := 1
		if ei > 0 {
			r := (math.Abs(s.n[0]) + math.Abs(s.n[1]) + math.Abs(s.n[2])) * s.l * s.l / ei
			r = max(r, math.Sqrt(mu/ei)*s.l*s.l)
			parts = max(1, int(math.Ceil(math.Sqrt(r/maxReach))))
		}
		if parts == 1 {
			b.fine = append(b.fine, *s)
			continue
		}
		b.split(s, parts)
	}
}

// split cuts a span into equal strips.
func (b *stripSet) split(s *strip, parts int) {
	for k := range parts {
		a, h := float64(k)/float64(parts), 1/float64(parts)
		t := strip{x0: s.x0 + a*s.l, l: h * s.l}
		t.n = [3]float64{s.n[0] + a*(s.n[1]+a*s.n[2]), h * (s.n[1] + 2*a*s.n[2]), h * h * s.n[2]}
		for c := range 3 {
			dq := s.q1[c] - s.q0[c]
			t.q0[c], t.q1[c] = s.q0[c]+a*dq, s.q0[c]+(a+h)*dq
		}
		if k == 0 {
			t.F, t.M = s.F, s.M
		}
		b.fine = append(b.fine, t)
	}
}

// chain condenses the fine strips of plane p into one link. Point loads at the two ends are part of its fixed-end forces.
// When keep is not nil it receives one inner per junction. The count is that of negative pivots.
func (b *stripSet) chain(e *element, p int, mu float64, keep []inner) (k link, neg int) {
	var spare inner
	ax, sg := deflDOF[p], planeSign[p]
	for i := range b.fine {
		s := &b.fine[i]
		l := s.link(p, e.EI[p], e.shear[p], mu)
		f, m := s.F[ax], sg*s.M[turnDOF[p]-3]
		if i == 0 {
			k = l
			k.fi[0] -= f
			k.fi[1] -= m
			continue
		}
		in := &spare
		if keep != nil {
			in = &keep[i-1]
		}
		var n int
		k, n = join(&k, &l, f, m, in)
		neg += n
	}
	k.fj[0] -= b.tailF[ax]
	k.fj[1] -= sg * b.tailM[turnDOF[p]-3]
	return k, neg
}

// asBlock writes a link as a 4x4 block and its fixed-end forces as a vector.
func (k *link) asBlock() (b block, f [4]float64) {
	for i := range 2 {
		for j := range 2 {
			b[i][j], b[2+i][2+j] = k.ii[i][j], k.jj[i][j]
			b[i][2+j], b[2+j][i] = k.ij[i][j], k.ij[i][j]
		}
		f[i], f[2+i] = k.fi[i], k.fj[i]
	}
	return b, f
}
