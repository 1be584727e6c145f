package spindle

import (
	"slices"

	"gridswing/geom"
	"gridswing/machine"
	"gridswing/machine/check/proof"
	"gridswing/machine/tooling"
)

// Barely is asked, in mm, of what must not meet but may come as near as it likes: a
// cutting part that is smaller by the depth that may be cut, the stem of a
// probe. 0 cannot be proven.
const Barely = 0.01

// MayBeCut returns the statement that allows a body of the setup to be cut into, an index into
// Setup.MayBeCut; -1 for none.
func MayBeCut(s *machine.Setup, body int) int {
	return slices.IndexFunc(s.MayBeCut, func(m machine.MayBeCut) bool { return m.Body == body })
}

// Erode returns a tool's cutting part, which is whole, less a depth all round: where this stays out of
// a body, nothing of the cutting part is deeper in the body, measured along the tool
// and square to it. Raised by the depth and made narrower by it on each side, the
// shape holds all of the erosion; a rounded corner becomes a sharp one, which holds
// it too. Of a cutting part that is thinner or shorter than that a core is kept, from
// which no point of it is farther than the depth: without one it could go right
// through the body.
func Erode(trees *proof.Trees, t *tooling.Tool, whole *machine.Body, depth float64) *machine.Body {
	cutter := *t.Cutter
	raised := min(depth, (1-core)*cutter.APMX)
	cutter.DC -= 2 * min(depth, (1-core)*cutter.DC/2)
	if cutter.DCX > 0 {
		cutter.DCX -= 2 * min(depth, (1-core)*cutter.DCX/2)
	}
	cutter.APMX -= raised
	cutter.RE, cutter.DCN = 0, min(cutter.DCN, cutter.DC)
	less := *t
	less.Cutter = &cutter
	mesh := less.At(less.StickOut - raised).Solid(tooling.Cutting)
	if mesh == nil {
		return whole // as if nothing might be cut
	}
	b := *whole
	b.Solid = &machine.Solid{Mesh: mesh, Audit: geom.AuditOf(mesh)}
	trees.Plant(1, []machine.Body{b})
	return &b
}

// core is what is kept of a cutting part that is all within the depth, as a share
// of its length and of its width.
const core = 0.05
