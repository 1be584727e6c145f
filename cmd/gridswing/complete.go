package main

import "github.com/spf13/cobra"

// completeFiles lets a shell offer the files with an ending.
func completeFiles(ending string) cobra.CompletionFunc {
	return func(*cobra.Command, []string, string) ([]cobra.Completion, cobra.ShellCompDirective) {
		return []cobra.Completion{ending}, cobra.ShellCompDirectiveFilterFileExt
	}
}

// completeWords lets a shell offer the values of a flag.
func completeWords(cmd *cobra.Command, flag string, words ...string) {
	if err := cmd.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp)); err != nil {
		panic(err) // the flag is not defined: a mistake in this package
	}
}
