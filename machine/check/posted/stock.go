package posted

import (
	"context"
	"fmt"
	"math"

	"gridswing/collide/material"
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/program"
)

// stock is what is left of what parts are cut from, while the program runs. What a cutter surely takes
// away in feed is taken away; all else of what goes with the spindle must keep clear of what is left then.
type stock struct {
	c       *checker
	blanks  []*blank
	faults  []hit // of blanks that cannot be told, for the first step
	riders  map[int][]*rider
	cutting map[int]*cutting // by the tool's number
	follow  follow
	shots   shots
}

// blank is a body that is cut.
type blank struct {
	body    int // of Setup.Bodies
	model   *material.Model
	cell    float64 // mm
	before  float64 // mm3
	finals  []*final
	resting resting
}

// newStock makes the models of what is cut; nil where there is none to be looked at.
func newStock(ctx context.Context, c *checker) (*stock, error) {
	if c.options.NoStock || c.setup.Spindle == nil {
		return nil, nil
	}
	k := &stock{c: c, riders: map[int][]*rider{}, cutting: map[int]*cutting{}, shots: newShots(c.options.After)}
	for i := range c.setup.Bodies {
		if partOf(c.setup, i) < 0 {
			continue
		}
		b, err := newBlank(c, i)
		if err != nil {
			k.faults = append(k.faults, k.fault(i, err))
			continue
		}
		k.blanks = append(k.blanks, b)
		if err := ctx.Err(); err != nil {
			return nil, err
		}
	}
	if len(k.blanks)+len(k.faults) == 0 {
		return nil, nil
	}
	return k, nil
}

// partOf is the first part that is cut from a body; -1 for none.
func partOf(s *machine.Setup, body int) int {
	for i := range s.Parts {
		if s.Bodies[body].Unit == s.Parts[i].Unit && s.Bodies[body].Solid != nil {
			return i
		}
	}
	return -1
}

// Cells are so large that a stock has some of them along its longest edge, within these limits, mm.
const (
	cellsAlong    = 200
	smallest      = 0.1
	largest       = 2.0
	mostCells     = 20_000 // along an edge: what a stated size may come to
	farTravel     = 10_000 // mm: where an axis without ends may go
	cellsRounding = 0.05   // mm: sizes of cells are multiples of it
)

// cellOf is the size of the cells of a solid, mm.
func (o *Options) cellOf(size float64) float64 {
	if o.Cell > 0 {
		return max(o.Cell, size/mostCells)
	}
	return max(smallest, min(largest, math.Ceil(size/cellsAlong/cellsRounding)*cellsRounding))
}

func newBlank(c *checker, body int) (*blank, error) {
	s := c.setup
	solid := s.Bodies[body].Solid
	size := solid.Audit.Bounds.Size()
	b := &blank{body: body, cell: c.options.cellOf(max(size.X, size.Y, size.Z))}
	var err error
	if b.model, err = material.New(solid.Mesh, solid.ChordError, playOfBody(s, body), b.cell); err != nil {
		return nil, err
	}
	b.before = b.model.Volume()
	for i := range s.Parts {
		if s.Parts[i].Unit == s.Bodies[body].Unit && s.Parts[i].Finished != nil {
			b.finals = append(b.finals, newFinal(c, i))
		}
	}
	return b, nil
}

// playOfBody is how far what is cut may stand from where it is drawn, wherever the axes are, mm.
func playOfBody(s *machine.Setup, body int) float64 {
	bounds := s.Bodies[body].Solid.Audit.Bounds
	box := motion.Box{}
	for i := range s.Axes {
		a := &s.Axes[i]
		box.Lo[i], box.Hi[i] = max(a.Travel[0], -farTravel), min(a.Travel[1], farTravel)
	}
	return playOf(s.Bodies[body].Chain, &box, bounds.Center(), bounds.Size().Norm()/2)
}

// fault is the hit of a blank that no model can be made of.
func (k *stock) fault(body int, err error) hit {
	name := k.c.setup.Bodies[body].Name
	return hit{
		question: check.Posted, a: -1, b: body, what: "model of the stock", verdict: check.Unproven,
		tell: func() check.Finding {
			return check.Finding{Bodies: [2]string{"", name}, Reason: fmt.Sprintf("nothing is known of what is cut: %v", err)}
		},
	}
}

// through takes the stock through the steps of a chunk.
func (k *stock) through(ctx context.Context, c *chunk) ([]hit, error) {
	w := k.newWalk(c)
	w.hits, k.faults = k.faults, nil
	defer w.rest()
	for i := range c.steps {
		if i%256 == 0 {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
		}
		s := &c.steps[i]
		if k.shots.due(s, c.passed[int32(i)]) {
			w.rest()
			k.shots.take(k)
		}
		for n := s.legs[0]; n < s.legs[1]; n++ {
			if err := w.leg(ctx, int(n)); err != nil {
				return nil, err
			}
		}
		if s.kind == program.Change {
			k.follow = follow{}
		}
	}
	return w.hits, nil
}

// rest makes all cuts that are waiting.
func (w *cutWalk) rest() {
	for i := range w.joined {
		w.made(i)
	}
}

// write puts down what became of the stock.
func (k *stock) write(p *check.Program, r *Result) {
	s := k.c.setup
	for i := range s.Parts {
		st := check.ProgramStock{Part: s.Parts[i].Name}
		for _, b := range k.blanks {
			if s.Bodies[b.body].Unit != s.Parts[i].Unit {
				continue
			}
			st.Cell = b.cell
			st.Before += b.before
			st.Remaining += b.model.Volume()
		}
		if st.Cell == 0 {
			continue
		}
		st.Left = k.leftOf(s.Parts[i].Unit, st.Remaining)
		p.Stock = append(p.Stock, st)
	}
	p.Assumed = append(p.Assumed, k.assumed()...)
	for i := range p.Tools {
		t := &p.Tools[i]
		if y := k.cutting[t.Tool]; y != nil {
			removed := max(0, y.removed) // where nothing of what is drawn is met, rounding is left
			t.Removed, t.FeedLength, t.AirLength = &removed, y.fed, y.air()
		}
	}
	if !k.c.options.NoRemaining {
		r.Remaining = k.meshes()
	}
	r.After = k.shots.all(k)
}

// assumed says what the stock as it is rests on.
func (k *stock) assumed() (list []string) {
	finals := false
	list = k.told()
	for _, b := range k.blanks {
		finals = finals || len(b.finals) > 0
		name := k.c.setup.Bodies[b.body].Name
		if words := b.resting.words(name); words != "" {
			list = append(list, words)
		}
	}
	if len(k.blanks) > 0 {
		list = append(list, "a tap takes nothing away; whether a cutter can cut the way it is led, such as straight down, is not looked at")
	}
	if finals {
		list = append(list, "how deep a cutter goes below a finished surface is told along the tool and square to it, of the part where the program puts it: what it may be off by does not count")
	}
	return list
}

// told says by what cells the stock is told, in one line for all that have the same.
func (k *stock) told() (list []string) {
	var sizes []float64
	names := map[float64][]string{}
	for _, b := range k.blanks {
		if names[b.cell] == nil {
			sizes = append(sizes, b.cell)
		}
		names[b.cell] = append(names[b.cell], k.c.setup.Bodies[b.body].Name)
	}
	for _, cell := range sizes {
		list = append(list, fmt.Sprintf("what is left of %s is told by cells of %s mm, never less than there is; what leaves a cut may touch it, by %g mm more than axes may be off by",
			enumerated(names[cell]), millimetres(cell), looseStep))
	}
	return list
}

// leftOf is how much is left beyond what is to be left of the parts of a unit, mm3: where nothing is cut
// too deep, all that is left less those. nil where not all of them are stated.
func (k *stock) leftOf(unit string, remaining float64) *float64 {
	for i := range k.c.setup.Parts {
		p := &k.c.setup.Parts[i]
		if p.Unit != unit {
			continue
		}
		if p.Finished == nil {
			return nil
		}
		remaining -= geom.MassOf(p.Finished.Mesh).Volume
	}
	remaining = max(0, remaining)
	return &remaining
}

// meshes are what is left of the stock of each part, in the frame of the first body that is cut there.
func (k *stock) meshes() []*geom.Mesh {
	list := make([]*geom.Mesh, len(k.c.setup.Parts))
	for i := range list {
		var frame motion.Chain
		for _, b := range k.blanks {
			body := &k.c.setup.Bodies[b.body]
			if body.Unit != k.c.setup.Parts[i].Unit {
				continue
			}
			mesh := b.model.Mesh()
			if list[i] == nil {
				list[i], frame = mesh, body.Chain
				continue
			}
			rel := motion.Between(frame, body.Chain)
			pose := rel.Pose(motion.Params{})
			whole := &geom.Mesh{Facets: append([]geom.Facet(nil), list[i].Facets...)}
			for _, f := range mesh.Facets {
				for v := range f {
					f[v] = geom.VertexOf(pose.Point(f[v].Vector()))
				}
				whole.Facets = append(whole.Facets, f)
			}
			list[i] = whole
		}
	}
	return list
}
