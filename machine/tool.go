package machine

import (
	"fmt"
	"math"
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// spindle is where tools stand: bed frame with every axis at zero, mm.
type spindle struct {
	carriedBy int       // axis of the machine, -1: the bed
	gauge     r3.Vector // on the spindle's axis, on the gauge line
	axis      r3.Vector // unit, from the tool's tip to the spindle
}

func (s *source) spindle(t *spindleTable, unit scale, carriers []string) *spindle {
	return &spindle{
		carriedBy: s.carrier(t.Path, t.CarriedBy, "bed", carriers),
		gauge:     unit.point(t.GaugePoint),
		axis:      s.unitVector(t.Path+".axis", t.Axis),
	}
}

// addSpindle says where tools stand.
func (b *builder) addSpindle() {
	sp := b.machine.spindle
	if sp == nil {
		return
	}
	f := b.base.axisFrame(sp.carriedBy, false).at(sp.pose())
	s := &Spindle{Chain: motion.Chain{Joints: f.joints, Home: f.home}, Axis: -1}
	for k := sp.carriedBy; k >= 0; k = b.base.axes[k].carriedBy {
		if !b.base.axes[k].setting {
			s.Axis = b.base.params[k]
			break
		}
	}
	b.setup.Spindle = s
}

// Tool is the largest tool of a setup, as a plain cylinder, in mm.
type Tool struct {
	Diameter float64
	Length   float64 // gauge line to foremost point: LPR, ISO 13399
}

// covering returns the tool that is assumed in the spindle: the one that is stated, or
// none, made as long and as wide as every tool that operations use.
func (b *builder) covering(stated *Tool) *Tool {
	if b.machine.spindle == nil {
		return stated
	}
	var all Tool
	if stated != nil {
		all = *stated
	}
	var told []int
	for i := range b.file.Operations {
		n := b.file.Operations[i].Tool
		t := b.tools[n]
		if t == nil || len(t.faults) > 0 {
			continue // its operation is left out
		}
		length, diameter := t.LPR()+t.Within, t.widest
		if stated != nil && !slices.Contains(told, n) {
			told = append(told, n)
			b.warnOfLarger(t, stated, length, diameter)
		}
		all.Length, all.Diameter = max(all.Length, length), max(all.Diameter, diameter)
	}
	if all == (Tool{}) {
		return nil
	}
	return &all
}

// coarse is what two sizes of tools may differ by before it is worth a word, mm.
const coarse = 1e-6

func (b *builder) warnOfLarger(t *listedTool, stated *Tool, length, diameter float64) {
	warn := func(what string, is, than float64) {
		if is > than+coarse {
			b.setup.Warnings = append(b.setup.Warnings, fmt.Sprintf("%s: T%d is %s than the largest tool by [tool], %g mm against %g mm: it is taken as that %s",
				t.where(), t.Number, what, toThousandth(is), toThousandth(than), map[string]string{"longer": "long", "wider": "wide"}[what]))
		}
	}
	warn("longer", length, stated.Length)
	warn("wider", diameter, stated.Diameter)
}

func (s *source) tool(t *toolTable, unit scale) *Tool {
	return &Tool{
		Diameter: unit.mm(s.positive(t.Path+".diameter", t.Diameter)),
		Length:   unit.mm(s.positive(t.Path+".length", t.Length)),
	}
}

// toolSides is the number of flat sides that stand in for a cylinder's round one.
const toolSides = 72

// prism returns a prism around a cylinder about Z, which it touches along the middle
// of each side and nowhere enters: corners at r/cos(pi/n), and ends moved outward by
// the rounding of a vertex.
func prism(diameter, bottom, top float64) *geom.Mesh {
	// Outward by more than that rounding (2^-24 of its coordinate, in a side's
	// direction no more than the square root of two times that).
	const outward = 1 + 1.0/(1<<22)
	corner := diameter / 2 / math.Cos(math.Pi/toolSides) * outward
	at := func(i int, z float64) geom.Vertex {
		sin, cos := math.Sincos(2 * math.Pi * float64(i%toolSides) / toolSides)
		return geom.VertexOf(r3.Vector{X: corner * cos, Y: corner * sin, Z: z * outward})
	}
	upper, lower := geom.VertexOf(r3.Vector{Z: top * outward}), geom.VertexOf(r3.Vector{Z: bottom * outward})
	m := &geom.Mesh{}
	for i := range toolSides {
		a, b := at(i, bottom), at(i+1, bottom)
		c, d := at(i, top), at(i+1, top)
		m.Facets = append(m.Facets,
			geom.Facet{a, b, d}, geom.Facet{a, d, c},
			geom.Facet{upper, c, d}, geom.Facet{lower, b, a})
	}
	return m
}

// pose returns where the tool's frame stands in the bed frame.
func (sp *spindle) pose() geom.Pose {
	x := sp.axis.Ortho()
	y := sp.axis.Cross(x)
	p := geom.Pose{R: columns(x, y, sp.axis), T: sp.gauge}
	return p
}

// columns returns the rotation that takes X, Y and Z to the given unit vectors.
func columns(x, y, z r3.Vector) geom.Rotation {
	return geom.Rotation{{x.X, y.X, z.X}, {x.Y, y.Y, z.Y}, {x.Z, y.Z, z.Z}}
}
