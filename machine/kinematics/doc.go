// Package kinematics says where the axes of a machine must stand so that its
// tool points along a given direction with its tip at a given place of the part,
// for any number of rotary axes on either side of the chain from part to spindle.
//
// Start at [New], which takes the two chains, then [Machine.Present] (rotary
// positions for a direction), [Machine.Turns] (the same with whole turns, within
// travel), [Machine.Linear] (X, Y and Z for a tip), [Machine.Contour] (a path).
//
// Everything is nominal, in mm and radians; slack of joints is ignored. Tips and
// axes are in the part's frame. The axis of a tool is a unit vector from its tip
// to the spindle. Positions are programmed ones, indexed as the chains' parameters:
// signs, reversed senses and offsets are in the joints.
package kinematics
