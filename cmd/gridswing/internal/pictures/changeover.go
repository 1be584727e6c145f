package pictures

import (
	"context"
	"fmt"
	"image"
	"math"
	"os"
	"path/filepath"
	"slices"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/changeover"
	"gridswing/machine/check/proof"
	"gridswing/render"

	"github.com/golang/geo/r3"
)

// Steps draws the steps of a changeover.
type Steps struct {
	plan   *changeover.Plan
	scenes map[*machine.Setup]*Scene
	jobs   int
}

// PrepareSteps makes the solids of both setups of a plan ready, on so many cores (0: all).
func PrepareSteps(ctx context.Context, p *changeover.Plan, jobs int) (*Steps, error) {
	s := &Steps{plan: p, scenes: map[*machine.Setup]*Scene{}}
	for i := range p.Steps {
		setup, _ := p.Steps[i].Of()
		if s.scenes[setup] != nil {
			continue
		}
		sc, err := Prepare(ctx, setup, jobs)
		if err != nil {
			return nil, err
		}
		s.scenes[setup], s.jobs = sc, sc.jobs
	}
	return s, nil
}

// Write writes the pictures that Draw returned into a folder, which is made if it is not there, and
// returns their names: STEM-changeover-1.png and so on, by the file of the setup that it
// leads to. Pictures of further steps that an earlier plan left there are removed.
func (s *Steps) Write(ctx context.Context, dir string, images []*image.RGBA) ([]string, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, err
	}
	stem := filepath.Join(dir, Stem(s.plan.To.File)) + "-changeover-"
	names := make([]string, len(s.plan.Steps))
	for i := range names {
		names[i] = fmt.Sprintf("%s%d.png", stem, i+1)
	}
	old, err := filepath.Glob(literal(stem) + "[0-9]*.png")
	if err != nil {
		return nil, err
	}
	for _, name := range old {
		if !slices.Contains(names, name) {
			if err := os.Remove(name); err != nil && !os.IsNotExist(err) {
				return nil, err
			}
		}
	}
	for i, img := range images {
		if err := Write(ctx, names[i], img); err != nil {
			return nil, err
		}
	}
	return names, nil
}

// Draw draws all steps, several at once.
func (s *Steps) Draw(ctx context.Context) ([]*image.RGBA, error) {
	images := make([]*image.RGBA, len(s.plan.Steps))
	err := proof.InParallel(ctx, s.jobs, len(images), func(i int) (err error) {
		p := s.picture(&s.plan.Steps[i])
		p.Workers = 1 // the pictures are drawn side by side
		images[i], err = p.Draw(ctx)
		return err
	})
	return images, err
}

// picture shows a step: what stands there, what is moved where its way begins, a line along
// the way, and as a veil where it ends. Where it meets something, it is
// shown there, and what it meets.
func (s *Steps) picture(st *changeover.Step) *render.Picture {
	setup, at := st.Of()
	sc := s.scenes[setup]
	p := &render.Picture{
		Lengths: lengthsOf(sc.lengths),
		Title:   fmt.Sprintf("%d of %d  %s", st.Number, len(s.plan.Steps), subjectOf(st)),
		Caption: []string{setup.Name + ", " + setup.Machine + ", " + sc.positionsOf(st)},
		Up:      setup.Up,
	}
	meeting := meetingOf(st)
	for i := range setup.Bodies {
		b := &setup.Bodies[i]
		it := render.Item{Name: b.Name, Unit: unitName(b), Shape: sc.shapes[b.Solid], Group: sc.groups[b.Unit], Pose: st.Pose(i)}
		met := meeting != nil && slices.Contains(meeting.Bodies[:], b.Name)
		if met {
			it.Emphasis = emphasisOf[meeting.Verdict]
		}
		switch {
		case b.Unit == st.Unit && st.Way != nil:
			p.Items = append(p.Items, sc.moved(st, i, it, meeting)...)
		case met, b.Role == "table" || slices.Contains(standing(st), b.Unit):
			p.Items = append(p.Items, it)
		}
	}
	if len(p.Items) == 0 { // not even a table is modelled
		p.Items = sc.items(at, nil, func(b *machine.Body) bool { return b.Unit == "machine" })
	}
	if st.Way != nil {
		p.Caption = append(p.Caption, wayCaption(st))
		p.Ways = []render.Way{sc.line(st)}
	}
	p.Marks = append(sc.pinMarks(st), sc.meetingMarks(meeting)...)
	return p
}

// standing lists what stands there while a step is done, besides what is moved.
func standing(st *changeover.Step) []string {
	return slices.DeleteFunc(slices.Clone(st.Standing), func(u string) bool { return u == st.Unit && st.Way != nil })
}

// moved places a body of what is moved: where its way begins, and where it ends as a veil.
// Where it meets something it is there instead.
func (sc *Scene) moved(st *changeover.Step, body int, it render.Item, m *changeover.Meeting) []render.Item {
	ghost := it
	ghost.Emphasis = render.Ghost
	ghost.Pose = st.PoseAt(body, st.End())
	it.Pose = st.PoseAt(body, st.Begin())
	if m != nil && m.At != nil {
		it.Pose = st.PoseAt(body, m.Where())
	}
	if it.Emphasis == render.Plain {
		it.Emphasis = render.Moved
	}
	return []render.Item{ghost, it}
}

// meetingOf is the worst that a step's way meets; nil if it is clear.
func meetingOf(st *changeover.Step) *changeover.Meeting {
	if st.Way == nil || len(st.Way.Meetings) == 0 {
		return nil
	}
	return &st.Way.Meetings[0]
}

// line is the way of the middle of what is moved; of what is turned, that of the locator
// farthest from the one that it is turned about, in short pieces.
func (sc *Scene) line(st *changeover.Step) (line render.Way) {
	const pieces = 12
	legs := st.Legs()
	for i, to := range legs {
		from, n := to, 1
		if i > 0 {
			from = legs[i-1]
			if from.Turn != to.Turn {
				n = pieces
			}
		}
		for k := 1; k <= n; k++ {
			line = append(line, sc.led(st, changeover.Between(from, to, float64(k)/float64(n))))
		}
	}
	return line
}

// led is a point of what is moved, at a point of its way.
func (sc *Scene) led(st *changeover.Step, at machine.Waypoint) r3.Vector {
	k := slices.IndexFunc(st.Legs(), func(w machine.Waypoint) bool { return w.Turn != 0 })
	if k < 0 {
		return sc.middle(st, at)
	}
	body := slices.IndexFunc(sc.setup.Bodies, func(b machine.Body) bool { return b.Unit == st.Unit })
	for i := range sc.setup.Seats {
		seat := &sc.setup.Seats[i]
		if other := 1 - st.Legs()[k].About; seat.Unit == st.Unit && len(seat.Locators) == 2 {
			pose, home := st.PoseAt(body, at), sc.setup.Bodies[body].Chain.Home.Inverse()
			return pose.Point(home.Point(seat.Locators[other].At))
		}
	}
	return sc.middle(st, at)
}

// middle is the middle of what is moved, at a point of its way.
func (sc *Scene) middle(st *changeover.Step, at machine.Waypoint) (m r3.Vector) {
	largest := math.Inf(-1)
	for i := range sc.setup.Bodies {
		b := &sc.setup.Bodies[i]
		if b.Unit != st.Unit {
			continue
		}
		box := b.Solid.Audit.Bounds
		if size := box.Size(); size.Norm() > largest { // of its largest solid
			pose := st.PoseAt(i, at)
			largest, m = size.Norm(), pose.Point(box.Center())
		}
	}
	return m
}

// pinMarks points at the pins that a step sets or withdraws, and at the holes that it stands on.
func (sc *Scene) pinMarks(st *changeover.Step) (marks []render.Mark) {
	for i := range sc.setup.Seats {
		seat := &sc.setup.Seats[i]
		if seat.Unit != st.Unit || st.Kind != changeover.PutOn {
			continue
		}
		chain := seat.Chain
		_, at := st.Of()
		carried, home := chain.Pose(at), chain.Home.Inverse()
		toBed := carried.Mul(home)
		for _, l := range seat.Locators {
			if l.Hole != "" && l.Kind != machine.Keys {
				marks = append(marks, render.Mark{Point: toBed.Point(l.At), Label: l.Hole})
			}
		}
	}
	if st.Kind != changeover.Adjust {
		return marks
	}
	for _, c := range st.Pins {
		words := "withdraw " + c.Hole
		if c.Set {
			words = "set " + c.Hole
		}
		for _, pin := range sc.setup.Pins {
			if pin.Unit == c.Unit && pin.Grid == c.Grid && pin.Hole == c.Hole {
				marks = append(marks, render.Mark{Point: sc.pinAt(st, &pin), Label: words})
			}
		}
	}
	return marks
}

// pinAt is where a pin of what stands there is with the axes where they are, bed frame: it
// moves with the solid that it is built into, the one nearest to it.
func (sc *Scene) pinAt(st *changeover.Step, pin *machine.Pin) r3.Vector {
	at, least := pin.At, math.Inf(1)
	for i := range sc.setup.Bodies {
		b := &sc.setup.Bodies[i]
		home := b.Chain.Home.Inverse()
		local := home.Point(pin.At)
		box := b.Solid.Audit.Bounds
		off := max(box.Min.X-local.X, local.X-box.Max.X, box.Min.Y-local.Y, local.Y-box.Max.Y, box.Min.Z-local.Z, local.Z-box.Max.Z, 0)
		if b.Unit == pin.Unit && !b.OnTool && off < least {
			pose := st.Pose(i)
			at, least = pose.Point(local), off
		}
	}
	return at
}

func (sc *Scene) meetingMarks(m *changeover.Meeting) []render.Mark {
	if m == nil || m.Points == nil {
		return nil
	}
	f := check.Finding{Verdict: m.Verdict, Smallest: m.Smallest, Points: m.Points}
	return sc.marks(&f)
}

// subjectOf says what a step is about, and what is wrong with its way.
func subjectOf(st *changeover.Step) string {
	words := st.Kind
	if st.Unit != "" {
		words += " " + st.Unit
	}
	if st.Way != nil && st.Way.Verdict != check.Clear {
		words += ": " + st.Way.Verdict.String()
	}
	return words
}

func wayCaption(st *changeover.Step) string {
	if m := meetingOf(st); m != nil {
		words := m.Verdict.String() + ": " + m.Bodies[0] + " and " + m.Bodies[1]
		if m.Reason != "" {
			words += ", " + m.Reason
		}
		return words
	}
	return "The line leads along the way, a veil shows where it ends."
}

// positionsOf words where the axes stand that are there.
func (sc *Scene) positionsOf(st *changeover.Step) string {
	words := ""
	for i, at := range st.At {
		value := number(at.Value) + "°"
		if at.Unit != "deg" {
			value = sc.length(at.Value)
		}
		if i > 0 {
			words += ", "
		}
		words += at.Axis + " " + value
	}
	return words
}
