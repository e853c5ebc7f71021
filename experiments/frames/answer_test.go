package frames

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"leanbay/solver"
)

// answerOf reads and analyses a text that must be right.
func answerOf(t *testing.T, text string, opts Options) *Answer {
	t.Helper()
	f, err := Read("f.json", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	a, err := Analyse(f, opts)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// TestSigns: a cantilever of 2 m along X, EI 4e6 about z (up is local y), under 1000 N down and 500 N of pull.
func TestSigns(t *testing.T) {
	a := answerOf(t, strings.Replace(small, "[0, 0, -1000]", "[500, -1000, 0]", 1), Options{Stations: 5})
	c := a.Cases[0]
	close := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	e := c.EndForces["m"]
	close("N at i: below zero in tension", e.I[0], -500)
	close("N at j: above zero in tension", e.J[0], 500)
	close("Vy at i", e.I[1], 1000)
	close("Mz at i", e.I[5], 2000)
	close("Mz at j", e.J[5], 0)
	close("uy", c.Displacements["2"][1], -1000*8/(3*4e6))
	close("reaction fy", c.Reactions["1"][1], 1000)
	close("reaction mz", c.Reactions["1"][5], 2000)
	if len(c.Reactions) != 1 {
		t.Errorf("reactions at %d nodes, want the supported one", len(c.Reactions))
	}
	d := c.Diagrams["m"]
	if len(d) != 5 {
		t.Fatalf("%d points, want 5 stations", len(d))
	}
	close("N inside", d[2].N, 500)
	close("Mz inside: hogging is below zero", d[2].Mz, -1000)
	close("Vy inside", d[2].Vy, -1000) // dMz/dx = -Vy
	close("uy inside", d[2].Uy, -1000/(6*4e6)*(3*2*1-1))
}

// TestDiagramExtremes: a point load off the stations appears twice, with the jump of shear.
func TestDiagramExtremes(t *testing.T) {
	a := answerOf(t, strings.Replace(small, `"nodal": [{"node": 2, "F": [0, 0, -1000]}]`, `"point": [{"member": "m", "a": 0.7, "F": [0, -1000, 0]}]`, 1), Options{Stations: 3})
	var xs []float64
	for _, p := range a.Cases[0].Diagrams["m"] {
		xs = append(xs, p.X)
	}
	want := []float64{0, 0.7, 0.7, 1, 2}
	if len(xs) != len(want) {
		t.Fatalf("stations %v, want %v", xs, want)
	}
	for i := range xs {
		if math.Abs(xs[i]-want[i]) > 1e-12 {
			t.Errorf("stations %v, want %v", xs, want)
		}
	}
}

// TestAbsentFields: what the form says is absent is absent, and what is empty is [].
func TestAbsentFields(t *testing.T) {
	text := strings.Replace(small, `"load_cases": [`, `"load_cases": [{"id": "b", "analysis": "buckling", "nodal": [{"node": 2, "F": [10, 0, 0]}]}, {"id": "m", "analysis": "mechanism"}, `, 1)
	b, err := json.Marshal(answerOf(t, text, Options{}))
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Caution string
		Cases   []map[string]json.RawMessage
	}
	if err := json.Unmarshal(b, &got); err != nil {
		t.Fatal(err)
	}
	if got.Caution != solver.Caution {
		t.Error("the caution is missing")
	}
	if string(got.Cases[0]["buckling_factors"]) != "[]" {
		t.Errorf("a pulled bar buckles: %s", got.Cases[0]["buckling_factors"])
	}
	if m := got.Cases[1]; string(m["stable"]) != "true" || m["displacements"] != nil || string(m["mechanisms"]) != "[]" {
		t.Errorf("mechanism case: %s", b)
	}
	for _, key := range []string{"states", "buckling_factors", "mechanisms", "diagrams"} {
		if _, there := got.Cases[2][key]; there {
			t.Errorf("a linear case without one-way members has %q", key)
		}
	}
	loose := strings.Replace(text, `"rz": true`, `"rz": false`, 1)
	a := answerOf(t, loose, Options{})
	if a.Cases[1].Stable || len(a.Cases[1].Mechanisms) != 1 || a.Cases[1].Mechanisms[0].Text == "" || a.Stands() {
		t.Errorf("a cantilever free to turn: %+v", a.Cases[1])
	}
	m := a.Cases[1].Mechanisms[0].Moving
	want := []Moving{{1, "rz", 0.5}, {2, "uy", 1}, {2, "rz", 0.5}} // the tip moves by 1, 2 m from the hinge
	if len(m) != len(want) {
		t.Fatalf("moving %+v, want %+v", m, want)
	}
	for i := range want {
		if m[i].Node != want[i].Node || m[i].DOF != want[i].DOF || math.Abs(m[i].Amount-want[i].Amount) > 1e-6 {
			t.Errorf("moving %+v, want %+v", m, want)
		}
	}
}
