package brief

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// FuzzRead holds the reader to its word for any text: a brief that reads again to the same hash, or mistakes that are
// sorted, have a text, and lie within the file.
func FuzzRead(f *testing.F) {
	f.Add(base)
	for _, m := range mistakes {
		f.Add(strings.Replace(strings.Replace(base, m.old, m.new, 1), place, "", 1))
	}
	examples, err := filepath.Glob("../../experiments/briefs/*.yaml")
	if err != nil || len(examples) < 3 {
		f.Fatalf("examples %v, %v", examples, err)
	}
	for _, name := range examples {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	for _, odd := range []string{"", "\x00", "\xff", "a: &a [*a]\n", "? [a]\n: b\n", "<<: {name: x}\n", "name: !!binary x\n", "- [", "{", "name: |\n"} {
		f.Add(odd)
	}
	f.Fuzz(func(t *testing.T, text string) {
		b, err := Read("fuzz.yaml", strings.NewReader(text))
		if err == nil {
			again, err := Read("fuzz.yaml", strings.NewReader(text))
			if err != nil || again.Hash() != b.Hash() {
				t.Fatalf("reads differently the second time: %v", err)
			}
			return
		}
		var errs Errors
		if !errors.As(err, &errs) || len(errs) == 0 {
			t.Fatalf("error %v is no list of mistakes", err)
		}
		lines := strings.Count(text, "\n") + strings.Count(text, "\r") + strings.Count(text, "\u0085") +
			strings.Count(text, "\u2028") + strings.Count(text, "\u2029") + 1
		for i, e := range errs {
			if e.Message == "" || e.Line > lines+1 || e.Line < 0 {
				t.Fatalf("mistake %+v in a text of %d lines", e, lines)
			}
			if i > 0 && e.Line < errs[i-1].Line {
				t.Fatalf("mistakes are not sorted:\n%v", errs)
			}
		}
	})
}
