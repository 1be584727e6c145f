package text

import (
	"bytes"
	"testing"

	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine/check"
)

// Screws that are alike stand in one line; greatest values are rounded down; where nothing
// is known there is no list.
func TestFastening(t *testing.T) {
	clear, contact, length, force, torque := check.Clear, check.Contact, 40.0, 43089.9, 84.99
	screw := func(name string, v *check.Verdict) check.Screw {
		return check.Screw{Of: "riser", Name: name, Thread: "M12", Class: "8.8", Length: &length, Preload: &force, Torque: &torque, Driver: "hex key 10", Verdict: v}
	}
	below := check.Screw{Of: "vise", Name: "left", Thread: "M30", Below: true, Verdict: new(check.Verdict)}
	r := &check.Report{Fastening: &check.Fastening{Friction: 0.12, Screws: []check.Screw{screw("1", &clear), screw("2", &clear), screw("3", &contact), below}}}
	const want = `
Screws in the order of loading, with the greatest preload and torque for a friction of 0.12
   component  screws  thread          class  preload  torque  driver
   riser      1, 2    M12 x 40          8.8  43.0 kN  84 N m  hex key 10: clear
   riser      3       M12 x 40          8.8  43.0 kN  84 N m  hex key 10: contact
   vise       left    M30 from below      -  -        -       unproven
`
	var b bytes.Buffer
	p := &page{w: &b, look: terminal.Look{Width: 100}}
	p.fastening(r)
	if p.err != nil || b.String() != want {
		t.Errorf("%v\n%s\nwant\n%s", p.err, b.String(), want)
	}
	b.Reset()
	p.fastening(&check.Report{Fastening: &check.Fastening{Friction: 0.12, Screws: []check.Screw{{Of: "riser", Name: "1", Thread: "M12"}}}})
	p.fastening(&check.Report{})
	if b.Len() > 0 {
		t.Errorf("%s", b.String())
	}
}
