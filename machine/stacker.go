package machine

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// stacker finds stacks that can stand at one place. It looks at what counts in plan only,
// once for components that are alike in plan, whatever their heights: for where the seat
// of a level can be, from below (reach), and where the top of a level must be for what
// stands on the stack (needs). Where the two meet at one level there is a stack.
type stacker struct {
	draft *Draft
	place *placeTable
	here  *placed
	under *placed
	grid  *grid  // in which it stands; its plan is that of all places here
	now   inPlan // where its seat is

	riders  []*rider
	shapes  []*likeness
	byKind  map[string]int // a shape, by its kind
	shapeOf []int          // by component
	heights []float64      // likewise

	ways    map[[2]int][]standing // of a component, by kind of what is below (-1: the grid) and of its seat
	rides   map[[2]int][]standing // of a rider, by kind of what is below, and rider
	reached map[string]*reach
	needed  map[string]*needs
	solved  map[string]*stackFit
}

// likeness is all that components have in common that are alike in plan.
type likeness struct {
	*assembly
	seat, top int    // components with the same number stand, and carry, in the same way
	onTop     inPlan // of the grid, seen from the seat
}

// rider is a place that stands on the one at which stacks stand.
type rider struct {
	table *placeTable
	comp  *placed
	at    inPlan // where its seat is, and has to stay
}

// standing is a pair of holes in which a component can stand, and where its seat is then in
// the plan of the grid.
type standing struct {
	pins [2]string
	at   inPlan
}

// stackFit is how a stack, or some levels of one, can stand.
type stackFit struct {
	at    inPlan // of the seat of its uppermost level (reach), of the top of its lowest (needs)
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
		draft: d, place: t, here: d.built.done[place], byKind: make(map[string]int),
		ways: make(map[[2]int][]standing), rides: make(map[[2]int][]standing),
		reached: make(map[string]*reach), needed: make(map[string]*needs), solved: make(map[string]*stackFit),
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
	seat, top := a.seatKind(), a.topKind()
	at := a.onTop(a.top())
	kind := fmt.Sprintf("%s/%s/%.9f %.9f %.9f %.9f", seat, top, at.x, at.y, at.cos, at.sin)
	k, known := s.byKind[kind]
	if !known {
		k = len(s.shapes)
		s.byKind[kind] = k
		s.shapes = append(s.shapes, &likeness{assembly: a, seat: s.number("seat "+seat, k), top: s.number("top "+top, k), onTop: at})
	}
	s.shapeOf = append(s.shapeOf, k)
	s.heights = append(s.heights, a.height(a.top()))
}

// number returns the shape that first had a kind of seat or of top.
func (s *stacker) number(kind string, k int) int {
	if first, known := s.byKind[kind]; known {
		return first
	}
	s.byKind[kind] = k
	return k
}

func (s *stacker) shapesOf(stack []int) []int {
	list := make([]int, len(stack))
	for i, k := range stack {
		list[i] = s.shapeOf[k]
	}
	return list
}

// seatKind says all that counts for where a component can stand, but for heights.
func (a *assembly) seatKind() string {
	st := a.seat
	land := 0.0
	if st.land != nil {
		land = *st.land
	}
	material := ""
	if len(st.solids) > 0 {
		material = a.materialOf(st.solids[0])
	}
	return fmt.Sprint(st.by, st.pin[0].kind(), st.pin[1].kind(), st.bore[0].kind(), st.bore[1].kind(), st.play, st.playing,
		land, st.land != nil, st.tolerance, st.distance(), " ", material)
}

// topKind says all that counts for what can stand on a component, but for heights and for
// where its grid is.
func (a *assembly) topKind() string {
	g := a.top()
	pins := "none"
	if r := g.retractable; r != nil {
		pins = fmt.Sprint(r.pin.kind(), r.at)
	}
	return fmt.Sprint(g.columns, g.rows, g.pitch, g.rings, g.perRing, slices.Sorted(maps.Keys(g.omit)), g.tolerance,
		g.bore.kind(), g.centre.kind(), pins, " ", a.materialOf(g.solid))
}

// kind says all of a diameter.
func (d diameter) kind() string {
	if d.limits == nil {
		return fmt.Sprintf("(%v)", d.nominal)
	}
	return fmt.Sprintf("(%v %v)", d.nominal, *d.limits)
}
