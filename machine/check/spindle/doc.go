// Package spindle is what goes with the spindle while a tool is in it: the zones of the tool, and the bodies
// on its side of the machine; and what they are moved against.
package spindle
