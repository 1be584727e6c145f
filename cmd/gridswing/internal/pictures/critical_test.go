package pictures

import (
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine/check"
	"gridswing/render"

	"github.com/golang/geo/r3"
)

// trunnioned is the small machine with its vise on A (about X) and C (about Z), beside the table,
// and a cradle that A carries.
func trunnioned(t *testing.T) *Scene {
	t.Helper()
	s := small()
	s.Up = r3.Vector{Z: 1}
	s.Axes[0].Commanded, s.Axes[0].Unit = [2]float64{0, 2 * math.Pi}, "unit"
	s.Axes[1].Commanded, s.Axes[1].Unit = [2]float64{-math.Pi / 6, math.Pi / 2}, "unit"
	a := motion.Joint{Name: "A", Kind: motion.Rotary, Axis: r3.Vector{X: 1}, Point: r3.Vector{X: 20, Z: 10}, Gain: motion.Params{1: 1}}
	c := motion.Joint{Name: "C", Kind: motion.Rotary, Axis: r3.Vector{Z: 1}, Point: r3.Vector{X: 20}, Gain: motion.Params{1}}
	cradle := s.Bodies[4]
	cradle.Name, cradle.Unit = "unit/cradle", "unit"
	cradle.Chain = motion.Chain{Joints: []motion.Joint{a}, Home: geom.Shift(r3.Vector{X: 20, Z: 3})}
	plate := cradle
	plate.Name, plate.Chain = "unit/faceplate", motion.Chain{Joints: []motion.Joint{a, c}, Home: geom.Shift(r3.Vector{X: 20, Z: 6})}
	s.Bodies[4].Chain = motion.Chain{Joints: []motion.Joint{a, c}, Home: geom.Shift(r3.Vector{X: 21, Y: 1, Z: 9})}
	s.Bodies = append(s.Bodies, cradle, plate)
	sc, err := Prepare(t.Context(), s, 2)
	if err != nil {
		t.Fatal(err)
	}
	return sc
}

// What stands on the faceplate is swept, the unit itself is not; the veil's box holds the load
// wherever it is put.
func TestSwept(t *testing.T) {
	sc := trunnioned(t)
	home := Home(sc.setup)
	items, words, err := sc.Swept(home)
	if err != nil || len(items) != 1 || len(words) != 1 || items[0].Emphasis != render.Swept {
		t.Fatalf("%d items, %q, %v", len(items), words, err)
	}
	// About the rotary axis the vise reaches from radius 0 to 2 sqrt 2, heights 8 to 10; under the tilt axis, at height 10,
	// it gets sqrt(8 + 4) from it. The grid's 80 cells are some 0.09 mm.
	const reach = 3.4642
	box := items[0].Shape.BoundsIn(items[0].Pose)
	if want := 10 - reach; box.Min.Z > want || box.Min.Z < want-0.3 {
		t.Errorf("the veil begins at a height of %.3f, want %.3f or a little less", box.Min.Z, want)
	}
	for k := range 200 {
		p := home
		p[0], p[1] = float64(k), -math.Pi/6+2*math.Pi/3*float64(k%20)/19
		load := sc.bounds(4, p)
		if !(box.Min.X <= load.Min.X && box.Max.X >= load.Max.X && box.Min.Y <= load.Min.Y && box.Max.Y >= load.Max.Y && box.Min.Z <= load.Min.Z && box.Max.Z >= load.Max.Z) {
			t.Fatalf("at %v the load is in %v, the veil in %v", p[:2], load, box)
		}
	}
	if want := "Swept by what stands on C: A −30 to 90°, C all the way round. Never smaller than that; at most 0.2"; len(words[0]) < len(want) || words[0][:len(want)] != want {
		t.Errorf("%q, want %q ...", words[0], want)
	}
	sc.setup.Axes[0].Commanded[1] = math.Pi
	if _, words, _ = sc.Swept(home); len(words) != 1 || words[0][:len("Swept by what stands on C: A −30 to 90°, C all the way round, though C 0 to 180° is commanded.")] != "Swept by what stands on C: A −30 to 90°, C all the way round, though 0 to 180° is commanded. N" {
		t.Errorf("a part of a turn: %q", words)
	}
}

func TestNothingIsSwept(t *testing.T) {
	sc := prepared(t)
	if items, words, err := sc.Swept(Home(sc.setup)); err != nil || len(items) > 0 || !slices.Equal(words, []string{"Nothing is shown swept: nothing stands on a rotary axis."}) {
		t.Errorf("%v, %q, %v", items, words, err)
	}
	sc = trunnioned(t)
	sc.setup.Axes = append(sc.setup.Axes, sc.setup.Axes[0])
	b := &sc.setup.Bodies[4].Chain
	b.Joints = append(b.Joints, motion.Joint{Name: "D", Kind: motion.Rotary, Axis: r3.Vector{Z: 1}, Gain: motion.Params{3: 1}})
	if items, words, err := sc.Swept(Home(sc.setup)); err != nil || len(items) > 0 || !slices.Equal(words, []string{"vise is not shown swept: more than two rotary axes carry it."}) {
		t.Errorf("%v, %q, %v", items, words, err)
	}
}

// turnedTo is a finding of the swing at a position of A and C, in degrees.
func turnedTo(v check.Verdict, a, c float64) check.Finding {
	f := finding(v, check.Swing, 4, 5)
	f.Params = motion.Params{c * math.Pi / 180, a * math.Pi / 180, -12.5}
	f.At = []check.Position{{Axis: "A", Value: a, Unit: "deg"}}
	return f
}

// The way leads from home to the nearest of the worst findings, on to the nearest of the rest, and home again; what
// is at rest or has no place is left out, what is clear fills up.
func TestCriticalWay(t *testing.T) {
	sc := trunnioned(t)
	rest := turnedTo(check.Contact, 80, 0)
	rest.Question = check.Rest
	nowhere := turnedTo(check.Unproven, 70, 0)
	nowhere.Points = nil
	r := &check.Report{Setup: "a setup", Findings: []check.Finding{rest, nowhere, turnedTo(check.Contact, 90, 10), turnedTo(check.Tight, 40, 0), turnedTo(check.Tight, 40, 0.5)},
		Closest: []check.Finding{turnedTo(check.Clear, -20, 0)}}
	a := sc.Critical(r)
	if a == nil {
		t.Fatal("no way")
	}
	var got []float64
	for _, s := range a.stops {
		got = append(got, math.Round(s.at[1]*180/math.Pi))
	}
	if want := []float64{30, 40, 90, -20}; !slices.Equal(got, want) {
		t.Errorf("tilts %v, want %v", got, want)
	}
	list := a.stills()
	// Steps of 12 degrees at most: one from 30 to 40, five to 90, nine (the most) to -20, five back to 30.
	if len(list) != 1+5+9+5 {
		t.Errorf("%d frames", len(list))
	}
	if list[1].picture.Caption[1] != "1 of 3  tight: a and b" || list[1].stays != atCritical || list[2].picture.Caption[1] != "On the way to 2 of 3." || list[2].stays != onTheWay {
		t.Errorf("captions %q, %q", list[1].picture.Caption, list[2].picture.Caption)
	}
	if emphasis(list[1].picture, "vise") != render.Tight || emphasis(list[1].picture, "unit/faceplate") != render.Ghost || emphasis(list[1].picture, "machine/table") != render.Plain {
		t.Error("the pair, what is placed besides and the table do not look as they should")
	}
	last := list[len(list)-5].picture // what is clear at -20
	if it := last.Items[slices.IndexFunc(last.Items, func(it render.Item) bool { return it.Name == "unit/cradle" })]; last.Caption[1] != "3 of 3  clear: a and b" || it.Unit != "unit/cradle" || it.Emphasis != render.Plain {
		t.Errorf("%q, %+v: a body of the pair is not named as the caption does", last.Caption, it)
	}
	for _, s := range list {
		if !slices.Equal(s.picture.Within, list[0].picture.Within) {
			t.Fatal("frames show different room")
		}
	}
}

// Where nothing happens away from home, or no swing was looked at, there is no animation.
func TestNoCriticalWay(t *testing.T) {
	sc := trunnioned(t)
	for _, r := range []*check.Report{{}, {Findings: []check.Finding{turnedTo(check.Contact, 30, 0)}}} {
		if sc.Critical(r) != nil {
			t.Errorf("%d findings: there is a way", len(r.Findings))
		}
	}
}

// The set has the animation if it is asked for; one that is not, is no longer left there.
func TestSetWithAnimation(t *testing.T) {
	sc := trunnioned(t)
	r := &check.Report{Setup: "a setup", Findings: []check.Finding{turnedTo(check.Contact, 90, 10)}}
	dir := t.TempDir()
	file := filepath.Join(dir, "one.two-critical.png")
	sc.Animate = true
	list, err := sc.WriteSet(t.Context(), r, "", dir)
	if err != nil || !slices.Contains(list, file) {
		t.Fatalf("%v, %v", list, err)
	}
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(f)
	f.Close()
	if err != nil || img.Bounds().Dx() != animationWidth || img.Bounds().Dy() != animationHeight {
		t.Errorf("%v, %v", img, err)
	}
	sc.Animate = false
	if list, err = sc.WriteSet(t.Context(), r, "", dir); err != nil || slices.Contains(list, file) {
		t.Fatalf("%v, %v", list, err)
	}
	if _, err := os.Stat(file); !os.IsNotExist(err) {
		t.Errorf("an animation of an earlier check is left: %v", err)
	}
}
