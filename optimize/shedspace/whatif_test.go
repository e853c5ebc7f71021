package shedspace

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"leanbay/model/actions"
	"leanbay/model/brief"
)

// TestWhatIfs judges a complying kit under its changes. More wind never helps: at the site speed it complies, so its reserve
// is at least 1; and it fails at the next step above its reserve.
func TestWhatIfs(t *testing.T) {
	b, err := brief.ReadFile("../../experiments/briefs/kit.yaml")
	if err != nil {
		t.Fatal(err)
	}
	p, err := New(b, "mass", "departures")
	if err != nil {
		t.Fatal(err)
	}
	points, _, err := p.Repaired(context.Background(), Mending{Budget: 60})
	if err != nil || len(points) == 0 {
		t.Fatal(len(points), err)
	}
	d, _ := p.Decode(points[0])
	r := p.NewReviewer()
	list, err := r.WhatIfs(d)
	if err != nil {
		t.Fatal(err)
	}
	asked := map[brief.WhatIf]bool{}
	for _, w := range list {
		asked[w.What] = w.Asked
	}
	// The kit has a personnel door taken as shut, no floor and no prop, and terrain 2.5.
	for what, want := range map[brief.WhatIf]bool{brief.DoorOpen: true, brief.NextTerrain: true, brief.FloorLoad: false, brief.PropLost: false, brief.Settlement: false, brief.OneSlackRod: true} {
		if asked[what] != want {
			t.Errorf("%s: asked %v, want %v", what, asked[what], want)
		}
	}
	reserve, err := r.WindReserve(d)
	if err != nil {
		t.Fatal(err)
	}
	if reserve.Factor < 1 {
		t.Errorf("reserve %.3f though it complies at the site's speed", reserve.Factor)
	}
	// Judged by itself, with actions of its own: it passes at the reserve and fails a step above.
	for step, want := range []bool{true, false} {
		if reserve.Most {
			break
		}
		q, e, err := p.NewReviewer().under("more wind", b, func(s *actions.Site) {
			for i := range s.Topographic {
				s.Topographic[i] = reserve.Factor + float64(step)*reserveStep
			}
		}, d)
		if err != nil {
			t.Fatal(err)
		}
		if a, err := q.Assess(e); err != nil || a.Complies != want || want == (a.Fails() != "") || !want && a.Fails() != reserve.Ends {
			t.Errorf("%d steps above its reserve of %.3f: complies %v, %q, told %q (%v)", step, reserve.Factor, a.Complies, a.Fails(), reserve.Ends, err)
		}
	}
	complies, count, err := r.Robust(d)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range list {
		if w.Asked {
			count--
		}
		if w.Asked && w.Complies {
			complies--
		}
		if w.Complies != (w.Fails == "") && w.Asked {
			t.Errorf("%s: complies %v, fails %q", w.What, w.Complies, w.Fails)
		}
	}
	if complies != 0 || count != 0 {
		t.Errorf("asked again, %d more comply of %d more", complies, count)
	}
	if again, ok := p.PointOf(p.DesignText(points[0])); !ok || p.keyOf(again) != p.keyOf(points[0]) {
		t.Errorf("the table's words give %v, %v, not %v", again, ok, points[0])
	}
}

func (p *Problem) keyOf(point []int) string {
	key, _ := p.Canonical(point)
	return key
}

// TestWhatIfsKeepOwnCoefficients: a design under a change is checked by the certifier's own coefficients, as it is without.
func TestWhatIfsKeepOwnCoefficients(t *testing.T) {
	dir := t.TempDir()
	kit, err := os.ReadFile("../../experiments/briefs/kit.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"kit.yaml": string(kit) + "\nfiles: {overrides: own.yaml}\n", "own.yaml": "as4100.phi.member: {value: 0.85, reason: \"a test\"}\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	b, err := brief.ReadFile(filepath.Join(dir, "kit.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	p, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	q, _, err := p.NewReviewer().under("as it is", b, nil, p.Drawn)
	if err != nil {
		t.Fatal(err)
	}
	if here, there := p.bench.rules.Phi(), q.bench.rules.Phi(); here != 0.85 || there != here {
		t.Errorf("capacity factor %v, under a change %v, the file has 0.85", here, there)
	}
}
