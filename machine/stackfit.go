package machine

import (
	"fmt"
	"slices"
)

// mostTries bounds what is tried for one kind of stack.
const mostTries = 50_000_000

// placedAs returns a component of the catalogue as if it stood at the place.
func (s *stacker) placedAs(shape int) *placed {
	return &placed{assembly: s.shapes[shape].assembly, unit: s.place.Name, base: bedFrame()}
}

// try lists how a component can stand in a grid.
func (s *stacker) try(t *placeTable, comp, under *placed, g *grid) (list []standing, err error) {
	tr := s.draft.trialOf(t, comp, under, g)
	pairs, err := tr.pairs()
	for _, o := range pairs {
		list = append(list, standing{o.pins, tr.inGrid(o)})
	}
	return list, err
}

// standings lists how a component can stand on another one, or on what the place stands on
// (below is -1).
func (s *stacker) standings(below, shape int) (list []standing, err error) {
	key := [2]int{-1, s.shapes[shape].seat}
	if below >= 0 {
		key[0] = s.shapes[below].top
	}
	list, known := s.ways[key]
	switch {
	case known:
		return list, nil
	case below < 0:
		list, err = s.try(s.place, s.placedAs(shape), s.under, s.grid)
	default:
		under := s.placedAs(below)
		list, err = s.try(s.place, s.placedAs(shape), under, under.top())
	}
	s.ways[key] = list
	return list, err
}

// riding lists how a rider can stand on a component.
func (s *stacker) riding(shape, rider int) (list []standing, err error) {
	key := [2]int{s.shapes[shape].top, rider}
	list, known := s.rides[key]
	if !known {
		under, r := s.placedAs(shape), s.riders[rider]
		list, err = s.try(r.table, r.comp, under, under.top())
		s.rides[key] = list
	}
	return list, err
}

// reach is where the seat of the uppermost of some levels can be, nearest to now first, each
// place once.
type reach struct {
	list []stackFit
	at   *cells
}

// reach finds where the seat of the uppermost of some levels can be.
func (s *stacker) reach(levels []int) (*reach, error) {
	last := len(levels) - 1
	key := fmt.Sprint(levels[:last], s.shapes[levels[last]].seat)
	if r, known := s.reached[key]; known {
		return r, nil
	}
	from, below := []stackFit{{at: inPlan{cos: 1}}}, -1
	if last > 0 {
		below = levels[last-1]
		r, err := s.reach(levels[:last])
		if err != nil {
			return nil, err
		}
		from = r.list
	}
	ways, err := s.standings(below, levels[last])
	if err != nil {
		return nil, err
	}
	if len(from)*len(ways) > mostTries {
		return nil, s.tooMany()
	}
	r, seen := &reach{at: newCells()}, newCells()
	for _, f := range from { // the nearest first, so what is found first is the nearest way
		top := f.at
		if below >= 0 {
			top = top.then(s.shapes[below].onTop)
		}
		for _, w := range ways {
			at := top.then(w.at)
			if seen.find(at) >= 0 {
				continue
			}
			seen.add(at)
			far := s.now.far(at)
			r.list = append(r.list, stackFit{at: at, pins: slices.Concat(f.pins, [][2]string{w.pins}), far: slices.Concat(f.far, far[:])})
		}
	}
	slices.SortStableFunc(r.list, func(a, b stackFit) int { return slices.Compare(a.far, b.far) })
	for i := range r.list {
		r.at.add(r.list[i].at)
	}
	s.reached[key] = r
	return r, nil
}

func (s *stacker) tooMany() error {
	return refuse(s.place.Name, "", "too many ways in which components can stand on each other", "fewer holes, or fewer components in a stack")
}

// needs are the places where the top of the lowest of some levels has to be.
type needs struct {
	list []stackFit
	at   *cells
}

// take adds a place, or a nearer way to one that is known.
func (n *needs) take(f stackFit) {
	i := n.at.find(f.at)
	if i < 0 {
		n.at.add(f.at)
		n.list = append(n.list, f)
	} else if slices.Compare(f.far, n.list[i].far) < 0 {
		f.at = n.list[i].at
		n.list[i] = f
	}
}

// need finds where the top of the lowest of some levels has to be so that all riders keep
// their places on the uppermost; of all ways to the same the one with the upper levels nearest
// to now.
func (s *stacker) need(levels []int) (*needs, error) {
	key := fmt.Sprint(s.shapes[levels[0]].top, levels[1:])
	if n, known := s.needed[key]; known {
		return n, nil
	}
	n := &needs{at: newCells()}
	if len(levels) == 1 {
		if err := s.needOfRiders(levels[0], n); err != nil {
			return nil, err
		}
		s.needed[key] = n
		return n, nil
	}
	rest, err := s.need(levels[1:])
	if err != nil {
		return nil, err
	}
	ways, err := s.standings(levels[0], levels[1])
	if err != nil {
		return nil, err
	}
	if len(rest.list)*len(ways) > mostTries {
		return nil, s.tooMany()
	}
	down := s.shapes[levels[1]].onTop.inverse()
	for _, f := range rest.list {
		seat := f.at.then(down)
		far := s.now.far(seat)
		for _, w := range ways {
			n.take(stackFit{
				at: seat.then(w.at.inverse()), pins: slices.Concat([][2]string{w.pins}, f.pins), above: f.above,
				far: slices.Concat(far[:], f.far),
			})
		}
	}
	s.needed[key] = n
	return n, nil
}

// needOfRiders finds where the top of a component has to be to carry all riders itself.
func (s *stacker) needOfRiders(shape int, n *needs) error {
	ways := make([][]standing, len(s.riders))
	at := make([]*cells, len(s.riders))
	for i := range s.riders {
		var err error
		if ways[i], err = s.riding(shape, i); err != nil {
			return err
		}
		at[i] = newCells()
		for _, w := range ways[i] {
			at[i].add(w.at)
		}
	}
	for _, w := range ways[0] {
		f := stackFit{at: s.riders[0].at.then(w.at.inverse()), above: map[string][2]string{s.riders[0].table.Name: w.pins}}
		seen := f.at.inverse()
		for i := 1; i < len(s.riders) && f.above != nil; i++ {
			k := at[i].find(seen.then(s.riders[i].at))
			if k < 0 {
				f.above = nil
			} else {
				f.above[s.riders[i].table.Name] = ways[i][k].pins
			}
		}
		if f.above != nil {
			n.take(f)
		}
	}
	return nil
}

// solve finds how a stack of components of these shapes can stand; nil if it cannot.
func (s *stacker) solve(levels []int) (*stackFit, error) {
	key := fmt.Sprint(levels)
	if f, known := s.solved[key]; known {
		return f, nil
	}
	meet := (len(levels) + 1) / 2 // levels from below, the last of them met from above
	if len(s.riders) == 0 {
		meet = len(levels)
	}
	r, err := s.reach(levels[:meet])
	if err != nil {
		return nil, err
	}
	var best *stackFit
	switch {
	case len(s.riders) > 0:
		n, err := s.need(levels[meet-1:])
		if err != nil {
			return nil, err
		}
		best = meeting(r, n, s.shapes[levels[meet-1]].onTop)
	case len(r.list) > 0:
		best = &r.list[0]
	}
	s.solved[key] = best
	return best, nil
}

// meeting returns the nearest way of levels whose uppermost can be where it has to be; nil if
// there is none. What has to be is its top, as seen from its seat.
func meeting(r *reach, n *needs, top inPlan) *stackFit {
	from, to := -1, -1
	meet := func(i, k int) {
		if i >= 0 && k >= 0 && (from < 0 || slices.Compare(r.list[i].far, r.list[from].far) < 0 ||
			slices.Equal(r.list[i].far, r.list[from].far) && slices.Compare(n.list[k].far, n.list[to].far) < 0) {
			from, to = i, k
		}
	}
	if len(r.list) < len(n.list) {
		for i := range r.list {
			meet(i, n.at.find(r.list[i].at.then(top)))
		}
	} else {
		down := top.inverse()
		for k := range n.list {
			meet(r.at.find(n.list[k].at.then(down)), k)
		}
	}
	if from < 0 {
		return nil
	}
	f := n.list[to]
	f.pins = slices.Concat(r.list[from].pins, f.pins)
	return &f
}

// why says why a component is in no stack.
func (s *stacker) why(shape int) string {
	stands, carries := false, len(s.riders) == 0
	for key, list := range s.ways {
		stands = stands || key[1] == s.shapes[shape].seat && len(list) > 0
	}
	for key, list := range s.rides {
		carries = carries || key[0] == s.shapes[shape].top && len(list) > 0
	}
	switch {
	case !stands:
		return fmt.Sprintf("its locators fit in no two holes of %s, nor of another component", s.place.On)
	case !carries && len(s.riders) == 1:
		rider := s.riders[0].table.Name
		return fmt.Sprintf("the locators of %s fit in no two of its holes, and no stack with it keeps %s where it is", rider, rider)
	}
	return "no stack with it keeps what stands there in its place and its orientation"
}
