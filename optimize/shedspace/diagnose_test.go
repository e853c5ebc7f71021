package shedspace

import (
	"testing"

	"leanbay/model/brief"
)

// TestAssumptions: the kit as drawn is a mechanism along the building. Fixed column bases stop it, which no other assumption
// does: bases decide, and the doors do not.
func TestAssumptions(t *testing.T) {
	b, err := brief.ReadFile("../../experiments/briefs/kit.yaml")
	if err != nil {
		t.Fatal(err)
	}
	p, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	list, err := p.Assumptions(p.Drawn)
	if err != nil {
		t.Fatal(err)
	}
	decides := map[string]bool{}
	for _, a := range list[1:] {
		decides[a.Taken] = a.Decides
	}
	for taken, want := range map[string]bool{"column bases are pinned": true, "doors may be open in the design wind": false, "mullions do not carry the end rafters": false} {
		if got, ok := decides[taken]; !ok || got != want {
			t.Errorf("%s: decides %v (listed %v), want %v: %+v", taken, got, ok, want, list)
		}
	}
}
