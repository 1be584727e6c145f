package main

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
)

// position is a letter and a decimal number as in a program.
var position = regexp.MustCompile(`^([A-Z][0-9]?)=([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+))$`)

// parseAt reads axis positions such as "A=45,C=90": degrees for rotary axes, mm
// for linear ones, whatever the unit of the files. Axes not named stand at home.
func parseAt(s *machine.Setup, text string) (motion.Params, error) {
	p := pictures.Home(s)
	if text == "" {
		return p, nil
	}
	named := map[string]bool{}
	for _, part := range strings.Split(text, ",") {
		m := position.FindStringSubmatch(part)
		if m == nil {
			return p, wrong("letters as in the program, no blanks", "--at: found %q, expected axis=position, such as A=45,C=90", part)
		}
		k := axisIndex(s, m[1])
		if k < 0 {
			return p, wrong("", "--at: found axis %s, expected one of: %s", m[1], letters(s))
		}
		if named[m[1]] {
			return p, wrong("", "--at: found axis %s a second time, expected each axis once", m[1])
		}
		named[m[1]] = true
		value, err := strconv.ParseFloat(m[2], 64)
		if err != nil { // beyond float64
			return p, wrong("", "--at: found %q, expected a number", m[2])
		}
		if p[k], err = within(&s.Axes[k], value); err != nil {
			return p, err
		}
	}
	return p, nil
}

// within turns a position as people say it into a parameter of the axis. An
// axis without ends takes up to a thousand turns.
func within(a *machine.Axis, value float64) (float64, error) {
	if a.Unlimited && math.Abs(value) > 360e3 {
		return 0, wrong("", "--at: found %s at %g, expected -360000 to 360000 deg", a.Letter, value)
	}
	param := value
	if a.Kind == motion.Rotary {
		param = value / 90 * (math.Pi / 2) // quarter turns come out as poses turn by them
	}
	if !a.Unlimited && (param < a.Travel[0] || param > a.Travel[1]) {
		travel := check.RangeOf(a, a.Travel[0], a.Travel[1])
		return 0, wrong("", "--at: found %s at %g, expected a position within its travel, %.6g to %.6g %s",
			a.Letter, value, travel.From, travel.To, travel.Unit)
	}
	return param, nil
}

func axisIndex(s *machine.Setup, letter string) int {
	for k := range s.Axes {
		if s.Axes[k].Letter == letter {
			return k
		}
	}
	return -1
}

// letters lists the axes of the setup.
func letters(s *machine.Setup) string {
	var list []string
	for k := range s.Axes {
		list = append(list, s.Axes[k].Letter)
	}
	slices.SortFunc(list, check.ByLetter)
	return strings.Join(list, ", ")
}
