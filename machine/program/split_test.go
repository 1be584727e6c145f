package program

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gridswing/geom/motion"

	"pgregory.net/rapid"
)

// written is a program as it is made up: straight moves and arcs, in one of the controls.
type written struct {
	head, whole, parts strings.Builder
	pieces             []int // blocks that stand for each
}

// A program and the same with every move cut into short blocks lead along the same way: at the same
// share of a move the axes stand at the same place, but for what the legs say they may be off.
func TestCutIntoBlocks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := writeProgram(t)
		whole, parts := run(t, w.head.String()+w.whole.String()), run(t, w.head.String()+w.parts.String())
		n := len(whole) - len(w.pieces)
		if n < 0 || len(parts) < n {
			t.Fatalf("%d steps of %d moves", len(whole), len(w.pieces))
		}
		at := n
		for i, pieces := range w.pieces {
			a := whole[n+i]
			if at+pieces > len(parts) {
				t.Fatalf("move %d: %d steps, want %d", i, len(parts), at+pieces)
			}
			for j := range 33 {
				f := float64(j) / 32
				p := math.Min(f*float64(pieces), float64(pieces)-1e-9)
				b := parts[at+int(p)]
				va, wa := on(a, f)
				vb, wb := on(b, p-math.Floor(p))
				for k := range va {
					if off := math.Abs(va[k] - vb[k]); off > wa[k]+wb[k]+1e-6 {
						t.Fatalf("move %d at %g: axis %d is %g off, allowed %g\n%s%s", i, f, k, off, wa[k]+wb[k], w.head.String(), w.whole.String())
					}
				}
			}
			at += pieces
		}
		if at != len(parts) {
			t.Fatalf("%d steps, want %d", len(parts), at)
		}
		a, _ := on(whole[len(whole)-1], 1)
		b, _ := on(parts[len(parts)-1], 1)
		for k := range a {
			if math.Abs(a[k]-b[k]) > 1e-6 {
				t.Fatalf("ends at %v, cut into blocks at %v", a, b)
			}
		}
	})
}

// on is where the axes stand on the legs of a step a share f of the way, and what they may be off
// there. Legs are equally long in it, or as long as C turns on them: that goes evenly.
func on(legs []Leg, f float64) (p, within motion.Params) {
	share := func(i int) float64 { return float64(i) / float64(len(legs)) }
	if from, by := legs[0].From[axisC], legs[len(legs)-1].To[axisC]-legs[0].From[axisC]; math.Abs(by) > 1e-3 {
		share = func(i int) float64 {
			if i == len(legs) {
				return 1
			}
			return (legs[i].From[axisC] - from) / by
		}
	}
	i := 0
	for i < len(legs)-1 && share(i+1) <= f {
		i++
	}
	l, s := legs[i], (f-share(i))/(share(i+1)-share(i))
	for k := range p {
		p[k] = l.From[k] + (l.To[k]-l.From[k])*s
	}
	return p, l.Within
}

// run returns the legs of each step that has some.
func run(t *rapid.T, text string) (list [][]Leg) {
	steps, err := Open("p.nc", strings.NewReader(text+"M2\n"), mill(), atPart(keyed()), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for {
		st, err := steps.Next()
		if err != nil {
			if f, ok := err.(*Fault); ok {
				t.Fatalf("%v\n%s", f, text)
			}
			return list
		}
		if len(st.Legs) > 0 {
			list = append(list, append([]Leg(nil), st.Legs...))
		}
	}
}

// writeProgram makes up a program of feeds near the part.
func writeProgram(t *rapid.T) *written {
	w := &written{}
	control := rapid.SampledFrom([]string{"", "G271 H1", "G272", "G273 X1 Y2 Z3 I30 J40 K-20"}).Draw(t, "control")
	turns := control == "" || control == "G271 H1"
	angle := func(name string, most float64) float64 { return rapid.Float64Range(-most, most).Draw(t, name) }
	at := [5]float64{1, 2, 40, 0, 0}
	switch control {
	case "G272":
		at[3], at[4] = angle("A", 60), angle("C", 170)
	case "G273 X1 Y2 Z3 I30 J40 K-20": // Z of that plane is (sin 40 sin 30, -sin 40 cos 30, cos 40)
		at[3], at[4] = 40, 30
	}
	fmt.Fprintf(&w.head, "G0 A%.9f C%.9f\n%s\nG49\nG0 X%.9f Y%.9f Z%.9f\nF100\n", at[3], at[4], control, at[0], at[1], at[2])
	if control == "G271 H1" {
		w.head.Reset()
		fmt.Fprintf(&w.head, "%s\nG0 X%.9f Y%.9f Z%.9f A%.9f C%.9f\nF100\n", control, at[0], at[1], at[2], at[3], at[4])
	}
	for range rapid.IntRange(1, 6).Draw(t, "moves") {
		pieces := rapid.IntRange(1, 5).Draw(t, "pieces")
		if rapid.Bool().Draw(t, "arc") {
			w.arc(t, &at, pieces, turns && rapid.Bool().Draw(t, "turning"))
		} else {
			w.line(t, &at, pieces, turns)
		}
		w.pieces = append(w.pieces, pieces)
	}
	return w
}

func (w *written) line(t *rapid.T, at *[5]float64, pieces int, turns bool) {
	from := *at
	for k := range at {
		if k < 3 || turns {
			at[k] += rapid.Float64Range(-20, 20).Draw(t, "by")
		}
	}
	at[0] += 0.01 // it goes somewhere
	put := func(b *strings.Builder, f float64) {
		fmt.Fprintf(b, "G1")
		for k, l := range "XYZAC" {
			if k < 3 || turns {
				fmt.Fprintf(b, " %c%.12f", l, from[k]+(at[k]-from[k])*f)
			}
		}
		b.WriteByte('\n')
	}
	put(&w.whole, 1)
	for i := range pieces {
		put(&w.parts, float64(i+1)/float64(pieces))
	}
}

// arc adds one in any plane, with the third axis and perhaps the rotary ones in step.
func (w *written) arc(t *rapid.T, at *[5]float64, pieces int, turns bool) {
	plane := rapid.IntRange(0, 2).Draw(t, "plane")
	first, second, third := [3]int{0, 2, 1}[plane], [3]int{1, 0, 2}[plane], [3]int{2, 1, 0}[plane]
	r := math.Pow(10, rapid.Float64Range(-1, 1.5).Draw(t, "radius"))
	begin, sweep := rapid.Float64Range(-3, 3).Draw(t, "from"), rapid.Float64Range(-6, 6).Draw(t, "sweep")
	if math.Abs(sweep) < 0.1 {
		sweep = 0.1
	}
	from := *at
	centre := [2]float64{from[first] - r*math.Cos(begin), from[second] - r*math.Sin(begin)}
	rise := rapid.Float64Range(-5, 5).Draw(t, "rise")
	code := "G3"
	if sweep < 0 {
		code = "G2"
	}
	put := func(b *strings.Builder, before, f float64) {
		p := from
		p[first], p[second] = centre[0]+r*math.Cos(begin+sweep*f), centre[1]+r*math.Sin(begin+sweep*f)
		p[third] += rise * f
		fmt.Fprintf(b, "G%d %s", 17+plane, code)
		for k, l := range "XYZAC" {
			if k >= 3 && turns {
				p[k] += 2 * rise * f
			}
			if k < 3 || turns {
				fmt.Fprintf(b, " %c%.12f", l, p[k])
			}
		}
		fmt.Fprintf(b, " %c%.12f %c%.12f\n", "IJK"[first], -r*math.Cos(begin+sweep*before), "IJK"[second], -r*math.Sin(begin+sweep*before))
		*at = p
	}
	put(&w.whole, 0, 1)
	for i := range pieces {
		put(&w.parts, float64(i)/float64(pieces), float64(i+1)/float64(pieces))
	}
}
