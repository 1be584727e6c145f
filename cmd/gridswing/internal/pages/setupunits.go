package pages

import (
	"fmt"
	"math"

	"gridswing/machine/check"
)

// Beside kg and N m, inch pages have pounds and pound-force feet: 1 lb is 0.45359237 kg
// exactly (international yard and pound agreement of 1959), 1 lbf ft is 1.3558179483 N m (NIST
// SP 811, appendix B.8, to so many digits).
const (
	pound     = 0.45359237
	poundFoot = 1.3558179483
)

// inches reports whether lengths are printed in inches.
func (s *sheet) inches() bool { return s.u.Name() == "inch" }

func (s *sheet) massHead() string {
	if s.inches() {
		return "mass, kg (lb)"
	}
	return "mass, kg"
}

// mass prints a mass, rounded up to 0.1: lifting is not for the lower side.
func (s *sheet) mass(kg float64) string {
	words := tenth(kg)
	if s.inches() {
		words += " (" + tenth(kg/pound) + ")"
	}
	return words
}

func tenth(v float64) string { return fmt.Sprintf("%.1f", math.Ceil(v*10-1e-6)/10) }

func (s *sheet) torqueHead() string {
	if s.inches() {
		return "torque at most, N m (lbf ft)"
	}
	return "torque at most, N m"
}

// torque prints the greatest torque of a screw, rounded down.
func (s *sheet) torque(nm *float64) string {
	if nm == nil {
		return dash
	}
	words := check.TorqueWords(*nm)
	if s.inches() {
		words += " (" + check.TorqueWords(*nm/poundFoot) + ")"
	}
	return words
}

// dash stands where there is nothing.
const dash = "-"
