package pictures

import (
	"fmt"
	"math"
	"strings"

	"gridswing/geom/envelope"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/render"
)

// carried is what the same one or two rotary axes carry.
type carried struct {
	tilt, rotary int // of the setup's axes; tilt is -1 if only one carries it
	joint        string
	loads        []envelope.Load
}

// Swept returns the space that all that stands on units with rotary axes takes while these go
// over their commanded ranges, the other axes as p has them: a veil for each unit, and what a
// caption says of it, or of why there is none.
func (sc *Scene) Swept(p motion.Params) (items []render.Item, words []string, err error) {
	hulls, words, err := sc.hulls(p)
	if err == nil && len(hulls) == 0 && len(words) == 0 {
		words = []string{"Nothing is shown swept: nothing stands on a rotary axis."}
	}
	return veils(hulls), words, err
}

// hulls returns the same without anything made ready to be drawn, which takes longer than all else.
func (sc *Scene) hulls(p motion.Params) (list []*envelope.Hull, words []string, err error) {
	groups, words := sc.carried()
	for _, g := range groups {
		s := envelope.Sweep{Tilt: g.tilt, Rotary: g.rotary, At: p}
		if g.tilt >= 0 {
			c := sc.setup.Axes[g.tilt].Commanded
			s.Lo, s.Hi = c[0], c[1]
		}
		hull, err := envelope.Of(g.loads, s)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: what stands on %s cannot be shown swept: %w", sc.setup.File, sc.setup.Axes[g.rotary].Letter, err)
		}
		list = append(list, hull)
		words = append(words, sc.sweptWords(g, hull.Beyond))
	}
	return list, words, nil
}

// veils makes hulls ready to be drawn.
func veils(hulls []*envelope.Hull) (items []render.Item) {
	for _, h := range hulls {
		items = append(items, render.Item{Name: "swept", Shape: render.Prepare(h.Mesh, true), Pose: h.Pose, Emphasis: render.Swept})
	}
	return items
}

// carried parts what stands on units with rotary axes by the axes that carry it, outermost
// first, and says what it leaves out.
func (sc *Scene) carried() (groups []*carried, words []string) {
	left := map[string]bool{}
	for i := range sc.setup.Bodies {
		b := &sc.setup.Bodies[i]
		if b.OnTool || b.Unit == "machine" {
			continue
		}
		turned, joint := sc.rotaries(b)
		if len(turned) == 0 || sc.setup.Axes[turned[len(turned)-1]].Unit == b.Unit {
			continue
		}
		if len(turned) > 2 {
			if !left[b.Unit] {
				words = append(words, b.Unit+" is not shown swept: more than two rotary axes carry it.")
			}
			left[b.Unit] = true
			continue
		}
		g := &carried{tilt: -1, rotary: turned[len(turned)-1], joint: joint}
		if len(turned) == 2 {
			g.tilt = turned[0]
		}
		known := false
		for _, other := range groups {
			if other.tilt == g.tilt && other.rotary == g.rotary && other.joint == g.joint {
				g, known = other, true
			}
		}
		if !known {
			groups = append(groups, g)
		}
		g.loads = append(g.loads, envelope.Load{Mesh: b.Solid.Mesh, Chain: b.Chain, Margin: b.Solid.ChordError})
	}
	return groups, words
}

// rotaries returns the rotary axes that carry a body, outermost first, and the name of the last one's joint.
func (sc *Scene) rotaries(b *machine.Body) (axes []int, joint string) {
	for i := range b.Chain.Joints {
		j := &b.Chain.Joints[i]
		for k, gain := range j.Gain {
			if gain != 0 && j.Kind == motion.Rotary && k < len(sc.setup.Axes) {
				axes, joint = append(axes, k), j.Name
			}
		}
	}
	return axes, joint
}

// sweptWords says what a veil is of.
func (sc *Scene) sweptWords(g *carried, beyond float64) string {
	rotary := &sc.setup.Axes[g.rotary]
	over := []string{rotary.Letter + " all the way round"}
	if c := rotary.Commanded; c[1]-c[0] < 2*math.Pi-1e-9 {
		over[0] = fmt.Sprintf("%s all the way round, though %s is commanded", rotary.Letter, sc.ranged(g.rotary))
	}
	if g.tilt >= 0 {
		over = append([]string{sc.setup.Axes[g.tilt].Letter + " " + sc.ranged(g.tilt)}, over...)
	}
	return fmt.Sprintf("Swept by what stands on %s: %s. Never smaller than that; at most %s %s larger.",
		rotary.Letter, strings.Join(over, ", "), sc.lengths.Up(beyond), sc.lengths.Name())
}

// ranged words the commanded range of a rotary axis.
func (sc *Scene) ranged(axis int) string {
	a := &sc.setup.Axes[axis]
	r := check.RangeOf(a, a.Commanded[0], a.Commanded[1])
	return fmt.Sprintf("%s to %s°", number(r.From), number(r.To))
}
