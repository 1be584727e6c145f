package main

import (
	"fmt"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/tooling"

	"github.com/golang/geo/r3"
)

// job writes one program.
type job struct {
	writer
	*shop
	op   *machine.Operation
	tool *tooling.Tool
	view view
}

// Cutting data by tool: turns and mm a minute. Common practice for aluminium, no source.
var data = map[int]struct{ speed, feed float64 }{
	1: {8000, 2400}, 2: {9000, 2700}, 3: {12000, 1800}, 4: {6000, 600}, 5: {5500, 660}, 6: {2400, 380},
	7: {14000, 2800}, 8: {9000, 900},
}

// bracket writes the program of the setup's operations, but for those of the probe: the block
// is found by hand. With an offset it sets that of the part itself first.
func bracket(s *machine.Setup, offset *motion.Params) ([]byte, error) {
	w, err := newShop(s)
	if err != nil {
		return nil, err
	}
	j := &job{shop: w}
	j.forget()
	j.line("%%")
	j.remark("%s", s.Name)
	j.remark("%s, zero in the middle of the underside", s.Parts[0].Name)
	j.line("G21 G17 G40 G49 G80 G90 G94")
	if offset != nil {
		j.remark("offset of the block")
		j.line("G10 L2 P1%s", j.offset(offset))
	}
	last := 0
	for i := range s.Operations {
		j.op, j.tool = &s.Operations[i], s.Tools[s.Operations[i].Tool]
		if j.tool.Cutter.Kind == tooling.TouchProbe {
			continue
		}
		if j.tool.Number != last {
			j.change(last != 0)
			last = j.tool.Number
		}
		j.remark("%s", j.op.Name)
		if err := j.operation(); err != nil {
			return nil, fmt.Errorf("%s: %w", j.op.Name, err)
		}
	}
	j.line("M9")
	j.line("M5")
	j.line("G91 G28 X0. Y0. Z0. A0. C0.")
	j.line("G90")
	j.line("M30")
	j.line("%%")
	return j.Bytes(), nil
}

// change takes the tool of the operation.
func (j *job) change(cooled bool) {
	if cooled {
		j.line("M9")
	} else {
		j.line("G53 G0 Z0.")
	}
	j.line("M5")
	j.remark("t%d %s, %.3f long", j.tool.Number, j.tool.Cutter.Name, j.tool.LPR())
	j.line("T%d M6", j.tool.Number)
	j.line("S%.0f M3", data[j.tool.Number].speed)
	j.line("M8")
	j.line("%s", j.setup.Parts[0].Offset)
	j.forget()
}

// operation writes the features, those with one direction together.
func (j *job) operation() error {
	var axis r3.Vector
	for i := range j.op.Features {
		f := &j.op.Features[i]
		if f.Kind == machine.Contour {
			across := f.Axes[0].Dot(axis) < 0
			if across {
				j.away()
			}
			if err := j.wallEnd(f, i == 0 || across); err != nil {
				return err
			}
			axis = f.Axes[0]
			continue
		}
		first := f.Axes[0] != axis
		if axis = f.Axes[0]; first {
			if i > 0 {
				j.away()
			}
			if err := j.turn(axis); err != nil {
				return err
			}
		}
		if err := j.feature(f, first); err != nil {
			return fmt.Errorf("%s: %w", f.Name, err)
		}
	}
	j.away()
	return nil
}

// away takes the tool off the work, and ends what control there is.
func (j *job) away() {
	j.line("G270")
	j.line("G49")
	j.line("G53 G0 Z0.")
	j.forget()
}

// turn turns the table to where the tool lies along axis, with the zero carried.
func (j *job) turn(axis r3.Vector) (err error) {
	if j.view, err = j.present(axis); err != nil {
		return err
	}
	j.rapid(j.rotary(j.view.at)...)
	j.line("G272")
	return nil
}

// over brings the tool over a point: to the height of retraction, the first time from
// above.
func (j *job) over(p r3.Vector, first bool) error {
	axis := j.view.part.R.ApplyInverse(r3.Vector{Z: 1})
	p = p.Add(axis.Mul(j.top(axis) + j.op.Retract - p.Dot(axis)))
	at := j.view.to(p)
	if !first {
		j.rapid(xyz(at)...)
		return nil
	}
	from, err := j.high(j.view.at, p, j.tool.LPR())
	if err != nil {
		return err
	}
	j.move(fmt.Sprintf("G0 G43 H%d", j.tool.Number), 0, xyz(j.view.to(from))...)
	j.rapid(xyz(at)...)
	return nil
}

func (j *job) feature(f *machine.Feature, first bool) error {
	switch {
	case f.Kind == machine.Hole:
		return j.hole(f, first)
	case f.Area != nil:
		return j.area(f, first)
	case closed(f):
		return j.round(f, first)
	}
	return j.path(f, first)
}
