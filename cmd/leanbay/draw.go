package main

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/optimize/shedspace"
	"leanbay/plots/drawings"
	"leanbay/solver"
)

// drawOptions are the flags of draw.
type drawOptions struct {
	brief, out string
	braced     bool
}

// newDraw builds the command that draws a brief's proposal.
func newDraw(s streams) *cobra.Command {
	var o drawOptions
	c := &cobra.Command{
		Use:   "draw BRIEF",
		Short: "Draw the proposal of a brief: walls, roof, frames, restraints, bracing candidates",
		Long: "draw writes the proposal as SVG drawings: walls and gables from outside, the roof plan, each distinct frame, the restraint\n" +
			"map of columns and rafters (and as a table, CSV), and for each wall and gable every place that bracing could take, with the reason\n" +
			"where it is blocked. With --braced it draws the proposal with its missing links added, and what that changes.\n\n" + solver.Caution,
		Example: "  leanbay draw packhouse.yaml --out drawings\n  leanbay draw packhouse.yaml --braced --out drawings-braced",
		Args:    cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			o.brief = args[0]
			return drawProposal(s, o)
		},
	}
	f := c.Flags()
	f.StringVar(&o.out, "out", "drawings", "folder for the files; made where it does not exist")
	f.BoolVar(&o.braced, "braced", false, "the proposal with its missing links added, and what that changes")
	return c
}

// drawProposal writes the drawings and lists the files.
func drawProposal(s streams, o drawOptions) error {
	b, err := brief.ReadFile(o.brief)
	if err != nil {
		return badInput(err)
	}
	m, against, err := drawnModels(b, o.braced)
	if err != nil {
		return badInput(err)
	}
	if err := os.MkdirAll(o.out, 0o777); err != nil {
		return badInput(fmt.Errorf("%w; choose another folder with --out", err))
	}
	names, err := drawings.WriteAll(o.out, m, against)
	if err != nil {
		return badInput(fmt.Errorf("%w; choose another folder with --out", err))
	}
	for _, n := range names {
		fmt.Fprintln(s.out, filepath.ToSlash(filepath.Join(o.out, n)))
	}
	_, err = fmt.Fprintf(s.out, "\n%s\n", solver.Caution)
	return err
}

// drawnModels builds what is to be drawn and, for the braced proposal, what it is compared with.
func drawnModels(b *brief.Brief, braced bool) (m, against *shed.Model, err error) {
	if !braced {
		sh, err := shed.FromBrief(b)
		if err != nil {
			return nil, nil, err
		}
		d, err := sh.Proposal(b.Library().Find)
		if err != nil {
			return nil, nil, err
		}
		return sh.Build(d), nil, nil
	}
	p, err := shedspace.New(b)
	if err != nil {
		return nil, nil, err
	}
	d, _, err := p.Braced()
	if err != nil {
		return nil, nil, err
	}
	return p.Shed.Build(d), p.Shed.Build(p.Drawn), nil
}
