package machine

import (
	"cmp"
	"fmt"
	"slices"
)

// StackOption is a stack of components that can stand where one stands.
type StackOption struct {
	Change StackChange
	Names  []string // of its components, from below
	Height float64  // from the face below it to the face on top of it, mm
}

// Unfit is a component of a catalogue that is in no stack.
type Unfit struct {
	Name, File string
	Reason     string
}

// mostStacks bounds a list of stacks.
const mostStacks = 1_000_000

// Stacks lists every stack of 1 to most components of a catalogue, each as often as one likes,
// that can stand where a place stands and carry what stands on it so that all of that keeps
// its place in plan and its orientation, nominally: the lowest first, of equally high ones
// those of fewer components, then in the order of the catalogue. Where several pairs of
// holes do, those nearest to the present ones are taken: of the lowest level first. It
// says nothing of what meets what.
//
// Components that are in no stack are listed with the reason. It is an error if the place, or
// something that stands on it, does not stand in two holes of a face alone; if what stands there
// has axes; if there would be more than a million stacks.
func (d *Draft) Stacks(place string, c *Catalogue, most int) ([]StackOption, []Unfit, error) {
	s, err := d.stacker(place)
	if err != nil {
		return nil, nil, err
	}
	if most < 1 {
		return nil, nil, refuse(place, "", fmt.Sprintf("stacks of at most %d", most), "1 or more")
	}
	var usable []int // of the catalogue
	for i := range c.Components {
		one := &c.Components[i]
		a, err := d.component(one.File)
		if err != nil {
			return nil, nil, err
		}
		if a.noTop() == "" {
			usable = append(usable, i)
			s.add(a)
		}
	}
	if n := stacksOf(len(usable), most); n > mostStacks {
		return nil, nil, refuse(place, "", fmt.Sprintf("%d components in stacks of up to %d: more than a million", len(usable), most), "fewer of either")
	}
	var found [][]int
	if err := s.each(len(usable), most, func(stack []int) { found = append(found, slices.Clone(stack)) }); err != nil {
		return nil, nil, err
	}
	in := make(map[int]bool)
	list := make([]StackOption, len(found))
	for i, stack := range found {
		o := s.option(stack)
		for _, k := range stack {
			one := &c.Components[usable[k]]
			o.Names, o.Height = append(o.Names, one.Name), o.Height+s.heights[k]
			in[usable[k]] = true
		}
		for level := range o.Change.Levels {
			o.Change.Levels[level].Component = c.Components[usable[stack[level]]].File
		}
		list[i] = o
	}
	slices.SortStableFunc(list, func(a, b StackOption) int {
		if d := a.Height - b.Height; d > samePlace || d < -samePlace {
			return cmp.Compare(a.Height, b.Height)
		}
		return len(a.Names) - len(b.Names)
	})
	return list, s.unfit(c, usable, in), nil
}

// stacksOf counts the stacks of 1 to most of n components, up to more than mostStacks.
func stacksOf(n, most int) (count int) {
	for k, level := 1, 1; k <= most && count <= mostStacks; k++ {
		level *= n
		count += level
	}
	return count
}

// each calls do for every stack, of components by their indices, that can stand there.
func (s *stacker) each(n, most int, do func([]int)) error {
	var err error
	for levels := 1; levels <= most && n > 0; levels++ {
		stack := make([]int, levels)
		for next := 0; next >= 0 && err == nil; {
			var fit *stackFit
			if fit, err = s.solve(s.shapesOf(stack)); fit != nil {
				do(stack)
			}
			for next = levels - 1; next >= 0; next-- { // counts up, the uppermost fastest
				if stack[next]++; stack[next] < n {
					break
				}
				stack[next] = 0
			}
		}
	}
	return err
}

// option returns a stack that was found, without the names of its components.
func (s *stacker) option(stack []int) (o StackOption) {
	fit, _ := s.solve(s.shapesOf(stack)) // it is known
	o.Change = StackChange{Place: s.place.Name, Above: make(map[string][2]string, len(fit.above))}
	for i := range stack {
		o.Change.Levels = append(o.Change.Levels, Level{Pins: fit.pins[i]})
	}
	for name, pins := range fit.above {
		o.Change.Above[name] = pins
	}
	return o
}

// unfit lists the components that are in no stack, in the order of the catalogue.
func (s *stacker) unfit(c *Catalogue, usable []int, in map[int]bool) (list []Unfit) {
	for i := range c.Components {
		one := &c.Components[i]
		if in[i] {
			continue
		}
		u := Unfit{Name: one.Name, File: one.File, Reason: one.Reason}
		if k := slices.Index(usable, i); k >= 0 {
			u.Reason = s.why(s.shapeOf[k])
		}
		list = append(list, u)
	}
	return list
}
