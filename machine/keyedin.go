package machine

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
)

// furtherOffset is the name of a work offset with a number: "G57.5 P12".
var furtherOffset = regexp.MustCompile(`^(G[0-9]+(?:\.[1-9])?) P[1-9][0-9]{0,3}$`)

// mostOffset is the highest number that H and D may have.
const mostOffset = 9999

// addKeyed reads what is keyed in at the control.
func (b *builder) addKeyed() {
	t := b.file.Keyed
	if t == nil {
		return
	}
	k := &Keyed{Offsets: make(map[string]KeyedOffset), Lengths: make(map[int]float64), Radii: make(map[int]float64)}
	for i := range t.Offsets {
		b.keyedOffset(&t.Offsets[i], k)
	}
	for i := range t.Lengths {
		l := &t.Lengths[i]
		if b.offsetNumber(l.Path+".h", l.H, k.Lengths) {
			k.Lengths[l.H] = b.unit.mm(l.Length)
		}
	}
	for i := range t.Radii {
		r := &t.Radii[i]
		if b.offsetNumber(r.Path+".d", r.D, k.Radii) {
			k.Radii[r.D] = b.unit.mm(r.Radius)
		}
	}
	b.setup.Keyed = k
}

// keyedOffset reads one work offset. An axis that it does not name is not keyed in.
func (b *builder) keyedOffset(t *keyedOffsetTable, k *Keyed) {
	if _, twice := k.Offsets[t.Number]; twice {
		b.src.fault(t.Path+".number", quoted(t.Number)+" a second time", "each offset once")
	}
	b.checkOffsetName(t)
	var o KeyedOffset
	for _, letter := range slices.Sorted(maps.Keys(t.At)) {
		a := b.lookUp(t.Path+".at."+letter, letter)
		if a == nil {
			continue
		}
		i := slices.IndexFunc(b.setup.Axes, func(x Axis) bool { return x.Letter == letter })
		o.Values[i], o.Stated[i] = b.position(a, t.At[letter]), true
	}
	k.Offsets[t.Number] = o
}

// checkOffsetName holds the name of a keyed offset to those that the machine has.
func (b *builder) checkOffsetName(t *keyedOffsetTable) {
	numbers := standardOffsets()
	if r := b.setup.Offsets; r != nil {
		numbers = r.Numbers
	}
	if slices.Contains(numbers, t.Number) {
		return
	}
	var further []string
	if c := b.setup.Control; c != nil {
		for _, name := range slices.Sorted(maps.Keys(c.Codes)) {
			if c.Codes[name] == MoreOffsets {
				further = append(further, name)
			}
		}
	}
	if m := furtherOffset.FindStringSubmatch(t.Number); m != nil && slices.Contains(further, m[1]) {
		return
	}
	expected := oneOf(t.Number, numbers)
	if len(further) > 0 {
		expected += fmt.Sprintf(", or %s with a number, such as %q", strings.Join(further, ", "), further[0]+" P1")
	}
	b.src.fault(t.Path+".number", quoted(t.Number), "%s", expected)
}

// offsetNumber checks the number that a length or radius is keyed in under.
func (b *builder) offsetNumber(path string, n int, known map[int]float64) bool {
	_, twice := known[n]
	switch {
	case n < 1 || n > mostOffset:
		b.src.fault(path, fmt.Sprint(n), "1 to %d", mostOffset)
		return false
	case twice:
		b.src.fault(path, fmt.Sprintf("%d a second time", n), "each number once")
		return false
	}
	return true
}
