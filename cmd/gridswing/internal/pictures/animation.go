package pictures

import (
	"context"
	"fmt"
	"io"
	"math"
	"slices"
	"time"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/render"
	"gridswing/render/apng"
	"gridswing/render/ink"

	"github.com/golang/geo/r3"
)

// Of an animation: its size in pixels, how long it stands where, what an axis turns at most from
// one frame to the next, and how many positions and frames it has at most.
const (
	animationWidth  = 960
	animationHeight = 720
	atCritical      = 2 * time.Second
	atHome          = time.Second
	onTheWay        = 90 * time.Millisecond
	perFrame        = 12 * math.Pi / 180
	mostCritical    = 4
	mostOnAWay      = 8
)

// Animation goes from home through the positions where things come nearest to each other,
// and back.
type Animation struct {
	scene  *Scene
	report *check.Report
	Theme  ink.Theme
	stops  []stop
}

// stop is a position, and what is to be seen there; nil at home.
type stop struct {
	at      motion.Params
	finding *check.Finding
	number  int
}

// Critical returns the animation of a report: through the worst findings of the swing, and where
// there are few of them also where what is clear comes nearest. Nil if nothing is known to happen away from home.
func (sc *Scene) Critical(r *check.Report) *Animation {
	var list []stop
	for _, findings := range [][]check.Finding{r.Findings, r.Closest} {
		for i := range findings {
			f := &findings[i]
			if len(list) == mostCritical || !swings(f) || f.Question == check.Rest || f.Points == nil || len(f.At) == 0 {
				continue
			}
			if !slices.ContainsFunc(list, func(s stop) bool { return sc.apart(s.at, f.Params) < math.Pi/180 }) {
				list = append(list, stop{at: f.Params, finding: f})
			}
		}
	}
	home := Home(sc.setup)
	if !slices.ContainsFunc(list, func(s stop) bool { return sc.apart(s.at, home) > math.Pi/180 }) {
		return nil
	}
	a := &Animation{scene: sc, report: r, stops: []stop{{at: home}}}
	for len(list) > 0 { // always to the nearest
		from := a.stops[len(a.stops)-1].at
		near := 0
		for i := range list {
			if sc.apart(from, list[i].at) < sc.apart(from, list[near].at)-1e-9 {
				near = i
			}
		}
		list[near].number = len(a.stops)
		a.stops = append(a.stops, list[near])
		list = slices.Delete(list, near, near+1)
	}
	return a
}

// apart is how far the rotary axis that turns most turns from one position to another, radians.
func (sc *Scene) apart(p, q motion.Params) (most float64) {
	for k := range sc.setup.Axes {
		if sc.setup.Axes[k].Kind == motion.Rotary {
			most = max(most, math.Abs(p[k]-q[k]))
		}
	}
	return most
}

// still is one frame before it is drawn.
type still struct {
	picture *render.Picture
	stays   time.Duration
}

// stills returns the frames: each stop, and after it the way to the next one.
func (a *Animation) stills() (list []still) {
	for i := range a.stops {
		from, to := &a.stops[i], &a.stops[(i+1)%len(a.stops)]
		list = append(list, a.stopAt(from))
		n := int(min(math.Ceil(a.scene.apart(from.at, to.at)/perFrame), mostOnAWay+1))
		for k := 1; k < n; k++ {
			p := from.at
			for axis := range p {
				p[axis] += (to.at[axis] - from.at[axis]) * float64(k) / float64(n)
			}
			list = append(list, still{a.frame(p, nil, a.toward(to)), onTheWay})
		}
	}
	a.hold(list)
	return list
}

// stopAt is the frame of a stop.
func (a *Animation) stopAt(s *stop) still {
	if s.finding == nil {
		return still{a.frame(s.at, s, "Every axis at home."), atHome}
	}
	return still{a.frame(s.at, s, fmt.Sprintf("%d of %d  %s%s", s.number, len(a.stops)-1, subject(s.finding), a.scene.gapWords(s.finding))), atCritical}
}

// gapWords says how near two bodies come, as a mark in a picture does.
func (sc *Scene) gapWords(f *check.Finding) string {
	if m := sc.marks(f); len(m) > 0 && m[0].Gap != (r3.Vector{}) {
		return ", " + m[0].Label
	}
	return ""
}

func (a *Animation) toward(s *stop) string {
	if s.finding == nil {
		return "On the way home."
	}
	return fmt.Sprintf("On the way to %d of %d.", s.number, len(a.stops)-1)
}

// frame shows what stands on the table; at a finding its two bodies, too, and all that is placed
// besides them as a veil, so that it hides nothing. On the way nothing is named: names would jump.
func (a *Animation) frame(p motion.Params, s *stop, words string) *render.Picture {
	sc := a.scene
	pic := &render.Picture{
		Lengths: lengthsOf(sc.lengths),
		Title:   fmt.Sprintf("%s: %s", a.report.Setup, a.report.Verdict),
		Caption: []string{sc.positions(p), words},
		Up:      sc.setup.Up, View: render.Isometric, Theme: a.Theme,
		Width: animationWidth, Height: animationHeight, Workers: 1,
	}
	if s == nil || s.finding == nil {
		pic.Items = sc.items(p, nil, onTable)
		for i := range pic.Items {
			if it := &pic.Items[i]; s == nil {
				it.Name, it.Unit = "", ""
			}
		}
		return pic
	}
	pair := map[string]bool{}
	for _, i := range sc.indices(s.finding) {
		pair[sc.setup.Bodies[i].Name] = true
	}
	pic.Items = sc.items(p, sc.emphases([]check.Finding{*s.finding}), func(b *machine.Body) bool { return onTable(b) || pair[b.Name] })
	sc.veilBut(pic, s.finding)
	for i := range pic.Items {
		if it := &pic.Items[i]; pair[it.Name] {
			it.Unit = it.Name // where it is clear it is named all the same, and as the caption does
		}
	}
	pic.Marks = sc.marks(s.finding)
	return pic
}

// hold makes all frames show the same room.
func (a *Animation) hold(list []still) {
	right, up, toward := render.Isometric.Axes(a.scene.setup.Up)
	view := geom.Pose{R: geom.Rotation{{right.X, right.Y, right.Z}, {up.X, up.Y, up.Z}, {toward.X, toward.Y, toward.Z}}}
	room := geom.EmptyBox()
	for _, m := range list {
		for i := range m.picture.Items {
			if it := &m.picture.Items[i]; it.Emphasis != render.Ghost {
				room = room.Union(it.Shape.BoundsIn(view.Mul(it.Pose)))
			}
		}
	}
	back := view.Inverse()
	for _, m := range list {
		m.picture.Within = []r3.Vector{back.Point(room.Min), back.Point(room.Max)}
	}
}

// Write draws the animation and stores it, whole or not at all.
func (a *Animation) Write(ctx context.Context, path string) error {
	list := a.stills()
	frames := make([]apng.Frame, len(list))
	err := proof.InParallel(ctx, a.scene.jobs, len(list), func(i int) error {
		img, err := list[i].picture.Draw(ctx)
		frames[i] = apng.Frame{Image: img, Stays: list[i].stays}
		return err
	})
	if err != nil {
		return err
	}
	return stored(path, func(w io.Writer) error { return apng.Encode(w, frames) })
}
