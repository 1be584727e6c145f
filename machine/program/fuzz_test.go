package program

import (
	"errors"
	"io"
	"math"
	"strings"
	"testing"
)

// Whatever a program says: legs follow each other, numbers are numbers, and what cannot be read is a Fault
// with its place.
func FuzzProgram(f *testing.F) {
	for _, s := range []string{
		"G0 X1 Y2 Z3\nG91 G81 G98 X4 Y5 Z-0.6 R1.8 L3 F100\nG80\n",
		"G0 Z10\nG83 G99 X0 Y0 Z-10 R2 Q4 F100\nM3 G84 X2 Z-5 R1\nG80 G87 G98 X1 Z-6 R2 I0.5 J0 K-3\nG76 X1 Z-2 R1 I1 J1\n",
		"G0 X-20 Y0 F100\nG41 D1 G1 X0 Y0\nY40\nG2 X5 Y45 I5\nG1 X40\nG4 P1\nY0\nX0\nG40 X-20 Y-20\n",
		"G0 X20 Y20 F100\nG42 D1 G1 X20 Y0\nX0\nZ3\nG3 X-20 Y20 R20\nG40 G1 X20 Y20\n",
		"G271 H1 A10 C20 X1 Y2 Z3\nG1 X5 A11 F100\nG270\nG273 X0 Y0 Z0 I10 J20 K0\n",
		"G28 Z0\nT1 M6\nG43 H1 Z5\nG92 X1\nG92.1\nG52 X1\nG53 G0 X0\nG10 L2 P1 X5\nG18 G2 X1 Z1 R5 F5\nM98 P1\nO1\nM99\n",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := Open("p.nc", strings.NewReader(text), mill(), keyed(), Options{})
		if err != nil {
			t.Fatal(err)
		}
		at := r.(*interpreter).pos
		for range 2000 {
			st, err := r.Next()
			if err == io.EOF {
				return
			}
			var fault *Fault
			if errors.As(err, &fault) {
				if fault.Line < 1 || fault.Column < 1 || fault.Found == "" || fault.Expected == "" {
					t.Fatalf("a fault without its place: %+v", fault)
				}
				if _, again := r.Next(); again != err {
					t.Fatalf("first %v, then %v", err, again)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			for _, l := range st.Legs {
				for k := range l.To {
					if math.IsNaN(l.To[k]) || math.IsInf(l.To[k], 0) || !(l.Within[k] >= 0) {
						t.Fatalf("%s: leg %+v", st.Block, l)
					}
				}
				if l.From != at {
					t.Fatalf("%s: from %v, was at %v", st.Block, l.From, at)
				}
				at = l.To
			}
		}
	})
}
