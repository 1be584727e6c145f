package spindle

import (
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check/proof"
	"gridswing/machine/tooling"
)

// Mover is a body that goes with the spindle.
type Mover struct {
	Body *machine.Body
	// Index is its place in Setup.Bodies, or, from len(Setup.Bodies) on, in Setup.ToolBodies.
	Index int
	Part  bool         // of the tool
	Zone  tooling.Zone // of which zone; nothing unless Part
}

// Sharp reports whether it is the tool's cutting part.
func (m *Mover) Sharp() bool { return m.Part && m.Zone == tooling.Cutting }

// Slim reports whether it is no wider than what cuts and follows it.
func (m *Mover) Slim() bool { return m.Part && m.Zone == tooling.Neck }

// Heads lists the bodies of a setup that go with the spindle and are no tool, as indices.
func Heads(s *machine.Setup) (list []int) {
	for i := range s.Bodies {
		if b := &s.Bodies[i]; b.OnTool && b.Role != "tool" {
			list = append(list, i)
		}
	}
	return list
}

// Others lists the bodies of a setup that the spindle is moved against, as indices: those on
// the workpiece's side, and those on its own side that it swivels against. What another one stands for
// is left out: see machine.Spacer.
func Others(s *machine.Setup) (list []int) {
	for i := range s.Bodies {
		b := &s.Bodies[i]
		if (!b.OnTool || swivels(s, b)) && (s.Spacer == nil || i != s.Spacer.Below) {
			list = append(list, i)
		}
	}
	return list
}

// swivels reports whether a rotary axis moves the spindle against a body on its own
// side: then a tool can meet it.
func swivels(s *machine.Setup, b *machine.Body) bool {
	if !b.OnTool || b.Role == "tool" {
		return false
	}
	rel := motion.Between(s.Spindle.Chain, b.Chain)
	for k, used := range rel.Uses() {
		if used && s.Axes[k].Kind == motion.Rotary {
			return true
		}
	}
	return false
}

// With returns the movers with one of the setup's tools in the spindle: its zones, from the tip up, then
// the heads. Their trees are there then.
func With(s *machine.Setup, trees *proof.Trees, tool int) (list []Mover) {
	zones := s.ToolBodies(tool)
	for i := range zones {
		trees.Plant(1, []machine.Body{zones[i].Body})
		list = append(list, Mover{Body: &zones[i].Body, Zone: zones[i].Zone, Part: true, Index: len(s.Bodies) + i})
	}
	return append(list, Without(s)...)
}

// Without returns the movers with no tool in the spindle.
func Without(s *machine.Setup) (list []Mover) {
	for _, i := range Heads(s) {
		list = append(list, Mover{Body: &s.Bodies[i], Index: i})
	}
	return list
}
