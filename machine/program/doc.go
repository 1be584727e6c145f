// Package program reads part programs and says what they make the machine's axes do.
//
// A program of word-address blocks (ISO 6983-1, EIA RS-274-D) is read by Open: lines are cut into
// words (syntax), numbers and expressions get their values, and each block changes the state of
// the control and moves the axes. Programs of any length are read as a stream.
//
// What the reader does not know it does not skip: it ends there with a Fault. Codes are those that
// ISO 6983-1 and NISTIR 6556 (T. Kramer, F. Proctor, E. Messina, "The NIST RS274NGC Interpreter -
// Version 3", 2000) settle, and those that the machine file explains. Where controls differ the
// machine file (machine.Control) says which way it is; if it does not, and a program hangs on it,
// that is a Fault as well.
//
// From words to legs: blocks (blocks.go) are done one by one (do.go); axis words become
// coordinates (target), these a stroke (move.go), perhaps laid beside the contour
// (compensation.go), and a stroke becomes a Step with its Legs (emit), by what the control adds to
// coordinates (coordinates.go) or by the kinematics (tip.go). Positions are kept besides
// coordinates, so that a code which changes how coordinates count moves nothing: they are counted
// anew.
package program
