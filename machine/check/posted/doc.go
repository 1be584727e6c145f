// Package posted asks of a posted program, move by move, what is asked of a setup: whether anything meets
// on the way, with the stock as it is at that moment, and whether the axes have the travel.
package posted
