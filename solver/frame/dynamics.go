package frame

import (
	"fmt"
	"math"
)

// Mass says what vibrates besides the elements' own ρA.
type Mass struct {
	// Nodes is mass added at nodes (kg, all three translations); nil or one per node.
	Nodes []float64
	// PerLength is mass added along elements (kg/m, floors and cladding they carry); nil or one per element.
	PerLength []float64
	// Direction keeps only part of the motion: translations along the global axes that are true have mass. All false means
	// all three. A floor is asked for with Z alone; the rest then follows without inertia. Along and across an element that
	// is skew to the axes the mass is weighed by the projection; what couples the two is left out.
	Direction [3]bool
	// Without leaves out the elements' own mass.
	Without bool
}

// Period is one natural mode of small vibration about the unloaded state.
type Period struct {
	Frequency float64   // Hz
	T         float64   // s
	Shape     []float64 // 6 per node, greatest translation 1
	Local     []int     // elements that vibrate between still nodes; Shape is then zero
}

// Periods returns the n lowest natural frequencies of small vibration about the unloaded state. Bending inertia is exact
// along elements, so that a floor beam of one element has its own frequency; along the axis, and in bars, each element's
// mass is that consistent with straight motion. Rotary inertia of sections and of torsion is left out. One-way elements act
// both ways, as they do about a taut state, except those that slack marks (nil: none).
func (w *Workspace) Periods(mass Mass, slack []bool, n int) ([]Period, error) {
	if w.s == nil {
		return nil, errNotLoaded
	}
	if err := w.checkMass(&mass, slack); err != nil {
		return nil, err
	}
	w.factorise()
	if w.status == singular || len(w.loose) > 0 {
		return nil, fmt.Errorf("frame: periods: the structure does not stand: %s", w.firstMechanism())
	}
	w.factors = zeroed(w.factors, len(w.s.Cases))
	w.gatherAll()
	p := &pencil{w: w, fill: func(x float64) int { return w.fillVibration(&mass, slack, x) }}
	guess := w.vibrationGuess(&mass)
	if guess == 0 {
		return nil, nil
	}
	roots, err := p.lowest(n, guess, guess*1e12)
	if err != nil {
		return nil, fmt.Errorf("frame: periods: %w", err)
	}
	out := make([]Period, 0, len(roots))
	for _, r := range roots {
		f := math.Sqrt(r.x) / (2 * math.Pi)
		out = append(out, Period{Frequency: f, T: 1 / f, Shape: w.shape(r.vec), Local: r.local})
	}
	return out, nil
}

func (w *Workspace) firstMechanism() string {
	if ms, _ := w.Mechanisms(); len(ms) > 0 {
		return ms[0].Text
	}
	return ""
}

func (w *Workspace) checkMass(m *Mass, slack []bool) error {
	switch {
	case m.Nodes != nil && len(m.Nodes) != len(w.m.nodes):
		return fmt.Errorf("frame: periods: %d nodal masses for %d nodes", len(m.Nodes), len(w.m.nodes))
	case m.PerLength != nil && len(m.PerLength) != len(w.els):
		return fmt.Errorf("frame: periods: %d masses per length for %d elements", len(m.PerLength), len(w.els))
	case slack != nil && len(slack) != len(w.els):
		return fmt.Errorf("frame: periods: %d slack marks for %d elements", len(slack), len(w.els))
	}
	for i, v := range m.Nodes {
		if !(v >= 0) || math.IsInf(v, 1) {
			return fmt.Errorf("frame: periods: the mass at node %d is %g kg", w.s.Nodes[i].ID, v)
		}
	}
	for e, v := range m.PerLength {
		if !(v >= 0) || math.IsInf(v, 1) {
			return fmt.Errorf("frame: periods: the mass along element %s is %g kg/m", w.s.Elements[e].ID, v)
		}
	}
	if m.Direction == [3]bool{} {
		m.Direction = [3]bool{true, true, true}
	}
	return nil
}

// along is the moving mass per metre of element e.
func (m *Mass) along(w *Workspace, e int) float64 {
	mu := 0.0
	if !m.Without {
		mu = w.massPerLength(e)
	}
	if m.PerLength != nil {
		mu += m.PerLength[e]
	}
	return mu
}

// share is how much of motion along axis (a unit vector) has mass.
func (m *Mass) share(axis *[3]float64) (g float64) {
	for d := range 3 {
		if m.Direction[d] {
			g += axis[d] * axis[d]
		}
	}
	return g
}

// vibrationGuess is a squared frequency of the right order: the stiffness over the mass that it moves.
func (w *Workspace) vibrationGuess(m *Mass) float64 {
	mass, low := 0.0, math.Inf(1)
	for e := range w.els {
		el := &w.els[e]
		mu := m.along(w, e)
		mass += mu * el.L
		if mu > 0 && !el.slender[1] {
			low = min(low, 97.4*min(el.EI[0], el.EI[1])/(mu*math.Pow(el.L, 4)))
		}
	}
	for _, v := range m.Nodes {
		mass += v
	}
	if mass == 0 {
		return 0
	}
	if math.IsInf(low, 1) {
		low = 1
	}
	return 1.0123 * low
}

// fillVibration assembles the dynamic stiffness K(ω²) in so.val.
func (w *Workspace) fillVibration(m *Mass, slack []bool, w2 float64) (hidden int) {
	hidden = w.fillExact(func(e int, st *state) bool {
		if slack != nil && slack[e] {
			*st = w.els[e].linear
			st.kA, st.kT = 0, 0
			return true
		}
		w.exactVibration(e, m, w2, st)
		return true
	})
	for e := range w.els {
		if mu := m.along(w, e); mu > 0 {
			w.subtractStraight(e, m, mu*w2)
		}
	}
	for i := range m.Nodes {
		for d := range 3 {
			if p := w.m.own[i][triangle(d, d)]; p >= 0 && m.Direction[d] {
				w.so.val[p] -= w2 * m.Nodes[i]
			}
		}
	}
	return hidden
}

// exactVibration is the stiffness of element e with its bending inertia.
func (w *Workspace) exactVibration(e int, m *Mass, w2 float64, st *state) {
	el := &w.els[e]
	*st = el.linear
	mu := m.along(w, e) * w2
	if mu == 0 {
		return
	}
	b := &w.so.strips
	b.spans = append(b.spans[:0], strip{l: el.L})
	b.tailF, b.tailM = [3]float64{}, [3]float64{}
	b.refine(el, mu)
	for p := range 2 {
		across := mu * m.share(&el.R[deflDOF[p]])
		if el.slender[p] || across == 0 {
			continue
		}
		k, neg := b.chain(el, p, across, nil)
		st.plane[p], _ = k.asBlock()
		st.negJ += neg + st.planeC[p].condense(&st.plane[p], 4, &el.plane[p])
	}
}

// subtractStraight takes off the inertia of motion that is straight along element e: along its axis, and in planes without
// bending across it (consistent mass mL/3, mL/6). mu is mass per metre times ω².
func (w *Workspace) subtractStraight(e int, m *Mass, mu float64) {
	el := &w.els[e]
	var k [12][12]float64
	for axis := range 3 {
		if axis > 0 && !el.slender[axis-1] {
			continue
		}
		r := &el.R[axis]
		c := mu * el.L * m.share(r)
		for i := range 3 {
			for j := range 3 {
				g := c * r[i] * r[j]
				k[i][j] -= g / 3
				k[6+i][6+j] -= g / 3
				k[6+i][j] -= g / 6
			}
		}
	}
	if el.arms {
		el.applyArms(&k, &state{})
	}
	for i := range 12 {
		for j := range i + 1 {
			if p := w.m.place[e][triangle(i, j)]; p >= 0 {
				w.so.val[p] += k[i][j]
			}
		}
	}
}
