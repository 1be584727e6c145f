package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
)

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "gridswing",
		Short: "Checks a modular trunnion setup before anything is cut",
		Long: `gridswing reads a setup (what stands in which holes of the grid, on which
machine), turns the trunnion through its whole commanded range, and tells
what meets what, and how close the rest gets.

Exit codes: 0 all clear, 1 something is not clear, 2 a file or the call is
wrong, 130 interrupted.`,
		Example: `  gridswing demo                          write a setup to try, and check it
  gridswing check setups/op10.toml        check a setup of your own
  gridswing seats setups/op10.toml vise   ask where it would stand best`,
		Version: version(),

		SuggestionsMinimumDistance: 2,

		SilenceErrors:     true,
		SilenceUsage:      true,
		DisableAutoGenTag: true,
		Args:              noSuchCommand,
		RunE:              func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.SetHelpFunc(help)
	root.SetVersionTemplate("gridswing {{.Version}}\n")
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return wrong(helpHint(cmd), "%s: %v", cmd.CommandPath(), err)
	})
	root.AddCommand(newCheck(), newReach(), newChangeover(), newRisers(), newSeats(), newSides(), newBinder(), newPicture(), newSolid(), newDemo(), newSchema())
	tameCompletion(root)
	return root
}

// loading is how each shell reads the script that a command prints.
var loading = map[string]string{
	"bash":       "source <(%s)   # needs the package bash-completion",
	"zsh":        "autoload -U compinit; compinit; source <(%s)",
	"fish":       "%s | source",
	"powershell": "%s | Out-String | Invoke-Expression",
}

// tameCompletion makes the command that prints completion scripts, which comes with
// the library, speak as the others do and refuse a shell it has no script for.
func tameCompletion(root *cobra.Command) {
	root.InitDefaultCompletionCmd()
	for _, c := range root.Commands() {
		if c.Name() != "completion" {
			continue
		}
		c.Short = "Print a script that lets a shell complete what is typed"
		c.Long = "Prints a script that lets a shell complete commands, flags and file names of gridswing."
		for _, shell := range c.Commands() {
			shell.Short = "Print the script for " + shell.Name()
			shell.Long = "Prints the script for " + shell.Name() + ". The line below loads it into a running shell; put it\n" +
				"into the file that the shell reads when it starts, to have it always."
			shell.Example = "  " + fmt.Sprintf(loading[shell.Name()], "gridswing completion "+shell.Name())
		}
		c.Args = func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			return wrong(helpHint(cmd), "completion: found shell %q, expected one of: %s", args[0], strings.Join(available(cmd), ", "))
		}
		c.RunE = func(cmd *cobra.Command, _ []string) error { return cmd.Help() }
	}
}

// available lists the commands below a command.
func available(cmd *cobra.Command) (names []string) {
	for _, c := range cmd.Commands() {
		if c.IsAvailableCommand() {
			names = append(names, c.Name())
		}
	}
	return names
}

// noSuchCommand refuses what is no command, with those there are.
func noSuchCommand(root *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	hint := ""
	if near := root.SuggestionsFor(args[0]); len(near) > 0 {
		hint = fmt.Sprintf("did you mean %q?", "gridswing "+near[0])
	} else if strings.HasSuffix(args[0], ".toml") {
		hint = fmt.Sprintf("did you mean %q?", "gridswing check "+args[0])
	}
	return wrong(hint, "found command %q, expected one of: %s", args[0], strings.Join(available(root), ", "))
}
