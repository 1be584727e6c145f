package machine

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"gridswing/machine/tooling"
)

// Edit is what has to be written into a file for a change to be in it.
type Edit struct {
	File string // the setup file, or a tool file, as it was read
	// Do says what to do, and where: `in [[place]] "vise"`, `in place of [[place]] "riser"`,
	// `after [[place]] "riser"`.
	Do    string
	Lines []string // of TOML; in words, behind #, what only the old tables know
}

// Edits returns what to write into the files of the setup for the changes to be in them,
// in the units of each file. A setup read from the files then is that of With.
func (d *Draft) Edits(changes ...Change) ([]Edit, error) {
	b := d.again()
	for i := range changes {
		if err := d.apply(b, &changes[i]); err != nil {
			return nil, err
		}
	}
	e := &editor{was: &d.read.file, is: &b.file, file: d.read.setup.File}
	e.places()
	e.names()
	for i := range changes {
		if c := changes[i].StickOut; c != nil {
			e.stickOut(d, c)
		}
	}
	return e.list, nil
}

// editor collects edits from the tables of a setup file as they are and as they would be.
type editor struct {
	was, is *setupFile
	file    string
	list    []Edit
}

func (e *editor) add(do string, lines ...string) {
	e.list = append(e.list, Edit{File: e.file, Do: do, Lines: lines})
}

// places compares the tables of places.
func (e *editor) places() {
	after := ""
	for i := range e.is.Places {
		t := &e.is.Places[i]
		k := slices.IndexFunc(e.was.Places, func(o placeTable) bool { return o.Name == t.Name })
		switch {
		case k < 0:
			e.add("after "+after, e.place(t)...)
		case e.was.Places[k].Component != t.Component:
			if e.path(e.was.Places[k].Component) != e.path(t.Component) {
				e.add("in place of "+placeOf(t), e.place(t)...)
			}
		default:
			old := &e.was.Places[k]
			var lines []string
			if old.On != t.On {
				lines = append(lines, "on = "+basic(t.On))
			}
			if !slices.Equal(old.Pins, t.Pins) {
				lines = append(lines, "pins = "+array(t.Pins))
			}
			if len(lines) > 0 {
				e.add("in "+placeOf(t), lines...)
			}
		}
		after = placeOf(t)
	}
}

func placeOf(t *placeTable) string { return "[[place]] " + basic(t.Name) }

// place returns the lines of a whole table. What one that is taken over says besides is
// told in words.
func (e *editor) place(t *placeTable) []string {
	lines := []string{
		"[[place]]", "name = " + basic(t.Name), "component = " + basic(e.path(t.Component)),
		"on = " + basic(t.On), "pins = " + array(t.Pins),
	}
	var more []string
	for _, k := range []struct {
		key string
		has bool
	}{
		{"set", len(t.Set) > 0}, {"keyed", t.Keyed != nil}, {"stops", len(t.Stops) > 0}, {"withdrawn", t.Withdrawn != nil},
		{"temperature", t.Temperature != nil}, {"minutes", t.Minutes != nil}, {"path", len(t.Way) > 0},
	} {
		if k.has {
			more = append(more, k.key)
		}
	}
	if len(more) > 0 {
		lines = append(lines, "# and as the table has it now: "+strings.Join(more, ", "))
	}
	return lines
}

// path is how the setup file names a component: as it does, or from its own folder.
func (e *editor) path(component string) string {
	if slices.ContainsFunc(e.was.Places, func(t placeTable) bool { return t.Component == component }) {
		return component
	}
	whole, err := filepath.Abs(component)
	folder, err2 := filepath.Abs(filepath.Dir(e.file))
	if err != nil || err2 != nil {
		return filepath.ToSlash(component)
	}
	if from, err := filepath.Rel(folder, whole); err == nil {
		return filepath.ToSlash(from)
	}
	return filepath.ToSlash(whole) // on another drive
}

// names compares where else the file names places.
func (e *editor) names() {
	if !slices.Equal(e.was.LoadingOrder, e.is.LoadingOrder) {
		e.add("at the top", "loading_order = "+array(e.is.LoadingOrder))
	}
	if c := e.is.Counterweight; c != nil && c.On != e.was.Counterweight.On {
		e.add("in [counterweight]", "on = "+basic(c.On))
	}
	same := func(a, b demandPairTable) bool { return slices.Equal(a.Bodies, b.Bodies) && a.Reason == b.Reason }
	for _, t := range unlike(e.was.Demand.Pairs, e.is.Demand.Pairs, same) {
		e.add("take out", "[[demand.pair]]", "bodies = "+array(t.Bodies))
	}
	for _, t := range unlike(e.is.Demand.Pairs, e.was.Demand.Pairs, same) {
		e.add("after the last [[demand.pair]]", "[[demand.pair]]", "bodies = "+array(t.Bodies),
			"clearance = "+decimal(t.Clearance), "reason = "+basic(t.Reason))
	}
	equal := func(a, b mayBeCutTable) bool { return a.Body == b.Body && a.Reason == b.Reason }
	for _, t := range unlike(e.was.MayBeCut, e.is.MayBeCut, equal) {
		e.add("take out", "[[may_be_cut]]", "body = "+basic(t.Body))
	}
	for _, t := range unlike(e.is.MayBeCut, e.was.MayBeCut, equal) {
		e.add("after the last [[may_be_cut]]", "[[may_be_cut]]", "body = "+basic(t.Body),
			"depth = "+decimal(t.Depth), "reason = "+basic(t.Reason))
	}
}

// unlike returns what is in a and not in b.
func unlike[T any](a, b []T, same func(x, y T) bool) (list []T) {
	for _, x := range a {
		if !slices.ContainsFunc(b, func(y T) bool { return same(x, y) }) {
			list = append(list, x)
		}
	}
	return list
}

// stickOut says what the tool file has to say, unless it does.
func (e *editor) stickOut(d *Draft, c *StickOutChange) {
	if slices.ContainsFunc(d.Setup().Tools, func(t *tooling.Tool) bool { return t.Number == c.Tool && math.Abs(t.StickOut-c.MM) < 1e-6 }) {
		return
	}
	for _, l := range d.read.libraries {
		for _, t := range l.tools {
			if t.Number == c.Tool {
				e.list = append(e.list, Edit{File: l.src.name, Do: fmt.Sprintf("in [[tool]] number %d", c.Tool),
					Lines: []string{"stick_out = " + decimal(c.MM/l.unit.mm(1))}})
				return
			}
		}
	}
}

// basic is a basic string of TOML.
func basic(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteRune('\\')
			b.WriteRune(r)
		case r < ' ' || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	return `"` + b.String() + `"`
}

func array(words []string) string {
	quoted := make([]string, len(words))
	for i, w := range words {
		quoted[i] = basic(w)
	}
	return "[" + strings.Join(quoted, ", ") + "]"
}

// decimal writes a number of a file without what float64 arithmetic leaves of a round one.
func decimal(v float64) string { return strconv.FormatFloat(math.Round(v*1e9)/1e9, 'f', -1, 64) }
