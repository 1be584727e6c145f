package blocks

import (
	"fmt"
	"io"
	"math"

	"gridswing/geom/motion"
	"gridswing/machine"

	"github.com/golang/geo/r3"
)

// Where the table is tilted and turned to in a Raster, degrees.
const tilt, turn = 20.0, 30.0

// tall is how far above the first place the tool stands before it goes down in rapid, near how
// far it goes so: there it is above the block as it is loaded; mm.
const tall, near = 100.0, 8.0

// Raster returns a program of so many feed blocks, and a dozen more around them, that goes over
// the block at one tilted position. The setup is the demo's; it is an error if it has
// no part, no A or no C.
func Raster(s *machine.Setup, feeds int64) (io.Reader, error) {
	var p motion.Params
	for letter, degrees := range map[string]float64{"A": tilt, "C": turn} {
		k, err := axis(s, letter)
		if err != nil {
			return nil, err
		}
		p[k] = degrees * math.Pi / 180
	}
	if len(s.Parts) == 0 {
		return nil, fmt.Errorf("%s: no part", s.File)
	}
	pose := s.Parts[0].Chain.Pose(p)
	path := raster{feeds}
	// The zero is carried, and directions stay those of the machine.
	turned := func(i int64) r3.Vector {
		at := path.at(i)
		return pose.Dir(r3.Vector{X: at.x, Y: at.y, Z: at.z})
	}
	start := turned(0)
	return &stream{
		head: append(begin(fmt.Sprintf("RASTER AT ONE POSITION, %d FEEDS", feeds)),
			fmt.Sprintf("G0 A%.3f C%.3f", tilt, turn),
			"G272",
			string(word(word([]byte("G0"), 'X', start.X), 'Y', start.Y)),
			string(word([]byte("G43 H7"), 'Z', start.Z+tall)),
			string(word([]byte("G0"), 'Z', start.Z+near)),
			"G1 F3000"),
		tail: []string{string(word([]byte("G0"), 'Z', start.Z+tall)), "G270", "G49", "G53 G0 Z0", "M5", "M30", "%"},
		block: func(to []byte, i int64) []byte {
			at := turned(i)
			return word(word(word(append(to, 'G', '1'), 'X', at.X), 'Y', at.Y), 'Z', at.Z)
		},
		places: feeds,
	}, nil
}

// FiveAxis returns a program of so many feed blocks, and a dozen more around them, that goes
// over the block with every axis moving in each of them: the tip is led in the part.
//
// Its coordinates have the directions of X, Y and Z with the rotary axes at zero. The setup is the
// demo's; it is an error if it has no part.
func FiveAxis(s *machine.Setup, feeds int64) (io.Reader, error) {
	if len(s.Parts) == 0 {
		return nil, fmt.Errorf("%s: no part", s.File)
	}
	pose := s.Parts[0].Chain.Pose(motion.Params{})
	path := raster{feeds}
	led := func(i int64) (tip r3.Vector, a, c float64) {
		at := path.at(i)
		a, c = leaning(at)
		return pose.Dir(r3.Vector{X: at.x, Y: at.y, Z: at.z}), a, c
	}
	block := func(to []byte, i int64) []byte {
		at, a, c := led(i)
		return word(word(word(word(word(append(to, 'G', '1'), 'X', at.X), 'Y', at.Y), 'Z', at.Z), 'A', a), 'C', c)
	}
	at, a, c := led(0)
	over := at.Z + tall
	return &stream{
		head: append(begin(fmt.Sprintf("RASTER WITH FIVE AXES, %d FEEDS", feeds)),
			string(word(word([]byte("G0"), 'A', a), 'C', c)),
			"G271 H7",
			string(word(word(word([]byte("G0"), 'X', at.X), 'Y', at.Y), 'Z', over)),
			string(word([]byte("G0"), 'Z', at.Z+near)),
			"G1 F3000"),
		tail:   []string{string(word([]byte("G0"), 'Z', over)), "G270", "G49", "G53 G0 Z0", "M5", "M30", "%"},
		block:  block,
		places: feeds,
	}, nil
}

// leaning returns the rotary positions at a place, degrees: smooth, never close to A = 0, where
// the turn of C would not count.
func leaning(at place) (a, c float64) {
	return 18 + 6*math.Sin(at.y*2*math.Pi/80), 30 + 15*math.Sin(at.x*2*math.Pi/90) + 10*math.Cos(at.y*2*math.Pi/120)
}

// begin is how all programs begin.
func begin(what string) []string {
	return []string{
		"%", "(" + what + ")", "G21 G17 G40 G49 G80 G90 G94", "G53 G0 Z0", "T7 M6", "S12000 M3", "G54",
	}
}

func axis(s *machine.Setup, letter string) (int, error) {
	for k := range s.Axes {
		if s.Axes[k].Letter == letter {
			return k, nil
		}
	}
	return 0, fmt.Errorf("%s: no axis %s", s.File, letter)
}
