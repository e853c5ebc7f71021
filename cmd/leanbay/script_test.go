package main

import (
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets scripts call leanbay as a command of its own process.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"leanbay": func() {
			os.Exit(run(context.Background(), os.Args[1:], streams{in: os.Stdin, out: os.Stdout, err: os.Stderr}))
		},
	})
}

// TestScripts runs the text archives, one a command.
func TestScripts(t *testing.T) {
	briefs, err := filepath.Abs("../../experiments/briefs")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(env *testscript.Env) error {
			env.Setenv("BRIEFS", briefs)
			return nil
		},
	})
}

// TestExitCodes: 1 where the answer is no, 2 for bad input, 0 for help.
func TestExitCodes(t *testing.T) {
	for _, tt := range []struct {
		args []string
		want int
	}{
		{[]string{"--help"}, exitDone},
		{[]string{"assess", "../../experiments/briefs/kit.yaml"}, exitNo},
		{[]string{"assess", "nowhere.yaml"}, exitInput},
		{[]string{"optimise"}, exitInput},
		{[]string{"nonsense"}, exitInput},
		{[]string{"assess", "--nonsense"}, exitInput},
	} {
		got := run(t.Context(), tt.args, streams{in: strings.NewReader(""), out: io.Discard, err: io.Discard})
		if got != tt.want {
			t.Errorf("leanbay %v: exit code %d, want %d", tt.args, got, tt.want)
		}
	}
}
