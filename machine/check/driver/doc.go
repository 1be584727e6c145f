// Package driver looks whether the screws of a setup can be got at: for each of them
// whether a driver that fits it comes down to its head along its axis, from the stated
// free height, with all in place that is loaded before it, the axes standing where the
// setup is loaded. Where it is known where the head of a screw is, it must rest on a face and
// meet nothing else, at that position. It also lists the screws with what they are tightened with.
//
// Start with Check. What a screw holds is not looked at here.
package driver
