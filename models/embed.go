// Package models holds the demo that comes with gridswing: a machine, tools, the
// components of a trunnion setup and two setups of them that cut the same part, one
// that is clear and one that is not. Shop, machine and part are invented.
//
// The folder demo is laid out as a user's own would be. Its solids are built by
// the command in the folder generate, its programs by that in the folder posted; both are
// checked in.
package models

import (
	"embed"
	"io/fs"
)

//go:embed demo
var embedded embed.FS

// The setup files within Demo.
const (
	GoodSetup = "setups/bracket-op10.toml"
	BadSetup  = "setups/bracket-op10-one-hole-off.toml"
)

// The posted programs within Demo: that of GoodSetup, and one that sets the work offset one hole
// off. Both call a subprogram in the same folder.
const (
	GoodProgram   = "programs/bracket-op10.nc"
	OffsetProgram = "programs/bracket-op10-offset-off.nc"
	// LocationProgram is a short one of cutter locations, for GoodSetup.
	LocationProgram = "programs/bracket-faced.cl"
)

// Demo is the demo's folder: machines, components, setups, solids and programs.
var Demo = demo()

func demo() fs.FS {
	sub, err := fs.Sub(embedded, "demo")
	if err != nil {
		panic(err) // the name is a constant
	}
	return sub
}
