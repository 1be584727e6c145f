package machine

import (
	"fmt"

	"gridswing/geom"
	"gridswing/machine/tooling"
)

// ToolBodies returns the zones of one of the setup's tools as bodies in the
// spindle, from the tip to the spindle, named "T4 cutting part" and so on. Each call
// makes new solids.
func (s *Setup) ToolBodies(tool int) []Body {
	t := s.Tools[tool]
	var bodies []Body
	for _, z := range tooling.Zones() {
		m := t.Solid(z)
		if m == nil {
			continue
		}
		bodies = append(bodies, Body{
			Name: fmt.Sprintf("T%d %s", t.Number, z), Unit: toolUnit, Role: "tool", OnTool: true,
			Solid: &Solid{Mesh: m, Audit: geom.AuditOf(m)}, Chain: s.Spindle.Chain, Fixed: s.Spindle.Chain.Rigid(),
		})
	}
	return bodies
}
