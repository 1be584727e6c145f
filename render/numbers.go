package render

import (
	"cmp"
	"fmt"
	"slices"

	"gridswing/render/ink"
)

// number names what has a number by it, in a circle, with a leader to where most of it is
// seen. What is not seen, or finds no place, is told.
func (d *drawing) number(setter *ink.Labels, spots []spot) {
	var wanted []ink.Label
	names := map[string]string{} // by number
	best := map[int]spot{}
	for i := range d.Items {
		it := &d.Items[i]
		if it.Number <= 0 {
			continue
		}
		words := fmt.Sprint(it.Number)
		if names[words] == "" {
			names[words] = cmp.Or(it.Unit, it.Name)
		}
		if s, ok := best[it.Number]; !ok || spots[i].inset > s.inset {
			best[it.Number] = spots[i]
		}
	}
	var order []int
	for n := range best {
		order = append(order, n)
	}
	slices.Sort(order)
	told := func(words string) { d.silent = append(d.silent, words+" ("+names[words]+")") }
	for _, n := range order {
		if words := fmt.Sprint(n); best[n].inset < 0 {
			told(words)
		} else {
			wanted = append(wanted, ink.Label{Words: words, Round: true, Anchor: best[n].Point})
		}
	}
	for _, l := range setter.Place(wanted) {
		told(l.Words)
	}
}
