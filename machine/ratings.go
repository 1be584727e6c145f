package machine

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// Ratings are what the maker of a unit with rotary axes rates it for, as its file
// states them. A rating of 0 is not stated.
type Ratings struct {
	Unit string // the placed component, or "machine"
	// Tilt and Rotary are the unit's axes, indices into Setup.Axes; -1 for one that it
	// has not. Tilt carries Rotary, and Rotary the faceplate.
	Tilt, Rotary int
	// Load is the mass that the faceplate may carry, over tilt, rising; between two
	// entries it is on the straight line. Nil if it is not stated.
	Load []RatedLoad
	// Moments are in N m: about the two axes, and on the faceplate square to the
	// rotary axis.
	TiltMoment, RotaryMoment, FaceplateMoment float64
	// NotRated lists, by their keys, those that the file says its maker does not give.
	NotRated []string
	// IncludesOwn says that the moments about the axes count what the unit itself
	// moves, its cradle and its faceplate.
	IncludesOwn bool
	// Accelerations, rad/s2; 0 if they are not stated.
	TiltAcceleration, RotaryAcceleration float64
	// Face is a point on the face of the faceplate, bed frame with every axis at zero; it
	// means something where FaceplateMoment is stated.
	Face r3.Vector
}

// Keys of ratings, as NotRated has them.
const (
	LoadKey            = "load"
	TiltMomentKey      = "tilt_moment"
	RotaryMomentKey    = "rotary_moment"
	FaceplateMomentKey = "faceplate_moment"
)

// RatedLoad is the mass in kg that a faceplate may carry at a tilt. The first one of
// a load that holds at any tilt is at -Inf, the last one at +Inf.
type RatedLoad struct {
	Tilt float64 // rad, in the programmed sense
	Mass float64
}

// ratedLoad is how a file writes a load: a number, or a list of pairs of a tilt in
// degrees and kg. A number becomes two pairs at the ends of everything.
type ratedLoad []pair

// put reads a load.
func (l *ratedLoad) put(s *source, value any, path string) {
	if n, ok := number(value); ok {
		*l = ratedLoad{{math.Inf(-1), n}, {math.Inf(1), n}}
		return
	}
	items, ok := value.([]any)
	if !ok || len(items) < 2 {
		s.kindFault(path, value, "a number of kg, or two or more pairs [[0, 120], [90, 60]] of a tilt in degrees and kg")
		return
	}
	for i, item := range items {
		at := fmt.Sprintf("%s[%d]", path, i)
		if n, ok := s.numbers(item, 2, at, "a tilt in degrees and kg"); ok {
			*l = append(*l, pair{n[0], n[1]})
		}
	}
}

// ratings are those of a file: its axes by their place in the file.
type ratings struct {
	Ratings      // but for Unit, Tilt and Rotary; Face in the file's coordinates, mm
	tilt, rotary int
}

// readRatings reads a table of ratings; nil if there is none.
func (a *assembly) readRatings(t *ratingsTable, ofMachine bool) *ratings {
	if t == nil {
		return nil
	}
	r := &ratings{tilt: a.ratedAxis(t.Path, "tilt", t.Tilt, ofMachine), rotary: a.ratedAxis(t.Path, "rotary", t.Rotary, ofMachine)}
	src := a.src
	if t.Tilt == "" && t.Rotary == "" {
		src.fault(t.Path, "neither tilt nor rotary", `tilt = "A", the axis that tilts, rotary = "C", the one that turns the faceplate, or both`)
	}
	if r.tilt >= 0 && r.rotary >= 0 && !a.carries(r.tilt, r.rotary) {
		src.fault(t.Path+".rotary", quoted(t.Rotary), "an axis that %s carries", t.Tilt)
	}
	r.Load = a.ratedLoads(t)
	value := func(key string, v *float64) float64 {
		if v == nil {
			return 0
		}
		return src.positive(t.Path+"."+key, *v)
	}
	r.TiltMoment = value("tilt_moment", t.TiltMoment)
	r.RotaryMoment = value("rotary_moment", t.RotaryMoment)
	r.FaceplateMoment = value("faceplate_moment", t.FaceplateMoment)
	r.TiltAcceleration = radians(value("tilt_acceleration", t.TiltAcceleration))
	r.RotaryAcceleration = radians(value("rotary_acceleration", t.RotaryAcceleration))
	if t.IncludesOwn != nil {
		r.IncludesOwn = *t.IncludesOwn
	} else if t.TiltMoment != nil || t.RotaryMoment != nil {
		src.fault(t.Path, "no includes_own", "includes_own = true, if the moments count the unit's own cradle and faceplate, or false")
	}
	if t.Face != nil {
		r.Face = a.unit.point(*t.Face)
	} else if t.FaceplateMoment != nil {
		src.fault(t.Path, "a faceplate_moment and no face", "face = [x, y, z], a point on the face of the faceplate")
	}
	r.NotRated = t.NotRated
	a.notRated(t)
	a.needsAxes(t)
	return r
}

// ratedAxis returns the place of a rotary axis that is named; -1 for none.
func (a *assembly) ratedAxis(path, key, letter string, ofMachine bool) int {
	if !a.src.states(path + "." + key) {
		return -1
	}
	var known []string
	for i, x := range a.axes {
		if x.setting || x.kind != motion.Rotary || ofMachine && x.onTool {
			continue
		}
		if x.id == letter {
			return i
		}
		known = append(known, x.id)
	}
	expected := "a rotary axis that carries the workpiece, and this file has none"
	if len(known) > 0 {
		expected = oneOf(letter, known)
	}
	a.src.fault(path+"."+key, quoted(letter), "%s", expected)
	return -1
}

// carries reports whether the one axis of an assembly carries the other.
func (a *assembly) carries(lower, upper int) bool {
	for range a.axes { // no longer than the longest chain, should it be a circle
		if upper = a.axes[upper].carriedBy; upper < 0 || upper == lower {
			break
		}
	}
	return upper == lower
}

// ratedLoads reads the load over tilt.
func (a *assembly) ratedLoads(t *ratingsTable) (loads []RatedLoad) {
	path := t.Path + ".load"
	for i, p := range t.Load {
		at := path
		if !math.IsInf(p[0], 0) {
			at = fmt.Sprintf("%s[%d]", path, i)
		}
		if p[1] <= 0 && (i == 0 || at != path) {
			a.src.fault(at, fmt.Sprintf("%g kg", p[1]), "more than 0")
		}
		if i > 0 && p[0] <= t.Load[i-1][0] {
			a.src.fault(at, fmt.Sprintf("a tilt of %g after %g", p[0], t.Load[i-1][0]), "tilts that rise")
		}
		if i == 0 && at != path && t.Tilt == "" {
			a.src.fault(path, "a load over tilt", "tilt = the axis that tilts, or one number")
		}
		loads = append(loads, RatedLoad{Tilt: radians(p[0]), Mass: p[1]})
	}
	return loads
}

// needsAxes refuses what is said of an axis that is not named.
func (a *assembly) needsAxes(t *ratingsTable) {
	for _, key := range []string{"tilt_moment", "tilt_acceleration", "rotary_moment", "rotary_acceleration", "faceplate_moment"} {
		axis, _, _ := strings.Cut(key, "_")
		named := t.Tilt
		if axis != "tilt" {
			axis, named = "rotary", t.Rotary
		}
		if a.src.states(t.Path+"."+key) && named == "" {
			a.src.fault(t.Path+"."+key, "a rating of no axis", "%s = the letter of the axis that it is about", axis)
		}
	}
}

// notRated checks what the maker is said not to rate.
func (a *assembly) notRated(t *ratingsTable) {
	known := []string{LoadKey, TiltMomentKey, RotaryMomentKey, FaceplateMomentKey}
	for i, key := range t.NotRated {
		at := fmt.Sprintf("%s.not_rated[%d]", t.Path, i)
		switch {
		case !slices.Contains(known, key):
			a.src.fault(at, quoted(key), "%s", oneOf(key, known))
		case a.src.states(t.Path + "." + key):
			a.src.fault(at, quoted(key)+", which is rated here", "a rating that is not there")
		case slices.Contains(t.NotRated[:i], key):
			a.src.fault(at, quoted(key)+" a second time", "each once")
		}
	}
}

// addRatings lists the ratings of all that is placed, the machine's first.
func (b *builder) addRatings() {
	for _, p := range b.inOrder() {
		if p.ratings == nil {
			continue
		}
		r := p.ratings.Ratings
		r.Unit, r.Tilt, r.Rotary = p.unit, -1, -1
		last := p.ratings.tilt
		if last >= 0 {
			r.Tilt = p.params[last]
		}
		if p.ratings.rotary >= 0 {
			last = p.ratings.rotary
			r.Rotary = p.params[last]
		}
		f := p.axisFrame(last, false)
		r.Face = f.home.Point(r.Face)
		b.setup.Ratings = append(b.setup.Ratings, r)
	}
}
