// Package blocks writes posted programs of any length for the demo's machine: a raster over
// the top of the block in the vise with the ball end mill, tilted at one position or with all
// five axes at once. They are streams, so that a program of a million blocks needs no memory.
//
// What is cut stays above the finished bracket, and all programs are clear in the demo's
// good setup.
package blocks
