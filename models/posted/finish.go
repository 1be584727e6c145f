package main

import (
	"fmt"
	"math"

	"gridswing/machine"
	"gridswing/machine/tooling"

	"github.com/golang/geo/r3"
)

// closed reports whether a path ends where it begins.
func closed(f *machine.Feature) bool {
	n := len(f.Tips)
	return f.Kind != machine.Hole && n > 2 && f.Tips[0] == f.Tips[n-1]
}

// path goes along a path of tips, down to it beside the block.
func (j *job) path(f *machine.Feature, first bool) error {
	if err := j.over(f.Tips[0], first); err != nil {
		return err
	}
	feed := data[j.tool.Number].feed
	start := f.Tips[0]
	start = start.Add(f.Axes[0].Mul(j.top(f.Axes[0]) + j.op.Approach - start.Dot(f.Axes[0])))
	j.rapid(xyz(j.view.to(start))...)
	for _, p := range f.Tips {
		j.cutTo(feed, j.view.to(p))
	}
	j.cutTo(feed, j.view.to(f.Tips[len(f.Tips)-1].Add(r3.Vector{Y: math.Copysign(1, f.Tips[len(f.Tips)-1].Y)})))
	return j.over(f.Tips[len(f.Tips)-1].Add(r3.Vector{Y: math.Copysign(1, f.Tips[len(f.Tips)-1].Y)}), false)
}

// round goes round a closed path, which is a circle about its middle: of a sunk hole by the
// subprogram, else in one arc.
func (j *job) round(f *machine.Feature, first bool) error {
	var middle r3.Vector
	n := len(f.Tips) - 1
	for _, p := range f.Tips[:n] {
		middle = middle.Add(p.Mul(1 / float64(n)))
	}
	if err := j.over(middle, first); err != nil {
		return err
	}
	feed := data[j.tool.Number].feed
	axis := f.Axes[0]
	if j.tool.Cutter.Kind != tooling.ChamferMill {
		rim := middle.Add(axis.Mul(sunkFrom - middle.Z))
		j.rapid(xyz(j.view.to(rim.Add(axis.Mul(3))))...)
		j.cutTo(feed/2, j.view.to(rim))
		j.line("M98 P7")
		j.forget()
		j.cutTo(feed, j.view.to(rim.Add(axis.Mul(3))))
		return j.over(middle, false)
	}
	j.rapid(xyz(j.view.to(middle.Add(axis.Mul(j.top(axis) + j.op.Approach - middle.Z))))...)
	j.cutTo(feed/2, j.view.to(middle))
	start := j.view.to(f.Tips[0])
	j.cutTo(feed, start)
	centre := j.view.to(middle).Sub(start)
	j.line("G3 I%s J%s", number(centre.X), number(centre.Y))
	j.cutTo(feed, j.view.to(middle))
	return j.over(middle, false)
}

// The sunk holes: 11 across, by a cutter of 10 that goes down a helix to 5.6 from a little above
// the foot, 12 high.
const (
	sunkFrom, sunkTo = 12.2, 5.6
	helix            = 0.5 // its radius
	helixTurns       = 3
)

// sunkHole is the subprogram: from the middle of a hole, sunkFrom high, and back to its middle,
// sunkTo high.
func sunkHole() []byte {
	var w writer
	w.line("%%")
	w.remark("sink a hole from %.1f to %.1f", sunkFrom, sunkTo)
	w.line("G91")
	w.line("G1 X%s F600.", number(helix))
	for range helixTurns {
		w.line("G3 I%s J0. Z%s", number(-helix), number((sunkTo-sunkFrom)/helixTurns))
	}
	w.line("G3 I%s J0.", number(-helix))
	w.line("G1 X%s", number(-helix))
	w.line("G90")
	w.line("M99")
	w.line("%%")
	return w.Bytes()
}

// hole writes a hole of a cycle: of several in one operation, those that stand side by side
// without going up to the height of retraction between them.
func (j *job) hole(f *machine.Feature, first bool) error {
	axis := f.Axes[0]
	tip := f.Tips[0]
	begin := tip.Add(axis.Mul(j.mouth(f) + j.op.Approach - tip.Dot(axis)))
	if err := j.over(tip, first); err != nil {
		return err
	}
	at, r := j.view.to(tip), j.view.to(begin).Z
	feed := data[j.tool.Number].feed
	words := fmt.Sprintf("X%s Y%s Z%s R%s", number(at.X), number(at.Y), number(at.Z), number(r))
	switch kind := j.tool.Cutter.Kind; kind {
	case tooling.SpotDrill:
		j.line("G98 G82 %s P0.2 F%s", words, number(feed))
	case tooling.Drill:
		j.line("G98 G83 %s Q%s F%s", words, number(peck(j.tool)), number(feed))
	default:
		return fmt.Errorf("no cycle for a %s", kind)
	}
	j.line("G80")
	delete(j.axes, "Z")
	return nil
}

// peck is how deep a drill goes at a time: about its diameter (common practice, no source).
func peck(t *tooling.Tool) float64 { return math.Round(t.Cutter.DC) }

// mouth is how high a hole begins: in the foot, or at the top of the block as it was faced.
func (j *job) mouth(f *machine.Feature) float64 {
	const foot, faced = 12.0, 58.0
	if math.Hypot(f.Tips[0].X, f.Tips[0].Y) < 1 {
		return faced
	}
	return foot
}
