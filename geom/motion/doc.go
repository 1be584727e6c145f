// Package motion says how one body moves as seen from another: a Chain of
// rotary and linear joints whose values are affine in a few parameters, such
// as tilt and rotary. Chain.Pose gives the relative pose at one position;
// Chain.Over gives, for a whole box of parameters, the pose at its centre and
// bounds on how far any point can get from there. Those bounds are promises:
// nothing may leave them, which is what makes a proof over a range possible.
//
// A motion is built by package machine and consumed by package collide;
// neither knows the other, so it lives here.
package motion
