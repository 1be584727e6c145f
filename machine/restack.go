package machine

import (
	"fmt"
	"slices"
	"strings"
)

// stacking is a change of what stands at one place, as it is made.
type stacking struct {
	*builder
	old    placeTable
	levels []placeTable
	comps  []*assembly
	same   []bool // of the levels: the component that stands there now
}

// restack puts a stack of components where one stands.
func (d *Draft) restack(b *builder, c *StackChange) error {
	t, err := b.pinned(c.Place)
	if err != nil {
		return err
	}
	switch {
	case len(c.Levels) == 0:
		return refuse(c.Place, "", "a stack of nothing", "one component or more")
	case t.Gripped != nil || t.AlsoOn != nil:
		return refuse(c.Place, "", "a component that is gripped, or stands on something else as well", "one that stands in two holes and nothing else")
	}
	s := &stacking{builder: b, old: *t}
	for i := range c.Levels {
		if err := s.level(d, i, &c.Levels[i]); err != nil {
			return err
		}
	}
	if err := s.carry(c.Above); err != nil {
		return err
	}
	s.rename()
	i := slices.IndexFunc(b.file.Places, func(t placeTable) bool { return t.Name == c.Place })
	b.file.Places = slices.Replace(b.file.Places, i, i+1, s.levels...)
	for i := range s.levels {
		b.sets[s.levels[i].Name] = s.comps[i]
	}
	return nil
}

// level adds one component to the stack.
func (s *stacking) level(d *Draft, i int, l *Level) error {
	a, err := d.component(l.Component)
	if err != nil {
		return err
	}
	t := placeTable{Component: l.Component, Temperature: s.old.Temperature}
	same := a == s.sets[s.old.Name]
	if same {
		t = s.old
	}
	t.Name, t.On, t.Path = s.old.Name, s.old.On, s.old.Path
	if i > 0 {
		below := s.comps[i-1]
		if t.On, err = onTop(s.levels[i-1].Name, below); err != nil {
			return err
		}
		t.Name, t.Path = s.newName(i), fmt.Sprintf("%s.level[%d]", s.old.Path, i)
	}
	t.Pins = l.Pins[:]
	s.levels, s.comps, s.same = append(s.levels, t), append(s.comps, a), append(s.same, same)
	return nil
}

// newName is what an upper level is called: "riser 2".
func (s *stacking) newName(i int) string {
	for n := i + 1; ; n++ {
		name := fmt.Sprintf("%s %d", s.old.Name, n)
		taken := func(t placeTable) bool { return t.Name == name }
		if !slices.ContainsFunc(s.file.Places, taken) && !slices.ContainsFunc(s.levels, taken) {
			return name
		}
	}
}

// onTop is how a setup file names the grid on top of a component.
func onTop(name string, a *assembly) (string, error) {
	g := a.top()
	switch {
	case g == nil:
		return "", refuse(name, "", a.name+" ("+a.noTop()+")", "a grid on top, for what stands on it")
	case len(a.grids) == 1:
		return name, nil
	}
	return name + "/" + g.name, nil
}

// carry stands what stood on the old component on the uppermost level.
func (s *stacking) carry(above map[string][2]string) error {
	top := len(s.levels) - 1
	asNow := top == 0 && s.same[0]
	for i := range s.file.Places {
		t := &s.file.Places[i]
		pins, named := above[t.Name]
		unit, inner, divided := strings.Cut(t.On, "/")
		switch {
		case slices.ContainsFunc(t.AlsoOn, func(on string) bool { return on == s.old.Name || strings.HasPrefix(on, s.old.Name+"/") }) && !asNow:
			return refuse(t.Name, "also_on", "what stands on "+s.old.Name+" as well", "something that stands on one thing")
		case unit != s.old.Name:
			if named {
				return refuse(t.Name, "", "a place on "+t.On, "a place on %s", s.old.Name)
			}
			continue
		case asNow && !named:
			continue
		case t.Pins == nil:
			return refuse(t.Name, "", "a place that stands on "+s.old.Name+" by coordinates or in a slot", "one that stands in two holes of it")
		case !named:
			return refuse(t.Name, "pins", "none for it in the new stack", "two holes of what is uppermost there")
		}
		t.Pins = pins[:]
		t.On = s.levels[top].Name
		switch {
		case divided && s.same[top]:
			t.On += "/" + inner
		default:
			on, err := onTop(t.On, s.comps[top])
			if err != nil {
				return err
			}
			t.On = on
		}
	}
	return nil
}

// rename lets the levels stand in for the one component wherever the file names it.
func (s *stacking) rename() {
	f := &s.file
	var names []string
	for i := range s.levels {
		names = append(names, s.levels[i].Name)
	}
	if i := slices.Index(f.LoadingOrder, s.old.Name); i >= 0 {
		f.LoadingOrder = slices.Concat(f.LoadingOrder[:i], names, f.LoadingOrder[i+1:])
	}
	f.MayBeCut = s.mayBeCut()
	f.Demand.Pairs = s.pairs()
	if c := f.Counterweight; c != nil {
		if unit, _, _ := strings.Cut(c.On, "/"); unit == s.old.Name {
			moved := *c
			top := len(s.levels) - 1
			if g := s.comps[top].top(); g != nil && !s.same[top] {
				moved.On = names[top] + "/" + g.name
			} else {
				moved.On = names[top] + strings.TrimPrefix(c.On, unit)
			}
			f.Counterweight = &moved
		}
	}
}

// mayBeCut returns what may be cut: what the file allows of the component that stood there
// is allowed of no other one.
func (s *stacking) mayBeCut() (list []mayBeCutTable) {
	for _, t := range s.file.MayBeCut {
		if !belongs(t.Body, s.old.Name) {
			list = append(list, t)
			continue
		}
		for i := range s.levels {
			if s.same[i] {
				one := t
				one.Body = s.levels[i].Name + strings.TrimPrefix(t.Body, s.old.Name)
				list = append(list, one)
			}
		}
	}
	return list
}

// pairs returns the demands of pairs: one that names the component that stood there, or a
// solid of it, holds for every level that has such a solid.
func (s *stacking) pairs() (list []demandPairTable) {
	for _, t := range s.file.Demand.Pairs {
		k := slices.IndexFunc(t.Bodies, func(b string) bool { return belongs(b, s.old.Name) })
		if k < 0 {
			list = append(list, t)
			continue
		}
		inner := strings.TrimPrefix(t.Bodies[k], s.old.Name)
		found := false
		for i := range s.levels {
			if inner != "" && !s.comps[i].hasBody(inner[1:]) {
				continue
			}
			one := t
			one.Bodies = slices.Clone(t.Bodies)
			one.Bodies[k] = s.levels[i].Name + inner
			list, found = append(list, one), true
		}
		if !found {
			list = append(list, t) // which is then told
		}
	}
	return list
}

// hasBody reports whether a part of an assembly becomes a body of its own name.
func (a *assembly) hasBody(name string) bool {
	return len(a.parts) > 1 && slices.ContainsFunc(a.parts, func(p *part) bool { return p.name == name })
}
