package asnzs1170

import (
	"fmt"
	"math"
	"testing"

	"leanbay/model/actions"
)

// packhouse is an orchard's packing shed: 16.2 m span, 26 m long, a gable of 1.6 m rise, doors on all sides.
func packhouse() (*actions.Building, *actions.Site) {
	b := &actions.Building{
		FrameLines: []float64{0, 4.9, 9.8, 15.4, 21, 26}, Span: 16.2, EavesSouth: 5.2, EavesNorth: 5.2, Ridge: 6.8, RidgeY: 8.1,
		Shape: actions.Gable, RoofDead: 60, RoofExtra: 50, WallDead: 60,
		Floors: []actions.Floor{{Name: "office", X0: 0, X1: 9.8, Y0: 0, Y1: 4.4, Level: 2.75, Use: "office", Imposed: 3000, Permanent: 700}},
	}
	open := func(name string, f actions.Face, u0, u1, v0, v1 float64, door bool) {
		b.Openings = append(b.Openings, actions.Opening{Name: name, Face: f, U0: u0, U1: u1, V0: v0, V1: v1, Door: door})
	}
	open("south window 1", actions.SouthWall, 0.9, 4.0, 1.1, 2.0, false)
	open("south window 2", actions.SouthWall, 5.8, 8.9, 1.1, 2.0, false)
	open("south window 3", actions.SouthWall, 5.8, 8.9, 3.7, 4.6, false)
	open("south roller door", actions.SouthWall, 10.8, 14.4, 0, 4, true)
	open("south personnel door", actions.SouthWall, 21.6, 22.52, 0, 2.1, true)
	open("dock door 1", actions.NorthWall, 11.0, 14.2, 0, 3.6, true)
	open("dock door 2", actions.NorthWall, 16.6, 19.8, 0, 3.6, true)
	open("dock door 3", actions.NorthWall, 21.9, 25.1, 0, 3.6, true)
	open("north personnel door", actions.NorthWall, 3.6, 4.52, 0, 2.1, true)
	open("north window", actions.NorthWall, 6.2, 8.6, 1.1, 2.0, false)
	open("west window", actions.WestGable, 1.0, 3.4, 3.7, 4.6, false)
	open("west roller door", actions.WestGable, 10, 13, 0, 3, true)
	open("east sliding door", actions.EastGable, 5.6, 10.6, 0, 4.4, true)
	for i := range b.Openings {
		if !b.Openings[i].Door {
			b.Openings[i].State = actions.StaysShut
		}
	}
	s := &actions.Site{Region: "A4", ImportanceLevel: 2, Terrain: 2, BearingX: 60 * math.Pi / 180, HazardFactor: 0.10, SoilClass: "De"}
	return b, s
}

func TestDump(t *testing.T) {
	b, s := packhouse()
	p := New(nil, Options{})
	cs, err := p.Cases(b, s)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range cs {
		fmt.Println(c.ID, "|", c.Title, len(c.Patches))
	}
	comb, err := p.Combinations(b, s, cs)
	if err != nil {
		t.Fatal(err)
	}
	n := map[string]int{}
	for _, c := range comb {
		n[string(c.State)]++
		fmt.Println(c.State, c.ID)
	}
	fmt.Println(n)
	w := &actions.Working{}
	_, _ = p.Winds(w, b, s)
	for _, st := range w.Steps {
		fmt.Printf("%-30s %-10s %-50s %8.3f %s  %s [%s %s]\n", st.Part, st.Symbol, st.Formula, st.Value, st.Unit, st.Numbers, st.Clause, st.Mark)
	}
}
