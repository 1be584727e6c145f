package main

import (
	"gridswing/machine"
	"gridswing/machine/check/choose"

	"github.com/spf13/cobra"
)

var seatRules = []string{choose.Roomiest, choose.Nearest}

func newSeats() *cobra.Command {
	var o choosingOptions
	cmd := &cobra.Command{
		Use:   "seats SETUP PLACE",
		Short: "Tell in which holes a component could stand",
		Long: `Tries a component of a setup in every pair of holes, of what it stands on,
in which its locators fit, either way round, with all that stands on it.
Looks at each as "gridswing check" does, and tells which ones meet every
demand, which of them is best by a rule, and what it leaves.`,
		Example: `  gridswing seats setups/op10.toml vise --picture seats.png
  gridswing seats setups/op10.toml trunnion --turned 0 --rule nearest
  gridswing seats setups/op10.toml vise --vary stick-out:T3=60..100/5`,
		Args: seatArguments,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := o.refuse(cmd, seatRules...); err != nil {
				return err
			}
			return o.seats(cmd, args[0], args[1])
		},
		ValidArgsFunction: completePlace,
	}
	f := cmd.Flags()
	f.SortFlags = false
	f.StringVar(&o.turned, "turned", "", "only turned by one of `DEGREES` against now, such as 0,90 (default: any)")
	o.flags(cmd, seatRules...)
	return cmd
}

// seatArguments wants a setup and a place.
func seatArguments(cmd *cobra.Command, args []string) error {
	if len(args) == 1 {
		return wrong("it is the name of a [[place]] of the setup file", "found no place, expected %s", cmd.Use)
	}
	return arguments(2, 2, "setup and the place")(cmd, args)
}

func (o *choosingOptions) seats(cmd *cobra.Command, name, place string) error {
	s, err := o.open(cmd, name)
	if err != nil {
		return err
	}
	lastWords.RLock()
	defer lastWords.RUnlock()
	if o.vary == "" {
		c, err := choose.Seats(cmd.Context(), s.draft, place, o.turns, s.options("Seats of "+place))
		if err != nil {
			return s.fault(err)
		}
		return s.choice(c)
	}
	rows, err := choose.SeatLine(s.draft, place, o.turns)
	if err != nil {
		return s.fault(err)
	}
	columns, err := s.varied(nil)
	if err != nil {
		return err
	}
	return s.table(rows, columns)
}

// completePlace lets a shell offer setup files, then the places of the one that is named.
func completePlace(cmd *cobra.Command, args []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return completeFiles("toml")(cmd, args, typed)
	}
	s, err := machine.Load(args[0])
	if len(args) > 1 || err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return placesOf(s), cobra.ShellCompDirectiveNoFileComp
}
