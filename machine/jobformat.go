package machine

import "github.com/golang/geo/r3"

// The tables of a tool file, and those of a setup file that say what is cut.

type toolFile struct {
	Kind    string             `toml:"kind,required"`
	Name    string             `toml:"name,required"`
	Units   string             `toml:"units,required"`
	Holders []holderTable      `toml:"holder"`
	Cutters []cutterTable      `toml:"cutter"`
	Tools   []libraryToolTable `toml:"tool"`
	Drivers []driverTable      `toml:"driver"`
}

type holderTable struct {
	spot
	Name       string   `toml:"name,required"`
	Taper      string   `toml:"taper"`
	Profile    []pair   `toml:"profile"`
	File       string   `toml:"file"`
	ChordError *float64 `toml:"chord_error"`
	Length     *float64 `toml:"length"`
	Bore       *float64 `toml:"bore"`
	Grip       *float64 `toml:"grip"`
	Mass       *float64 `toml:"mass"`
}

// cutterTable has the symbols of ISO 13399 as keys.
type cutterTable struct {
	spot
	Name string   `toml:"name,required"`
	Kind string   `toml:"kind,required"`
	DC   *float64 `toml:"DC"`
	DCX  *float64 `toml:"DCX"`
	DCN  *float64 `toml:"DCN"`
	RE   *float64 `toml:"RE"`
	SIG  *float64 `toml:"SIG"`
	APMX *float64 `toml:"APMX"`
	LU   *float64 `toml:"LU"`
	DN   *float64 `toml:"DN"`
	DMM  *float64 `toml:"DMM"`
	OAL  *float64 `toml:"OAL"`
	Mass *float64 `toml:"mass"`
}

type libraryToolTable struct {
	spot
	Number   int      `toml:"number,required"`
	Name     string   `toml:"name"`
	Cutter   string   `toml:"cutter,required"`
	Holder   string   `toml:"holder,required"`
	StickOut float64  `toml:"stick_out,required"`
	Mass     *float64 `toml:"mass"`
	Within   float64  `toml:"within"`
}

type partTable struct {
	spot
	Name           string     `toml:"name,required"`
	Place          string     `toml:"place,required"`
	At             *r3.Vector `toml:"at"`
	Turned         float64    `toml:"turned"`
	Offset         string     `toml:"offset"`
	UnprobedWithin *float64   `toml:"unprobed_within"`
	Finished       *string    `toml:"finished"`
	FinishedError  *float64   `toml:"finished_chord_error"`
	GougeWithin    *float64   `toml:"gouge_within"`
}

type operationTable struct {
	spot
	Name      string             `toml:"name,required"`
	Part      string             `toml:"part"`
	Parts     []string           `toml:"parts"`
	Tool      int                `toml:"tool,required"`
	Approach  float64            `toml:"approach,required"`
	Retract   float64            `toml:"retract,required"`
	Positions map[string]float64 `toml:"positions"`
	Holes     []holeTable        `toml:"hole"`
	Faces     []areaTable        `toml:"face"`
	Pockets   []areaTable        `toml:"pocket"`
	Contours  []contourTable     `toml:"contour"`
	Touches   []touchTable       `toml:"touch"`
}

type holeTable struct {
	spot
	Name         string     `toml:"name"`
	At           points     `toml:"at"`
	List         string     `toml:"list"`
	Axis         *r3.Vector `toml:"axis"`
	Depth        *float64   `toml:"depth"`
	DepthTo      string     `toml:"depth_to"`
	Breakthrough float64    `toml:"breakthrough"`
}

type areaTable struct {
	spot
	Name    string      `toml:"name"`
	From    *r3.Vector  `toml:"from"`
	To      *r3.Vector  `toml:"to"`
	Along   *r3.Vector  `toml:"along"`
	Overrun float64     `toml:"overrun"`
	Points  []r3.Vector `toml:"points"`
	Layers  bool        `toml:"in_layers"`
	Axis    r3.Vector   `toml:"axis,required"`
}

type contourTable struct {
	spot
	Name       string      `toml:"name"`
	Points     []r3.Vector `toml:"points"`
	Axes       []r3.Vector `toml:"axes"`
	List       string      `toml:"list"`
	Layers     bool        `toml:"in_layers"`
	TipControl bool        `toml:"tip_control,required"`
}

type touchTable struct {
	spot
	Name   string    `toml:"name"`
	At     points    `toml:"at,required"`
	Axis   r3.Vector `toml:"axis,required"`
	Toward r3.Vector `toml:"toward,required"`
	Start  float64   `toml:"start,required"`
	Search float64   `toml:"search,required"`
}

type mayBeCutTable struct {
	spot
	Body   string  `toml:"body,required"`
	Depth  float64 `toml:"depth,required"`
	Reason string  `toml:"reason,required"`
}

type measuredTable struct {
	spot
	Axis     string             `toml:"axis,required"`
	Position map[string]float64 `toml:"position,required"`
	Within   float64            `toml:"within"`
}

type probedTable struct {
	spot
	Part  string    `toml:"part,required"`
	Shift r3.Vector `toml:"shift"`
	Skew  r3.Vector `toml:"skew"`
}

type shiftTable struct {
	spot
	Shift float64 `toml:"shift,required"`
}
