package main

import (
	"context"
	"os"
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
	testscript.Run(t, testscript.Params{Dir: "testdata/script"})
}
