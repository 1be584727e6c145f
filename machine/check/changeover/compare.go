package changeover

import (
	"math"
	"path/filepath"
	"slices"

	"gridswing/geom"
	"gridswing/machine"
)

// samePlace is how far, in mm, poses may be apart that count as one: what rounding
// leaves of different ways to say where something stands.
const samePlace = 1e-6

// loaded lists what is put on, the first first: the placed components, and then the
// counterweight, if it stands there.
func loaded(s *machine.Setup) []string {
	list := slices.Clone(s.Loading.Order)
	if c := s.Counterweight; c != nil && c.Body >= 0 {
		list = append(list, s.Bodies[c.Body].Unit)
	}
	return list
}

// handling returns how a component is handled.
func handling(s *machine.Setup, unit string) *machine.Handling {
	if isCounterweight(s, unit) {
		return counterweight(s)
	}
	i := slices.IndexFunc(s.Handling, func(h machine.Handling) bool { return h.Unit == unit })
	return &s.Handling[i]
}

// seatOf returns where a component stands.
func seatOf(s *machine.Setup, unit string) *machine.Seat {
	if isCounterweight(s, unit) {
		return counterweightSeat(s)
	}
	i := slices.IndexFunc(s.Seats, func(seat machine.Seat) bool { return seat.Unit == unit })
	return &s.Seats[i]
}

// supports lists what a component stands on, the machine among it.
func supports(s *machine.Setup, unit string) (list []string) {
	if isCounterweight(s, unit) {
		return []string{counterweightSeat(s).On}
	}
	for _, st := range s.Standing {
		if st.Unit == unit {
			list = append(list, st.On)
		}
	}
	return list
}

// staying returns the components that stay, From's name by To's: the same component file
// in the same place, on what stays, located and gripped alike.
func staying(from, to *machine.Setup) map[string]string {
	stays := map[string]string{machineUnit: machineUnit}
	if from == nil {
		return stays
	}
	taken := map[string]bool{}
	for _, unit := range loaded(to) {
		for _, old := range loaded(from) {
			if !taken[old] && stands(from, to, old, unit, stays) {
				stays[unit], taken[old] = old, true
				break
			}
		}
	}
	return stays
}

const machineUnit = "machine"

// stands reports whether a component of From is one of To, and may stay.
func stands(from, to *machine.Setup, old, unit string, stays map[string]string) bool {
	a, b := handling(from, old), handling(to, unit)
	if !sameFile(a.Component, b.Component) || !samePose(a.Frame, b.Frame) {
		return false
	}
	var under []string
	for _, on := range supports(to, unit) {
		was, stay := stays[on]
		if !stay {
			return false
		}
		under = append(under, was)
	}
	if !slices.Equal(supports(from, old), under) {
		return false
	}
	p, q := seatOf(from, old), seatOf(to, unit)
	if p.Grid != q.Grid || len(p.Locators) != len(q.Locators) || (p.Gripped == nil) != (q.Gripped == nil) {
		return false
	}
	for i := range p.Locators {
		if p.Locators[i].Kind != q.Locators[i].Kind || p.Locators[i].Hole != q.Locators[i].Hole {
			return false
		}
	}
	return q.Gripped == nil || gripStays(from, to, under, stays)
}

// gripStays reports whether the setting axes of what grips a component are set alike.
func gripStays(from, to *machine.Setup, under []string, stays map[string]string) bool {
	for i := range to.Settings {
		b := &to.Settings[i]
		was := stays[b.Unit]
		if !slices.Contains(under, was) {
			continue
		}
		if a := setting(from, was, b.Axis); a == nil || math.Abs(a.At-b.At) > samePlace {
			return false
		}
	}
	return true
}

// setting finds a setting axis; nil if there is none.
func setting(s *machine.Setup, unit, axis string) *machine.Setting {
	for i := range s.Settings {
		if s.Settings[i].Unit == unit && s.Settings[i].Axis == axis {
			return &s.Settings[i]
		}
	}
	return nil
}

// sameFile reports whether two names, as setups have them, are of one file.
func sameFile(a, b string) bool {
	if a == b {
		return true
	}
	x, err := filepath.Abs(a)
	y, err2 := filepath.Abs(b)
	return err == nil && err2 == nil && x == y
}

func samePose(a, b geom.Pose) bool {
	if a.T.Sub(b.T).Norm() > samePlace {
		return false
	}
	for i := range a.R {
		for k := range a.R[i] {
			if math.Abs(a.R[i][k]-b.R[i][k]) > samePlace/1000 { // over a metre
				return false
			}
		}
	}
	return true
}
