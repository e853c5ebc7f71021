package shed

import (
	"math"
	"testing"

	"leanbay/model/brief"
)

// TestFlyBraces weighs the barn's fly braces by hand: rafters 7.118 m long (7 m by 1.3 m), purlins 100 mm from either end and
// at most 1.2 m apart: 6.918/1.2 = 5.8, six gaps, seven purlins a slope. Every second of all purlins has one at each of five
// frames where its line is held; a brace is 1.414 x 298 mm (310UB32.0) of 1.83 kg/m: 0.771 kg.
func TestFlyBraces(t *testing.T) {
	b, err := brief.ReadFile("../../experiments/briefs/barn.yaml")
	if err != nil {
		t.Fatal(err)
	}
	s, err := FromBrief(b)
	if err != nil {
		t.Fatal(err)
	}
	d, err := s.Proposal(b.Library().Find)
	if err != nil {
		t.Fatal(err)
	}
	m := s.Build(d)
	held := 0
	for i := range m.Structure.Members {
		for _, r := range m.Structure.Members[i].Restraints {
			if len(r.Source) > 11 && r.Source[len(r.Source)-11:] == ", fly brace" {
				held++
			}
		}
	}
	if held == 0 || held%5 != 0 || held > 35 {
		t.Errorf("%d fly braces: of fourteen purlins seven have them, at five frames each at most", held)
	}
	got := m.Mass(SecondarySections{})
	if want := float64(held) * 1.83 * math.Sqrt2 * 0.298; math.Abs(got.FlyBraces-want) > 0.01*want {
		t.Errorf("%g kg of fly braces, by hand %g", got.FlyBraces, want)
	}
	d.FlyBraces = 0
	if without := s.Build(d).Mass(SecondarySections{}); math.Abs(got.Total-got.FlyBraces-without.Total) > 1e-9 {
		t.Errorf("without fly braces %g kg, with %g", without.Total, got.Total)
	}
}
