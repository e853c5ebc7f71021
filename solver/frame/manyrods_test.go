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

// TestManyRodsAbreast: quick second order of many rods, eight combinations side by side with a head in common, has the answers of the
// strict analysis one by one, as loads grow through the critical ones, and those of quick second order with dense matrices.
func TestManyRodsAbreast(t *testing.T) {
	for _, frames := range []int{3, 7} {
		s := shed(frames)
		strict, quick, dense := workspace(t, s), workspace(t, s), workspace(t, s)
		strict.keptRods, quick.keptRods, dense.keptRods = 0, 0, 1<<30
		for _, w := range []*Workspace{quick, dense} {
			w.Quick = true
			if err := w.Load(s); err != nil {
				t.Fatal(err)
			}
		}
		var cs []solver.Combination
		for k := range 24 {
			c := solver.Combination{}
			for _, term := range s.Combinations[2+k%2].Terms { // those with wind: under gravity nothing but slack rods holds the frames
				c.Terms = append(c.Terms, solver.Term{Case: term.Case, Factor: term.Factor * (1 + 1.5*float64(k/2))})
			}
			cs = append(cs, c)
		}
		for _, kind := range []Analysis{SecondOrder, TensionOnlySecondOrder} {
			each := make([]Result, len(cs))
			answered := 0
			if err := quick.AnalyseEach(cs, kind, each, func(int) bool { answered++; return false }); err != nil {
				t.Fatal(err)
			}
			if answered != len(cs) {
				t.Errorf("%d of %d combinations were answered", answered, len(cs))
			}
			if single := quick.so.sharing.single; single > len(cs)/3 { // those near the critical loads
				t.Errorf("%v: %d of %d combinations were answered by themselves", kind, single, len(cs))
			}
			other := make([]Result, len(cs))
			if err := dense.AnalyseEach(cs, kind, other, func(int) bool { return false }); err != nil {
				t.Fatal(err)
			}
			stable := 0
			for i := range cs {
				var a Result
				if err := strict.Analyse(&cs[i], kind, &a); err != nil {
					t.Fatal(err)
				}
				if a.Stable != each[i].Stable {
					t.Fatalf("combination %d: strict %v %v, quick %v %v", i, a.Stable, a.Notes, each[i].Stable, each[i].Notes)
				}
				if a.Stable && i < 6 { // up to four times the loads: near the critical ones what is left out of balance grows
					sameQuickAnswer(t, &a, &each[i])
					sameQuickAnswer(t, &other[i], &each[i])
				}
				if a.Stable {
					stable++
				}
			}
			if stable < 4 || stable > 22 {
				t.Errorf("%v: %d of %d are stable: the loads do not pass the critical ones", kind, stable, len(cs))
			}
			count := 0
			if err := quick.AnalyseEach(cs, kind, each, func(int) bool { count++; return count == 3 }); err != nil || count != 3 {
				t.Errorf("stopped after %d: %v", count, err)
			}
		}
	}
}

// TestFirstLanes: first order of many rods, eight combinations side by side, has the displacements, slack sets and steps of the search one by
// one, and leaves to that what only slack rods hold: a shed under its own weight.
func TestFirstLanes(t *testing.T) {
	plain, held := 0, 0
	for _, frames := range []int{2, 7} {
		p, h := firstLanes(t, frames)
		plain, held = plain+p, held+h
	}
	if plain == 0 || held == 0 {
		t.Errorf("%d combinations have a plain answer, %d are held by slack rods alone: the test tells nothing", plain, held)
	}
}

// firstLanes compares for a shed of so many frames, and returns how many combinations have a plain answer and how many not.
func firstLanes(t *testing.T, frames int) (plain, held int) {
	t.Helper()
	s := shed(frames)
	s.Cases = append(s.Cases, solver.Case{ID: "own weight", SelfWeight: s.Cases[0].SelfWeight})
	s.Combinations = append(s.Combinations, solver.Combination{ID: "own weight", Terms: []solver.Term{{Case: len(s.Cases) - 1, Factor: 1}}})
	w, alone := workspace(t, s), workspace(t, s)
	w.keptRods, alone.keptRods, w.Quick = 0, 0, true
	if err := w.Load(s); err != nil {
		t.Fatal(err)
	}
	rs := make([]Result, len(s.Combinations))
	if !w.readyLanes() {
		t.Fatal("lanes do not know the shed")
	}
	w.so.abreast.first(w)
	w.rest8()
	if _, err := w.firstMany(s.Combinations, TensionOnlySecondOrder, rs, func(int) bool { return false }); err != nil {
		t.Fatal(err)
	}
	for i := range s.Combinations {
		var a Result
		if err := alone.Analyse(&s.Combinations[i], TensionOnly, &a); err != nil {
			t.Fatal(err)
		}
		if slices.Contains(w.so.sharing.alone, i) != (alone.active.nulls > 0) {
			t.Errorf("combination %s: %d motions are held by slack rods alone, yet it is left to be answered by itself: %v", s.Combinations[i].ID,
				alone.active.nulls, slices.Contains(w.so.sharing.alone, i))
		}
		if alone.active.nulls > 0 {
			held++
			continue
		}
		plain++
		if rs[i].Iterations != a.Iterations || !slices.Equal(rs[i].Slack, a.Slack) {
			t.Errorf("combination %s: %d steps and %d, or other rods are slack", s.Combinations[i].ID, rs[i].Iterations, a.Iterations)
		}
		far, size := 0.0, 0.0
		for k, v := range a.U {
			far, size = max(far, math.Abs(v-rs[i].U[k])), max(size, math.Abs(v))
		}
		if far > 1e-9*size {
			t.Errorf("combination %s: displacements differ by %g of the greatest", s.Combinations[i].ID, far/size)
		}
	}
	return plain, held
}

// sameQuickAnswer holds a quick answer to the strict one: end forces to 1e-5 of the greatest, displacements to 1e-4 (see TestQuickAnswers).
func sameQuickAnswer(t *testing.T, strict, quick *Result) {
	t.Helper()
	far, size := 0.0, 0.0
	for e := range strict.Ends {
		for c, v := range strict.Ends[e] {
			far, size = max(far, math.Abs(v-quick.Ends[e][c])), max(size, math.Abs(v))
		}
	}
	if far > 1e-5*size {
		t.Errorf("end forces differ by %g of the greatest", far/size)
	}
	far, size = 0, 0
	for k, v := range strict.U {
		far, size = max(far, math.Abs(v-quick.U[k])), max(size, math.Abs(v))
	}
	if far > 1e-4*size {
		t.Errorf("displacements differ by %g of the greatest", far/size)
	}
}

// TestTurnedForces: what is out of balance after rods have turned slack, or no longer are, is that of a round evaluated anew.
func TestTurnedForces(t *testing.T) {
	s := shed(7)
	w := workspace(t, s)
	w.keptRods, w.Quick = 0, true
	if err := w.Load(s); err != nil {
		t.Fatal(err)
	}
	rs := make([]Result, len(s.Combinations))
	if !w.readyLanes() {
		t.Fatal("lanes do not know the shed")
	}
	w.so.abreast.first(w)
	q, a := w.rest8(), &w.so.abreast
	if _, err := w.firstMany(s.Combinations, TensionOnlySecondOrder, rs, func(int) bool { return false }); err != nil {
		t.Fatal(err)
	}
	group := w.so.sharing.groups[0]
	w.answerSeated(group, rs)
	w.evaluateLanes()
	w.balanceLanes()
	before := slices.Clone(a.b)
	q.was = append(q.was[:0], q.slack...)
	for k, e := range w.m.oneWay {
		l := k % a.count
		a.lane[l].r.Slack[e] = !a.lane[l].r.Slack[e]
	}
	for l := range a.count {
		w.noteSlack(l)
	}
	w.factorSeated()
	y := make([]row8, len(q.y))
	w.turnedForces(y)
	w.evaluateLanes()
	w.balanceLanes()
	turned := 0
	for i, p := range q.head.Border().Unknowns() {
		for l := range a.count {
			want := a.b[p][l] - before[p][l]
			if want != 0 {
				turned++
			}
			if !(math.Abs(y[i][l]-want) <= 1e-10*a.acc[accSize][l]) {
				t.Errorf("unknown %d, lane %d: %g, evaluated anew %g", p, l, y[i][l], want)
			}
		}
	}
	if turned < len(w.m.oneWay) {
		t.Errorf("%d numbers change as each of %d rods turns", turned, len(w.m.oneWay))
	}
}

// TestRodsOnArms: quick second order of a shed whose rods end on arms has the answers of the strict analysis; lanes do not know such bars.
func TestRodsOnArms(t *testing.T) {
	s := shed(3)
	for e := range s.Elements {
		if s.Elements[e].Acts == solver.TensionOnly {
			s.Elements[e].OffsetJ.Z = -0.3
		}
	}
	strict, quick := workspace(t, s), workspace(t, s)
	quick.Quick = true
	if err := quick.Load(s); err != nil {
		t.Fatal(err)
	}
	each := make([]Result, len(s.Combinations))
	if err := quick.AnalyseEach(s.Combinations, TensionOnlySecondOrder, each, func(int) bool { return false }); err != nil {
		t.Fatal(err)
	}
	for i := range s.Combinations {
		var a Result
		if err := strict.Analyse(&s.Combinations[i], TensionOnlySecondOrder, &a); err != nil {
			t.Fatal(err)
		}
		if !a.Stable || !each[i].Stable {
			t.Fatalf("combination %d: strict %v %v, quick %v %v", i, a.Stable, a.Notes, each[i].Stable, each[i].Notes)
		}
		sameQuickAnswer(t, &a, &each[i])
	}
}
