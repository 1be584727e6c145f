// Package tooling says what a tool is: a cutter in a holder, described with the
// symbols of ISO 13399, and the solids that stand for its zones. It knows
// neither machines nor files.
package tooling
