package frame

import (
	"math"
	"slices"
	"testing"

	"leanbay/solver"
)

// bothWays answers s with the dense matrices of its one-way elements and without them.
func bothWays(t *testing.T, s *solver.Structure, combos []solver.Combination, a Analysis) (dense, many []Result) {
	t.Helper()
	dense, many = make([]Result, len(combos)), make([]Result, len(combos))
	for k, rs := range [][]Result{dense, many} {
		w := workspace(t, s)
		w.keptRods = []int{1 << 30, 0}[k]
		if err := w.Load(s); err != nil {
			t.Fatal(err)
		}
		if err := w.AnalyseAll(combos, a, rs); err != nil {
			t.Fatal(err)
		}
	}
	return dense, many
}

// TestManyRods: the two ways of finding which rods act are independent of each other (dense matrices in the space of the rods;
// a factor of the whole stiffness for each set). On sheds, upright and pushed, and on random towers they agree in stability,
// slack sets, rods that stand ready, mechanisms in words, displacements and end forces.
func TestManyRods(t *testing.T) {
	for _, a := range []Analysis{TensionOnly, TensionOnlySecondOrder} {
		for _, frames := range []int{2, 5, 9} {
			s := shed(frames)
			dense, many := bothWays(t, s, s.Combinations, a)
			for i := range dense {
				sameAnswer(t, s.Combinations[i].ID, &dense[i], &many[i])
			}
		}
		for seed := range 40 {
			b := randomTower(seed)
			if seed%4 == 3 { // pinned feet: upright on its rods, or pushed over
				for n := range 4 {
					b.s.Nodes[n].Held = [6]bool{true, true, true, false, false, true}
				}
			}
			dense, many := bothWays(t, &b.s, []solver.Combination{one}, a)
			sameAnswer(t, "tower", &dense[0], &many[0])
		}
	}
}

func sameAnswer(t *testing.T, name string, p, q *Result) {
	t.Helper()
	if p.Stable != q.Stable || len(p.Mechanisms) != len(q.Mechanisms) || !slices.Equal(p.Notes, q.Notes) {
		t.Fatalf("%s, %v: stable %v and %v, mechanisms %v and %v, notes %q and %q", name, p.Analysis, p.Stable, q.Stable, p.Mechanisms, q.Mechanisms, p.Notes, q.Notes)
	}
	for i := range p.Mechanisms {
		if p.Mechanisms[i].Text != q.Mechanisms[i].Text {
			t.Errorf("%s: %q and %q", name, p.Mechanisms[i].Text, q.Mechanisms[i].Text)
		}
	}
	if !p.Stable {
		return
	}
	if !slices.Equal(p.Slack, q.Slack) || !slices.Equal(p.Touching, q.Touching) {
		t.Errorf("%s, %v: other rods are slack or stand ready", name, p.Analysis)
	}
	size, force := 0.0, 0.0
	for i := range p.U {
		size = math.Max(size, math.Abs(p.U[i]))
	}
	for i := range p.U {
		if math.Abs(p.U[i]-q.U[i]) > 1e-7*size {
			t.Fatalf("%s, %v: displacement %d is %g and %g", name, p.Analysis, i, p.U[i], q.U[i])
		}
	}
	for e := range p.Ends {
		for _, v := range p.Ends[e] {
			force = math.Max(force, math.Abs(v))
		}
	}
	for e := range p.Ends {
		for k := range p.Ends[e] {
			if math.Abs(p.Ends[e][k]-q.Ends[e][k]) > 1e-7*force {
				t.Fatalf("%s, %v: end force %d of element %d is %g and %g", name, p.Analysis, k, e, p.Ends[e][k], q.Ends[e][k])
			}
		}
	}
}

// TestManyNulls: sheds that do not touch each other lean each by itself; all their motions are found, and the answer is that of
// one shed, many times over.
func TestManyNulls(t *testing.T) {
	single := shed(2)
	const copies = 7
	var s solver.Structure
	for c := range copies {
		at, elements, members := len(s.Nodes), len(s.Elements), len(s.Members)
		for _, n := range single.Nodes {
			n.Pos.Y += 50 * float64(c)
			s.Nodes = append(s.Nodes, n)
		}
		for _, e := range single.Elements {
			e.I, e.J = e.I+at, e.J+at
			if e.Member >= 0 {
				e.Member += members
			}
			s.Elements = append(s.Elements, e)
		}
		for _, m := range single.Members {
			m.Elements = slices.Clone(m.Elements)
			for i := range m.Elements {
				m.Elements[i] += elements
			}
			s.Members = append(s.Members, m)
		}
	}
	s.Cases = []solver.Case{{ID: "G", SelfWeight: single.Cases[0].SelfWeight}}
	dense, many := bothWays(t, &s, []solver.Combination{one}, TensionOnly)
	sameAnswer(t, "copies", &dense[0], &many[0])
	if n := len(many[0].Notes); n != 1 || !slices.Contains(many[0].Touching, true) {
		t.Fatalf("notes %q", many[0].Notes)
	}
	alone := runAny(t, &solver.Structure{Nodes: single.Nodes, Elements: single.Elements, Members: single.Members, Cases: s.Cases}, TensionOnly)
	for i, v := range many[0].U {
		if w := alone.U[i%len(alone.U)]; math.Abs(v-w) > 1e-12 {
			t.Fatalf("displacement %d is %g, that of one shed %g", i, v, w)
		}
	}
}
