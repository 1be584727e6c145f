package changeover

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gridswing/machine"
	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

func (s *Step) say(format string, args ...any) { s.Do = append(s.Do, fmt.Sprintf(format, args...)) }
func (s *Step) warn(format string, args ...any) {
	s.Caution = append(s.Caution, fmt.Sprintf(format, args...))
}

// number prints to 0.001, without needless zeros.
func number(x float64) string { return strconv.FormatFloat(math.Round(x*1000)/1000+0, 'f', -1, 64) }

// kilograms prints a mass to 0.1 kg, rounded up: lifting is not for the lower side.
func kilograms(x float64) string { return strconv.FormatFloat(math.Ceil(x*10-1e-6)/10, 'f', 1, 64) }

// degrees prints an angle given in radians, in degrees.
func degrees(x float64) string { return number(x * 180 / math.Pi) }

// positions prints where axes stand: "X 0, Y -120 mm, A 0, C 90 degrees".
func positions(at []check.Position) string {
	var mm, deg []string
	for _, p := range at {
		one := p.Axis + " " + number(p.Value)
		if p.Unit == "deg" {
			deg = append(deg, one)
		} else {
			mm = append(mm, one)
		}
	}
	var parts []string
	if len(mm) > 0 {
		parts = append(parts, strings.Join(mm, ", ")+" mm")
	}
	if len(deg) > 0 {
		parts = append(parts, strings.Join(deg, ", ")+" degrees")
	}
	return strings.Join(parts, ", ")
}

// value prints what a setting axis is set to.
func (c *SettingChange) value() string {
	if c.Kind == "deg" {
		return number(c.To) + " degrees"
	}
	return number(c.To) + " mm"
}

func settingWords(c *SettingChange) string {
	return fmt.Sprintf("Set %s of %s to %s.", c.Axis, c.Unit, c.value())
}

// words names screws: "4 screws M12 x 60, class 8.8, from above, into plate/top B2, B8".
func (w *Screws) words() string {
	what := "screws"
	if w.Count == 1 {
		what = "screw"
	}
	s := fmt.Sprintf("%d %s %s", w.Count, what, w.Thread)
	if w.Length != nil {
		s += " x " + number(*w.Length)
	}
	if w.Class != "" {
		s += ", class " + w.Class
	}
	s += ", from " + w.Side
	if len(w.Into) > 0 {
		s += ", in " + together(w.Into)
	}
	return s
}

// together lists holes, the grid said once for those that it shares.
func together(holes []string) string {
	var b strings.Builder
	last := ""
	for i, h := range holes {
		cut := strings.LastIndex(h, " ")
		if i > 0 {
			b.WriteString(", ")
		}
		if h[:cut] != last {
			b.WriteString(h[:cut] + " ")
			last = h[:cut]
		}
		b.WriteString(h[cut+1:])
	}
	return b.String()
}

// pinWords says what is done with pins, those of one grid together.
func pinWords(list []PinChange) (words []string) {
	type group struct {
		grid       string
		set, loose bool
	}
	var order []group
	holes := map[group][]string{}
	for _, c := range list {
		g := group{c.Unit + "/" + c.Grid, c.Set, c.Loose}
		if holes[g] == nil {
			order = append(order, g)
		}
		holes[g] = append(holes[g], c.Hole)
	}
	for _, g := range order {
		what, noun := "Withdraw", "pin"
		switch {
		case g.loose && g.set:
			what, noun = "Put in", "dowel"
		case g.loose:
			what, noun = "Take out", "dowel"
		case g.set:
			what = "Set"
		}
		if len(holes[g]) > 1 {
			noun += "s"
		}
		words = append(words, fmt.Sprintf("%s the %s at %s of %s.", what, noun, and(holes[g]), g.grid))
	}
	return words
}

func and(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
}

// move says how a component is led, leg by leg. Pins that are set on the way are set
// between legs.
func (p *planner) move(st *Step, in []machine.Waypoint, off, slides bool) {
	c := st.scene
	way := c.way
	if !off {
		st.say("Bring it to where it is %s%s.", c.against(way[0].Shift), c.turned(way[0]))
	}
	for i := 1; i < len(way); i++ {
		if !off && slides {
			p.pivotPin(st, way[i-1], way[i])
		}
		end := ""
		switch {
		case off && i == len(way)-1:
			end = ", and take it away"
		case !off && i == len(way)-1:
			end = ", until it sits on its seat"
		}
		st.say("%s%s.", c.legWords(way[i-1], way[i]), end)
	}
}

// pivotPin sets the pin about which a component is turned that is in its place already.
func (p *planner) pivotPin(st *Step, a, b machine.Waypoint) {
	c := st.scene
	turning, k := a.Turn != 0 || b.Turn != 0, a.About
	if a.Turn == 0 {
		k = b.About
	}
	if !turning || a.Shift != (r3.Vector{}) || b.Shift != (r3.Vector{}) || c.seat.Locators[0].Kind != machine.SetPins {
		return
	}
	one := PinChange{Unit: c.seat.On, Grid: c.seat.Grid, Hole: c.seat.Locators[k].Hole, Set: true}
	p.change(st, p.state.differing([]PinChange{one}), nil)
}

// legWords says how a component goes from one point of its way to the next.
func (c *scene) legWords(a, b machine.Waypoint) string {
	d := b.Shift.Sub(a.Shift)
	var words string
	lateral := d.X != 0 || d.Y != 0
	switch {
	case lateral && d.Z == 0 && a.Shift.Z < touchingSeat:
		words = "Slide it " + c.by(d)
	case lateral:
		words = "Move it " + c.by(d)
	case d.Z < 0 && c.upright():
		words = "Lower it straight by " + number(-d.Z) + " mm"
	case d.Z > 0 && c.upright():
		words = "Lift it straight by " + number(d.Z) + " mm"
	case d.Z != 0:
		words = "Move it straight " + c.by(d)
	}
	turn := b.Turn - a.Turn
	if turn == 0 {
		if words == "" {
			return "Leave it where it is"
		}
		return words
	}
	about := a
	if a.Turn == 0 {
		about = b
	}
	way := "counter-clockwise"
	if turn < 0 {
		way = "clockwise"
	}
	turning := fmt.Sprintf("urn it by %s degrees %s about %s", degrees(math.Abs(turn)), way, c.pivotWords(about.About))
	if words == "" {
		return "T" + turning
	}
	return words + ", and t" + turning + " meanwhile"
}

// touchingSeat is up to how high over its seat something that moves across slides, mm.
const touchingSeat = 0.5

// pivotWords names what it is turned about.
func (c *scene) pivotWords(locator int) string {
	if !c.pinned() {
		return "its own zero"
	}
	name := "first"
	if locator == 1 {
		name = "second"
	}
	what := "pin"
	switch c.seat.Locators[locator].Kind {
	case machine.Keys:
		return "its " + name + " key"
	case machine.Dowels:
		what = "dowel hole"
	}
	return fmt.Sprintf("its %s %s (%s)", name, what, c.seat.Locators[locator].Hole)
}

// turned says how far it is turned at a point; nothing if it is not.
func (c *scene) turned(at machine.Waypoint) string {
	if at.Turn == 0 {
		return ""
	}
	way := "counter-clockwise"
	if at.Turn < 0 {
		way = "clockwise"
	}
	return fmt.Sprintf(", turned by %s degrees %s about %s", degrees(math.Abs(at.Turn)), way, c.pivotWords(at.About))
}

// upright reports whether off its seat is upward, with the axes where they stand.
func (c *scene) upright() bool {
	_, _, z := c.directions()
	return c.atLoading(z).Dot(c.setup.Up) > 0.99
}

// by words a shift along the directions of a seat: "400 mm towards Y- and 60 mm down".
func (c *scene) by(d r3.Vector) string {
	var parts []string
	for k, v := range [3]float64{d.X, d.Y, d.Z} {
		if v != 0 {
			parts = append(parts, number(math.Abs(v))+" mm "+c.toward(k, v))
		}
	}
	return and(parts)
}

// against words where something is against its place.
func (c *scene) against(d r3.Vector) string {
	flat := d
	flat.Z = 0
	height := ""
	if d.Z != 0 {
		height = number(math.Abs(d.Z)) + " mm " + c.toward(2, d.Z)
	}
	if c.upright() && d.Z > 0 {
		height = number(d.Z) + " mm above it"
	}
	switch {
	case d == (r3.Vector{}):
		return "at its place"
	case d.X == 0 && d.Y == 0 && c.upright() && d.Z > 0:
		return number(d.Z) + " mm straight above its place"
	case d.X == 0 && d.Y == 0:
		return height + " of its place"
	case d.Z == 0:
		return c.by(flat) + " of its place"
	}
	return c.by(flat) + " of its place and " + height
}

// toward names a direction of the seat by that of the machine that it is along.
func (c *scene) toward(k int, v float64) string {
	x, y, z := c.directions()
	dir := c.atLoading([3]r3.Vector{x, y, z}[k])
	if v < 0 {
		dir = dir.Mul(-1)
	}
	if s := dir.Dot(c.setup.Up); math.Abs(s) > 0.999 {
		if s > 0 {
			return "up"
		}
		return "down"
	}
	for i, d := range [3]float64{dir.X, dir.Y, dir.Z} {
		switch {
		case d > 0.999:
			return "towards " + "XYZ"[i:i+1] + "+"
		case d < -0.999:
			return "towards " + "XYZ"[i:i+1] + "-"
		}
	}
	name := [3]string{"along the grid's letters", "along the grid's numbers", "off the face"}[k]
	if v < 0 {
		name = [3]string{"against the grid's letters", "against the grid's numbers", "onto the face"}[k]
	}
	return name
}

// point is a point of a way in print units.
func (c *scene) point(w machine.Waypoint) Point {
	p := Point{
		Shift: [3]float64{round(w.Shift.X), round(w.Shift.Y), round(w.Shift.Z)},
		Turn:  round(w.Turn * 180 / math.Pi),
	}
	if w.Turn != 0 && c.pinned() {
		p.About = w.About + 1
	}
	return p
}
