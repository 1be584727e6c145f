package main

import (
	_ "embed"

	"github.com/spf13/cobra"
)

// reportSchema describes the JSON form of a report, by JSON Schema 2020-12.
//
//go:embed schema/report-v1.schema.json
var reportSchema []byte

func newSchema() *cobra.Command {
	return &cobra.Command{
		Use:   "schema",
		Short: "Print what the data of \"check --json\" and \"reach --json\" look like",
		Long: `Prints the JSON Schema (draft 2020-12) of the report that "check --json"
and "reach --json" write.`,
		Example: `  gridswing schema > report-v1.schema.json`,
		Args:    arguments(0, 0, "command"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, err := cmd.OutOrStdout().Write(reportSchema)
			return err
		},
	}
}
