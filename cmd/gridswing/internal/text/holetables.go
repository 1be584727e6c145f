package text

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gridswing/geom"
	"gridswing/geom/bores"

	"github.com/golang/geo/r3"
)

// tableWriter writes tables of a component file, lengths in the unit of the solid's
// file, which is that of the component file, too.
type tableWriter struct {
	b     strings.Builder
	unit  geom.Unit
	solid string
}

// tables returns what a component file can take over. Grids are tables; where pins
// and screws can be is commented out, as the solid does not tell whether it is meant.
func (h *Holes) tables(solid string, unit geom.Unit) string {
	w := &tableWriter{unit: unit, solid: solid}
	n := 0
	for i := range h.grids {
		if g := &h.grids[i]; !h.forScrews(g) {
			w.grid(gridName(i), g, h.found)
			n++
		}
	}
	for i := range h.circles {
		if c := &h.circles[i]; !h.allForScrews(c.Openings) {
			w.circle(circleName(i), c, h.found)
			n++
		}
	}
	n += h.writeSeat(w)
	if n == 0 {
		return "# no pattern of holes, no pair of bores for locating pins, no holes for screws\n"
	}
	return w.b.String()
}

func (w *tableWriter) line(format string, args ...any) { fmt.Fprintf(&w.b, format+"\n", args...) }

func (w *tableWriter) length(mm float64) string {
	if w.unit == geom.Millimetre {
		return plain(mm, 1, 4)
	}
	return plain(mm/float64(w.unit), 1/float64(w.unit), 6)
}

// plain prints a length of a mesh with as few decimals as say the same: what float32
// cannot tell apart at a metre's distance, 0.00015 mm, is rounded away. mm is how long
// a mm is in the unit.
func plain(v, mm float64, most int) string {
	const same = 1.5e-4
	for decimals := range most {
		scale := math.Pow10(decimals)
		if math.Abs(math.Round(v*scale)/scale-v) <= same*mm {
			return fixed(v, decimals)
		}
	}
	return short(v, most)
}

func (w *tableWriter) point(p r3.Vector) string {
	return "[" + w.length(p.X) + ", " + w.length(p.Y) + ", " + w.length(p.Z) + "]"
}

// unitVector prints a direction to nine digits.
func unitVector(d r3.Vector) string {
	return "[" + short(d.X, 9) + ", " + short(d.Y, 9) + ", " + short(d.Z, 9) + "]"
}

// upright replaces a direction by that of an axis if it is only by rounding off it.
func upright(d r3.Vector) r3.Vector {
	const same = 2e-5 // 0.02 mm over a metre
	for _, axis := range [3]r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
		if along := d.Dot(axis); d.Sub(axis.Mul(math.Copysign(1, along))).Norm() <= same {
			return axis.Mul(math.Copysign(1, along))
		}
	}
	return d
}

// grid writes a [[grid]].
func (w *tableWriter) grid(name string, g *bores.Grid, found *bores.Found) {
	const most = 300 // columns and rows that a component file may have
	u, v := upright(g.U), upright(g.V)
	lead := ""
	if g.Columns > most || g.Rows > most {
		lead = "# "
		w.line("# more columns or rows than a grid may have (%d):", most)
	}
	w.line("%s[[grid]]", lead)
	w.line("%sname = %s", lead, strconv.Quote(name))
	w.line("%ssolid = %s # as this solid is called in the component file", lead, strconv.Quote(w.solid))
	w.line("%sorigin = %s", lead, w.point(g.Origin))
	w.line("%scolumns = %d", lead, g.Columns)
	w.line("%srows = %d", lead, g.Rows)
	if pitch := w.length(g.Pitch[0]); g.Rows == 1 || w.length(g.Pitch[1]) == pitch {
		w.line("%spitch = %s", lead, pitch)
	} else {
		w.line("%spitch = [%s, %s]", lead, pitch, w.length(g.Pitch[1]))
	}
	if u != (r3.Vector{X: 1}) || v != (r3.Vector{Y: 1}) {
		w.line("%su = %s", lead, unitVector(u))
		w.line("%sv = %s", lead, unitVector(v))
	}
	w.omit(lead, g.Omit)
	w.line("%sbore = %s", lead, w.length(g.Diameter))
	if thread, core, ok := tapped(g, found); ok {
		w.line("# thread = %s # if the core of %s is tapped: the solid does not tell", strconv.Quote(thread), w.length(core))
	}
	w.line("")
}

// omit writes the places without a hole, ten to a line.
func (w *tableWriter) omit(lead string, labels []string) {
	const perLine = 10
	if len(labels) == 0 {
		return
	}
	quoted := make([]string, len(labels))
	for i, l := range labels {
		quoted[i] = strconv.Quote(l)
	}
	if len(quoted) <= perLine {
		w.line("%somit = [%s]", lead, strings.Join(quoted, ", "))
		return
	}
	w.line("%somit = [", lead)
	for part := range slices.Chunk(quoted, perLine) {
		w.line("%s    %s,", lead, strings.Join(part, ", "))
	}
	w.line("%s]", lead)
}

// circle writes a polar [[grid]]: one ring about its origin, the first hole along u.
func (w *tableWriter) circle(name string, c *bores.Circle, found *bores.Found) {
	u, normal := upright(c.First), upright(c.Axis)
	u = u.Sub(normal.Mul(u.Dot(normal))).Normalize()
	v := upright(normal.Cross(u))
	w.line("[[grid]]")
	w.line("name = %s", strconv.Quote(name))
	w.line("solid = %s # as this solid is called in the component file", strconv.Quote(w.solid))
	w.line("origin = %s", w.point(c.Centre))
	w.line("rings = [%s]", w.length(c.Radius))
	w.line("per_ring = %d", c.Places)
	if i := slices.IndexFunc(found.Holes, func(b bores.Hole) bool { return b.Mouth.Sub(c.Centre).Norm() <= onCentre }); i >= 0 {
		w.line("centre = %s", w.length(found.Holes[i].First().Diameter))
	}
	if u != (r3.Vector{X: 1}) || v != (r3.Vector{Y: 1}) {
		w.line("u = %s", unitVector(u))
		w.line("v = %s", unitVector(v))
	}
	there := make([]bool, c.Places)
	for _, o := range c.Openings {
		d := o.At.Sub(c.Centre)
		turns := math.Atan2(d.Dot(v), d.Dot(u)) / (2 * math.Pi) * float64(c.Places)
		there[(int(math.Round(turns))+c.Places)%c.Places] = true
	}
	var omit []string
	for i, is := range there {
		if !is {
			omit = append(omit, bores.Label(0, i))
		}
	}
	w.omit("", omit)
	w.line("bore = %s", w.length(c.Diameter))
	w.line("")
}

// onCentre is how far the mouth of a centre bore may be from a pattern's centre, mm.
const onCentre = 0.02

// face is a plane in which a component may stand.
type face struct {
	name   string
	normal r3.Vector // away from what it stands on
	level  float64   // along the normal, mm
}

// seatFaces returns where the component may stand: on the face opposite to the first
// grid, and on the lowest along Z; each the outermost in which holes open that way.
func (h *Holes) seatFaces() []face {
	var candidates []face
	if i := slices.IndexFunc(h.grids, func(g bores.Grid) bool { return !h.forScrews(&g) }); i >= 0 {
		normal := upright(h.grids[i].U.Cross(h.grids[i].V))
		candidates = append(candidates, face{name: "face opposite to " + gridName(i), normal: normal})
	}
	candidates = append(candidates, face{name: "lowest face", normal: r3.Vector{Z: 1}})
	var faces []face
	for _, f := range candidates {
		f.level = math.Inf(1)
		for _, o := range h.found.Openings() {
			if o.Axis.Dot(f.normal) < -cosSeat {
				f.level = min(f.level, o.At.Dot(f.normal))
			}
		}
		if !math.IsInf(f.level, 1) {
			faces = append(faces, f)
		}
	}
	return faces
}

// cosSeat is the cosine of 0.2 degrees: what opens in the seat is square to it.
const cosSeat = 0.999994

// in reports whether an opening is one of the face.
func (f *face) in(o *bores.Opening) bool {
	const samePlane = 0.02 // mm
	return o.Axis.Dot(f.normal) < -cosSeat && o.At.Dot(f.normal) <= f.level+samePlane
}

// writeSeat writes where locating pins and screws can be: in the first of the faces
// that has a pair of bores for pins, else in the first that has holes for screws. It
// returns how many tables that makes.
func (h *Holes) writeSeat(w *tableWriter) int {
	var at face
	var pairs [][2]bores.Opening
	var screws []bores.Opening
	for _, f := range h.seatFaces() {
		p, s := h.openingsIn(&f)
		if len(p) > 0 || len(screws) == 0 {
			at, pairs, screws = f, p, s
		}
		if len(p) > 0 {
			break
		}
	}
	for _, pair := range pairs {
		w.line("# [seat] # two bores of %s, alone of that diameter in the %s", w.length(pair[0].Diameter), at.name)
		w.line("# pins = [%s, %s]", w.pinOf(&pair[0], at), w.pinOf(&pair[1], at))
		if at.normal != (r3.Vector{Z: 1}) {
			w.line("# normal = %s", unitVector(at.normal))
		}
		w.line("# play = # diametral, of each pin in its bushing, at worst: state it")
		w.line("")
	}
	for _, o := range screws {
		w.line("# [[fastener]] # bore of %s", w.length(o.Diameter))
		w.line("# at = %s", w.point(o.At))
		w.line("# thread = %s", strconv.Quote(clearanceOf(h.found, o)))
		w.line("")
	}
	return len(pairs) + len(screws)
}

// openingsIn returns what opens in a face: pairs of bores for pins, and holes for screws.
func (h *Holes) openingsIn(f *face) (pairs [][2]bores.Opening, screws []bores.Opening) {
	var plain []bores.Opening
	used := h.inGrids()
	for _, o := range h.found.Openings() {
		switch {
		case !f.in(&o):
		case !used[o.Hole] && clearanceOf(h.found, o) != "":
			screws = append(screws, o)
		default:
			plain = append(plain, o)
		}
	}
	return pairsOf(plain), screws
}

// inGrids marks the holes of grids on which something can stand.
func (h *Holes) inGrids() []bool {
	used := make([]bool, len(h.Holes))
	for i := range h.grids {
		if g := &h.grids[i]; !h.forScrews(g) {
			for _, o := range g.Openings {
				used[o.Hole] = true
			}
		}
	}
	return used
}

// pinOf prints a pin's place in the seat; askew with more digits, as both pins must
// lie in one plane.
func (w *tableWriter) pinOf(o *bores.Opening, f face) string {
	p := o.At.Add(f.normal.Mul(f.level - o.At.Dot(f.normal)))
	if largestOf(f.normal) == 1 {
		return w.point(p)
	}
	p = p.Mul(1 / float64(w.unit))
	return "[" + short(p.X, 7) + ", " + short(p.Y, 7) + ", " + short(p.Z, 7) + "]"
}

func largestOf(d r3.Vector) float64 { return max(math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z)) }

// pairsOf returns the pairs of openings that are alone of their diameter, the widest
// first, each pair by X, then Y.
func pairsOf(openings []bores.Opening) [][2]bores.Opening {
	const same = 0.005 // relative
	slices.SortStableFunc(openings, func(a, b bores.Opening) int { return cmp.Compare(b.Diameter, a.Diameter) })
	var pairs [][2]bores.Opening
	for len(openings) > 0 {
		n := 1
		for n < len(openings) && openings[n].Diameter >= openings[0].Diameter*(1-same) {
			n++
		}
		if n == 2 {
			a, b := openings[0], openings[1]
			const rounding = 1e-3
			if a.At.X > b.At.X+rounding || math.Abs(a.At.X-b.At.X) <= rounding && a.At.Y > b.At.Y {
				a, b = b, a
			}
			pairs = append(pairs, [2]bores.Opening{a, b})
		}
		openings = openings[n:]
	}
	return pairs
}
