package shed

import (
	"bytes"
	"reflect"
	"slices"
	"testing"

	"leanbay/model/bracing"
	"leanbay/model/brief"
)

// TestLayoutHasEverything: two designs that differ in any one field have different layouts, but for fields that Build does not read or
// that Fit takes. A field that is added to Design has to be placed here.
func TestLayoutHasEverything(t *testing.T) {
	fitted := []string{"GirtSpacing", "DrawnSecondaries", "SecondaryWind"} // TopLoads; the others are no part of the structure
	plain := Design{}
	changed := map[string]Design{
		"Steel":         {Steel: map[brief.Group]Steel{brief.GroupEndRafter: {}}}, // only whether end frames have sections of their own
		"Props":         {Props: []PropLine{{Y: 3, Frames: []int{1}}}},
		"Walls":         {Walls: [planes][]Brace{1: {{Bay: 1, Pattern: bracing.CrossedRods}}}},
		"Roof":          {Roof: []int{0}},
		"RoofPattern":   {RoofPattern: bracing.ZigZag},
		"Struts":        {Struts: brief.Struts{Nodes: true}},
		"PurlinSpacing": {PurlinSpacing: 1.2},
		"RoofNodes":     {RoofNodes: []float64{4}},
		"FlyBraces":     {FlyBraces: 2},
		"Accident":      {Accident: Accident{Without: "roof rod/1/panel 1/a"}},
	}
	for f := range reflect.TypeFor[Design]().Fields() {
		d, ok := changed[f.Name]
		switch {
		case slices.Contains(fitted, f.Name):
		case !ok:
			t.Errorf("the test says nothing of Design.%s: does Build read it?", f.Name)
		case bytes.Equal(d.AppendLayout(nil), plain.AppendLayout(nil)):
			t.Errorf("a design with another %s has the same layout", f.Name)
		}
	}
	one, other := changed["Props"], changed["Props"]
	one.Props, other.Props = []PropLine{{3, []int{1, 2}}}, []PropLine{{3, []int{1}}, {3, []int{2}}}
	if bytes.Equal(one.AppendLayout(nil), other.AppendLayout(nil)) {
		t.Error("lists run into each other")
	}
}
