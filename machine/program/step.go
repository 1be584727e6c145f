package program

import (
	"gridswing/geom/motion"
)

// Kind is what a step is.
type Kind uint8

// Kinds of steps.
const (
	Rapid  Kind = iota // at rapid rate
	Feed               // at a programmed feed
	Dwell              // nothing moves
	Change             // the tool change itself; what leads to the change position are Rapid steps
	Stop               // the program stops until somebody goes on
	End                // the program's last step
)

// Place is where something stands in a program: the file as it was opened, line and column from 1.
type Place struct {
	File         string
	Line, Column int
}

// Leg is a stretch that axes go: from one position to the other, every axis in proportion,
// each off by no more than Within; mm and rad. In a Box each axis goes by itself instead, so
// that they can be anywhere between the two positions.
type Leg struct {
	From, To, Within motion.Params
	Box              bool
}

// Step is one thing that a program makes the machine do. A block may make several, a cycle many.
type Step struct {
	Kind  Kind
	Place Place
	// Block is the text of the block, without its end of line, cut off after 200 bytes. It and
	// Legs are good until the next step is asked for.
	Block string
	// Tool is the number of the tool in the spindle, after a Change the new one; 0 if there is
	// none, or if it is not known which.
	Tool int
	// Legs are where the axes go, in order: a straight move one, an arc as many as keep the
	// chord error, which is in their Within, below MostChord. None unless Kind is Rapid or Feed.
	Legs []Leg
	// OtherWay are the legs in the other sense of an unlimited axis of which it is not known
	// which way round it goes; nil where it is.
	OtherWay []Leg
	// Turning is how the spindle turns: 1 clockwise (M3), -1 counter-clockwise (M4), 0 not.
	Turning int
	// Thread is set while a tapping cycle feeds with the spindle in step.
	Thread bool
	// Length is how far the tip goes, mm, and Seconds how long it takes at the programmed feed
	// or, with Rates, in rapid; NaN where it is not known.
	Length, Seconds float64
	// Offset is the work offset in force, such as "G54", H the number of the length offset, 0
	// for none.
	Offset string
	H      int
	// Led is set where the axis along the tool, if the step moves it, ends where a length leads it: at a
	// coordinate with the length of the tool in the spindle added. It is not where there is no length in force, in machine coordinates,
	// on the way home or to a tool change, nor where the program only counts on from such a place.
	Led bool
	// Passed are the lines of Options.Marks that the program has come by since the step before and that it was
	// done with before this one, each told once.
	Passed []int
}

// MostChord is how far an arc may be from the legs that stand for it, mm.
const MostChord = 0.005

// Steps is a program as a stream of steps.
type Steps interface {
	// Next returns the next step, which is good until it is called again. After the last one
	// it returns io.EOF, where the program cannot be read on a *Fault; then it keeps
	// returning the same.
	Next() (*Step, error)
	// Used returns the offsets that were in force so far.
	Used() *Used
	// Read returns how many blocks and bytes were read so far.
	Read() (blocks, bytes int64)
}

// Used is which values of the control a program has moved with, in the order in which it first did.
type Used struct {
	Offsets []UsedOffset
	Lengths []UsedLength
}

// UsedOffset is a work offset, and where the rotary axes stood when it first led a feed.
type UsedOffset struct {
	Name   string
	Values motion.Params // mm and rad
	Set    bool          // by the program itself, not keyed in before
	First  Place
	Rotary motion.Params
	// Carried is set where that feed was led in the part, so that the offset is one for rotary
	// zero wherever the axes stood.
	Carried bool
}

// UsedLength is a length offset, for a tool.
type UsedLength struct {
	Tool, H int // H is 0 where a feed went with none
	Length  float64
	Set     bool
	First   Place
}

// Values are what is keyed in at the control before the program begins.
type Values struct {
	Offsets map[string]motion.Params // what is added to programmed positions, mm and rad
	Lengths map[int]float64          // by H number, mm
	Radii   map[int]float64          // by D number, mm
}
