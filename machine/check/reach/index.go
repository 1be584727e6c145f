package reach

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/geom/shape"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/spindle"

	"github.com/golang/geo/r3"
)

// How high a tool must be before rotary axes index is found in two steps. First each
// body on the workpiece's side is asked how far it stays under the gauge line's
// plane, the drawback axis at home: what hangs so far down from the gauge line is
// above it wherever X and Y stand. Then, for one move, it is looked whether the tool
// could be lower still because it passes beside.

const (
	heightStep  = 1.0 // mm to which heights are found
	mostShort   = 500 // mm above home that are looked through
	heightTests = 400
	underTests  = 200_000
	mostUnder   = 1000 // mm under the gauge line beyond which nothing hangs
)

// indexing is what is to be known of an index: how low it could be done.
type indexing struct {
	turns []leg // at the height where it is done
	// height is the lowest position of the drawback axis from which on everything
	// up to home is clear over these turns, nil if home is not; full the same over
	// all that is commanded. by names what bounds height.
	height, full *float64
	by           string
	short        *float64 // how much higher than home it would have to be
}

// need is how high a mover must be for another body, told as a position of the
// drawback axis.
type need struct {
	mover *mover
	other int // index into checker.others
	at    float64
	known bool // at is proven; otherwise home is not high enough by what was asked
}

// heights finds how low a move could index.
func (c *checker) heights(ctx context.Context, m *move) error {
	z, ok := c.upright()
	if !ok {
		return nil
	}
	needs, err := c.needs(ctx, z, m.tool(), m.index.turns)
	if err != nil {
		return err
	}
	h := c.climb(z)
	for i := range needs {
		if err := h.raise(ctx, &needs[i], m.index.turns); err != nil {
			return err
		}
	}
	x := m.index
	x.height, x.by, x.short = h.result(), h.by, h.short()
	x.full = m.tool().fullHeight
	if x.full != nil && x.height != nil && m.doubt == "" && h.lower(*x.full, *x.height) {
		x.height = x.full // what is clear wherever axes may go is clear on this move
	}
	return nil
}

// upright returns the drawback axis, if it draws the tool back along its own axis,
// which nothing swivels.
func (c *checker) upright() (z int, ok bool) {
	z = c.drawback()
	if z < 0 || !c.setup.Axes[z].OnTool {
		return z, false
	}
	for k, used := range c.setup.Spindle.Chain.Uses() {
		if used && c.setup.Axes[k].Kind == motion.Rotary {
			return z, false
		}
	}
	spindle := c.setup.Spindle.Chain.Pose(motion.Params{})
	return z, math.Abs(spindle.Dir(r3.Vector{Z: 1}).Dot(c.setup.Axes[z].Direction)) > 1-1e-9
}

// up is the sense in which the drawback axis goes home.
func (c *checker) up(z int) float64 {
	a := &c.setup.Axes[z]
	return math.Copysign(1, a.Home-(a.Travel[0]+a.Travel[1])/2)
}

// needs lists what each mover of a tool needs over some legs, the highest first.
func (c *checker) needs(ctx context.Context, z int, t *tool, legs []leg) ([]need, error) {
	under, err := c.under(ctx, z, legs)
	if err != nil {
		return nil, err
	}
	return c.needsUnder(z, t, under), nil
}

// needsUnder lists what each mover of a tool needs, bodies being so far under the
// gauge line, the highest first.
func (c *checker) needsUnder(z int, t *tool, under []float64) (list []need) {
	home := c.setup.Axes[z].Home
	for i := range t.movers {
		m := &t.movers[i]
		for k, other := range c.others {
			if c.ownMaker(m, other) || !m.seen[k].Uses()[z] {
				continue
			}
			demand, _ := c.setup.Demand.For(machine.Swing, m.Body.Name, c.setup.Bodies[other].Name)
			spare := under[k] - m.hangs - demand
			list = append(list, need{m, k, home - c.up(z)*spare, spare >= 0})
		}
	}
	slices.SortStableFunc(list, func(a, b need) int { return cmp.Compare(b.at*c.up(z), a.at*c.up(z)) })
	return list
}

// hangs is how far a body on the tool's side reaches down from the gauge line along
// the tool's axis, in mm, what it can be off included.
func (c *checker) hangs(b *machine.Body) float64 {
	gauge := c.setup.Spindle.Chain.Pose(motion.Params{})
	rel := gauge.Inverse().Mul(b.Chain.Pose(motion.Params{}))
	low := 0.0
	for _, f := range b.Solid.Mesh.Facets {
		for _, v := range f {
			low = min(low, rel.Point(v.Vector()).Z)
		}
	}
	slack := b.Solid.ChordError
	for _, j := range motion.Between(c.setup.Spindle.Chain, b.Chain).Joints {
		slack += j.Slack
	}
	return -low + slack
}

// under finds how far each of the others stays under the plane of the gauge line
// over some legs, the drawback axis at home: proven, 0 if it does not. Whatever
// X and Y do does not matter.
func (c *checker) under(ctx context.Context, z int, legs []leg) ([]float64, error) {
	list := make([]float64, len(c.others))
	for k := range c.others {
		list[k] = mostUnder
		for _, l := range legs {
			l.from[z] = c.setup.Axes[z].Home
			pair := c.trees.Pair(c.ceiling.Body, &c.setup.Bodies[c.others[k]], c.ceiling.seen[k].Along(l.from, l.within, l.ways...))
			over := motion.Unit(len(l.ways))
			out, err := collide.Sweep(ctx, pair, over, collide.Limits{
				Enough: mostUnder, Absolute: heightStep / 2, Relative: 0.002, Tests: underTests, Jobs: 1,
			})
			if err != nil {
				return nil, err
			}
			mid := over.Center()
			inside, doubt, _ := c.trees.Inside(c.ceiling.Body, &c.setup.Bodies[c.others[k]], pair.Motion.Pose(mid))
			if out.Contact || inside != "" || doubt != "" {
				out.Lower = 0
			}
			list[k] = max(0, min(list[k], out.Lower))
		}
	}
	return list, nil
}

// roof makes the body that stands for all above the gauge line: a block whose
// underside is its plane, far wider than any machine.
func (c *checker) roof() mover {
	const wide, high = 10_000, 10_000
	mesh := shape.Box(r3.Vector{X: -wide, Y: -wide}, r3.Vector{X: wide, Y: wide, Z: high}).Mesh()
	b := machine.Body{
		Name: "gauge line", OnTool: true, Chain: c.setup.Spindle.Chain,
		Solid: &machine.Solid{Mesh: mesh, Audit: geom.AuditOf(mesh)},
	}
	c.trees.Plant(1, []machine.Body{b})
	return mover{Mover: spindle.Mover{Body: &b, Index: -1}, seen: c.seen(b.Chain)}
}

// fullHeights finds, for each tool that rotary axes index with, the height for
// everything that is commanded.
func (c *checker) fullHeights(ctx context.Context) error {
	z, ok := c.upright()
	var tools []*tool
	for _, m := range c.moves {
		if m.index != nil && !slices.Contains(tools, m.tool()) {
			tools = append(tools, m.tool())
		}
	}
	if !ok || len(tools) == 0 {
		return nil
	}
	low, high := home(c.setup), home(c.setup)
	for k := range c.setup.Axes {
		if k != z {
			low[k], high[k], _ = check.SpindleAt(&c.setup.Axes[k])
		}
	}
	legs := []leg{room(low, high)}
	under, err := c.under(ctx, z, legs)
	if err != nil {
		return err
	}
	return c.options.Each(ctx, "index heights", len(tools), func(ctx context.Context, i int) error {
		h := c.climb(z)
		for _, n := range c.needsUnder(z, tools[i], under) {
			if !n.known {
				if err := h.raise(ctx, &n, legs); err != nil {
					return err
				}
			} else if h.lower(h.height, n.at) {
				h.height = n.at
			}
		}
		tools[i].fullHeight = h.result()
		return nil
	})
}

// climbing finds the lowest height at which everything looked at so far is clear.
type climbing struct {
	c      *checker
	z      int
	home   float64
	height float64 // proven so far, from here to home
	by     string
	failed bool // not even home will do
	beyond float64
}

func (c *checker) climb(z int) *climbing {
	a := &c.setup.Axes[z]
	h := &climbing{c: c, z: z, home: a.Home, height: a.Travel[0], beyond: a.Home}
	if c.up(z) < 0 {
		h.height = a.Travel[1]
	}
	return h
}

// lower reports whether a height is below another one.
func (h *climbing) lower(a, b float64) bool { return (b-a)*h.c.up(h.z) > 0 }

// raise raises the height as far as a need has it, or less where the tool passes
// beside.
func (h *climbing) raise(ctx context.Context, n *need, legs []leg) error {
	if n.known && !h.lower(h.height, n.at) {
		return nil
	}
	names := h.c.setup.Bodies[h.c.others[n.other]].Name + " under " + n.mover.Body.Name
	clear, err := h.clear(ctx, n, legs, h.height, h.home)
	if err != nil || clear {
		return err
	}
	good := n.at
	if !n.known {
		if clear, err = h.clear(ctx, n, legs, h.home, h.home); err != nil {
			return err
		}
		if !clear {
			h.failed = true
			return h.further(ctx, n, legs, names)
		}
		good = h.home
	}
	bad := h.height
	for math.Abs(good-bad) > heightStep {
		mid := (good + bad) / 2
		if clear, err = h.clear(ctx, n, legs, mid, good); err != nil {
			return err
		}
		if clear {
			good = mid
		} else {
			bad = mid
		}
	}
	h.height = good
	if !h.failed {
		h.by = names
	}
	return nil
}

// further finds how far beyond home a pair would have to go.
func (h *climbing) further(ctx context.Context, n *need, legs []leg, names string) error {
	up := h.c.up(h.z)
	bad, good := h.beyond, h.home+up*mostShort
	if clear, err := h.clear(ctx, n, legs, bad, bad); err != nil || clear && bad != h.home {
		return err
	}
	for math.Abs(good-bad) > heightStep {
		mid := (good + bad) / 2
		clear, err := h.clear(ctx, n, legs, mid, mid)
		if err != nil {
			return err
		}
		if clear {
			good = mid
		} else {
			bad = mid
		}
	}
	h.beyond, h.by = good, names
	return nil
}

// clear reports whether a pair is seen, at little cost, to keep its demand at
// all heights from a to b.
func (h *climbing) clear(ctx context.Context, n *need, legs []leg, a, b float64) (bool, error) {
	c := h.c
	ask := asked{legs: make([]leg, len(legs)), tests: heightTests}
	ask.demand, ask.why = c.setup.Demand.For(machine.Swing, n.mover.Body.Name, c.setup.Bodies[c.others[n.other]].Name)
	if a == b && a == h.home {
		ask.tests = c.options.Tests // whether home will do decides a verdict
	}
	for i := range legs {
		l := legs[i]
		l.from[h.z] = a
		if a != b {
			var up motion.Params
			up[h.z] = b - a
			l.ways = append(slices.Clip(l.ways), up)
		}
		ask.legs[i] = l
	}
	found, err := c.ask(ctx, n.mover, n.other, ask)
	return err == nil && found.Verdict == check.Clear, err
}

// result is the height, nil where not even home will do.
func (h *climbing) result() *float64 {
	if h.failed {
		return nil
	}
	return &h.height
}

// short is by how much home is too low; nil where home will do, or it is not known.
func (h *climbing) short() *float64 {
	mm := math.Abs(h.beyond - h.home)
	if !h.failed || mm >= mostShort-heightStep {
		return nil
	}
	return &mm
}
