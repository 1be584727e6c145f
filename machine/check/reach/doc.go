// Package reach asks whether a setup can be cut: whether some rotary position
// presents each feature, whether the axes have the travel, what the tool and all that
// stands above it meet on the way in, at depth, out and between features, how far the
// tool may stick out, how high it must be before rotary axes index, and what a
// tool change sweeps.
//
// Start with Check. It lists the features in order (stop), the rotary positions
// that present each (candidate), the legs that the tool goes there (way), and
// asks proof about every pair of bodies on each leg (meeting).
package reach
