package main

import (
	_ "embed"

	"github.com/spf13/cobra"
)

// reportSchema describes the JSON form of a report, by JSON Schema 2020-12.
//
//go:embed schema/report-v1.schema.json
var reportSchema []byte

// changeoverSchema describes the JSON form of a changeover.
//
//go:embed schema/changeover-v1.schema.json
var changeoverSchema []byte

func newSchema() *cobra.Command {
	return &cobra.Command{
		Use:   "schema [changeover]",
		Short: "Print what the data that --json writes look like",
		Long: `Prints the JSON Schema (draft 2020-12) of the report that "check --json"
and "reach --json" write, or of the plan that "changeover --json" writes.`,
		Example: `  gridswing schema > report-v1.schema.json
  gridswing schema changeover > changeover-v1.schema.json`,
		ValidArgs: []string{"changeover"},
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 && args[0] != "changeover" {
				return wrong(helpHint(cmd), "found %q, expected changeover, or nothing", args[0])
			}
			return arguments(0, 1, "name")(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			data := reportSchema
			if len(args) > 0 {
				data = changeoverSchema
			}
			_, err := cmd.OutOrStdout().Write(data)
			return err
		},
	}
}
