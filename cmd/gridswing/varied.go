package main

import (
	"regexp"
	"strconv"
	"strings"

	"gridswing/machine/check/choose"
)

const decimalForm = `([0-9]+\.?[0-9]*|\.[0-9]+)`

var stickOutForm = regexp.MustCompile(`^stick-out:T([1-9][0-9]{0,8})=` + decimalForm + `\.\.` + decimalForm + `/` + decimalForm + `$`)

// varied lists the alternatives that --vary names. Seats are turned as is asked for.
func (s *session) varied(turns []float64) (choose.Line, error) {
	if place, ok := strings.CutPrefix(s.vary, "seat:"); ok && place != "" {
		line, err := choose.SeatLine(s.draft, place, turns)
		if err != nil {
			return line, s.fault(err)
		}
		return line, nil
	}
	m := stickOutForm.FindStringSubmatch(s.vary)
	if m == nil {
		return choose.Line{}, wrong("lengths in mm: from, to and the step",
			"--vary: found %q, expected seat:PLACE or stick-out:T3=60..100/5", s.vary)
	}
	var numbers [3]float64
	for i := range numbers {
		numbers[i], _ = strconv.ParseFloat(m[i+2], 64) // what is beyond float64 is infinite, and refused
	}
	tool, _ := strconv.Atoi(m[1]) // at most nine digits
	line, err := choose.StickOutLine(s.draft, tool, numbers[0], numbers[1], numbers[2])
	if err != nil {
		return line, s.fault(err)
	}
	return line, nil
}
