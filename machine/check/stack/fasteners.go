package stack

import (
	"fmt"
	"math"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/screws"
)

// leastScrews is how many screws hold a component that does not say how many it
// wants: common practice, no source.
const leastScrews = 2

// usualClass is the property class of a screw that states none.
const usualClass = "8.8"

// fasteners looks at the screws of a component.
func (c *checker) fasteners(s *machine.Seat) {
	if len(s.Fasteners) == 0 && s.LeastFasteners > 0 {
		c.now.Wanted = s.LeastFasteners
		c.find(check.Unproven, s.On, "%s has no fastener stated, expected %d at least (as its file says)", s.Unit, s.LeastFasteners)
		return
	}
	if len(s.Fasteners) == 0 || !s.Threads {
		if s.Gripped == nil {
			c.unscrewed = append(c.unscrewed, s.Unit)
		}
		return
	}
	c.now.Wanted = leastScrews
	if s.LeastFasteners > 0 {
		c.now.Wanted = s.LeastFasteners
	}
	holding := 0
	for i := range s.Fasteners {
		f := &s.Fasteners[i]
		if f.Optional && f.Under == nil {
			continue
		}
		out := c.fastener(s, f)
		if out.Holds() {
			holding++
		}
		if out.Verdict != check.Clear {
			c.find(out.Verdict, s.On, "fastener %s (%s) of %s%s: %s", f.Name, f.Thread, s.Unit, over(f), out.Reason)
		}
		c.now.Fasteners = append(c.now.Fasteners, out)
	}
	if holding < c.now.Wanted {
		by := "common practice"
		if s.LeastFasteners > 0 {
			by = "as its file says"
		}
		c.find(check.Unproven, s.On, "%s is held by %d of its screws, expected %d at least (%s)", s.Unit, holding, c.now.Wanted, by)
	}
}

// over words the hole that a screw stands over.
func over(f *machine.Fastener) string {
	switch {
	case f.Under == nil:
		return ""
	case f.Under.Slot:
		return fmt.Sprintf(" over slot %s of %s", f.Under.Hole, f.Under.Grid)
	}
	return fmt.Sprintf(" over hole %s of %s/%s", f.Under.Hole, f.Under.Unit, f.Under.Grid)
}

// fastener looks at one screw.
func (c *checker) fastener(s *machine.Seat, f *machine.Fastener) (out check.Fastener) {
	out = check.Fastener{Name: f.Name, Thread: f.Thread, From: "above", Length: stated(f.Length), Verdict: check.Clear}
	if f.FromBelow {
		out.From = "below"
	}
	bad := func(v check.Verdict, format string, args ...any) check.Fastener {
		out.Verdict, out.Reason = v, fmt.Sprintf(format, args...)
		return out
	}
	u := f.Under
	if u == nil {
		return bad(check.Contact, "it stands over no hole")
	}
	out.Hole = u.Grid + " " + u.Hole
	size, sizeErr := screws.Find(f.Thread)
	switch {
	case f.FromBelow && u.Through == 0:
		return bad(check.Contact, "it comes from below, and there is no clearance hole")
	case f.FromBelow && sizeErr == nil && u.Through < size.Hole.Fine-rounding:
		return bad(check.Contact, "a clearance hole of %s mm, expected %s at least (ISO 273, fine)", mm(u.Through), mm(size.Hole.Fine))
	case f.FromBelow && sizeErr != nil && u.Through <= diameterOf(f.Thread):
		return bad(check.Contact, "a clearance hole of %s mm, expected more than the screw measures", mm(u.Through))
	case !f.FromBelow && u.Thread == "":
		return bad(check.Contact, "the hole has no thread")
	case !f.FromBelow && u.Thread != f.Thread:
		return bad(check.Contact, "the hole has a thread %s, expected %s", u.Thread, f.Thread)
	}
	if v, words := headFits(f); v != check.Clear {
		return bad(v, "%s", words)
	} else if words != "" {
		out.Reason = words
	}
	c.engaged(s, f, &out)
	return out
}

// headFits looks whether the head of a screw goes into its counterbore: that of a
// socket head cap screw (ISO 4762, knurled) if the file states no other.
func headFits(f *machine.Fastener) (v check.Verdict, words string) {
	if f.Counterbore == nil {
		return check.Clear, ""
	}
	head := f.Head
	if head == nil {
		size, err := screws.Find(f.Thread)
		if err != nil {
			return check.Unproven, "whether its head goes into the counterbore cannot be told: " + err.Error()
		}
		head = &[2]float64{size.Head.Knurled, size.Head.Height}
	}
	switch {
	case head[0] > f.Counterbore[0]+rounding:
		return check.Contact, fmt.Sprintf("its head, %s mm across, does not go into the counterbore of %s mm", mm(head[0]), mm(f.Counterbore[0]))
	case head[1] > f.Counterbore[1]+rounding:
		return check.Clear, fmt.Sprintf("its head stands out of the counterbore by %s mm", mm(head[1]-f.Counterbore[1]))
	}
	return check.Clear, ""
}

// engaged works out how much thread holds, and whether the screw bottoms.
func (c *checker) engaged(s *machine.Seat, f *machine.Fastener, out *check.Fastener) {
	if f.Length == 0 {
		c.noDepth = append(c.noDepth, s.Unit)
		return
	}
	bad := func(v check.Verdict, format string, args ...any) {
		out.Verdict, out.Reason = v, fmt.Sprintf(format, args...)
	}
	if f.Clamped == 0 {
		bad(check.Unproven, "how far it is screwed in cannot be told: clamped, the length between head and seat, is not stated")
		return
	}
	reach := f.Length - f.Clamped // beyond the seating plane
	from, depth, material := f.Under.From, f.Under.Depth, f.Under.Material
	whose := "of the hole"
	switch {
	case f.FromBelow:
		from, depth, material, whose = 0, f.Own, f.Material, "of "+s.Unit
	case f.Under.Slot:
		// A nut goes up and down in its slot until it is drawn up: it stands at the
		// neck, which no file states, so nothing is told of how much it holds.
		c.noDepth = append(c.noDepth, s.Unit)
		return
	}
	engaged := reach - from
	if depth > 0 {
		engaged = min(reach, depth) - from
	}
	out.Engaged = rounded(math.Max(0, engaged))
	switch {
	case engaged < -rounding:
		bad(check.Contact, "it does not reach the thread %s, by %s mm", whose, mm(-engaged))
		return
	case engaged < rounding:
		bad(check.Contact, "it ends where the thread %s begins: nothing of it holds", whose)
		return
	}
	class, size, ok := c.classAndSize(s, f, bad)
	if !ok {
		return
	}
	needed, err := screws.Engagement(material, class, size)
	if err != nil {
		if material == "" {
			bad(check.Unproven, "how much thread it needs cannot be told: the material %s is not stated", whose)
		} else {
			bad(check.Unproven, "how much thread it needs cannot be told: %v", err)
		}
		return
	}
	out.Needed = rounded(needed)
	switch {
	case depth > 0 && reach > depth+rounding:
		bad(check.Contact, "it bottoms: it goes in by %s mm, the thread %s ends at %s", mm(reach), whose, mm(depth))
	case depth == 0:
		bad(check.Unproven, "whether it bottoms cannot be told: the depth of the thread %s is not stated", whose)
	case engaged < needed-rounding:
		bad(check.Tight, "%s mm of thread hold, expected %s in %s for class %s", mm(engaged), mm(needed), material, class.Name)
	}
}

// classAndSize looks a screw up in the tables.
func (c *checker) classAndSize(s *machine.Seat, f *machine.Fastener, bad func(check.Verdict, string, ...any)) (class screws.Class, size screws.Size, ok bool) {
	name := f.Class
	if name == "" {
		name = usualClass
		c.noClass = append(c.noClass, s.Unit)
	}
	class, err := screws.ClassOf(name)
	if err == nil {
		size, err = screws.Find(f.Thread)
	}
	if err != nil {
		bad(check.Unproven, "how much thread it needs cannot be told: %v", err)
		return class, size, false
	}
	return class, size, true
}

// diameterOf is the nominal diameter of a metric thread, mm.
func diameterOf(thread string) (d float64) {
	_, _ = fmt.Sscanf(thread, "M%f", &d) // a thread begins so: it has been read
	return d
}
