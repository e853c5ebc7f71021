package shed

import (
	"math"
	"testing"

	"leanbay/model/actions"
	"leanbay/solver"
	"leanbay/solver/frame"
)

// propFoot analyses the braced packhouse under its own weight (linear, rods in tension only) with an accident, and returns how
// far the first prop's foot goes down (m) and what it carries there (N).
func propFoot(t *testing.T, a Accident) (down, load float64) {
	t.Helper()
	s, d := whole(t)
	d.Accident = a
	m := s.Build(d)
	g := []actions.Case{{ID: "G", Kind: solver.KindPermanent, SelfWeight: true}}
	combo := solver.Combination{ID: "G", State: solver.Strength, Terms: []solver.Term{{Case: 0, Factor: 1}}}
	m.Load(s.NewLoads(g, []solver.Combination{combo}, 1.2, 1.2, SecondaryMass{Purlin: 4, Girt: 4}), 0)
	model, err := frame.Compile(&m.Structure)
	if err != nil {
		t.Fatal(err)
	}
	w := model.NewWorkspace()
	if err := w.Load(&m.Structure); err != nil {
		t.Fatal(err)
	}
	var r frame.Result
	if err := w.Analyse(&combo, frame.TensionOnly, &r); err != nil || !r.Stable {
		t.Fatal(err, r.Mechanisms)
	}
	foot := m.Structure.Elements[m.Structure.Members[m.Props[0]].Elements[0]].I
	var c solver.Diagram
	r.Diagram(m.Props[0], &c)
	return -r.U[6*foot+int(solver.UZ)], -c.At(0)[solver.N]
}

// TestAccidents: a settling base goes down by what is stated (the frame holds it back by its stiffness over 1e9 N/m, under a
// thousandth) and sheds load; on yielding ground it goes down by load over stiffness.
func TestAccidents(t *testing.T) {
	still, load := propFoot(t, Accident{})
	if still != 0 || load <= 0 {
		t.Fatalf("the foot moves by %g m under %g N", still, load)
	}
	s, d := whole(t)
	prop := s.Build(d).Structure.Members[s.Build(d).Props[0]].ID
	down, less := propFoot(t, Accident{Settled: prop, Settlement: 0.010})
	if math.Abs(down-0.010) > 1e-5 || less >= load {
		t.Errorf("settles %.5f m, stated 0.01; carries %.0f N, before %.0f N", down, less, load)
	}
	const k = 20e6
	down, less = propFoot(t, Accident{PropSpring: k})
	if math.Abs(down-less/k) > 1e-6*down || less > load {
		t.Errorf("on ground of %g N/m the foot goes down %.6f m under %.0f N", k, down, less)
	}
	rod := "wall rod/south/4/rising"
	d.Accident.Without = rod
	for _, mem := range s.Build(d).Structure.Members {
		if mem.ID == rod {
			t.Error("the slack rod is still there")
		}
	}
}
