package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// rooms lists every package in the order in which it may be imported: a package imports only packages above it in this
// list. The floors are those of DEVELOPERS.md; the order of rooms inside a floor is decided here.
var rooms = []string{
	// floor 1
	"catalog/typo",
	"catalog",
	// floor 2
	"solver",
	"solver/sparse",
	"solver/frame",
	"solver/strip",
	"solver/checks",
	"solver/checks/as4100",
	"solver/checks/asnzs4600",
	// floor 3
	"model/bracing",
	"model/brief",
	"model/actions",
	"model/actions/asnzs1170",
	"model/coefficients",
	"model/shed",
	"model/joints",
	// floor 4
	"optimize",
	"optimize/shedspace",
	// floor 5
	"experiments/briefs",
	"experiments/store",
	"experiments/runs",
	"experiments/jsontree",
	"experiments/sizing",
	"experiments/frames",
	"experiments/suites",
	"experiments/suites/statics",
	"experiments/speed",
	// floor 6
	"plots/charts",
	"plots/drawings",
	// floor 7
	"cmd/leanbay",
}

// TestImportsOnlyDownwards parses every file's imports and holds them to rooms.
func TestImportsOnlyDownwards(t *testing.T) {
	order := map[string]int{}
	for i, r := range rooms {
		order[r] = i
	}
	root := filepath.Join("..", "..")
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		if d.IsDir() && (name == "testdata" || (strings.HasPrefix(name, ".") && path != root)) {
			return filepath.SkipDir
		}
		if d.IsDir() || filepath.Ext(name) != ".go" {
			return nil
		}
		room, err := filepath.Rel(root, filepath.Dir(path))
		if err != nil {
			return err
		}
		checkFile(t, order, filepath.ToSlash(room), path)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// checkFile reports every import of path that goes up, and a folder that has no place in rooms.
func checkFile(t *testing.T, order map[string]int, room, path string) {
	here, ok := order[room]
	if !ok {
		t.Errorf("%s: folder %s has no place: add it to rooms in the order of its floor", path, room)
		return
	}
	src, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	f, err := parser.ParseFile(token.NewFileSet(), path, src, parser.ImportsOnly)
	if err != nil {
		t.Fatal(err)
	}
	for _, spec := range f.Imports {
		target, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			t.Fatal(err)
		}
		target, ours := strings.CutPrefix(target, "leanbay/")
		if !ours {
			continue
		}
		there, ok := order[target]
		switch {
		case !ok:
			t.Errorf("%s imports %s, which has no place in rooms", path, target)
		case there > here:
			t.Errorf("%s: %s imports %s, which stands above it: move the shared type down, or the code up", path, room, target)
		}
	}
}
