package main

import (
	"encoding/json"
	"fmt"
	"strings"

	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/geom"
	"gridswing/geom/stl"
	"gridswing/machine"

	"github.com/spf13/cobra"
)

// solidOptions are the flags of solid.
type solidOptions struct {
	units, material string
	holes, json     bool
}

func newSolid() *cobra.Command {
	var o solidOptions
	cmd := &cobra.Command{
		Use:   "solid FILE.stl...",
		Short: "Say whether solids are sound, how large and how heavy",
		Long: `Examines solids one after another: is each closed, are its facets turned the
right way, what pieces has it, how large and how heavy is it. The exit code is 1
if one has a fault that can leave the verdict of a setup unproven, and 2 at the
first file that cannot be read. With --json each is a line.

With --holes it also finds round holes and bosses, fitted to the facets: where,
along which axis, how wide and deep, with which steps; and regular patterns of
holes. What a component file can take over is printed last: a [[grid]] for each
pattern, and as comments where locating pins and screws can be.`,
		Example: `  gridswing solid riser.stl --material steel
  gridswing solid riser.stl plate.stl --holes
  gridswing solid riser.stl --units inch --json`,
		Args: arguments(1, -1, "file"),
		RunE: func(cmd *cobra.Command, args []string) error { return o.run(cmd, args) },
	}
	cmd.ValidArgsFunction = completeFiles("stl")
	f := cmd.Flags()
	f.SortFlags = false
	f.StringVar(&o.units, "units", "mm", "the file's `UNIT`: mm (default) or inch (STL states none)")
	f.StringVar(&o.material, "material", "", "weigh it as being of `NAME`, such as steel")
	f.BoolVar(&o.holes, "holes", false, "find bores, bosses and hole patterns, and print tables for a component file")
	f.BoolVar(&o.json, "json", false, "write the result as data")
	completeWords(cmd, "units", geom.Millimetre.String(), geom.Inch.String())
	completeWords(cmd, "material", machine.Materials()...)
	return cmd
}

func (o *solidOptions) run(cmd *cobra.Command, names []string) error {
	unit, err := geom.ParseUnit(o.units)
	if err != nil {
		return wrong("", "--units: %v", err)
	}
	density := 0.0
	if o.material != "" {
		known := false
		if density, known = machine.Density(o.material); !known {
			return wrong("", "--material: found %q, expected one of: %s", o.material, strings.Join(machine.Materials(), ", "))
		}
	}
	sound := true
	for i, name := range names {
		if i > 0 && !o.json {
			if _, err := fmt.Fprintln(cmd.OutOrStdout()); err != nil {
				return err
			}
		}
		s, err := o.examine(cmd, name, unit, density)
		if err != nil {
			return err
		}
		sound = sound && s.Sound
	}
	if !sound {
		return errNotClear
	}
	return nil
}

// examine says what is to be said of one solid.
func (o *solidOptions) examine(cmd *cobra.Command, name string, unit geom.Unit, density float64) (*text.Solid, error) {
	mesh, err := stl.ReadFile(name)
	if err != nil {
		return nil, err
	}
	if mesh, _, err = unit.ToMillimetres(mesh); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if err := cmd.Context().Err(); err != nil {
		return nil, err
	}
	s := text.Examine(name, mesh, unit, o.material, density)
	if o.holes {
		s.Holes = text.FindHoles(name, mesh, unit)
	}
	out := cmd.OutOrStdout()
	if o.json {
		err = json.NewEncoder(out).Encode(s)
	} else {
		err = s.Write(out, terminal.LookOf(out))
	}
	return s, err
}
