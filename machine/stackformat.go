package machine

import "github.com/golang/geo/r3"

// The tables that say what locates a component and what holds it.

// size is a diameter or a width: a file writes a number, in its own unit, or
// a size with its tolerance class, in mm as ISO 286 has it: "16 H7".
type size string

// sizes are one for both locators, or a list of one for each.
type sizes []size

// labels are those of holes, one or a list of them.
type labels []string

type seatTable struct {
	spot
	Pins              []r3.Vector `toml:"pins,required"`
	Normal            *r3.Vector  `toml:"normal"`
	LocatedBy         string      `toml:"located_by"`
	Fit               sizes       `toml:"fit"`
	Bore              sizes       `toml:"bore"`
	Play              *float64    `toml:"play"`
	Relieved          *float64    `toml:"relieved"`
	PinLength         *float64    `toml:"pin_length"`
	PositionTolerance float64     `toml:"position_tolerance"`
	HeightTolerance   float64     `toml:"height_tolerance"`
	Parallelism       float64     `toml:"parallelism"`
	Solids            []string    `toml:"solids"`
	LeastFasteners    *int        `toml:"least_fasteners"`
}

type gridTable struct {
	spot
	Name              string            `toml:"name,required"`
	Solid             string            `toml:"solid,required"`
	CarriedBy         string            `toml:"carried_by"`
	Origin            r3.Vector         `toml:"origin,required"`
	Columns           int               `toml:"columns"`
	Rows              int               `toml:"rows"`
	Pitch             pitch             `toml:"pitch"`
	Rings             []float64         `toml:"rings"`
	PerRing           int               `toml:"per_ring"`
	Centre            size              `toml:"centre"`
	U                 *r3.Vector        `toml:"u"`
	V                 *r3.Vector        `toml:"v"`
	Omit              []string          `toml:"omit"`
	PositionTolerance float64           `toml:"position_tolerance"`
	Bore              size              `toml:"bore"`
	BoreDepth         *float64          `toml:"bore_depth"`
	Thread            string            `toml:"thread"`
	ThreadFrom        *float64          `toml:"thread_from"`
	ThreadDepth       *float64          `toml:"thread_depth"`
	Through           *float64          `toml:"through"`
	Retractable       *retractableTable `toml:"retractable"`
}

type retractableTable struct {
	spot
	Fit    size     `toml:"fit,required"`
	Height float64  `toml:"height,required"`
	At     []string `toml:"at"`
}

type slotsTable struct {
	spot
	Name   string     `toml:"name,required"`
	Solid  string     `toml:"solid,required"`
	Origin r3.Vector  `toml:"origin,required"`
	Count  int        `toml:"count,required"`
	Pitch  *float64   `toml:"pitch"`
	Width  size       `toml:"width,required"`
	Thread string     `toml:"thread"`
	U      *r3.Vector `toml:"u"`
	V      *r3.Vector `toml:"v"`
}

type fastenerTable struct {
	spot
	Name        string    `toml:"name"`
	At          r3.Vector `toml:"at,required"`
	Thread      string    `toml:"thread,required"`
	From        string    `toml:"from"`
	Length      *float64  `toml:"length"`
	Clamped     *float64  `toml:"clamped"`
	ThreadDepth *float64  `toml:"thread_depth"`
	Head        *pair     `toml:"head"`
	Counterbore *pair     `toml:"counterbore"`
	Class       string    `toml:"class"`
	Optional    bool      `toml:"optional"`
}

type keyedTable struct {
	spot
	Slot   int     `toml:"slot,required"`
	Along  float64 `toml:"along,required"`
	Within float64 `toml:"within,required"`
	Turned float64 `toml:"turned"`
}

type grippedTable struct {
	spot
	Bite      float64  `toml:"bite,required"`
	Grip      string   `toml:"grip"`
	Depth     *float64 `toml:"depth"`
	Parallels string   `toml:"parallels"`
}
