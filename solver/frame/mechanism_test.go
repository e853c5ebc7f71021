package frame

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

func mechanisms(t *testing.T, s *solver.Structure) []Mechanism {
	t.Helper()
	ms, err := workspace(t, s).Mechanisms()
	if err != nil {
		t.Fatal(err)
	}
	return ms
}

// TestPinnedPortalSways: a portal with pins at all four joints is a four-bar chain: both eaves move together across.
func TestPinnedPortalSways(t *testing.T) {
	var b build
	a, d := b.node(0, 0, 0, "xyzXZ"), b.node(0, 6, 0, "xyzXZ")
	p, q := b.node(0, 0, 4, "xYZ"), b.node(0, 6, 4, "xYZ")
	b.s.Nodes[a].Held[3], b.s.Nodes[d].Held[3] = false, false
	b.beam(a, p, ey)
	e := b.beam(p, q, ez)
	e.ReleaseI[solver.Mz], e.ReleaseJ[solver.Mz] = true, true
	b.beam(d, q, ey)
	b.force(p, r3.Vec{Y: 1}, r3.Vec{})
	ms := mechanisms(t, &b.s)
	if len(ms) != 1 || ms[0].Kind != Sway {
		t.Fatalf("%+v", ms)
	}
	got := map[Movement]bool{}
	for _, m := range ms[0].Moving {
		if m.DOF == solver.UY {
			got[Movement{m.Node, m.DOF, float64(int(m.Amount*1e6+0.5)) / 1e6}] = true
		}
	}
	if !got[Movement{p, solver.UY, 1}] || !got[Movement{q, solver.UY, 1}] {
		t.Errorf("moving %v", ms[0].Moving)
	}
	if !strings.Contains(ms[0].Text, "nodes 3, 4 sway along Y") {
		t.Errorf("text %q", ms[0].Text)
	}
	if r := runAny(t, &b.s, Linear); r.Stable || len(r.Mechanisms) != 1 {
		t.Errorf("linear: %+v", r)
	}
}

// TestSpin: a simple beam whose ends may both turn about its axis spins.
func TestSpin(t *testing.T) {
	var b build
	i, j := b.node(0, 0, 0, "xyz"), b.node(5, 0, 0, "yz")
	b.beam(i, j, ez)
	ms := mechanisms(t, &b.s)
	if len(ms) != 1 || ms[0].Kind != Spin || !strings.Contains(ms[0].Text, "e1 can spin") {
		t.Errorf("%+v", ms)
	}
}

// TestLooseMember: a beam hinged at both ends and cut loose across at one end turns by itself, though no node moves.
func TestLooseMember(t *testing.T) {
	var b build
	i, j := b.node(0, 0, 0, all), b.node(5, 0, 0, all)
	e := b.beam(i, j, ez)
	e.ReleaseI[solver.Mz], e.ReleaseJ[solver.Mz], e.ReleaseJ[solver.Vy] = true, true, true
	b.force(j, ez, r3.Vec{})
	r := runAny(t, &b.s, Linear)
	if r.Stable || len(r.Mechanisms) != 1 || r.Mechanisms[0].Kind != LooseMember || !strings.Contains(r.Mechanisms[0].Text, "e1") {
		t.Errorf("%+v", r)
	}
}

// TestTorsionReleasedTwice is no mechanism unless a torque acts between.
func TestTorsionReleasedTwice(t *testing.T) {
	for _, torque := range []float64{0, 5} {
		var b build
		i, j := b.node(0, 0, 0, all), b.node(5, 0, 0, all)
		e := b.beam(i, j, ez)
		e.ReleaseI[solver.T], e.ReleaseJ[solver.T] = true, true
		b.point(0, 2, r3.Vec{Z: -100}, r3.Vec{X: torque}, solver.GlobalAxes)
		r := runAny(t, &b.s, Linear)
		if r.Stable != (torque == 0) {
			t.Errorf("torque %g: stable %v %v", torque, r.Stable, r.Notes)
		}
	}
}

// TestMomentOnFreeJoint: nothing resists a moment at a joint of bars.
func TestMomentOnFreeJoint(t *testing.T) {
	var b build
	a, c, d := b.node(0, 0, 0, "xyz"), b.node(4, 0, 0, "yz"), b.node(2, 0, 1.5, "y")
	for _, p := range [][2]int{{a, c}, {a, d}, {d, c}} {
		b.beam(p[0], p[1], ey).Bar = true
	}
	b.force(d, r3.Vec{Z: -3000}, r3.Vec{Y: 10})
	r := runAny(t, &b.s, Linear)
	if r.Stable || len(r.Mechanisms) != 1 || r.Mechanisms[0].Kind != JointRotation || !strings.Contains(r.Mechanisms[0].Text, "node 3") {
		t.Errorf("%+v %v", r.Mechanisms, r.Notes)
	}
}

// TestSoftIsNotUnstable: a row of tall posts that stand by weak-axis bending alone, beside members a million times stiffer.
func TestSoftIsNotUnstable(t *testing.T) {
	var b build
	last := -1
	for k := range 6 {
		x := 6 * float64(k)
		i, j := b.node(x, 0, 0, all), b.node(x, 0, 12, "")
		e := b.beam(i, j, ex)
		e.Iz, e.Iy, e.It = 2e-8, 1e-8, 1e-8
		if last >= 0 {
			g := b.beam(last, j, ez)
			g.A, g.Iz, g.Iy, g.It = 1, 0.01, 0.01, 0.01
		}
		last = j
	}
	b.force(last, r3.Vec{Y: 1}, r3.Vec{})
	if ms := mechanisms(t, &b.s); len(ms) != 0 {
		t.Fatalf("%+v", ms)
	}
	w := workspace(t, &b.s)
	w.WantCondition = true
	var r Result
	if err := w.Analyse(&one, Linear, &r); err != nil || !r.Stable {
		t.Fatal(err, r.Stable)
	}
	if r.Condition < 1e4 {
		t.Errorf("condition %g: the case is not soft", r.Condition)
	}
	near(t, "residual", r.Residual, 0, 1e-6)
}

// TestIndependentMechanisms: two pinned bays beside each other, not joined, are two mechanisms and not a mixture.
func TestIndependentMechanisms(t *testing.T) {
	b := bay()
	n := len(b.s.Nodes)
	for i := range n {
		nd := b.s.Nodes[i]
		nd.ID += n
		nd.Pos.X += 20
		b.s.Nodes = append(b.s.Nodes, nd)
	}
	b.s.Elements, b.s.Members = b.s.Elements[:3], b.s.Members[:3]
	for e := range 3 {
		el := b.s.Elements[e]
		b.beam(el.I+n, el.J+n, ey).Bar = true
	}
	ms := mechanisms(t, &b.s)
	if len(ms) != 2 {
		t.Fatalf("%d mechanisms: %+v", len(ms), ms)
	}
	for _, m := range ms {
		low, high := false, false
		for _, mv := range m.Moving {
			low, high = low || mv.Node < n, high || mv.Node >= n
			if mv.DOF != solver.UX {
				t.Errorf("moves %v", mv)
			}
		}
		if low == high {
			t.Errorf("mixture: %v", m.Moving)
		}
	}
}

// TestRoundOffIsNoSupport: an arm hinged at both ends, at any slant, cannot hold its free end across: what its condensed
// stiffness leaves there is the round-off of 3EI/L³ less itself, and must not pass for a soft support.
func TestRoundOffIsNoSupport(t *testing.T) {
	for k := range 12 {
		a := 0.37 * float64(k)
		var b build
		i, j := b.node(0, 0, 0, all), b.node(3*math.Cos(a), 2*math.Sin(a)+0.1, 1+math.Sin(2*a), "XYZ")
		e := b.beam(i, j, r3.Vec{X: 0.3, Y: 0.2, Z: 1})
		for _, c := range []solver.Component{solver.My, solver.Mz} {
			e.ReleaseI[c], e.ReleaseJ[c] = true, true
		}
		b.force(j, r3.Vec{X: math.Cos(a), Y: math.Sin(a)}, r3.Vec{})
		if ms := mechanisms(t, &b.s); len(ms) != 2 {
			t.Errorf("slant %d: %d mechanisms, want the two ways across: %+v", k, len(ms), ms)
		}
	}
}
