package main

import (
	"fmt"

	"gridswing/machine"

	"github.com/spf13/cobra"
)

// completeFiles lets a shell offer the files with an ending.
func completeFiles(ending string) cobra.CompletionFunc {
	return func(*cobra.Command, []string, string) ([]cobra.Completion, cobra.ShellCompDirective) {
		return []cobra.Completion{ending}, cobra.ShellCompDirectiveFilterFileExt
	}
}

// completeWords lets a shell offer the values of a flag.
func completeWords(cmd *cobra.Command, flag string, words ...string) {
	completeBy(cmd, flag, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp))
}

// completeOf lets a shell offer as values of a flag what the setup has that stands before it.
func completeOf(cmd *cobra.Command, flag string, of func(*machine.Setup) []cobra.Completion, also cobra.ShellCompDirective) {
	completeBy(cmd, flag, func(_ *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
		if len(args) == 0 {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		s, err := machine.Load(args[0])
		if err != nil {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return of(s), cobra.ShellCompDirectiveNoFileComp | also
	})
}

func completeBy(cmd *cobra.Command, flag string, by cobra.CompletionFunc) {
	if err := cmd.RegisterFlagCompletionFunc(flag, by); err != nil {
		panic(err) // the flag is not defined: a mistake in this package
	}
}

// placesOf lists the places of a setup.
func placesOf(s *machine.Setup) (list []cobra.Completion) {
	for i := range s.Seats {
		list = append(list, s.Seats[i].Unit)
	}
	return list
}

// othersOf lists what --vary combines candidates with, of a tool without the lengths.
func othersOf(s *machine.Setup) (list []cobra.Completion) {
	for _, place := range placesOf(s) {
		list = append(list, "seat:"+place)
	}
	for _, t := range s.Tools {
		list = append(list, fmt.Sprintf("stick-out:T%d=", t.Number))
	}
	return list
}
