package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"leanbay/solver"
)

// Exit codes. A shed that does not comply is an answer (1), not a fault.
const (
	exitDone     = 0
	exitNo       = 1 // the shed does not comply, or a case is unstable, where that is the question
	exitInput    = 2
	exitInternal = 3
)

// streams are the three standard streams, so that tests can stand in for a terminal.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// exitError carries an exit code with its message. An empty message prints nothing: the answer was already printed.
type exitError struct {
	code int
	err  error
}

func (e *exitError) Error() string {
	if e.err == nil {
		return ""
	}
	return e.err.Error()
}

func (e *exitError) Unwrap() error { return e.err }

// badInput marks err as the user's to mend (exit code 2).
func badInput(err error) error { return &exitError{code: exitInput, err: err} }

// notComplying ends a command whose answer, already printed, is no.
func notComplying() error { return &exitError{code: exitNo} }

// newRoot builds the command tree. Each command is built in a file of its own name.
func newRoot(s streams) *cobra.Command {
	root := &cobra.Command{
		Use:           "leanbay",
		Short:         "Find lighter steel portal-frame sheds that comply",
		Long:          "leanbay reads the brief of a steel portal-frame shed, judges what was drawn, and finds lighter layouts that comply.\n\n" + solver.Caution,
		SilenceErrors: true,
		SilenceUsage:  true,
	}
	root.SetIn(s.in)
	root.SetOut(s.out)
	root.SetErr(s.err)
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return badInput(fmt.Errorf("%w; see 'leanbay %s --help'", err, c.Name()))
	})
	root.AddCommand(commands(s)...)
	return root
}

// commands lists every command, in the order of help.
func commands(s streams) []*cobra.Command {
	return []*cobra.Command{
		newOptimise(s),
		newAssess(s),
		newAdvise(s),
		newCompare(s),
		newWhatIf(s),
		newDraw(s),
		newSections(s),
		newSection(s),
		newCapacity(s),
		newSchema(s),
		newSizing(s),
		newBench(s),
		newFrame(s),
		newVerify(s),
		newActions(s),
	}
}

// run executes args and returns the exit code. A panic is an internal fault (3), never a stack on the user's screen
// without a word on what to do.
func run(ctx context.Context, args []string, s streams) (code int) {
	defer func() {
		if p := recover(); p != nil {
			fmt.Fprintf(s.err, "leanbay: internal fault: %v\nThis is a mistake in leanbay, not in your input; please report it with the input file.\n", p)
			code = exitInternal
		}
	}()
	root := newRoot(s)
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	if err == nil {
		return exitDone
	}
	var e *exitError
	if errors.As(err, &e) {
		if msg := e.Error(); msg != "" {
			fmt.Fprintln(s.err, msg)
		}
		return e.code
	}
	fmt.Fprintf(s.err, "leanbay: %v\n", err)
	return exitInput // what cobra itself refuses: unknown command, wrong arguments
}
