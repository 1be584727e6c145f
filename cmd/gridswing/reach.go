package main

import (
	"gridswing/machine/check"

	"github.com/spf13/cobra"
)

func newReach() *cobra.Command {
	o := reportOptions{checks: []string{check.ReachCheck}}
	cmd := &cobra.Command{
		Use:   "reach SETUP...",
		Short: "Tell whether tools reach what they cut, and what to key in",
		Long: `Reads setup files with their operations and tells, for each feature: at
which tilt and rotary it is presented, whether the axes have the travel,
whether the tool stays clear on the way in, at depth and out; how far it
may stick out; how high it must be before the rotary axes index; and what to
key in. Whether the setup swings clear is for "gridswing check", which tells
all of this as well.`,
		Example: `  gridswing reach setups/op10.toml
  gridswing reach setups/op10.toml --operation "drill sides" --pictures pictures`,
		Args: arguments(1, -1, "setup"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if cmd.Flags().Changed("operation") && len(args) > 1 {
				return wrong(helpHint(cmd), "--operation: found %d setups, expected one", len(args))
			}
			return o.run(cmd, args)
		},
	}
	cmd.Flags().StringVar(&o.operation, "operation", "", "tell all of the operation `NAME`, and draw it")
	o.flags(cmd)
	return cmd
}
