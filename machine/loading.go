package machine

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"gridswing/geom/motion"
	"gridswing/machine/screws"
)

// Loading is how a setup is loaded.
type Loading struct {
	At motion.Params // where the axes stand: Setup.Axes[k] at At[k]
	// Stated lists the axes that the setup states a position of, the others are at home.
	Stated []int
	// Set is where setting axes of the machine stand meanwhile, such as that of a door, mm or
	// radians by their names; those that are left out stand where the setup sets them.
	Set map[string]float64
	// Order lists the placed components, the first to be loaded first.
	Order []string
}

// addLoading reads where the axes stand while the setup is loaded, and in which order it
// is. What stands on something comes after it.
func (b *builder) addLoading() {
	l := &b.setup.Loading
	for k := range b.setup.Axes {
		l.At[k] = b.setup.Axes[k].Home
	}
	for _, letter := range slices.Sorted(maps.Keys(b.file.Loading)) {
		key := join("loading", letter)
		if b.setForLoading(key, letter) {
			continue
		}
		a := b.lookUp(key, letter)
		if a == nil {
			continue
		}
		at := b.position(a, b.file.Loading[letter])
		if !span(a.Travel).holds(at) {
			b.src.fault(key, fmt.Sprint(b.file.Loading[letter]), "a position within the travel of %s, %s", letter, b.travelOf(a))
		}
		k := slices.IndexFunc(b.setup.Axes, func(x Axis) bool { return x.Letter == letter })
		l.At[k] = at
		l.Stated = append(l.Stated, k)
	}
	slices.Sort(l.Stated)
	l.Order = b.loadingOrder()
	b.addFriction()
}

// setForLoading reads where a setting axis of the machine stands while the setup is loaded;
// false if the machine has none of that name.
func (b *builder) setForLoading(key, name string) bool {
	for _, a := range b.base.axes {
		if !a.setting || a.id != name {
			continue
		}
		v := b.file.Loading[name]
		at := b.unit.mm(v)
		if a.kind == motion.Rotary {
			at = radians(v)
		}
		if !a.travel.holds(at) {
			b.src.fault(key, fmt.Sprint(v), "%s, the travel of %q", a.between(a.travel, b.unit), name)
		}
		if b.setup.Loading.Set == nil {
			b.setup.Loading.Set = make(map[string]float64)
		}
		b.setup.Loading.Set[name] = at
		return true
	}
	return false
}

// loadingOrder returns the order that is stated, or that of the file, in which only what
// stands on something later is put after it.
func (b *builder) loadingOrder() (order []string) {
	if b.file.LoadingOrder != nil {
		return b.statedOrder()
	}
	var waiting []string
	var load func(name string)
	load = func(name string) {
		if slices.Contains(order, name) {
			return
		}
		if i := slices.Index(waiting, name); i >= 0 { // by way of also_on: places cannot stand on each other
			circle := append(slices.Clone(waiting[i:]), name)
			b.src.fault(b.tables[name].Path+".on", strings.Join(circle, " on "), "a stack that ends on the machine, also_on included")
			return
		}
		waiting = append(waiting, name)
		for _, under := range b.supports(b.tables[name]) {
			load(under)
		}
		waiting = waiting[:len(waiting)-1]
		order = append(order, name)
	}
	for i := range b.file.Places {
		load(b.file.Places[i].Name)
	}
	return order
}

// supports lists the places that a component stands on.
func (b *builder) supports(t *placeTable) (names []string) {
	for _, st := range b.setup.Standing {
		if st.Unit == t.Name && st.On != machineUnit {
			names = append(names, st.On)
		}
	}
	return names
}

func (b *builder) statedOrder() []string {
	order := b.file.LoadingOrder
	var names []string
	for i := range b.file.Places {
		names = append(names, b.file.Places[i].Name)
	}
	for i, name := range order {
		key := fmt.Sprintf("loading_order[%d]", i)
		switch t := b.tables[name]; {
		case t == nil:
			b.src.fault(key, quoted(name), "a place: %s", oneOf(name, names))
		case slices.Index(order, name) < i:
			b.src.fault(key, quoted(name)+" a second time", "each place once")
		default:
			for _, under := range b.supports(t) {
				if !slices.Contains(order[:i], under) {
					b.src.fault(key, fmt.Sprintf("%s before %s", quoted(name), quoted(under)), "what it stands on before it")
				}
			}
		}
	}
	for _, name := range names {
		if !slices.Contains(order, name) {
			b.src.fault("loading_order", "no "+quoted(name), "every place once")
		}
	}
	return order
}

// addFriction reads the coefficient of friction of screws: the range is that of the
// classes of VDI 2230-1.
func (b *builder) addFriction() {
	if b.file.Friction == nil {
		return
	}
	f := *b.file.Friction
	if !(f >= screws.LeastFriction && f <= screws.MostFriction) {
		b.src.fault("friction", fmt.Sprint(f), "%g to %g, of threads and heads of screws", screws.LeastFriction, screws.MostFriction)
	}
	b.setup.Friction = f
}
