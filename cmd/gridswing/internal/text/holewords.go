package text

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gridswing/geom/bores"
)

// write says in words what is round, and ends with the tables.
func (h *Holes) write(p *page) {
	p.heading("Holes")
	if len(h.Holes) == 0 {
		p.line("   none")
	}
	in := h.patternOf()
	writeKinds(p, len(h.Holes), func(i int) (string, string) {
		b := &h.found.Holes[i]
		return holeWords(b), direction(array(b.Axis))
	}, func(i int) (string, string) { return in[i], corner(h.Holes[i].Mouth) })
	if len(h.Bosses) > 0 {
		p.heading("Bosses")
		writeKinds(p, len(h.Bosses), func(i int) (string, string) {
			b := &h.Bosses[i]
			return fmt.Sprintf("%s, %s high", mmOf(b.Diameter), mmOf(b.Height)), direction(b.Axis)
		}, func(i int) (string, string) { return "", corner(h.Bosses[i].Base) })
	}
	h.writeFit(p)
	h.writePatterns(p)
	p.heading("For a component file, lengths in " + h.unit.String())
	if p.err == nil {
		_, p.err = p.w.Write([]byte(h.Tables))
	}
}

// writeKinds writes equal things together: how many, what, along which axis, where.
func writeKinds(p *page, n int, what func(int) (words, axis string), where func(int) (pattern, at string)) {
	type kind struct {
		words, axis string
		members     []int
	}
	var kinds []kind
	for i := range n {
		words, axis := what(i)
		k := slices.IndexFunc(kinds, func(k kind) bool { return k.words == words && k.axis == axis })
		if k < 0 {
			k = len(kinds)
			kinds = append(kinds, kind{words: words, axis: axis})
		}
		kinds[k].members = append(kinds[k].members, i)
	}
	for _, k := range kinds {
		p.wrapped(fmt.Sprintf("   %4d x ", len(k.members)), 10, k.words+", axis "+k.axis)
		p.wrapped("", 10, "at "+places(k.members, where))
	}
}

// places says where things are: by pattern, the others one by one.
func places(members []int, where func(int) (pattern, at string)) string {
	const most = 12
	counts := map[string]int{}
	var patterns, single []string
	for _, i := range members {
		pattern, at := where(i)
		switch {
		case pattern == "":
			single = append(single, "("+at+")")
		case counts[pattern] == 0:
			patterns = append(patterns, pattern)
			counts[pattern]++
		default:
			counts[pattern]++
		}
	}
	for i, name := range patterns {
		patterns[i] = fmt.Sprintf("%d places of %s", counts[name], name)
		if counts[name] == 1 {
			patterns[i] = "1 place of " + name
		}
	}
	if more := len(single) - most; more > 0 {
		single = append(single[:most], fmt.Sprintf("and %d more, which --json lists", more))
	}
	return strings.Join(append(patterns, single...), ", ")
}

// patternOf names the pattern of each hole, "" for none.
func (h *Holes) patternOf() []string {
	in := make([]string, len(h.Holes))
	for i := range h.Grids {
		for _, k := range h.Grids[i].Holes {
			in[k] = h.Grids[i].Name
		}
	}
	for i := range h.Circles {
		for _, k := range h.Circles[i].Holes {
			in[k] = circleName(i)
		}
	}
	return in
}

func gridName(i int) string   { return fmt.Sprintf("grid %d", i+1) }
func circleName(i int) string { return fmt.Sprintf("bolt circle %d", i+1) }

// holeWords says what a hole is: "16 to a depth of 16, then 10.2, blind, 40 deep".
func holeWords(b *bores.Hole) string {
	var words []string
	for i := range b.Steps {
		s := &b.Steps[i]
		diameter := mmOf(s.Diameter)
		if i > 0 {
			diameter = "then " + diameter
		}
		if i < len(b.Steps)-1 {
			diameter += " to a depth of " + mmOf(s.To)
		}
		words = append(words, diameter)
	}
	end := fmt.Sprintf("%s, %s deep", b.Bottom, mmOf(b.Depth))
	switch {
	case b.Bottom == bores.Untold:
		end = fmt.Sprintf("%s deep where the mesh is open, so through or blind is not told", mmOf(b.Depth))
	case b.Point > 0:
		end += fmt.Sprintf(", to the point %s (%s degrees)", mmOf(b.Deepest), short(b.Point*180/math.Pi, 1))
	case b.Deepest > b.Depth+0.005:
		end += fmt.Sprintf(", what closes it reaches to %s", mmOf(b.Deepest))
	}
	words = append(words, end)
	if b.Chamfer > 0 {
		words = append(words, "mouth chamfered to "+mmOf(b.Chamfer))
	}
	if b.Exit > 0 {
		words = append(words, "far end chamfered to "+mmOf(b.Exit))
	}
	return strings.Join(words, ", ")
}

// mmOf prints a fitted length in mm.
func mmOf(mm float64) string { return short(mm, 3) }

// direction prints a unit vector, (0, 0, 1).
func direction(d [3]float64) string {
	return "(" + short(d[0], 4) + ", " + short(d[1], 4) + ", " + short(d[2], 4) + ")"
}

// writeFit says what the diameters are worth.
func (h *Holes) writeFit(p *page) {
	worst, flats := 0.0, 0.0
	look := func(diameter, inner, off float64) {
		worst, flats = max(worst, off), max(flats, (diameter-inner)/2)
	}
	for i := range h.Holes {
		for _, s := range h.Holes[i].Steps {
			look(s.Diameter, s.Flats, s.Worst)
		}
	}
	for _, b := range h.Bosses {
		look(b.Diameter, b.Flats, b.Worst)
	}
	if len(h.Holes)+len(h.Bosses)+len(h.Arcs) > 0 {
		p.line("")
	}
	if len(h.Holes)+len(h.Bosses) > 0 {
		p.field("diameters", fmt.Sprintf("of the circle on which the corners of the facets lie, to %s mm at worst; "+
			"the middles of the facets lie up to %s mm within it", up3(worst), up3(flats)))
	}
	h.writeArcs(p)
}

// writeArcs counts the arcs, and lists those of more than half a circle: a bore with a
// keyway is one.
func (h *Holes) writeArcs(p *page) {
	const half, most = 181, 12 // degrees; arcs
	if len(h.Arcs) == 0 {
		return
	}
	p.field("arcs", plural(len(h.Arcs), "round piece")+" of less than 350 degrees, such as fillets and the ends of slots, left out")
	listed := 0
	for _, a := range h.Arcs {
		if a.Coverage < half || listed == most {
			continue
		}
		listed++
		sense := "hollow"
		if a.Boss {
			sense = "column"
		}
		p.field("", fmt.Sprintf("%s of %s, %s degrees of it, %s long, axis %s, its middle at (%s)",
			sense, mmOf(a.Diameter), short(a.Coverage, 0), mmOf(a.Length), direction(a.Axis), corner(a.Middle)))
	}
}

func (h *Holes) writePatterns(p *page) {
	if len(h.Grids)+len(h.Circles) == 0 {
		return
	}
	p.heading("Patterns")
	for i := range h.Grids {
		g := &h.Grids[i]
		words := fmt.Sprintf("%s along %s", plural(g.Columns, "column"), direction(g.U))
		pitch := mmOf(g.Pitch[0])
		if g.Rows > 1 {
			words += fmt.Sprintf(", %s along %s", plural(g.Rows, "row"), direction(g.V))
			if second := mmOf(g.Pitch[1]); second != pitch {
				pitch += " x " + second
			}
		}
		words += fmt.Sprintf(", pitch %s, A1 at (%s); %s of %s, at most %s mm off", pitch, corner(g.Origin),
			plural(len(g.Holes), "hole"), mmOf(g.Diameter), up3(g.Worst))
		if len(g.Omit) > 0 {
			words += "; none at " + strings.Join(g.Omit, ", ")
		}
		p.wrapped("   "+g.Name, 19, words)
	}
	for i := range h.Circles {
		c := &h.Circles[i]
		words := fmt.Sprintf("%s at equal angles, radius %s, about (%s), axis %s, the first towards %s; %s of %s, at most %s mm off",
			plural(c.Places, "place"), mmOf(c.Radius), corner(c.Centre), direction(c.Axis), direction(c.First),
			plural(len(c.Holes), "hole"), mmOf(c.Diameter), up3(c.Worst))
		if c.Missing > 0 {
			words += fmt.Sprintf("; %d missing", c.Missing)
		}
		p.wrapped("   "+circleName(i), 19, words)
	}
}
