package machine

import (
	"fmt"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// addBodies lists the parts of a placed assembly as bodies.
func (b *builder) addBodies(p *placed) {
	for i := range p.parts {
		p.bodies = append(p.bodies, len(b.setup.Bodies))
		b.setup.Bodies = append(b.setup.Bodies, p.body(i))
	}
}

// body returns a part of a placed assembly as a body.
func (p *placed) body(i int) Body {
	s, f := p.parts[i], p.partFrame(i)
	name := p.unit + "/" + s.name
	if p.unit != machineUnit && (len(p.parts) == 1 || p.spacer) {
		name = p.unit
	}
	body := Body{
		Name: name, Unit: p.unit, Role: s.role, OnTool: f.onTool, Solid: s.solid,
		Chain: motion.Chain{Joints: f.joints, Home: f.home},
		Mass:  s.mass, Density: s.density, UnitMass: p.mass,
	}
	body.Fixed = body.Chain.Rigid()
	return body
}

// addTool lists the tool: a prism around its cylinder, standing on the
// spindle's gauge point. The setup's tool stands in for the machine's, and both are
// made as large as what operations use.
func (b *builder) addTool() {
	t := b.machine.tool
	if b.file.Tool != nil {
		if b.machine.spindle == nil {
			b.src.fault("tool", "a tool, and no spindle in "+b.machine.src.name, "a table [spindle] there that says where the tool stands")
			return
		}
		t = b.src.tool(b.file.Tool, b.unit)
	}
	if b.src.any() {
		return
	}
	if t = b.covering(t); t == nil {
		return
	}
	b.setup.Tool = t
	sp := b.machine.spindle
	f := b.base.axisFrame(sp.carriedBy, false).at(sp.pose())
	body := Body{
		Name: ToolUnit, Unit: ToolUnit, Role: "tool", OnTool: true,
		Solid: b.setup.made.prism(t.Diameter, -t.Length, 0), // the gauge point as origin, Z from the tip to the spindle
		Chain: motion.Chain{Joints: f.joints, Home: f.home},
	}
	body.Fixed = body.Chain.Rigid()
	b.setup.Bodies = append(b.setup.Bodies, body)
	b.mateTool(f)
}

// mateTool lets the tool touch what is fixed to it: the spindle nose and
// whatever else stands still with it. Drawn against the axis, it comes free.
func (b *builder) mateTool(at frame) {
	tool := len(b.setup.Bodies) - 1
	for i, p := range b.machine.parts {
		if p.carriedBy == b.machine.spindle.carriedBy {
			b.setup.Matings = append(b.setup.Matings, Mating{
				A: tool, B: b.base.bodies[i], Lift: at.home.Dir(r3.Vector{Z: -1}),
				Reason: "the tool stands in the spindle",
			})
		}
	}
}

// describe adds what depends on the whole: words and warnings.
func (b *builder) describe() {
	s := b.setup
	for i := range s.Axes {
		a := &s.Axes[i]
		if a.Kind == motion.Rotary {
			a.Words = words(a, s.Up)
		}
	}
	for _, p := range b.assemblies() {
		s.Warnings = append(s.Warnings, p.warnings...)
	}
	if b.machine.changer != nil {
		s.Warnings = append(s.Warnings, b.machine.changer.warnings...)
	}
	s.Warnings = append(s.Warnings, b.finished.warnings...)
	b.warnOfAxes()
	b.warnOfTools()
	b.warnOfHoles()
	s.Unstated = b.unstated()
}

// warnOfAxes warns of axes whose letter or sense surprises.
func (b *builder) warnOfAxes() {
	warn := func(format string, args ...any) {
		b.setup.Warnings = append(b.setup.Warnings, fmt.Sprintf(format, args...))
	}
	for _, p := range b.inOrder() {
		for i, a := range p.axes {
			if a.setting {
				continue
			}
			x := &b.setup.Axes[p.params[i]]
			if x.Letter != a.id {
				warn("axis %s of %s turns about a line parallel to %s as seated: it is called %s here",
					a.id, p.unit, "XYZ"[x.Letter[0]-'A':x.Letter[0]-'A'+1], x.Letter)
			}
			if x.Kind == motion.Rotary && x.Reversed && !a.reversed {
				warn("axis %s of %s turns against ISO 841 as it stands, %s: check the sign that the control gives it",
					x.Letter, p.unit, "since its direction in "+p.src.name+" points the other way there")
			}
			if k, sign := parallel(x.Direction); p.unit == machineUnit && sign != 0 && misnamed(x, k) {
				warn("axis %s of the machine is parallel to %s, which ISO 841 would call otherwise", x.Letter, "XYZ"[k:k+1])
			}
		}
	}
}

// misnamed reports whether ISO 841 has another letter for an axis parallel to
// coordinate axis k.
func misnamed(x *Axis, k int) bool {
	right := []string{"XU", "YV", "ZW"}[k]
	if x.Kind == motion.Rotary {
		right = "ABC"[k : k+1]
	}
	for _, r := range right {
		if rune(x.Letter[0]) == r {
			return false
		}
	}
	return true
}

// inOrder lists what is placed: the machine first, then as in the file.
func (b *builder) inOrder() []*placed {
	list := []*placed{b.base}
	for i := range b.file.Places {
		list = append(list, b.done[b.file.Places[i].Name])
	}
	return list
}

// assemblies lists the files' assemblies once each, in the same order.
func (b *builder) assemblies() []*assembly {
	var list []*assembly
	seen := make(map[*assembly]bool)
	for _, p := range b.inOrder() {
		if !seen[p.assembly] {
			seen[p.assembly] = true
			list = append(list, p.assembly)
		}
	}
	return list
}
