package machine

import (
	"fmt"
	"slices"

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
// tool's length can be off by is slack of all but the holder. A zone of one shape is one
// solid, in each call and in all variants of a Draft.
func (s *Setup) ToolBodies(tool int) []ToolBody { return s.BodiesOf(s.Tools[tool]) }

// BodiesOf is ToolBodies for any tool, such as one of the setup's at another
// stick-out.
func (s *Setup) BodiesOf(t *tooling.Tool) []ToolBody {
	var bodies []ToolBody
	for _, z := range tooling.Zones() {
		solid := s.made.zone(t, z)
		if solid == nil {
			continue
		}
		chain := s.Spindle.Chain
		if z != tooling.HolderZone && t.Within > 0 {
			chain.Joints = append(slices.Clip(chain.Joints), motion.Joint{
				Name: fmt.Sprintf("T%d length", t.Number), Kind: motion.Linear,
				Axis: chain.Home.Dir(r3.Vector{Z: 1}), Slack: t.Within,
			})
		}
		bodies = append(bodies, ToolBody{Zone: z, Body: Body{
			Name: fmt.Sprintf("T%d %s", t.Number, z), Unit: ToolUnit, Role: "tool", OnTool: true,
			Solid: solid, Chain: chain, Fixed: chain.Rigid(),
		}})
	}
	return bodies
}
