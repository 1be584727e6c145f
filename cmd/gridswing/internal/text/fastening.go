package text

import (
	"fmt"
	"math"
	"strings"

	"gridswing/machine/check"
)

// fastening lists the screws with what they are tightened with and what gets to them,
// those that are alike in one line. Where nothing of that is known there is no list.
func (p *page) fastening(r *check.Report) {
	f := r.Fastening
	if f == nil {
		return
	}
	t := table{indent: 3, head: []string{"component", "screws", "thread", "class", "preload", "torque", "driver"}, wraps: 1}
	known := false
	for i := 0; i < len(f.Screws); {
		first, names := &f.Screws[i], []string{}
		for ; i < len(f.Screws) && Alike(first, &f.Screws[i]); i++ {
			names = append(names, f.Screws[i].Name)
		}
		known = known || first.Torque != nil || first.Verdict != nil
		t.rows = append(t.rows, row{cells: []string{
			first.Of, strings.Join(names, ", "), Thread(first), orDash(first.Class),
			most(first.Preload, 1e-3, 1, "kN"), torqueOf(first), Driven(first),
		}})
	}
	if !known {
		return
	}
	p.heading(fmt.Sprintf("Screws in the order of loading, with the greatest preload and torque for a friction of %s", short(f.Friction, 3)))
	p.table(&t)
}

// Alike reports whether two screws of one component differ by their names only.
func Alike(a, b *check.Screw) bool {
	same := func(x, y *float64) bool { return x == nil && y == nil || x != nil && y != nil && *x == *y }
	verdicts := a.Verdict == nil && b.Verdict == nil || a.Verdict != nil && b.Verdict != nil && *a.Verdict == *b.Verdict
	return verdicts && a.Of == b.Of && a.Thread == b.Thread && a.Class == b.Class && a.Below == b.Below &&
		a.Driver == b.Driver && same(a.Length, b.Length)
}

// Thread words the size of a screw: "M12 x 35 from below".
func Thread(s *check.Screw) string {
	words := s.Thread
	if s.Length != nil {
		words += " x " + short(*s.Length, 2)
	}
	if s.Below {
		words += " from below"
	}
	return words
}

// Driven says which driver gets to a screw, or what is known of the one that fits.
func Driven(s *check.Screw) string {
	switch {
	case s.Verdict == nil:
		return "not looked at"
	case s.Driver == "":
		return s.Verdict.String()
	}
	return s.Driver + ": " + s.Verdict.String()
}

// most prints a greatest value in other units, rounded down.
func most(v *float64, scale float64, decimals int, unit string) string {
	if v == nil {
		return "-"
	}
	shift := math.Pow10(decimals)
	return fixed(math.Floor(*v*scale*shift+noise)/shift, decimals) + " " + unit
}

// torqueOf prints the greatest torque of a screw.
func torqueOf(s *check.Screw) string {
	if s.Torque == nil {
		return "-"
	}
	return check.TorqueWords(*s.Torque) + " N m"
}

func orDash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}
