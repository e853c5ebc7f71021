package suites

import (
	"context"
	"testing"

	"leanbay/optimize"
)

// TestShedBench: a few evaluations of the kit with every part off in turn. Each row's lightest complies, so it is no lighter than
// 1,342 kg, a proven bound of its whole space; and it was found within the evaluations allowed. Every part but the first changes the settings.
func TestShedBench(t *testing.T) {
	const limit = 80
	b := ShedBench{Briefs: []string{"kit"}, Parts: ShedParts()[:2], Seeds: 1, Evaluations: limit, Population: 10, Workers: 2, Plain: true}
	rows, err := b.Run(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 3 || rows[0].Without != "" || rows[2].Method == "" {
		t.Fatalf("%d rows: %+v", len(rows), rows)
	}
	for _, r := range rows {
		if r.Found > 0 && (r.Lightest.Least < 1342 || r.After.Greatest > limit || r.After.Least < 1) {
			t.Errorf("%+v", r)
		}
	}
	if rows[0].Found != 1 || rows[0].Volume.Least <= 0 {
		t.Errorf("from the mended drawing nothing complies: %+v", rows[0])
	}
	for _, p := range ShedParts()[1:] {
		var c optimize.Config
		if p.off != nil {
			p.off(&c)
		}
		if off := c.NoBounds || c.NoGuess || c.NoChase || c.NoPolish || c.NoPairs || c.NoRestart; off == (p.drawn || p.single) {
			t.Errorf("%s: settings changed %v, start or islands changed %v", p.Name, off, p.drawn || p.single)
		}
	}
}
