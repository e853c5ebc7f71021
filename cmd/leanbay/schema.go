package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"leanbay/model/brief"
)

// newSchema builds `leanbay schema`.
func newSchema(s streams) *cobra.Command {
	return &cobra.Command{
		Use:   "schema",
		Short: "Print the JSON Schema of a brief",
		Long: "Print the JSON Schema of a brief, with a description, the unit and the range of every field.\n\n" +
			"Point an editor at the printed file to be helped while writing a brief.",
		Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error { return schema(s) },
	}
}

// schema prints the schema.
func schema(s streams) error {
	text, err := brief.Schema()
	if err != nil {
		return fmt.Errorf("making the schema: %w", err)
	}
	_, err = fmt.Fprintf(s.out, "%s\n", text)
	return err
}
