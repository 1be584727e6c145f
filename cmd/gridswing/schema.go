package main

import (
	"embed"
	"slices"
	"strings"

	"github.com/spf13/cobra"
)

// schemas describe the JSON forms of what commands write, by JSON Schema 2020-12.
//
//go:embed schema
var schemas embed.FS

// schemaNames are those that can be asked for by name; without one it is that of reports.
var schemaNames = []string{"binder", "changeover", "choice", "heights", "sides"}

func newSchema() *cobra.Command {
	return &cobra.Command{
		Use:   "schema [NAME]",
		Short: "Print what the data that --json writes look like",
		Long: `Prints the JSON Schema (draft 2020-12) of the report that "check --json"
and "reach --json" write; or of what others write: binder (summary.json of
"binder"), changeover ("changeover"), choice ("risers" and "seats"), heights
("risers --between"), sides ("sides").`,
		Example: `  gridswing schema > report-v1.schema.json
  gridswing schema changeover > changeover-v1.schema.json
  gridswing schema choice > choice-v1.schema.json`,
		ValidArgs: schemaNames,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 && !slices.Contains(schemaNames, args[0]) {
				return wrong(helpHint(cmd), "found %q, expected one of: %s; or nothing", args[0], strings.Join(schemaNames, ", "))
			}
			return arguments(0, 1, "name")(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			name := "report"
			if len(args) > 0 {
				name = args[0]
			}
			data, err := schemas.ReadFile("schema/" + name + "-v1.schema.json")
			if err != nil {
				return err
			}
			_, err = cmd.OutOrStdout().Write(data)
			return err
		},
	}
}
