// Package program reads part programs and says what they make the machine's axes do.
//
// A program of word-address blocks (ISO 6983-1, EIA RS-274-D) is read by Open: lines are cut into
// words (syntax), numbers and expressions get their values, and each block changes the state of
// the control and moves the axes. Programs of any length are read as a stream.
//
// What the reader does not know it does not skip: it ends there with a Fault.
package program
