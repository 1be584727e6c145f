// Package machine says what stands where and how it moves: it reads the
// machine, component, tool and setup files (TOML) with the solids they name,
// seats every component on its two locating pins, and gives each body a
// motion.Chain in the bed frame. What is to be cut it turns into places of the
// tool's foremost point in the coordinates of the part.
//
// Start with Load, which returns a Setup. The bed frame is the frame of the
// machine file: its coordinates with every axis at zero. Lengths are mm and
// angles radians in everything exported; the files use their own units and
// degrees. Axis letters and signs follow ISO 841: a program describes the
// tool moving against a workpiece thought to stand still, so an axis that
// carries the workpiece moves it the other way, unless the file says that the
// axis is wired in reverse.
//
// A commented example of each kind of file stands in testdata/example.
//
// What this package does not do: it judges no clearance, no fit of a screw and
// no load. It says what the files say, exactly, or why it cannot.
package machine
