package main

import (
	"gridswing/machine/check"

	"github.com/spf13/cobra"
)

func newCheck() *cobra.Command {
	o := reportOptions{checks: []string{check.SwingCheck, check.ReachCheck, check.StackCheck, check.DriverCheck, check.LoadsCheck}}
	cmd := &cobra.Command{
		Use:   "check SETUP...",
		Short: "Tell whether setups swing clear, and tools reach what they cut",
		Long: `Reads setup files with all they name and reports, worst first, what meets
what over the whole commanded range, how close the rest gets, and what the
answer rests on. Where a setup says what is to be cut, it also tells whether
each tool gets there and back, and what to key in, as "gridswing reach" does.
It tells whether the setup goes together, locators, screws and all, and how
far off its parts can be before they are probed. Where there are drivers, it
tells whether they get to the screws.
Last it weighs what stands on the table and on units with rotary axes.

With --program it looks at a posted program, move by move: whether anything
meets on the way, with the stock as it is at that moment, whether the axes have
the travel, and whether its offsets and lengths are those of the setup. A word
that it does not know ends the reading: all that follows is unproven.`,
		Example: `  gridswing check setups/op10.toml --pictures pictures
  gridswing check setups/*.toml --quiet
  gridswing check setups/op10.toml --json > op10.json
  gridswing check setups/op10.toml --program programs/op10.nc --stock left.stl`,
		Args: arguments(1, -1, "setup"),
		RunE: func(cmd *cobra.Command, args []string) error { return o.run(cmd, args) },
	}
	o.flags(cmd)
	cmd.Flags().BoolVar(&o.animate, "animate", false, "with --pictures, draw the way through the critical positions as an animated PNG, too")
	o.program.flags(cmd)
	return cmd
}
