package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// help writes what a command does, how it is called, and an example.
func help(cmd *cobra.Command, _ []string) {
	w := cmd.OutOrStdout()
	words := cmd.Long
	if words == "" {
		words = cmd.Short
	}
	fmt.Fprintf(w, "%s\n\nCall:\n  %s\n", strings.TrimSpace(words), callOf(cmd))
	var rows [][2]string
	for _, c := range cmd.Commands() {
		if c.IsAvailableCommand() {
			rows = append(rows, [2]string{c.Name(), c.Short})
		}
	}
	table(w, "Commands", rows)
	rows = nil
	cmd.LocalFlags().VisitAll(func(f *pflag.Flag) {
		if !f.Hidden {
			rows = append(rows, flagRow(f))
		}
	})
	table(w, "Flags", rows)
	if cmd.Example != "" {
		fmt.Fprintf(w, "\nExample:\n%s\n", cmd.Example)
	}
	if cmd.HasAvailableSubCommands() {
		fmt.Fprintf(w, "\n\"%s COMMAND --help\" tells more.\n", cmd.CommandPath())
	}
}

func callOf(cmd *cobra.Command) string {
	if cmd.HasAvailableSubCommands() {
		return cmd.CommandPath() + " COMMAND"
	}
	if cmd.HasAvailableLocalFlags() {
		return cmd.UseLine()
	}
	return cmd.CommandPath() + strings.TrimPrefix(cmd.Use, cmd.Name())
}

func flagRow(f *pflag.Flag) [2]string {
	name := "--" + f.Name
	value, words := pflag.UnquoteUsage(f)
	if f.Value.Type() != "bool" {
		name += " " + value
	}
	return [2]string{name, words}
}

// table writes names and words in two columns.
func table(w io.Writer, title string, rows [][2]string) {
	if len(rows) == 0 {
		return
	}
	width := 0
	for _, r := range rows {
		width = max(width, len(r[0]))
	}
	fmt.Fprintf(w, "\n%s:\n", title)
	for _, r := range rows {
		fmt.Fprintf(w, "  %-*s  %s\n", width, r[0], r[1])
	}
}
