// Package choice builds a large choice for the demo's setup: a catalogue of 30 risers,
// and a grid plate of pitch 25 on which the trunnion can stand in 400 seats, for a job of
// 40 features. It is for benchmarks and tests of everything that chooses; nothing
// of it is checked in.
package choice

import (
	"bytes"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"strings"
	"testing/fstest"

	"gridswing/geom/shape"
	"gridswing/geom/stl"
	"gridswing/models"
	"gridswing/models/large"
)

const (
	// RiserSetup is the demo's setup with more features; Riser the place of its riser.
	RiserSetup = "setups/risers.toml"
	Riser      = "riser"
	// SeatSetup is the same on the fine grid; Trunnion the place that has many seats there.
	SeatSetup = "setups/seats.toml"
	Trunnion  = "trunnion"
	// Catalogue is the folder of the risers.
	Catalogue = "components/choice"
	// Risers, Seats and Features say how many there are.
	Risers, Seats, Features = 30, 400, 40
)

const (
	machineFile = "machines/mill-3.toml"
	plateFile   = "components/fine-plate.toml"
	plateSolid  = "solids/fine-plate.stl"
)

// FS returns the demo's folder with the choice in it, and its machine with so many
// facets as package large builds it; 0 leaves it as it is. The same count gives the
// same bytes.
func FS(facets int) (fs.FS, error) {
	extra := fstest.MapFS{}
	if err := addSetups(extra); err != nil {
		return nil, err
	}
	if err := addRisers(extra); err != nil {
		return nil, err
	}
	if err := addPlate(extra); err != nil {
		return nil, err
	}
	if facets > 0 {
		if err := addMachine(extra, facets); err != nil {
			return nil, err
		}
	}
	return models.Overlay(extra), nil
}

// more are the features that the demo's job does not have: the walls are spotted where
// covers will be screwed on.
const more = `
[[operation]]
name = "spot the walls"
tool = 4
approach = 3
retract = 25
positions = { A = 0, C = 0 }

[[operation.hole]]
at = [[22, -11, 58], [22, -4, 58], [22, 4, 58], [22, 11, 58], [-22, -11, 58], [-22, -4, 58], [-22, 4, 58], [-22, 11, 58]]
axis = [0, 0, 1]
depth = 2
depth_to = "tip"
`

// seats are where the trunnion stands on the fine grid as it does on the demo's.
var seats = strings.NewReplacer(
	"components/grid-plate.toml", "components/fine-plate.toml",
	`pins = ["C2", "M2"]`, `pins = ["F4", "Z4"]`,
)

func addSetups(extra fstest.MapFS) error {
	data, err := fs.ReadFile(models.Demo, models.GoodSetup)
	if err != nil {
		return err
	}
	text := string(data) + more
	extra[RiserSetup] = &fstest.MapFile{Data: []byte(text)}
	fine := seats.Replace(text)
	if strings.Contains(fine, "grid-plate") || !strings.Contains(fine, `"F4"`) {
		return fmt.Errorf("%s does not stand the trunnion in C2 and M2 of the grid plate", models.GoodSetup)
	}
	extra[SeatSetup] = &fstest.MapFile{Data: []byte(fine)}
	return nil
}

// fine is a plate of 800 x 525 x 30 with 30 x 20 holes. It stands on the table as the
// demo's does, and F4 is where C2 is there.
const fine = `kind = "component"
name = "fine plate"
units = "mm"
role = "workholding"
material = "steel"
solid = [{ name = "plate", file = "../solids/fine-plate.stl", chord_error = 0.1 }]
seat = { pins = [[-300, -50, 0], [300, -50, 0]], play = 0.035, height_tolerance = 0.01, parallelism = 0.01 }

[[grid]]
name = "top"
solid = "plate"
origin = [-375, -225, 30]
columns = 30
rows = 20
pitch = 25
position_tolerance = 0.02
bore = 16
thread = "M12"
`

func addPlate(extra fstest.MapFS) error {
	round := shape.Round{Chord: 0.1}
	p := shape.Plate{Outline: shape.Rect(-400, -250, 400, 275), Thickness: 30, Chamfer: 1.5, Round: round}
	bushed := shape.Hole{Radius: 5.1, HeadRadius: 8, HeadDepth: 16}
	p.Holes = shape.HoleGrid(bushed, at(-12.5, 12.5), 30, 20, 25, nil)
	s, err := p.Surface()
	if err != nil {
		return err
	}
	extra[plateFile] = &fstest.MapFile{Data: []byte(fine)}
	return addSolid(extra, plateSolid, s)
}

func addSolid(extra fstest.MapFS, name string, s shape.Surface) error {
	var data bytes.Buffer
	if err := stl.Encode(&data, s.Mesh()); err != nil {
		return err
	}
	extra[name] = &fstest.MapFile{Data: data.Bytes()}
	return nil
}

var solidLine = regexp.MustCompile(`file = "\.\./(solids/[^"]+)"`)

// addMachine puts the machine of package large in place of the demo's.
func addMachine(extra fstest.MapFS, facets int) error {
	from, err := large.FS(facets)
	if err != nil {
		return err
	}
	text, err := fs.ReadFile(from, machineFile)
	if err != nil {
		return err
	}
	extra[machineFile] = &fstest.MapFile{Data: text}
	for _, m := range solidLine.FindAllStringSubmatch(string(text), -1) {
		name := path.Clean(m[1])
		data, err := fs.ReadFile(from, name)
		if err != nil {
			return err
		}
		extra[name] = &fstest.MapFile{Data: data}
	}
	return nil
}
