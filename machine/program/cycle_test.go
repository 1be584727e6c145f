package program

import (
	"fmt"
	"strings"
	"testing"

	"gridswing/machine"
)

// told writes steps down, one each: r for rapid, b for a box, f for feed and t for thread with where it ends; w for a
// dwell. s, l and + tell that the spindle stops, turns left or right where it did not before.
func told(list []Step) string {
	var out []string
	turning := 0
	for _, st := range list {
		var b strings.Builder
		if st.Turning != turning {
			turning = st.Turning
			b.WriteString(map[int]string{0: "s ", -1: "l ", 1: "+ "}[turning])
		}
		switch {
		case st.Kind == End:
			continue
		case st.Kind == Dwell:
			fmt.Fprintf(&b, "w %g", st.Seconds)
		default:
			c := map[Kind]string{Rapid: "r", Feed: "f"}[st.Kind]
			if st.Legs[0].Box {
				c = "b"
			}
			if st.Thread {
				c = "t"
			}
			to := st.Legs[len(st.Legs)-1].To
			fmt.Fprintf(&b, "%s %.6g %.6g %.6g", c, to[axisX], to[axisY], to[axisZ])
		}
		out = append(out, b.String())
	}
	return strings.Join(out, "; ")
}

// What cycles do: the first as the report on the interpreter of NISTIR 6556 has them as examples, or as that
// interpreter (RS274NGC version 3) answers; those of G73, G74 and G76 are common practice, no source.
func TestCycles(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"report, incremental", "G0 X1 Y2 Z3\nG91 G81 G98 X4 Y5 Z-0.6 R1.8 L3 F100",
			"r 1 2 3; b 5 7 4.8; f 5 7 4.2; r 5 7 4.8; r 9 12 4.8; f 9 12 4.2; r 9 12 4.8; r 13 17 4.8; f 13 17 4.2; r 13 17 4.8"},
		{"report, absolute", "G0 X1 Y2 Z3\nG90 G81 G98 X4 Y5 Z1.5 R2.8 F100",
			"r 1 2 3; r 4 5 3; r 4 5 2.8; f 4 5 1.5; r 4 5 3"},
		{"back to R", "G0 X1 Y2 Z3\nG81 G99 X4 Y5 Z1.5 R2.8 F100\nX6\nG80\nG0 Z3",
			"r 1 2 3; r 4 5 3; r 4 5 2.8; f 4 5 1.5; r 4 5 2.8; r 6 5 2.8; f 6 5 1.5; r 6 5 2.8; r 6 5 3"},
		{"pecks", "G0 Z10\nG83 G98 X0 Y0 Z-10 R2 Q4 F100",
			"r 0 0 10; r 0 0 2; f 0 0 -2; r 0 0 2; r 0 0 -1.746; f 0 0 -6; r 0 0 2; r 0 0 -5.746; f 0 0 -10; r 0 0 10"},
		{"one peck", "G0 Z10\nG83 G99 X0 Y0 Z-10 R2 Q12 F100", "r 0 0 10; r 0 0 2; f 0 0 -10; r 0 0 2"},
		{"chips", "G0 Z10\nG73 G98 X0 Y0 Z-6 R2 Q4 F100", "r 0 0 10; r 0 0 2; f 0 0 -2; r 0 0 -1.746; f 0 0 -6; r 0 0 10"},
		{"dwell", "G0 Z10\nG82 G98 X1 Y0 Z-6 R2 P0.5 F100\nX3", "r 0 0 10; r 1 0 10; r 1 0 2; f 1 0 -6; w 0.5; r 1 0 10; r 3 0 10; r 3 0 2; f 3 0 -6; w 0.5; r 3 0 10"},
		{"thread", "M3 S100 G0 Z10\nG84 G98 X1 Y0 Z-6 R2 F100", "+ r 0 0 10; r 1 0 10; r 1 0 2; t 1 0 -6; l t 1 0 2; + r 1 0 10"},
		{"left-hand thread", "M4 S100 G0 Z10\nG74 G99 X1 Y0 Z-6 R2 P1 F100", "l r 0 0 10; r 1 0 10; r 1 0 2; t 1 0 -6; w 1; + t 1 0 2"},
		{"bore", "G0 Z10\nG85 G98 X1 Y0 Z-6 R2 F100", "r 0 0 10; r 1 0 10; r 1 0 2; f 1 0 -6; f 1 0 2; r 1 0 10"},
		{"bore and stop", "M3 G0 Z10\nG86 G98 X1 Y0 Z-6 R2 P1 F100\nG80 G0 Z20", "+ r 0 0 10; r 1 0 10; r 1 0 2; f 1 0 -6; w 1; s r 1 0 10; + r 1 0 20"},
		{"fine bore", "M3 G0 Z10\nG76 G98 X1 Y0 Z-6 R2 I0.5 J0 F100", "+ r 0 0 10; r 1 0 10; r 1 0 2; f 1 0 -6; s r 1.5 0 -6; r 1.5 0 10; + r 1 0 10"},
		{"back bore", "M3 G0 Z10\nG87 G98 X1 Y0 Z-6 R2 I0.5 J0 K-3 F100",
			"+ r 0 0 10; r 1 0 10; r 1 0 2; r 1.5 0 2; s r 1.5 0 -6; r 1 0 -6; + f 1 0 -3; f 1 0 -6; s r 1.5 0 -6; r 1.5 0 10; r 1 0 10"},
		{"bore and dwell", "G0 Z10\nG89 G99 X1 Y0 Z-6 R2 P1 F100", "r 0 0 10; r 1 0 10; r 1 0 2; f 1 0 -6; w 1; f 1 0 2"},
		{"another plane", "G18 G0 Y10\nG81 G98 X1 Z-3 Y-6 R2 F100", "r 0 10 0; r 1 10 -3; r 1 2 -3; f 1 -6 -3; r 1 10 -3"},
		{"relative again", "G0 Z10\nG91 G81 G98 X1 Z-6 R-8 F100\nX1", "r 0 0 10; r 1 0 10; r 1 0 2; f 1 0 -4; r 1 0 10; r 2 0 10; r 2 0 2; f 2 0 -4; r 2 0 10"},
		{"higher by G98", "G0 Z10\nG81 G99 X1 Z-6 R2 F100\nG98 X2", "r 0 0 10; r 1 0 10; r 1 0 2; f 1 0 -6; r 1 0 2; r 2 0 2; f 2 0 -6; r 2 0 2"},
		{"no move, no hole", "G0 Z10\nG81 G99 X1 Z-6 R2 F100\nM8\nG80", "r 0 0 10; r 1 0 10; r 1 0 2; f 1 0 -6; r 1 0 2"},
	} {
		if got := told(stepsOf(t, mill(), c.text)); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, c.want)
		}
	}
}

// A control that returns to where the first of the cycles began.
func TestCycleReturn(t *testing.T) {
	s := mill()
	const text = "G0 Z10\nG81 G99 X1 Z-6 R2 F100\nG98 X2"
	s.Control.Return = machine.BeforeFirst
	want := "r 0 0 10; r 1 0 10; r 1 0 2; f 1 0 -6; r 1 0 2; r 2 0 2; f 2 0 -6; r 2 0 10"
	if got := told(stepsOf(t, s, text)); got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	refused(t, s, "G0 Z1\nG81 G98 X1 Z-6 R2 F100", "G81", "above R")
	refused(t, s, "G0 Z10\nG81 G99 X1 Z-6 R2 F100\nG10 L2 P1 Z5\nG98 X2 Z-5", "a block", "G80 between cycles")
	s.Control.Return = ""
	refused(t, s, text, "a block", "cycle_return")
}

func TestCyclesRefused(t *testing.T) {
	for _, c := range []struct{ text, found, expected string }{
		{"G81 X1 Z-5 R-6 F100", "G81", "R above the bottom"},
		{"G81 X1 R2 F100", "G81", "Z, to where"},
		{"G81 X1 Z-2 F100", "G81", "R, from where"},
		{"G82 G98 X1 Z-2 R-1 F100", "G82", "P"},
		{"G83 G98 X1 Z-2 R-1 F100", "G83", "Q"},
		{"G83 G98 X1 Z-2 R-1 Q0 F100", "G83", "Q"},
		{"G83 G98 X1 Z-500 R-1 Q0.001 F100", "G83", "100000 pecks"},
		{"G84 G98 X1 Z-2 R-1 F100", "G84", "M3"},
		{"G74 M3 G98 X1 Z-2 R-1 F100", "G74", "M4"},
		{"G88 G98 X1 Z-2 R-1 P1 F100", "G88", "by hand"},
		{"G76 G98 X1 Z-2 R-1 Q1 F100", "G76", "I and J"},
		{"G87 G98 X1 Z-2 R-1 I1 J0 K-5 F100", "G87", "between R and the bottom"},
		{"G81 G98 X1 Z-2 R-1 Q3 F100", "Q3", "uses"},
		{"G81 G98 X1 Z-2 R-1 P3 F100", "P3", "dwells"},
		{"G81 G98 X1 Z-2 R-1 A5 F100", "A in", "block of its own"},
		{"G81 G98 X1 Z-2 R-1 K5 F100", "K5", "L"},
		{"G81 G98 X1 Z-2 R-1 L0 F100", "L0", "1 to"},
		{"G81 X1 Z-2 R-1 F100", "G81", "G98 or G99"},
		{"G81 G98 X1 Z-2 R-1", "a feed", "F"},
		{"G93 G81 G98 X1 Z-2 R-1 F1", "G81", "G94"},
		{"G81 G99 X1 Z-2 R-1 F100\nG82 X3", "G82", "R, from"},
		{"G81 G99 X1 Z-2 R-1 F100\nG91 X3", "a block", "anew"},
		{"G80 X3", "X3", "G0 or G1"},
		{"G81 G99 X1 Z-2 R-1 F100 M30", "a hole and", "two blocks"},
	} {
		refused(t, mill(), c.text, c.found, c.expected)
	}
	s := mill()
	s.Control.PeckClear, s.Control.ChipBreak = nil, nil
	refused(t, s, "G83 G98 X1 Z-2 R-1 Q0.2 F100", "G83", "peck_clear")
	refused(t, s, "G73 G98 X1 Z-2 R-1 Q0.2 F100", "G73", "chip_break")
}
