package machine

import (
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// maxHoles bounds the columns and the rows of a grid: a plate of 300 holes at
// the finest usual pitch would be longer than any table.
const maxHoles = 300

// grid is a pattern of holes: columns are lettered along u (A to Z, then AA),
// rows numbered along v from 1. A polar one has lettered rings, from the inside
// out, whose holes are numbered from u towards v, and perhaps a centre bore.
// Assembly's frame, mm.
type grid struct {
	path, name    string
	solid         int       // the part it is in
	origin        r3.Vector // centre of hole A1, or of the rings, on the face
	u, v          r3.Vector // unit length, square to each other
	columns, rows int
	pitch         pitch
	rings         []float64 // radii; empty: no polar pattern
	perRing       int
	omit          map[string]bool
	// tolerance is the diameter of the zone in which the centre of each hole
	// lies (position, ISO 1101).
	tolerance    float64
	bore, centre diameter // centre: of a polar pattern
	boreDepth    float64  // 0: not stated
	thread       string
	threadFrom   float64
	threadDepth  float64 // 0: not stated
	through      float64 // 0: none
	retractable  *retractable
}

// retractable are the pins built into the holes of a grid.
type retractable struct {
	path   string
	pin    diameter
	height float64
	at     []string // the holes that have one
}

// centreHole is the label of a polar pattern's centre bore.
const centreHole = "centre"

// normal points away from the face.
func (g *grid) normal() r3.Vector { return g.u.Cross(g.v) }

// pose is where the grid's own frame stands in the assembly's: hole A1 on the
// face, X along u, Y along v, Z away from the face.
func (g *grid) pose() geom.Pose {
	return geom.Pose{R: columns(g.u, g.v, g.normal()), T: g.origin}
}

// labels words the range of labels.
func (g *grid) labels() string {
	if len(g.rings) > 0 {
		text := fmt.Sprintf("A1 to %s%d", columnLetters(len(g.rings)-1), g.perRing)
		if g.centre.nominal > 0 {
			text += " and " + centreHole
		}
		return text
	}
	return fmt.Sprintf("A1 to %s%d", columnLetters(g.columns-1), g.rows)
}

// expected words what was expected instead of a hole that is not there: what
// was meant if only its letters are small, and what is left out.
func (g *grid) expected(name string) string {
	what := fmt.Sprintf("a hole of grid %q, %s", g.name, g.labels())
	if _, ok := g.hole(strings.ToUpper(name)); ok {
		return fmt.Sprintf("%q, perhaps: %s", strings.ToUpper(name), what)
	}
	const most = 12 // to be listed
	switch left := slices.Sorted(maps.Keys(g.omit)); {
	case len(left) == 0:
		return what
	case len(left) <= most:
		return what + " without " + strings.Join(left, ", ")
	case g.omit[strings.ToUpper(name)]:
		return fmt.Sprintf("%s without %s and %d more", what, strings.ToUpper(name), len(left)-1)
	default:
		return fmt.Sprintf("%s without %d that are omitted", what, len(left))
	}
}

func columnLetters(column int) string {
	letters := ""
	for column++; column > 0; column = (column - 1) / 26 {
		letters = string(rune('A'+(column-1)%26)) + letters
	}
	return letters
}

var label = regexp.MustCompile(`^([A-Z]{1,3})([1-9][0-9]{0,3})$`)

// hole returns where a hole is; false if the grid has none of that label.
func (g *grid) hole(name string) (r3.Vector, bool) {
	if name == centreHole && g.centre.nominal > 0 && len(g.rings) > 0 {
		return g.origin, true
	}
	m := label.FindStringSubmatch(name)
	if m == nil || g.omit[name] {
		return r3.Vector{}, false
	}
	column := 0
	for _, c := range m[1] {
		column = column*26 + int(c-'A') + 1
	}
	row, _ := strconv.Atoi(m[2]) // at most four digits: no error
	if len(g.rings) > 0 {
		if column > len(g.rings) || row > g.perRing {
			return r3.Vector{}, false
		}
		turn := geom.Turn(r3.Vector{}, g.normal(), radians(360*float64(row-1)/float64(g.perRing)))
		return g.origin.Add(turn.Dir(g.u).Mul(g.rings[column-1])), true
	}
	if column > g.columns || row > g.rows {
		return r3.Vector{}, false
	}
	along := g.u.Mul(float64(column-1) * g.pitch[0])
	across := g.v.Mul(float64(row-1) * g.pitch[1])
	return g.origin.Add(along).Add(across), true
}

// threads is how a metric thread is written: M12, or M12x1.25 for a fine one.
var threads = regexp.MustCompile(`^M[1-9][0-9]*(\.[0-9]+)?(x[0-9]+(\.[0-9]+)?)?$`)

// boreAt is the diameter of a hole for a locator.
func (g *grid) boreAt(name string) diameter {
	if name == centreHole && len(g.rings) > 0 {
		return g.centre
	}
	return g.bore
}

// names lists the labels of all holes, in their order.
func (g *grid) names() (list []string) {
	columns, rows := g.columns, g.rows
	if len(g.rings) > 0 {
		columns, rows = len(g.rings), g.perRing
	}
	for row := 1; row <= rows; row++ {
		for column := range columns {
			if name := fmt.Sprintf("%s%d", columnLetters(column), row); !g.omit[name] {
				list = append(list, name)
			}
		}
	}
	return list
}

// grid reads one grid table.
func (s *source) grid(t *gridTable, unit scale, solids []*part, carriers []string) *grid {
	g := &grid{
		path: t.Path, name: t.Name, solid: -1, origin: unit.point(t.Origin),
		u: r3.Vector{X: 1}, v: r3.Vector{Y: 1}, columns: t.Columns, rows: t.Rows,
		pitch:     pitch{unit.mm(t.Pitch[0]), unit.mm(t.Pitch[1])},
		tolerance: unit.mm(s.notNegative(t.Path+".position_tolerance", t.PositionTolerance)),
		omit:      make(map[string]bool),
	}
	s.checkName(t.Path, t.Name)
	if g.solid = s.part(t.Path+".solid", t.Solid, solids); g.solid >= 0 && t.CarriedBy != "" {
		s.sameCarrier(t, solids[g.solid], carriers)
	}
	s.gridDirections(g, t)
	counted := s.pattern(g, t, unit)
	for i, name := range t.Omit {
		if _, ok := g.hole(name); (!ok || name == centreHole) && counted {
			s.fault(fmt.Sprintf("%s.omit[%d]", t.Path, i), quoted(name), "each hole once, %s", g.labels())
		}
		g.omit[name] = true
	}
	s.holeSizes(g, t, unit)
	if counted && t.Retractable != nil {
		s.retractable(g, t.Retractable, unit)
	}
	return g
}

func (s *source) holeCount(path string, n int) bool {
	if n >= 1 && n <= maxHoles {
		return true
	}
	s.fault(path, fmt.Sprint(n), "1 to %d", maxHoles)
	return false
}

func (s *source) thread(path, thread string) {
	if !threads.MatchString(thread) {
		s.fault(path+".thread", quoted(thread), "a metric thread such as M12 or M12x1.25")
	}
}

// gridDirections reads u and v, which must be square to each other.
func (s *source) gridDirections(g *grid, t *gridTable) {
	g.u, g.v = s.squareDirections(t.Path, t.U, t.V)
}

// squareDirections reads u and v of a table, X and Y where it does not state them.
func (s *source) squareDirections(path string, statedU, statedV *r3.Vector) (u, v r3.Vector) {
	u, v = r3.Vector{X: 1}, r3.Vector{Y: 1}
	if statedU != nil {
		u = s.unitVector(path+".u", *statedU)
	}
	if statedV != nil {
		v = s.unitVector(path+".v", *statedV)
	}
	// A drawing gives directions to some six digits.
	if skew := u.Dot(v); math.Abs(skew) > 1e-6 {
		s.fault(path+".v", fmt.Sprintf("u and v at %.4f degrees", degrees(math.Acos(max(-1, min(1, skew))))),
			"u and v square to each other")
		return u, v
	}
	return u, v.Sub(u.Mul(u.Dot(v))).Normalize()
}

// sameCarrier checks that a grid moves with the solid it is in.
func (s *source) sameCarrier(t *gridTable, p *part, carriers []string) {
	if carried := carriers[p.carriedBy+1]; t.CarriedBy != carried {
		s.fault(t.Path+".carried_by", quoted(t.CarriedBy), "%q, as solid %q is", carried, p.name)
	}
}
