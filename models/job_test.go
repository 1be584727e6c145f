package models_test

import (
	"reflect"
	"strings"
	"testing"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/stl"
	"gridswing/machine"
	"gridswing/machine/tooling"
	"gridswing/models"

	"github.com/golang/geo/r3"
)

// Nothing is wrong with any tool of the crib, used or not, and both setups cut the
// same with the same.
func TestToolsAndOperations(t *testing.T) {
	good, bad := load(t, models.GoodSetup), load(t, models.BadSetup)
	for _, f := range append(good.Faulty, bad.Faulty...) {
		t.Errorf("%+v", f)
	}
	if n := len(good.Tools); n < 8 || n > 12 {
		t.Errorf("%d tools, want 8 to 12", n)
	}
	for _, tool := range good.Tools {
		for _, fault := range tool.Check() {
			t.Errorf("T%d: %v", tool.Number, fault)
		}
		if tool.TotalMass() == 0 {
			t.Errorf("T%d: no mass", tool.Number)
		}
		// the swing is looked at with the plain tool of the machine file
		if tool.LPR() > 180 || tool.Widest() > 80 {
			t.Errorf("T%d: %v x %v mm does not fit into the machine's largest tool", tool.Number, tool.Widest(), tool.LPR())
		}
	}
	if len(good.Operations) != len(bad.Operations) {
		t.Fatalf("%d operations, and %d of the bad setup", len(good.Operations), len(bad.Operations))
	}
	for i := range good.Operations {
		a, b := good.Operations[i], bad.Operations[i]
		for k := range min(len(a.Features), len(b.Features)) {
			a.Features[k].Where, b.Features[k].Where = "", "" // the files
		}
		if a.Name != b.Name || a.Tool != b.Tool || !reflect.DeepEqual(a.Features, b.Features) {
			t.Errorf("%s: another one in the bad setup", a.Name)
		}
	}
}

// Whatever is cut leaves the bracket whole: its solid keeps out of each cutter, less
// a tenth of a millimetre for the chords, wherever the operations lead it. The edge
// that is broken is sharp in the solid: there it is 0.5, and the tenth.
func TestOperationsLeaveTheBracketWhole(t *testing.T) {
	s := load(t, models.GoodSetup)
	mesh, err := stl.ReadFS(models.Demo, "solids/bracket.stl")
	if err != nil {
		t.Fatal(err)
	}
	bracket := collide.NewTree(mesh)
	looked := 0
	for i := range s.Operations {
		op := &s.Operations[i]
		tool := s.Tools[op.Tool]
		if tool.Cutter.Kind == tooling.TouchProbe {
			continue
		}
		less := 0.1
		if strings.HasPrefix(op.Name, "break ") {
			less = 0.6
		}
		cutter := smaller(tool, less)
		at := geom.Pose{R: geom.Identity().R, T: r3.Vector{Z: cutter.LPR() + less}} // the gauge frame from the tip
		tree := collide.NewTree(cutter.Solid(tooling.Cutting))
		for k := range op.Features {
			f := &op.Features[k]
			for _, p := range poses(f) {
				looked++
				if d := collide.Distance(bracket, tree, p.Mul(at)); d.Distance == 0 {
					t.Errorf("%s, %s: the cutter is in the bracket with its tip at %v", op.Name, f.Name, p.T)
					break
				}
			}
		}
	}
	if looked < 500 {
		t.Errorf("%d positions, want 500 or more", looked)
	}
}

// smaller returns a tool whose cutter is less wide by that much on each side.
func smaller(t *tooling.Tool, less float64) *tooling.Tool {
	c := *t.Cutter
	c.DC -= 2 * less
	c.RE = max(0, c.RE-less)
	small := *t
	small.Cutter = &c
	return &small
}

// poses returns where the tool is led in the part's coordinates, origin at the tip
// and Z along the tool: what is between the corners of an area or the points of a
// path included.
func poses(f *machine.Feature) (list []geom.Pose) {
	const steps = 8
	if a := f.Area; a != nil {
		for i := range steps + 1 {
			for k := range steps + 1 {
				u, v := a.U.Mul(float64(i)/steps), a.V.Mul(float64(k)/steps)
				list = append(list, upright(a.Corner.Add(u).Add(v).Sub(f.Axes[0].Mul(a.Depth)), f.Axes[0]))
			}
		}
		return list
	}
	for i, tip := range f.Tips {
		next, axis, end := tip, f.Axes[min(i, len(f.Axes)-1)], f.Axes[min(i+1, len(f.Axes)-1)]
		if i+1 < len(f.Tips) {
			next = f.Tips[i+1]
		}
		for k := range steps {
			share := float64(k) / steps
			list = append(list, upright(tip.Add(next.Sub(tip).Mul(share)), axis.Add(end.Sub(axis).Mul(share)).Normalize()))
		}
	}
	return list
}

func upright(at, axis r3.Vector) geom.Pose {
	x := axis.Ortho()
	y := axis.Cross(x)
	return geom.Pose{R: geom.Rotation{{x.X, y.X, axis.X}, {x.Y, y.Y, axis.Y}, {x.Z, y.Z, axis.Z}}, T: at}
}
