package ink

import (
	"fmt"
	"image/color"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// Labels in boxes and in circles at random anchors, and lines that are to stay free: no box covers
// a line, no leader crosses one but that of the label that belongs to it.
func TestLabelsKeepOffLines(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 20 {
		l := Labels{Inside: Area{0, 0, 900, 700}, Unit: 1}
		var wanted []Label
		for i := range 3 {
			a := Point{200 + 500*rng.Float64(), 200 + 300*rng.Float64()}
			s, c := math.Sincos(2 * math.Pi * rng.Float64())
			b := Point{a.X + 90*c, a.Y + 90*s}
			l.Keep = append(l.Keep, [2]Point{a, b})
			wanted = append(wanted, Label{Words: fmt.Sprintf("%d.50 mm", i), Plain: true, Anchor: along(a, b, 0.5)})
		}
		for i := range 12 {
			wanted = append(wanted, Label{Words: fmt.Sprint(i + 1), Round: i%2 == 0, Anchor: Point{200 + 500*rng.Float64(), 200 + 300*rng.Float64()}})
		}
		left := l.Place(wanted)
		if len(l.placed)+len(left) != len(wanted) || len(l.placed) < 10 {
			t.Fatalf("%d placed and %d returned of %d", len(l.placed), len(left), len(wanted))
		}
		for i := range l.placed {
			w := &l.placed[i]
			for _, k := range l.Keep {
				if w.box.crosses(k[0], k[1]) || !w.Plain && meet(w.foot(), w.Anchor, k[0], k[1]) {
					t.Errorf("label %q runs into a line", w.Words)
				}
			}
			for k := range wanted {
				if p := wanted[k].Anchor; w.Round && p != w.Anchor && around(p, 12).crosses(w.Anchor, w.foot()) {
					t.Errorf("the leader of %q passes the end of that of %q", w.Words, wanted[k].Words)
				}
			}
			at := Point{(w.box.X0 + w.box.X1) / 2, (w.box.Y0 + w.box.Y1) / 2}
			if w.Round && (w.box.Width() != w.box.Height() || math.Abs(math.Hypot(w.foot().X-at.X, w.foot().Y-at.Y)-w.box.Width()/2) > 1e-9) {
				t.Errorf("label %q is no circle, or its leader does not end on it", w.Words)
			}
		}
	}
}

// L* of the grey of a colour is that of the colour; Turned puts dark for light, in even order,
// and keeps how far colours are apart, by and large.
func TestGreyAndTurned(t *testing.T) {
	last := 101.0
	for v := 0; v <= 255; v += 5 {
		for _, c := range []color.RGBA{{uint8(v), 90, 200, 255}, {200, uint8(v), 3, 255}, {uint8(v), uint8(v), uint8(v), 255}} {
			g := Grey(c)
			if g.R != g.G || g.G != g.B || math.Abs(Lightness(g)-Lightness(c)) > 0.4 {
				t.Errorf("grey of %v is %v", c, g)
			}
		}
		l := Lightness(Turned(color.RGBA{uint8(v), uint8(v), uint8(v), 255}))
		if l > last+0.5 {
			t.Errorf("a lighter grey, %d, is lighter on a dark ground, too", v)
		}
		last = l
	}
	if p, q := Lightness(Turned(Paper)), Lightness(Turned(Text)); math.Abs(p-Lightness(Dark.Paper)) > 1 || math.Abs(q-Lightness(Dark.Text)) > 1 {
		t.Errorf("paper becomes L* %.1f, letters %.1f", p, q)
	}
}

// The value beside arrows that point at a gap from outside is led to either end of their line, and
// the leader never runs back over the arrows, wherever there is room.
func TestLeaderGoesOnFromALine(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	ends := map[int]int{}
	for range 200 {
		s, c := math.Sincos(2 * math.Pi * rng.Float64())
		a := Point{250 + 400*rng.Float64(), 150 + 400*rng.Float64()}
		b := Point{a.X + 90*c, a.Y + 90*s}
		taken := Area{0, 0, 450, 700} // where it is bad to be
		l := Labels{Inside: Area{0, 0, 900, 700}, Unit: 1, Keep: [][2]Point{{a, b}}, Cost: func(a Area) float64 {
			if a.Overlaps(taken) {
				return 1
			}
			return 0
		}}
		if left := l.Place([]Label{{Words: "0.74 mm", Plain: true, Anchor: b, Line: [2]Point{a, b}}}); len(left) > 0 {
			t.Fatalf("no place at %v, %v", a, b)
		}
		w := &l.placed[0]
		end, other := 0, b
		if w.Anchor == b {
			end, other = 1, a
		} else if w.Anchor != a {
			t.Fatalf("the leader ends at %v, on neither end of %v to %v", w.Anchor, a, b)
		}
		ends[end]++
		foot := w.foot()
		if along := (foot.X-w.Anchor.X)*(w.Anchor.X-other.X) + (foot.Y-w.Anchor.Y)*(w.Anchor.Y-other.Y); along < 0 {
			t.Errorf("the leader from %v to %v runs back over the line from %v", foot, w.Anchor, other)
		}
	}
	if ends[0] < 50 || ends[1] < 50 {
		t.Errorf("%d and %d of 200 are led to the two ends", ends[0], ends[1])
	}
}

// Of very many labels the first are placed, and every other one is returned.
func TestVeryManyLabels(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 1))
	l := Labels{Inside: Area{0, 0, 1600, 1200}, Unit: 1}
	var wanted []Label
	for i := range 20000 {
		wanted = append(wanted, Label{Words: fmt.Sprint(i), Anchor: Point{1600 * rng.Float64(), 1200 * rng.Float64()}})
	}
	left := l.Place(wanted)
	if len(l.placed) < 30 || len(l.placed)+len(left) != len(wanted) || left[len(left)-1].Words != "19999" {
		t.Errorf("%d placed and %d returned of %d", len(l.placed), len(left), len(wanted))
	}
}

// Words are shortened to the longest beginning that fits, however long they are.
func TestShortenIsTheLongest(t *testing.T) {
	face := Type{Size: 19}
	rng := rand.New(rand.NewPCG(2, 9))
	for range 300 {
		runes := make([]rune, 1+rng.IntN(60))
		for i := range runes {
			runes[i] = []rune("AVTo.,fi−°mW lj1ä")[rng.IntN(17)]
		}
		width := 400 * rng.Float64()
		want := string(runes)
		for n := len(runes) - 1; face.Width(want) > width; n-- {
			if n <= 0 {
				want = ""
				break
			}
			want = string(runes[:n]) + "…"
		}
		if got := Shorten(face, string(runes), width); got != want {
			t.Fatalf("%q to %.1f: %q, want %q", string(runes), width, got, want)
		}
	}
	if got := Shorten(face, strings.Repeat("a body, ", 100000), 500); face.Width(got) > 500 || face.Width(got) < 450 {
		t.Errorf("%q", got)
	}
}
