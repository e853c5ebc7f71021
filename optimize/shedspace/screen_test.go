package shedspace

import (
	"reflect"
	"testing"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/checks/as4100"
	"leanbay/solver/frame"
)

// TestChecksPassOverNothing: what governs each group, by its member, combination, check and place, is what the curves of all members
// under all combinations say, in the whole shed and with frames alone, for quick and careful answers.
func TestChecksPassOverNothing(t *testing.T) {
	for _, name := range []string{"kit", "packhouse", "barn"} {
		p := example(t, name)
		for _, quick := range []bool{true, false} {
			j := newJudge(p)
			j.quick = quick
			compared := 0
			for i, d := range someDesigns(t, p, 5) {
				got, want := &Assessment{Stable: true}, &Assessment{Stable: true}
				if !checkBoth(t, j, d, got, want) {
					continue
				}
				compared++
				if !reflect.DeepEqual(got.Groups, want.Groups) {
					for k := range want.Groups {
						t.Errorf("%s, design %d, quick %v: %+v, want %+v", name, i, quick, got.Groups[k], want.Groups[k])
					}
				}
			}
			if compared < 3 {
				t.Errorf("%s: only %d designs stand", name, compared)
			}
		}
	}
}

// checkBoth checks a design's members in the whole shed and alone, into got as the evaluation does and into want with all curves. It is
// false where the design does not stand.
func checkBoth(t *testing.T, j *judge, d *shed.Design, got, want *Assessment) bool {
	t.Helper()
	m := j.model(d, j.p.bench.drawn)
	if err := j.whole.load(&m.Structure, j.quick); err != nil {
		t.Fatal(err)
	}
	if err := j.analyseWhole(m, got); err != nil {
		t.Fatal(err)
	}
	if !got.Stable {
		return false
	}
	both := func(list []memberPlace, alone bool) {
		j.checkMembers(&m.Structure, list, alone, got)
		for _, at := range list {
			j.checkByCurves(&m.Structure, at, alone, want)
		}
	}
	both(j.allMembers(&m.Structure), false)
	if j.p.Brief.Limits.InnerFrames == brief.WholeShed {
		return true
	}
	plane, index := j.planeFrames(m)
	if err := j.loadAlone(plane); err != nil {
		t.Fatal(err)
	}
	if err := j.analyse(&j.alone, m.Structure.Combinations, j.p.bench.planar, frame.SecondOrder, got); err != nil {
		t.Fatal(err)
	}
	if got.Stable {
		both(innerPlaces(m, index, nil), true)
	}
	return true
}

// checkByCurves checks a member over all analysed combinations with all their curves.
func (j *judge) checkByCurves(st *solver.Structure, at memberPlace, alone bool, a *Assessment) {
	m := &st.Members[at.member]
	var check as4100.Checker
	if !j.prepare(&check, m, alone, a) {
		return
	}
	var env as4100.Envelope
	var curve solver.Diagram
	for k := range j.combos {
		j.res[k].Diagram(at.in, &curve)
		check.Check(&curve, k, &env, nil)
	}
	g := env.Governing()
	name := ""
	if g.Name != "" {
		name = j.combos[g.Combination].ID
	}
	a.note(m.Group, m.ID, name, alone, g)
}
