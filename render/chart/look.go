package chart

import (
	"image/color"
	"math"
	"sync"

	"gridswing/render/ink"
)

// look says how a state is drawn over its cells.
type look struct {
	words   string
	shaded  bool       // its ground is the clearance's shade
	ground  color.RGBA // otherwise
	pattern ink.Pattern
	stroke  color.RGBA
}

var looks = [...]look{
	Clear:      {words: "clear", shaded: true},
	Tight:      {words: "tight: closer than demanded", shaded: true, pattern: ink.Fine, stroke: ink.TightGround},
	Unproven:   {words: "unproven", ground: ink.UnprovenGround, pattern: ink.Dots, stroke: ink.UnprovenStroke},
	WithinPlay: {words: "within play", ground: ink.WithinPlayGround, pattern: ink.CrossHatch, stroke: ink.ContactStroke},
	Contact:    {words: "contact", ground: ink.ContactGround, pattern: ink.Hatch, stroke: ink.ContactStroke},
	Overload:   {words: "overload", ground: color.RGBA{198, 200, 204, 255}, pattern: ink.Rungs, stroke: ink.UnprovenStroke},
	OverTravel: {words: "over-travel", ground: color.RGBA{198, 200, 204, 255}, pattern: ink.Bars, stroke: ink.UnprovenStroke},
}

// byWeight lists the states as a legend does, worst first.
var byWeight = []State{Contact, OverTravel, Overload, WithinPlay, Unproven, Tight, Clear}

func (s State) look() *look {
	if int(s) >= len(looks) {
		s = Unproven // what is not known is not proven
	}
	return &looks[s]
}

// Lightness of no clearance and of the cap and more: both ends stay clear of
// black lines and white paper.
const (
	darkest  = 34.0
	lightest = 95.0
)

// shades is the scale of clearance: even steps of L* for even steps of mm.
type shades struct{ cap float64 }

func newShades(limit float64) *shades { return &shades{cap: limit} }

// ramp is the shades from none to the cap.
var ramp = sync.OnceValue(func() *[512]color.RGBA {
	var table [512]color.RGBA
	for i := range table {
		part := float64(i) / float64(len(table)-1)
		table[i] = ink.Ramp(ink.Blue, darkest+(lightest-darkest)*part)
	}
	return &table
})

// of returns the shade of a clearance.
func (s *shades) of(mm float64) color.RGBA {
	part := max(0, min(mm/s.cap, 1))
	return ramp()[int(math.Round(part*float64(len(ramp())-1)))]
}
