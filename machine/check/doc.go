// Package check holds the answers: Verdict, Finding and Report, the words in
// which everything below this package says what it found. Each question of the
// trade lives in a room of its own below: swing asks whether anything meets.
//
// A Report speaks the user's units: mm and degrees, programmed axis positions.
// Its JSON form carries Format, which changes when a field changes meaning.
package check
