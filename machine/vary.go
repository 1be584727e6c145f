package machine

import (
	"fmt"
	"slices"
)

// apply makes one change to what the files say, before anything is built of it.
func (d *Draft) apply(b *builder, c *Change) error {
	set := 0
	for _, is := range []bool{c.Seat != nil, c.Stack != nil, c.StickOut != nil} {
		if is {
			set++
		}
	}
	switch {
	case set != 1:
		return refuse("", "", fmt.Sprintf("a change with %d of its fields set", set), "one")
	case c.Seat != nil:
		return b.reseat(c.Seat)
	case c.Stack != nil:
		return d.restack(b, c.Stack)
	}
	return d.restick(b, c.StickOut)
}

// reseat gives a place other holes.
func (b *builder) reseat(c *SeatChange) error {
	t, err := b.pinned(c.Place)
	if err != nil {
		return err
	}
	t.Pins = c.Pins[:]
	return nil
}

// pinned returns a place that stands in holes.
func (b *builder) pinned(place string) (*placeTable, error) {
	i := slices.IndexFunc(b.file.Places, func(t placeTable) bool { return t.Name == place })
	if i < 0 {
		return nil, refuse("", "place", quoted(place), "%s", oneOf(place, b.placeNames()))
	}
	t := &b.file.Places[i]
	if t.Pins == nil {
		return nil, refuse(place, "", "a place that stands by coordinates or in a slot", "one that stands in two holes of a grid")
	}
	return t, nil
}

func (b *builder) placeNames() (names []string) {
	for i := range b.file.Places {
		names = append(names, b.file.Places[i].Name)
	}
	return names
}

// stickOut is a tool of a tool file at a stick-out of mm.
type stickOut struct {
	tool *libraryTool
	mm   float64
}

// restick gives a tool another stick-out. The tool file is left as it is: the setup gets
// one of its own.
func (d *Draft) restick(b *builder, c *StickOutChange) error {
	name := fmt.Sprintf("T%d", c.Tool)
	if !(c.MM > 0 && c.MM <= largest) {
		return refuse(name, "stick_out", fmt.Sprintf("%g mm", c.MM), "more than 0")
	}
	var numbers []string
	for i, l := range b.libraries {
		for k, t := range l.tools {
			numbers = append(numbers, fmt.Sprintf("T%d", t.Number))
			if t.Number != c.Tool {
				continue
			}
			other := d.toolAt(l, t, c.MM)
			if len(other.faults) > 0 && len(t.faults) == 0 {
				return refuse(name, "", fmt.Sprintf("a stick-out of %g mm", toThousandth(c.MM)), "one that its cutter and its holder allow: %s", other.faults[0].text)
			}
			own := *l
			own.tools = slices.Clone(l.tools)
			own.tools[k] = other
			b.libraries = slices.Clone(b.libraries)
			b.libraries[i] = &own
			return nil
		}
	}
	return refuse("", "tool", name, "%s", oneOf(name, numbers))
}

// toolAt returns a tool of a tool file at another stick-out: the same one each time.
func (d *Draft) toolAt(l *library, t *libraryTool, mm float64) *libraryTool {
	d.lock.Lock()
	defer d.lock.Unlock()
	key := stickOut{t, mm}
	if other := d.tools[key]; other != nil {
		return other
	}
	other := *t
	other.Tool = *t.At(mm)
	l.judge(&other)
	d.tools[key] = &other
	return &other
}
