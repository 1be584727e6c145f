package changeover

import (
	"fmt"
	"slices"

	"gridswing/machine"
)

// orders returns what comes off and what goes on, each in its order: of a setup's loading,
// backwards for what comes off.
func orders(from, to *machine.Setup, stays map[string]string) (off, on []string, err error) {
	kept := map[string]bool{}
	for _, old := range stays {
		kept[old] = true
	}
	if from != nil {
		for _, unit := range slices.Backward(loaded(from)) {
			if !kept[unit] {
				off = append(off, unit)
			}
		}
		if err := checkOff(from, off); err != nil {
			return nil, nil, err
		}
	}
	for _, unit := range loaded(to) {
		if _, stay := stays[unit]; !stay {
			on = append(on, unit)
		}
	}
	return off, on, checkOn(to, on)
}

// checkOff goes through the steps down: nothing may stand on what comes off.
func checkOff(s *machine.Setup, off []string) error {
	standing := loaded(s)
	for _, unit := range off {
		for _, other := range standing {
			if slices.Contains(supports(s, other), unit) {
				return fmt.Errorf("%s: loading_order: found %q coming off while %q still stands on it, expected what stands on it first",
					s.File, unit, other)
			}
		}
		standing = slices.DeleteFunc(standing, func(u string) bool { return u == unit })
	}
	return nil
}

// checkOn goes through the steps up: what something stands on must be there.
func checkOn(s *machine.Setup, on []string) error {
	there := func(unit string, done int) bool {
		i := slices.Index(on, unit)
		return i < done // -1: it stays, or is the machine
	}
	for i, unit := range on {
		for _, under := range supports(s, unit) {
			if !there(under, i) {
				return fmt.Errorf("%s: loading_order: found %q going on before %q, expected what it stands on first",
					s.File, unit, under)
			}
		}
	}
	return nil
}
