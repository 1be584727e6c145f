// Package swing asks whether anything meets: at rest, over the whole commanded
// range of the rotary axes, and wherever the table may carry the setup.
//
// Check plans the pairs (plan.go), looks at those that never move against each
// other (rest.go), sweeps the others (sweep.go), makes sure that no body is
// inside another (inside.go), and charts the clearance over tilt and rotary
// (chart.go). A verdict of clear rests on package collide's proofs alone.
package swing
