package choose

import (
	"context"
	"slices"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// commonOf says what is the same with and without the changes, and so in all candidates that
// change the same; nil without changes. A stick-out changes the tool, and the one that stands for all
// tools, and how they stand to everything.
func commonOf(s *machine.Setup, changes []machine.Change) *proof.Common {
	var tools []int
	kinds := make([]func(unit string) int, 0, len(changes))
	for i := range changes {
		switch c := &changes[i]; {
		case c.StickOut != nil:
			tools = append(tools, c.StickOut.Tool)
			kinds = append(kinds, func(unit string) int {
				if unit == machine.ToolUnit {
					return other
				}
				return stays
			})
		case c.Seat != nil:
			moved := append(above(s, c.Seat.Place), c.Seat.Place)
			kinds = append(kinds, func(unit string) int { return with(moved, unit) })
		case c.Stack != nil:
			place, moved := c.Stack.Place, above(s, c.Stack.Place)
			known := unitsOf(s)
			kinds = append(kinds, func(unit string) int {
				if unit == place || !slices.Contains(known, unit) {
					return other
				}
				return with(moved, unit)
			})
		}
	}
	if len(kinds) == 0 {
		return nil
	}
	return &proof.Common{
		Units: func(a, b string) bool {
			for _, kind := range kinds {
				if k := kind(a); k == other || k != kind(b) {
					return false
				}
			}
			return true
		},
		Tool: func(number int) bool { return !slices.Contains(tools, number) },
	}
}

// What a change does to a unit.
const (
	stays = iota
	moves
	other // it is another one
)

func with(moved []string, unit string) int {
	if slices.Contains(moved, unit) {
		return moves
	}
	return stays
}

// above lists the units that stand on a place, and on those, and so go where it goes: of what stands
// on several, the first is where its place counts from.
func above(s *machine.Setup, place string) (list []string) {
	on := map[string]string{}
	for i := range s.Standing {
		if st := &s.Standing[i]; on[st.Unit] == "" {
			on[st.Unit] = st.On
		}
	}
	under := []string{place}
	for len(under) > 0 {
		for i := range s.Standing {
			if unit := s.Standing[i].Unit; on[unit] == under[0] && !slices.Contains(list, unit) {
				list, under = append(list, unit), append(under, unit)
			}
		}
		under = under[1:]
	}
	return list
}

func unitsOf(s *machine.Setup) (list []string) {
	for i := range s.Bodies {
		if u := s.Bodies[i].Unit; !slices.Contains(list, u) {
			list = append(list, u)
		}
	}
	return list
}

// commonMargins are those that do not depend on what is chosen, where they are tighter than what
// does: of the setup as it is, which has them like every candidate.
func commonMargins(ctx context.Context, d *machine.Draft, changes []machine.Change, o Options) ([]check.Margin, error) {
	list := []check.Margin{}
	o.Common, o.GiveUp = commonOf(d.Setup(), changes), nil
	if o.Common == nil {
		return list, nil
	}
	of, err := Look(ctx, d, Candidate{}, o)
	if err != nil {
		return list, err
	}
	o.Common = nil
	all, err := Look(ctx, d, Candidate{}, o)
	if err != nil {
		return list, err
	}
	for i := range all.Judged {
		mine := of.Judged[slices.IndexFunc(of.Judged, func(j check.Judged) bool { return j.Concern == all.Judged[i].Concern })].Margin
		if m := all.Judged[i].Margin; m != nil && (mine == nil || check.Less(m.Share, mine.Share)) {
			list = append(list, *m)
		}
	}
	return list, nil
}
