package text

import (
	"math"

	"gridswing/geom/bores"
	"gridswing/machine/screws"
)

// sameBore is how far a fitted diameter may be from that of a standard, mm.
const sameBore = 0.03

// clearanceOf names the metric screw that goes through the hole of an opening: one
// whose narrowest step is a clearance hole of ISO 273, the medium series first; where
// a counterbore is over it, one that takes the head. Without one the coarse series
// says too little. It is "" for any other hole.
func clearanceOf(f *bores.Found, o bores.Opening) string {
	h := &f.Holes[o.Hole]
	if h.Bottom != bores.Through {
		return ""
	}
	head, shank := 0.0, math.Inf(1)
	for _, s := range h.Steps {
		head, shank = max(head, s.Diameter), min(shank, s.Diameter)
	}
	for series, of := range [3]func(screws.Hole) float64{
		func(h screws.Hole) float64 { return h.Medium },
		func(h screws.Hole) float64 { return h.Fine },
		func(h screws.Hole) float64 { return h.Coarse },
	} {
		for _, name := range screws.Names() {
			s, err := screws.Find(name)
			fits := len(h.Steps) == 1 && series < 2 || head > s.Head.Diameter
			if err == nil && fits && math.Abs(of(s.Hole)-shank) <= sameBore {
				return name
			}
		}
	}
	return ""
}

// forScrews reports whether all holes of a grid are counterbored for screws that hold
// the component down, so that nothing can stand on them.
func (h *Holes) forScrews(g *bores.Grid) bool { return h.allForScrews(g.Openings) }

func (h *Holes) allForScrews(openings []bores.Opening) bool {
	for _, o := range openings {
		if o.Far || len(h.found.Holes[o.Hole].Steps) < 2 || clearanceOf(h.found, o) == "" {
			return false
		}
	}
	return true
}

// tapped names the thread for which most holes of a grid are drilled under their
// first step: a later one of the diameter less the pitch (ISO 2306), or of the minor
// diameter, which some modellers draw.
func tapped(g *bores.Grid, f *bores.Found) (thread string, core float64, ok bool) {
	count := map[string]int{}
	cores := map[string]float64{}
	for _, o := range g.Openings {
		steps := f.Holes[o.Hole].Steps
		if len(steps) < 2 || o.Far {
			continue
		}
		for _, name := range screws.Names() {
			s, err := screws.Find(name)
			d := steps[1].Diameter
			minor := s.Diameter - 5*math.Sqrt(3)/8*s.Pitch // D1 of ISO 724
			if err == nil && d >= minor-sameBore && d <= s.Drill()+0.1+sameBore {
				count[name]++
				cores[name] = d
				break
			}
		}
	}
	for _, name := range screws.Names() {
		if 2*count[name] > len(g.Openings) {
			return name, cores[name], true
		}
	}
	return "", 0, false
}
