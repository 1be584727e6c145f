package machine

import (
	"fmt"
	"slices"
)

// mostTries bounds what is tried for one kind of stack.
const mostTries = 50_000_000

// placed returns a component of the catalogue as if it stood at the place.
func (s *stacker) placedAs(shape int) *placed {
	return &placed{assembly: s.shapes[shape], unit: s.place.Name, base: bedFrame()}
}

// try lists how a component can stand in a grid, seen in the plan of the grid.
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
	if below < 0 {
		list, known := s.onGrid[shape]
		if !known {
			if list, err = s.try(s.place, s.placedAs(shape), s.under, s.grid); err != nil {
				return nil, err
			}
			s.onGrid[shape] = list
		}
		return list, nil
	}
	return s.onTopOf(s.onShape, below, shape, s.place, s.placedAs(shape))
}

// riding lists how a rider can stand on a component.
func (s *stacker) riding(shape, rider int) ([]standing, error) {
	r := s.riders[rider]
	return s.onTopOf(s.rides, shape, rider, r.table, r.comp)
}

func (s *stacker) onTopOf(known map[[2]int][]standing, below, key int, t *placeTable, comp *placed) ([]standing, error) {
	list, done := known[[2]int{below, key}]
	if done {
		return list, nil
	}
	under := s.placedAs(below)
	g := under.top()
	list, err := s.try(t, comp, under, g)
	if err != nil {
		return nil, err
	}
	top := under.onTop(g)
	for i := range list {
		list[i].at = top.then(list[i].at)
	}
	known[[2]int{below, key}] = list
	return list, nil
}

// reach lists where the seat of the uppermost of some levels can be, nearest to now first,
// each place once.
func (s *stacker) reach(levels []int) (list []stackFit, err error) {
	key := fmt.Sprint(levels)
	if list, known := s.reached[key]; known {
		return list, nil
	}
	last := len(levels) - 1
	from, below := []stackFit{{at: inPlan{cos: 1}}}, -1
	if last > 0 {
		below = levels[last-1]
		if from, err = s.reach(levels[:last]); err != nil {
			return nil, err
		}
	}
	ways, err := s.standings(below, levels[last])
	if err != nil {
		return nil, err
	}
	if len(from)*len(ways) > mostTries {
		return nil, s.tooMany()
	}
	seen := make(cells)
	for _, f := range from {
		for _, w := range ways {
			at := f.at.then(w.at)
			if seen.has(at, func(i int) inPlan { return list[i].at }) < 0 {
				seen.add(at, len(list))
				far := s.now.far(at)
				list = append(list, stackFit{at: at, pins: slices.Concat(f.pins, [][2]string{w.pins}), far: slices.Concat(f.far, far[:])})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b stackFit) int { return slices.Compare(a.far, b.far) })
	s.reached[key] = list
	return list, nil
}

func (s *stacker) tooMany() error {
	return refuse(s.place.Name, "", "too many ways in which components can stand on each other", "fewer holes, or fewer components in a stack")
}

// has returns the index of a place that is the same as p; -1 if there is none.
func (c cells) has(p inPlan, at func(i int) inPlan) (found int) {
	found = -1
	c.find(p, func(i int) bool {
		if p.same(at(i)) {
			found = i
		}
		return found < 0
	})
	return found
}

// needs are the places where the seat of the lowest of some levels has to be.
type needs struct {
	list []stackFit
	at   cells
}

func (n *needs) has(p inPlan) int { return n.at.has(p, func(i int) inPlan { return n.list[i].at }) }

// take adds a place, or a nearer way to one that is known.
func (n *needs) take(f stackFit) {
	i := n.has(f.at)
	if i < 0 {
		n.at.add(f.at, len(n.list))
		n.list = append(n.list, f)
	} else if slices.Compare(f.far, n.list[i].far) < 0 {
		f.at = n.list[i].at
		n.list[i] = f
	}
}

// need finds where the lowest of some levels has to be so that all riders keep their places
// on the uppermost; of all ways to the same the one with the upper levels nearest to now.
func (s *stacker) need(levels []int) (*needs, error) {
	key := fmt.Sprint(levels)
	if n, known := s.needed[key]; known {
		return n, nil
	}
	n := &needs{at: make(cells)}
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
	for _, f := range rest.list {
		far := s.now.far(f.at)
		for _, w := range ways {
			n.take(stackFit{
				at: f.at.then(w.at.inverse()), pins: slices.Concat([][2]string{w.pins}, f.pins), above: f.above,
				far: slices.Concat(far[:], f.far),
			})
		}
	}
	s.needed[key] = n
	return n, nil
}

// needOfRiders finds where a component has to be to carry all riders itself.
func (s *stacker) needOfRiders(shape int, n *needs) error {
	ways := make([][]standing, len(s.riders))
	at := make([]cells, len(s.riders))
	for i := range s.riders {
		var err error
		if ways[i], err = s.riding(shape, i); err != nil {
			return err
		}
		at[i] = make(cells)
		for k, w := range ways[i] {
			at[i].add(w.at, k)
		}
	}
	for _, w := range ways[0] {
		f := stackFit{at: s.riders[0].at.then(w.at.inverse()), above: map[string][2]string{s.riders[0].table.Name: w.pins}}
		seen := f.at.inverse()
		for i := 1; i < len(s.riders) && f.above != nil; i++ {
			k := at[i].has(seen.then(s.riders[i].at), func(k int) inPlan { return ways[i][k].at })
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

// solve finds how a stack of components of these kinds can stand; nil if it cannot.
func (s *stacker) solve(levels []int) (*stackFit, error) {
	key := fmt.Sprint(levels)
	if f, known := s.solved[key]; known {
		return f, nil
	}
	meet := (len(levels) + 1) / 2 // levels from below, the last of them met from above
	if len(s.riders) == 0 {
		meet = len(levels)
	}
	reached, err := s.reach(levels[:meet])
	if err != nil {
		return nil, err
	}
	var best *stackFit
	switch {
	case len(s.riders) > 0:
		needed, err := s.need(levels[meet-1:])
		if err != nil {
			return nil, err
		}
		best = meeting(reached, needed)
	case len(reached) > 0:
		best = &reached[0]
	}
	s.solved[key] = best
	return best, nil
}

// meeting returns the nearest way of levels that can be where they have to be; nil if there is
// none. What is reached comes nearest first, its uppermost level being the lowest of what is needed.
func meeting(reached []stackFit, needed *needs) (best *stackFit) {
	var nearest []float64
	for _, r := range reached {
		if best != nil && slices.Compare(r.far, nearest) > 0 {
			break
		}
		i := needed.has(r.at)
		if i < 0 || best != nil && slices.Compare(needed.list[i].far, best.far) >= 0 {
			continue
		}
		f := needed.list[i]
		f.pins = slices.Concat(r.pins, f.pins)
		best, nearest = &f, r.far
	}
	return best
}

// why says why a component is in no stack.
func (s *stacker) why(shape int) string {
	stands := len(s.onGrid[shape]) > 0
	carries := len(s.riders) == 0
	for k := range s.shapes {
		stands = stands || len(s.onShape[[2]int{k, shape}]) > 0
	}
	for i := range s.riders {
		carries = carries || len(s.rides[[2]int{shape, i}]) > 0
	}
	switch {
	case !stands:
		return fmt.Sprintf("its locators fit in no two holes of %s, nor of another component", s.place.On)
	case !carries && len(s.riders) == 1:
		return fmt.Sprintf("the locators of %s fit in no two of its holes, and no stack with it keeps %s where it is", s.riders[0].table.Name, s.riders[0].table.Name)
	}
	return "no stack with it keeps what stands there in its place and its orientation"
}
