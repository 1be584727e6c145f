// Package proof is what the rooms of check share: the trees of a setup's solids,
// the verdict that a sweep of two bodies means, whether one is inside the other,
// and work in parallel.
//
// Start with Trees.Plant, then Question.Ask.
package proof
