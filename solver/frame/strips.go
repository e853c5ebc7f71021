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
	links []link // of the runs of the last chain whose junctions were kept
	runs  []int  // and how many strips each has
}

// gather cuts element e at every jump of the loads that the factors weigh, and at the forces of points, and sums the loads
// between. Axial forces are left zero.
func (b *stripSet) gather(loads []load, points []pointForce, factors []float64, length float64) {
	b.cuts = append(b.cuts[:0], 0, length)
	for i := range points {
		if points[i].f != [3]float64{} {
			b.cuts = append(b.cuts, points[i].a)
		}
	}
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
	for i := range points {
		if p := &points[i]; p.f != [3]float64{} {
			b.addForce(p, tol)
		}
	}
}

// addForce puts a force on the span that begins there, or behind the last.
func (b *stripSet) addForce(p *pointForce, tol float64) {
	F := &b.tailF
	for i := range b.spans {
		if math.Abs(b.spans[i].x0-p.a) <= tol {
			F = &b.spans[i].F
			break
		}
	}
	for k := range F {
		F[k] += p.f[k]
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

// maxParts bounds the strips of a span: beyond it (kl of some thousands) a member is a string, whose answer does not converge
// and is told as such.
const maxParts = 2048

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
			parts = int(min(max(1, math.Ceil(math.Sqrt(r/maxReach))), maxParts))
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
//
// Strips are first joined to runs by their transfer matrices, and only runs by stiffness: beside a strip of a millimetre,
// between two loads that nearly meet, a stiffness of EI/l³ would drown the rest in round-off.
func (b *stripSet) chain(e *element, p int, mu float64, keep []inner) (k link, neg int) {
	var spare inner
	ax, sg := deflDOF[p], planeSign[p]
	b.links, b.runs = b.links[:0], b.runs[:0]
	for i, runs := 0, 0; i < len(b.fine); runs++ {
		s := &b.fine[i]
		n := b.run(i, e.EI[p], mu)
		l := b.runLink(i, n, p, e.EI[p], e.shear[p], mu)
		if keep != nil {
			b.links, b.runs = append(b.links, l), append(b.runs, n)
		}
		f, m := s.F[ax], sg*s.M[turnDOF[p]-3]
		i += n
		if runs == 0 {
			k = l
			k.fi[0] -= f
			k.fi[1] -= m
			continue
		}
		in := &spare
		if keep != nil {
			in = &keep[runs-1]
		}
		var c int
		k, c = join(&k, &l, f, m, in)
		neg += c
	}
	k.fj[0] -= b.tailF[ax]
	k.fj[1] -= sg * b.tailM[turnDOF[p]-3]
	return k, neg
}

const (
	// runReach is the greatest sum of √(|N|·l²/EI) over the strips of a run: their transfer matrices then multiply without
	// loss, and no run can buckle between held ends, which takes 2π.
	runReach = 3.0
	// crumb is the reach of a strip that is not left to begin a run, and spill what it may add to the one before.
	crumb, spill = 0.25, 0.5
)

// run is how many strips from i on make one run.
func (b *stripSet) run(i int, ei, mu float64) int {
	total := 0.0
	for n := i; n < len(b.fine); n++ {
		s := &b.fine[n]
		r := math.Sqrt(max((math.Abs(s.n[0])+math.Abs(s.n[1])+math.Abs(s.n[2]))/ei, math.Sqrt(mu/ei))) * s.l
		if n > i && total+r > runReach && (r > crumb || total+r > runReach+spill) {
			return n - i
		}
		total += r
	}
	return len(b.fine) - i
}

// runLink is the link of the n strips from i on.
func (b *stripSet) runLink(i, n, p int, ei, shear, mu float64) link {
	if n == 1 {
		return b.fine[i].link(p, ei, shear, mu)
	}
	last := &b.fine[i+n-1]
	l := last.x0 + last.l - b.fine[i].x0
	ax, sg := deflDOF[p], planeSign[p]
	var t transfer
	for k := range n {
		s := &b.fine[i+k]
		one := s.transfer(p, ei, shear, mu, l)
		if k == 0 {
			t = one
			continue
		}
		t.q[2] -= s.F[ax] * l * l / ei
		t.q[3] -= sg * s.M[turnDOF[p]-3] * l / ei
		t = one.after(&t, mu == 0)
	}
	return t.link(ei, l)
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
