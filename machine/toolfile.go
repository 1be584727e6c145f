package machine

import (
	"fmt"
	"slices"

	"gridswing/machine/tooling"
)

// library is a tool file read. As an assembly it has the holders that are given
// as solids for parts.
type library struct {
	assembly
	holders []*holder
	tools   []*libraryTool
	drivers []*Driver
	whole   bool // its tools have been looked at
	used    int  // by which load last, as Store.loads counts them
}

// holder is a holder of a tool file, and the part that is its solid, if it is
// given as one.
type holder struct {
	tooling.Holder
	path string
	part *part
}

// libraryTool is a tool of a tool file, and what is wrong with it that leaves
// the file readable: only what uses the tool suffers.
type libraryTool struct {
	tooling.Tool
	cutter   *cutter
	holder   *holder
	path     string
	widest   float64 // Widest, mm; 0 of a tool with faults
	faults   []wrong
	warnings []string
}

// cutter is a cutter of a tool file.
type cutter struct {
	tooling.Cutter
	path string
}

// libraryOf turns a tool file into a library. What is wrong is noted in its
// source, which the library keeps.
func libraryOf(src *source) *library {
	l := &library{assembly: assembly{src: src}}
	var f toolFile
	if !src.is("tools") {
		return l
	}
	src.decode(&f)
	if src.any() {
		return l
	}
	l.name, l.unit = f.Name, src.unit(f.Units)
	for i := range f.Holders {
		l.addHolder(&f.Holders[i])
	}
	var cutters []*cutter
	for i := range f.Cutters {
		cutters = append(cutters, src.cutter(&f.Cutters[i], l.unit))
	}
	unique(src, "cutter", cutters, func(c *cutter) string { return c.Name })
	unique(src, "holder", l.holders, func(h *holder) string { return h.Name })
	for i := range f.Tools {
		l.addTool(&f.Tools[i], cutters)
	}
	for i := range f.Drivers {
		l.drivers = append(l.drivers, src.driver(&f.Drivers[i], l.unit))
	}
	unique(src, "driver", l.drivers, func(d *Driver) string { return d.Name })
	return l
}

// unique checks that no two things of a file have one name.
func unique[T any](src *source, key string, things []T, name func(T) string) {
	seen := make(map[string]bool)
	for i, t := range things {
		n := name(t)
		if seen[n] {
			src.fault(fmt.Sprintf("%s[%d].name", key, i), quoted(n)+" a second time", "each %s under its own name", key)
		}
		seen[n] = true
	}
}

// stated returns a length in mm that must be more than 0 where it is stated,
// and 0 where it is not.
func (s *source) stated(path string, v *float64, unit scale) float64 {
	if v == nil {
		return 0
	}
	return unit.mm(s.positive(path, *v))
}

// kilograms is one: a mass needs no conversion.
const kilograms scale = 1

func (s *source) cutter(t *cutterTable, unit scale) *cutter {
	length := func(key string, v *float64) float64 { return s.stated(t.Path+"."+key, v, unit) }
	s.checkName(t.Path, t.Name)
	c := &cutter{path: t.Path, Cutter: tooling.Cutter{
		Name: t.Name, Kind: t.Kind,
		DC: length("DC", t.DC), DCX: length("DCX", t.DCX), DCN: length("DCN", t.DCN), APMX: length("APMX", t.APMX), LU: length("LU", t.LU),
		DN: length("DN", t.DN), DMM: length("DMM", t.DMM), OAL: length("OAL", t.OAL),
		Mass: s.stated(t.Path+".mass", t.Mass, kilograms),
	}}
	if t.RE != nil { // a sharp corner may be stated
		c.RE = unit.mm(s.notNegative(t.Path+".RE", *t.RE))
	}
	if t.SIG != nil {
		if *t.SIG < 1 || *t.SIG > 180 {
			s.fault(t.Path+".SIG", fmt.Sprint(*t.SIG), "a point angle in degrees, 1 to 180, which is flat")
		}
		c.SIG = radians(*t.SIG)
	}
	if kinds := tooling.Kinds(); !slices.Contains(kinds, t.Kind) {
		s.fault(t.Path+".kind", quoted(t.Kind), "%s", oneOf(t.Kind, kinds))
	}
	for _, need := range tooling.Needs(t.Kind) {
		if !s.states(t.Path + "." + need.Symbol) {
			s.fault(t.Path, "no "+need.Symbol, "%s = %s: a %s needs it", need.Symbol, need.Why, t.Kind)
		}
	}
	return c
}

// addHolder reads one holder: an outline, or a solid with its length.
func (l *library) addHolder(t *holderTable) {
	src := l.src
	src.checkName(t.Path, t.Name)
	length := func(key string, v *float64) float64 { return src.stated(t.Path+"."+key, v, l.unit) }
	h := &holder{path: t.Path, Holder: tooling.Holder{
		Name: t.Name, Taper: t.Taper, Length: length("length", t.Length),
		Bore: length("bore", t.Bore), Grip: length("grip", t.Grip),
		Mass: src.stated(t.Path+".mass", t.Mass, kilograms),
	}}
	l.holders = append(l.holders, h)
	solid := src.states(t.Path + ".file")
	switch outline := src.states(t.Path + ".profile"); {
	case outline && solid:
		src.fault(t.Path+".file", "a profile and a file", "one of the two")
	case solid:
		l.addHolderSolid(h, t)
	case !outline:
		src.fault(t.Path, "neither profile nor file", `profile = [[distance, diameter], ...], from the gauge line to the face, or file = "file.stl" with length and chord_error`)
	default:
		if t.Length != nil {
			src.fault(t.Path+".length", fmt.Sprint(*t.Length), "no length: the profile ends at the face")
		}
		if t.ChordError != nil {
			src.fault(t.Path+".chord_error", fmt.Sprint(*t.ChordError), "no such key: a profile is exact")
		}
		for _, step := range t.Profile {
			h.Profile = append(h.Profile, [2]float64{l.unit.mm(step[0]), l.unit.mm(step[1])})
		}
		if n := len(h.Profile); n > 0 {
			h.Length = h.Profile[n-1][0]
		}
	}
}

func (l *library) addHolderSolid(h *holder, t *holderTable) {
	if t.Length == nil {
		l.src.fault(t.Path, "no length", "length = 80, from the gauge line to the face")
	}
	if t.ChordError == nil {
		l.src.fault(t.Path, "no chord_error", "%s", examples["solid.chord_error"])
		return
	}
	h.part = &part{
		path: t.Path, name: t.Name, file: t.File, unit: l.unit, carriedBy: -1, size: componentSize,
		chordError: l.unit.mm(l.src.notNegative(t.Path+".chord_error", *t.ChordError)),
	}
	l.parts = append(l.parts, h.part)
}

func (l *library) addTool(t *libraryToolTable, cutters []*cutter) {
	src := l.src
	tool := &libraryTool{path: t.Path, Tool: tooling.Tool{
		Number: t.Number, Name: t.Name, StickOut: l.unit.mm(src.positive(t.Path+".stick_out", t.StickOut)),
		Mass:   src.stated(t.Path+".mass", t.Mass, kilograms),
		Within: l.unit.mm(src.notNegative(t.Path+".within", t.Within)),
	}}
	if t.Number < 1 {
		src.fault(t.Path+".number", fmt.Sprint(t.Number), "1 or more")
	}
	for _, other := range l.tools {
		if other.Number == t.Number {
			src.fault(t.Path+".number", fmt.Sprintf("T%d a second time", t.Number), "each tool under its own number")
		}
	}
	l.tools = append(l.tools, tool)
	var names []string
	for _, c := range cutters {
		names = append(names, c.Name)
		if c.Name == t.Cutter {
			tool.cutter, tool.Cutter = c, &c.Cutter
		}
	}
	if tool.cutter == nil {
		src.fault(t.Path+".cutter", quoted(t.Cutter), "a [[cutter]] of this file: %s", oneOf(t.Cutter, names))
	} else if t.Name == "" {
		tool.Name = t.Cutter
	}
	names = nil
	for _, h := range l.holders {
		names = append(names, h.Name)
		if h.Name == t.Holder {
			tool.holder, tool.Holder = h, &h.Holder
		}
	}
	if tool.holder == nil {
		src.fault(t.Path+".holder", quoted(t.Holder), "a [[holder]] of this file: %s", oneOf(t.Holder, names))
	}
}

// finish gives the holders their solids and looks at each tool as a whole.
func (l *library) finish() {
	if l.whole || l.src.any() {
		return
	}
	l.whole = true
	for _, h := range l.holders {
		if h.part != nil {
			h.Mesh, h.ChordError = h.part.solid.Mesh, h.part.solid.ChordError
		}
	}
	for _, t := range l.tools {
		t.Mass = t.TotalMass()
		l.judge(t)
	}
}

// judge notes what is wrong with a tool as a whole, and how wide it is if nothing is.
func (l *library) judge(t *libraryTool) {
	t.faults, t.warnings = nil, nil
	for _, f := range t.Check() {
		path := map[string]string{"cutter": t.cutter.path, "holder": t.holder.path}[f.Of]
		if path == "" {
			path = t.path
		}
		w := wrong{l.src.line(path + "." + f.Symbol), fmt.Sprintf("%s: found %s, expected %s", f.Symbol, f.Found, f.Expected)}
		if f.Warning {
			t.warnings = append(t.warnings, w.where+": "+w.text)
		} else {
			t.faults = append(t.faults, w)
		}
	}
	if t.widest = 0; len(t.faults) == 0 {
		t.widest = t.Widest()
	}
}
