package machine

import (
	"fmt"
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine/tooling"

	"github.com/golang/geo/r3"
)

// ToolBody is a zone of a tool, in the spindle.
type ToolBody struct {
	Body
	Zone tooling.Zone
}

// ToolBodies returns the zones of one of the setup's tools as bodies in the
// spindle, from the tip to the spindle, named "T4 cutting part" and so on. What the
// tool's length can be off by is slack of all but the holder. Each call makes
// new solids.
func (s *Setup) ToolBodies(tool int) []ToolBody { return s.BodiesOf(s.Tools[tool]) }

// BodiesOf is ToolBodies for any tool, such as one of the setup's at another
// stick-out.
func (s *Setup) BodiesOf(t *tooling.Tool) []ToolBody {
	var bodies []ToolBody
	for _, z := range tooling.Zones() {
		m := t.Solid(z)
		if m == nil {
			continue
		}
		chain, chord := s.Spindle.Chain, 0.0 // zones are enclosed from outside
		if z == tooling.HolderZone {
			chord = t.Holder.ChordError // but for a holder that is given as a solid
		}
		if z != tooling.HolderZone && t.Within > 0 {
			chain.Joints = append(slices.Clip(chain.Joints), motion.Joint{
				Name: fmt.Sprintf("T%d length", t.Number), Kind: motion.Linear,
				Axis: chain.Home.Dir(r3.Vector{Z: 1}), Slack: t.Within,
			})
		}
		bodies = append(bodies, ToolBody{Zone: z, Body: Body{
			Name: fmt.Sprintf("T%d %s", t.Number, z), Unit: toolUnit, Role: "tool", OnTool: true,
			Solid: &Solid{Mesh: m, Audit: geom.AuditOf(m), ChordError: chord}, Chain: chain, Fixed: chain.Rigid(),
		}})
	}
	return bodies
}
