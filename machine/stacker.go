package machine

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// stacker finds stacks that can stand at one place. It looks at what counts in plan only,
// once for components that are alike in plan, whatever their heights: for where the seat
// of each component of a stack can be, from below (reach), and where it must be for what
// stands on the stack (need). Where the two meet there is a stack.
type stacker struct {
	draft *Draft
	place *placeTable
	here  *placed
	under *placed
	grid  *grid  // in which it stands; its plan is that of all places here
	now   inPlan // where its seat is

	riders  []*rider
	shapes  []*assembly // one for each kind of component in plan
	kinds   map[string]int
	shapeOf []int // by component
	heights []float64

	onGrid  map[int][]standing
	onShape map[[2]int][]standing
	rides   map[[2]int][]standing
	reached map[string][]stackFit
	needed  map[string]*needs
	solved  map[string]*stackFit
}

// rider is a place that stands on the one at which stacks stand.
type rider struct {
	table *placeTable
	comp  *placed
	at    inPlan // where its seat is, and has to stay
}

// standing is a pair of holes in which a component can stand, and where its seat is then: on
// the plan of the grid, or seen from the seat of what it stands on.
type standing struct {
	pins [2]string
	at   inPlan
}

// stackFit is how a stack, or some levels of one, can stand.
type stackFit struct {
	at    inPlan // of the seat of its uppermost level (reached), or its lowest (needed)
	pins  [][2]string
	above map[string][2]string
	far   []float64 // of each level in turn: how far from now, and how far turned
}

// stacker prepares what does not depend on the catalogue.
func (d *Draft) stacker(place string) (*stacker, error) {
	if _, err := d.read.pinned(place); err != nil {
		return nil, err
	}
	t := d.built.tables[place]
	s := &stacker{
		draft: d, place: t, here: d.built.done[place], kinds: make(map[string]int),
		onGrid: make(map[int][]standing), onShape: make(map[[2]int][]standing), rides: make(map[[2]int][]standing),
		reached: make(map[string][]stackFit), needed: make(map[string]*needs), solved: make(map[string]*stackFit),
	}
	switch {
	case len(s.here.axes) > 0:
		return nil, refuse(place, "", "a component with axes", "one that a riser could stand in for")
	case t.Gripped != nil || t.AlsoOn != nil:
		return nil, refuse(place, "", "a component that is gripped, or stands on something else as well", "one that stands in two holes and nothing else")
	}
	tr := d.trial(t)
	s.under, s.grid = tr.under, tr.grid
	s.now = tr.inGrid(tr.in([2]string(t.Pins)))
	return s, s.findRiders()
}

// findRiders notes what stands on the place, and where.
func (s *stacker) findRiders() error {
	b := s.draft.built
	for i := range b.file.Places {
		t := &b.file.Places[i]
		on, _, _ := strings.Cut(t.On, "/")
		switch also := s.place.Name; {
		case slices.ContainsFunc(t.AlsoOn, func(name string) bool { return belongs(name, also) }):
			return refuse(t.Name, "also_on", "what stands on "+s.place.Name+" as well", "something that stands on one thing")
		case on != s.place.Name:
			continue
		case t.Pins == nil:
			return refuse(t.Name, "", "a place that stands on "+s.place.Name+" by coordinates or in a slot", "one that stands in two holes of it")
		}
		tr := s.draft.trial(t)
		if s.here.seat.normal.Sub(tr.grid.normal()).Norm() > parallelTo {
			return refuse(t.Name, "", "a place on a side of "+s.place.Name, "one on the face that looks away from its seat")
		}
		at := s.now.then(s.here.onTop(tr.grid)).then(tr.inGrid(tr.in([2]string(t.Pins))))
		s.riders = append(s.riders, &rider{table: t, comp: b.done[t.Name], at: at})
	}
	return nil
}

// inGrid returns where the seat of a component that was tried out is in the plan of the grid.
func (tr *trial) inGrid(o *seated) inPlan {
	return flat(tr.grid.pose().Inverse().Mul(o.pose).Mul(tr.comp.seat.seatFrame()))
}

// add adds a component of the catalogue.
func (s *stacker) add(a *assembly) {
	kind := a.kindInPlan()
	k, known := s.kinds[kind]
	if !known {
		k = len(s.shapes)
		s.kinds[kind] = k
		s.shapes = append(s.shapes, a)
	}
	s.shapeOf = append(s.shapeOf, k)
	s.heights = append(s.heights, a.height(a.top()))
}

func (s *stacker) shapesOf(stack []int) []int {
	list := make([]int, len(stack))
	for i, k := range stack {
		list[i] = s.shapeOf[k]
	}
	return list
}

// kindInPlan says all that counts for where a component can stand and what can stand on it,
// but for heights.
func (a *assembly) kindInPlan() string {
	st, g := a.seat, a.top()
	size := func(d diameter) string {
		if d.limits == nil {
			return fmt.Sprint(d.nominal)
		}
		return fmt.Sprint(d.nominal, *d.limits)
	}
	land := 0.0
	if st.land != nil {
		land = *st.land
	}
	material := ""
	if len(st.solids) > 0 {
		material = a.materialOf(st.solids[0])
	}
	pins := "none"
	if r := g.retractable; r != nil {
		pins = fmt.Sprint(size(r.pin), r.at)
	}
	at := a.onTop(g)
	return fmt.Sprint(
		st.by, size(st.pin[0]), size(st.pin[1]), size(st.bore[0]), size(st.bore[1]), st.play, st.playing,
		land, st.land != nil, st.tolerance, st.distance(), " ", material, " ", a.materialOf(g.solid), " ",
		fmt.Sprintf("%.9f %.9f %.9f %.9f ", at.x, at.y, at.cos, at.sin),
		g.columns, g.rows, g.pitch, g.rings, g.perRing, slices.Sorted(maps.Keys(g.omit)), g.tolerance,
		size(g.bore), " ", size(g.centre), " ", pins)
}
