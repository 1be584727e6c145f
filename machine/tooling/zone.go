package tooling

import "gridswing/geom"

// Zone is a stretch of a tool that something of its own is asked of.
type Zone uint8

// The zones, from the tip to the spindle.
const (
	Cutting    Zone = iota // may meet the stock, in its own operation's feed
	Neck                   // no wider than what cuts
	Shank                  // the cutter up to the holder's face
	HolderZone             // the holder
)

var zoneWords = [...]string{"cutting part", "neck", "shank", "holder"}

// String names the zone.
func (z Zone) String() string { return zoneWords[z] }

// Zones lists them all, from the tip to the spindle.
func Zones() []Zone { return []Zone{Cutting, Neck, Shank, HolderZone} }

// Solid returns a closed solid around the zone, nowhere inside the true one, in
// the gauge frame: origin on the gauge line, Z from the tip to the spindle. It is
// nil where the tool has no such zone, such as a neck.
func (t *Tool) Solid(z Zone) *geom.Mesh { return nil }

// StickOuts returns the shortest and the longest stick-out in mm that cutter and
// holder allow.
func (t *Tool) StickOuts() (shortest, longest float64) { return t.StickOut, t.StickOut }
