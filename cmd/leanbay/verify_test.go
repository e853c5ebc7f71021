package main

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"leanbay/experiments/suites/statics"
	"leanbay/solver"
)

// TestVerifyTellsDifferences: one figure that does not agree shows, is counted, and gives exit code 1.
func TestVerifyTellsDifferences(t *testing.T) {
	cases, err := statics.Select([]string{"cantilever/tip load"})
	if err != nil {
		t.Fatal(err)
	}
	rows := cases[0].Run()
	rows[1].Agrees, rows[1].Difference = false, 0.25
	rows[2].Agrees, rows[2].Problem = false, "case a is reported unstable"
	text := verifyText(rows)
	for _, want := range []string{"5 figures: 3 agree, 2 do not", "DIFFERS", "25 %", "case a is reported unstable", solver.Caution} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
	var out bytes.Buffer
	var e *exitError
	if err := printRows(verifyOptions{streams: streams{out: &out}, json: true}, rows); !errors.As(err, &e) || e.code != exitNo {
		t.Errorf("got %v, want exit code %d", err, exitNo)
	}
	if !strings.Contains(out.String(), `"problem": "case a is reported unstable"`) {
		t.Error("JSON lacks the problem")
	}
}
