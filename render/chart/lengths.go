package chart

import (
	"math"
	"strconv"

	"gridswing/render/measure"
)

// lengths returns ticks from 0 to hi at steps of 1, 2 or 5 times a power of ten, so that there are
// at most n intervals.
func lengths(hi float64, n int) []float64 {
	p := math.Pow(10, math.Floor(math.Log10(hi/float64(n))))
	step := 10 * p
	for _, m := range []float64{1, 2, 5} {
		if hi/(m*p) <= float64(n)*(1+1e-9) {
			step = m * p
			break
		}
	}
	return multiples(0, hi, step)
}

// clearance is a tick of the scale of clearances.
type clearance struct {
	mm    float64
	words string
}

// clearances returns the ticks of the scale of clearances up to the cap, round in the unit that is
// read, so that there are at most n intervals.
func (d *sheet) clearances(n int) (ticks []clearance) {
	for _, v := range lengths(d.Lengths.In(d.Cap), n) {
		ticks = append(ticks, clearance{d.Lengths.MM(v), digits(v)})
	}
	return ticks
}

// digits prints a number of 0 or more without what float64 arithmetic leaves of it, which is beyond
// the twelfth digit.
func digits(v float64) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 12, 64), 64)
	if err != nil { // no number of float64 fails to come back
		r = v
	}
	return strconv.FormatFloat(r+0, 'f', -1, 64) // + 0: zero has no sign
}

// demanded prints the demand.
func (d *sheet) demanded() string { return number(d.Lengths.In(d.Demand)) }

// roundCap returns the cap of a chart that is not read in mm: checks have round ones of mm, and the
// scale is to end at a tick. It is lower, for of what is above theirs they say no more, but not below
// the demand.
func roundCap(l measure.Lengths, limit, demand float64) float64 {
	if l.In(1) == 1 {
		return limit
	}
	for n := 10; n <= 1000; n *= 10 {
		ticks := lengths(l.In(limit), n)
		if top := min(l.MM(ticks[len(ticks)-1]), limit); top >= demand || demand > limit {
			return top
		}
	}
	return limit
}

// held returns a clearance of a chart whose cap is lowered: it is held at the cap as it was at the
// one before.
func held(mm, before, limit float64) float64 {
	if mm <= before {
		return min(mm, limit)
	}
	return mm
}
