package check

import (
	"math"
	"strconv"
)

// Fastening is what holds the setup, and what it is tightened with.
type Fastening struct {
	// At is where the axes stand while it is loaded, Order in which order it is.
	At    []Position `json:"at"`
	Order []string   `json:"order"`
	// Friction is the coefficient, of threads and heads, that preloads and torques are
	// for. Stated says that the setup has it, else it is AssumedFriction.
	Friction float64  `json:"friction"`
	Stated   bool     `json:"friction_stated"`
	Drivers  []string `json:"drivers"`
	Screws   []Screw  `json:"screws"`
}

// AssumedFriction is taken where a setup states none: in the middle of what lightly
// oiled steel has (VDI 2230-1, class B: 0.08 to 0.16; from memory).
const AssumedFriction = 0.12

// Screw is one fastener of a component.
type Screw struct {
	Of     string `json:"of"`   // the component
	Name   string `json:"name"` // "1", or what its file calls it
	Thread string `json:"thread"`
	Class  string `json:"class,omitempty"`
	Below  bool   `json:"from_below"` // its head is below
	Into   string `json:"into,omitempty"`
	// Length is without the head; nil if it is not stated.
	Length *float64 `json:"length_mm"`
	// Preload and Torque are the greatest for its class: 90 % of yield while it is turned.
	// They are nil where class or head are not known.
	Preload *float64 `json:"preload_n"`
	Torque  *float64 `json:"torque_nm"`
	// Driver is the one that gets to it, or of those that fit the one that comes
	// nearest to doing so; empty if none fits, or if the setup has none.
	Driver string `json:"driver,omitempty"`
	// Verdict is that of the driver; nil if it was not looked at.
	Verdict *Verdict `json:"verdict"`
}

// TorqueWords prints the greatest torque of a screw, N m, without its unit: rounded down, to 1
// from 20 on and to 0.1 below, so that no small screw is left with 0.
func TorqueWords(torque float64) string {
	const noise = 1e-6
	if torque >= 20 {
		return strconv.FormatFloat(math.Floor(torque+noise), 'f', 0, 64)
	}
	return strconv.FormatFloat(math.Floor(torque*10+noise)/10, 'f', 1, 64)
}
