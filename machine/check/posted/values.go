package posted

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/offsets"
	"gridswing/machine/program"
)

// What offsets and lengths come from, for print.
const (
	fromProgram  = "program"
	fromKeyed    = "keyed in"
	fromComputed = "computed"
)

// Values returns what is keyed in at the control before the program begins: what the setup says
// and, where it says nothing, what is computed for it (nil: nothing is). Lengths that are computed
// have the number of their tool. Which of them are taken so is said by Compare.
func Values(s *machine.Setup, computed *check.Offsets) program.Values {
	v := program.Values{Offsets: map[string]motion.Params{}, Lengths: map[int]float64{}, Radii: map[int]float64{}}
	if computed != nil {
		for i := range computed.Offsets {
			o := &computed.Offsets[i]
			if _, twice := v.Offsets[o.Number]; o.Number != "" && !twice {
				v.Offsets[o.Number] = valuesOf(s, o)
			}
		}
		for _, t := range s.Tools {
			if l, err := offsets.Length(s, t.LPR()); err == nil {
				v.Lengths[t.Number] = l
			}
		}
	}
	if s.Keyed == nil {
		return v
	}
	for name, k := range s.Keyed.Offsets {
		values, known := v.Offsets[name]
		for a := range s.Axes {
			switch {
			case k.Stated[a]:
				values[a] = k.Values[a]
			case s.Axes[a].Kind == motion.Rotary:
				values[a] = 0
			}
		}
		if known || allStated(s, &k) {
			v.Offsets[name] = values
		}
	}
	for h, l := range s.Keyed.Lengths {
		v.Lengths[h] = l
	}
	for d, r := range s.Keyed.Radii {
		v.Radii[d] = r
	}
	return v
}

// allStated reports whether a keyed offset says all that matters: a rotary axis that it leaves out has
// nothing keyed in, but of a linear one it is not known what is.
func allStated(s *machine.Setup, k *machine.KeyedOffset) bool { return len(unstated(s, k)) == 0 }

// unstated lists the linear axes that a keyed offset leaves out; U, V and W may be.
func unstated(s *machine.Setup, k *machine.KeyedOffset) (letters []string) {
	for a := range s.Axes {
		if ax := &s.Axes[a]; ax.Kind == motion.Linear && !k.Stated[a] && !secondary(ax.Letter) {
			letters = append(letters, ax.Letter)
		}
	}
	return letters
}

func secondary(letter string) bool { return letter != "" && letter[0] >= 'U' && letter[0] <= 'W' }

// valuesOf returns a computed offset as the control has it, mm and rad.
func valuesOf(s *machine.Setup, o *check.WorkOffset) (v motion.Params) {
	for a := range s.Axes {
		for _, list := range [][]check.Position{o.Linear, o.Turn} {
			for _, at := range list {
				if at.Axis == s.Axes[a].Letter {
					v[a] = at.Value * scaleOf(at.Unit)
				}
			}
		}
	}
	return v
}

// scaleOf returns how many mm or rad a unit is.
func scaleOf(unit string) float64 {
	switch unit {
	case "deg":
		return math.Pi / 180
	case geom.Inch.String():
		return float64(geom.Inch)
	}
	return 1
}

// assumed says what an offset rests on that nobody has stated.
func assumed(s *machine.Setup, o *check.ProgramOffset) string {
	if o.Source != fromKeyed {
		return ""
	}
	k := s.Keyed.Offsets[o.Number]
	if left := unstated(s, &k); len(left) > 0 {
		return fmt.Sprintf("%s of %s not keyed in by the setup file: taken as computed for the setup", strings.Join(left, ", "), o.Number)
	}
	return ""
}

// assumedOffsets says what offsets rest on that nobody has keyed in.
func assumedOffsets(names []string) string {
	names = slices.Clone(names)
	slices.Sort(names)
	names = slices.Compact(names)
	are := "are"
	if len(names) == 1 {
		are = "is"
	}
	return fmt.Sprintf("%s %s not keyed in by the setup file ([[keyed.offset]]): taken as computed for the setup", enumerated(names), are)
}

// enumerated lists names, of which there is at least one: "A, B and C".
func enumerated(names []string) string {
	last := len(names) - 1
	if last == 0 {
		return names[0]
	}
	return strings.Join(names[:last], ", ") + " and " + names[last]
}
