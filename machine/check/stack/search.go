package stack

import (
	"fmt"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/kinematics"
)

// searches holds every touch of a probe to how far off the surface can be at worst:
// the ball must not be at it before the search begins, and must find it before the
// search ends.
func (c *checker) searches() {
	if c.setup.Spindle == nil {
		return
	}
	for i := range c.setup.Operations {
		op := &c.setup.Operations[i]
		part := &c.setup.Parts[op.Part]
		var solver *kinematics.Machine
		for k := range op.Features {
			f := &op.Features[k]
			if f.Kind != machine.Touch || len(f.Tips) != 1 {
				continue
			}
			if solver == nil {
				var err error
				if solver, err = kinematics.New(c.setup.KinematicAxes(), part.Chain, c.setup.Spindle.Chain); err != nil {
					break // said with the part's location
				}
			}
			c.search(op, part, f, solver)
		}
	}
}

// search looks at one touch, at each position that presents it.
func (c *checker) search(op *machine.Operation, part *machine.Part, f *machine.Feature, solver *kinematics.Machine) {
	rel := motion.Between(c.setup.Spindle.Chain, part.Chain)
	length := f.Search.Norm()
	way := f.Search.Mul(1 / length)
	tool := c.setup.Tools[op.Tool]
	surface := f.Tips[0].Add(way.Mul(f.Find))
	var worst float64
	for _, at := range c.touched(op, f, rel) {
		if there, err := solver.Linear(at, f.Tips[0], tool.LPR()); err == nil {
			at = there
		}
		box := motion.At(at)
		e := rel.Over(&box, nil)
		pose := rel.Pose(at)
		u, point := pose.Dir(way), pose.Point(surface)
		worst = max(worst, e.Toward(u, point, 0), e.Toward(u.Mul(-1), point, 0))
	}
	out := check.Search{
		Operation: op.Name, Feature: f.Name, Before: round(f.Find), Beyond: round(length - f.Find), Off: up(worst + tool.Within),
		Verdict: check.Clear,
	}
	if short := min(out.Before, out.Beyond); out.Off > short {
		out.Verdict = check.WithinPlay
		what := fmt.Sprintf("the surface can be %s mm off along the search at worst, and the search begins %s mm before it", mm(out.Off), mm(out.Before))
		if out.Beyond <= out.Before {
			what = fmt.Sprintf("the surface can be %s mm off along the search at worst, and the search ends %s mm beyond it", mm(out.Off), mm(out.Beyond))
		}
		number := tool.Number
		c.report.Findings = append(c.report.Findings, check.Finding{
			Verdict: check.WithinPlay, Question: check.Located, Operation: op.Name, Feature: f.Name, Tool: &number,
			Reason: what, Index: [2]int{c.first(part.Unit), c.first(part.Unit)}, Params: home(c.setup),
		})
	}
	c.out.Searches = append(c.out.Searches, out)
}

// touched are the rotary positions at which a touch is done: the one that reach has
// chosen, those that the operation states, else the corners of the commanded ranges.
func (c *checker) touched(op *machine.Operation, f *machine.Feature, rel motion.Chain) []motion.Params {
	if r := c.report.Reach; r != nil {
		for i := range r.Operations {
			if r.Operations[i].Name != op.Name || r.Operations[i].Part != c.setup.Parts[op.Part].Name {
				continue
			}
			for k := range r.Operations[i].Features {
				for _, at := range r.Operations[i].Features[k].Presented {
					if r.Operations[i].Features[k].Name == f.Name && at.Chosen {
						return []motion.Params{c.params(at.At)}
					}
				}
			}
		}
	}
	if len(op.Positions) > 0 {
		at := home(c.setup)
		for _, p := range op.Positions {
			at[p.Axis] = p.Value
		}
		return []motion.Params{at}
	}
	return c.positions(&subject{part: -1}, rel)
}
