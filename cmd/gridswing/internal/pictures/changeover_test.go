package pictures

import (
	"slices"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/changeover"
	"gridswing/models"
	"gridswing/render"

	"github.com/golang/geo/r3"
)

// steps plans the demo from the empty machine, its vise on a way of its own, if any.
func steps(t *testing.T, path ...r3.Vector) (*machine.Setup, *changeover.Plan, *Steps) {
	t.Helper()
	s, err := machine.LoadFS(models.Demo, models.GoodSetup)
	if err != nil {
		t.Fatal(err)
	}
	for i := range s.Handling {
		if h := &s.Handling[i]; h.Unit == "vise" {
			for _, at := range path {
				h.Path = append(h.Path, machine.Waypoint{Shift: at})
			}
		}
	}
	p, err := changeover.Make(t.Context(), nil, s, changeover.Options{})
	if err != nil {
		t.Fatal(err)
	}
	drawn, err := PrepareSteps(t.Context(), p, 2)
	if err != nil {
		t.Fatal(err)
	}
	return s, p, drawn
}

func stepOf(t *testing.T, p *changeover.Plan, unit string) *changeover.Step {
	t.Helper()
	i := slices.IndexFunc(p.Steps, func(s changeover.Step) bool { return s.Unit == unit })
	if i < 0 {
		t.Fatalf("no step of %s", unit)
	}
	return &p.Steps[i]
}

// itemsOf returns what a picture shows of a body, in the order in which it does.
func itemsOf(p *render.Picture, name string) (list []render.Item) {
	for _, it := range p.Items {
		if it.Name == name {
			list = append(list, it)
		}
	}
	return list
}

// What is moved stands where its way begins, a veil where it ends; what is loaded later is
// not there, and neither is what encloses it.
func TestStepPicture(t *testing.T) {
	s, plan, drawn := steps(t)
	st := stepOf(t, plan, "vise")
	p := drawn.picture(st)
	body := itemsOf(p, "vise/body")
	if len(body) != 2 || body[0].Emphasis != render.Ghost || body[1].Emphasis != render.Moved {
		t.Fatalf("%d items of the vise's body", len(body))
	}
	seated := s.Pose(bodyOf(t, s, "vise/body"), s.Loading.At)
	up := r3.Vector{Z: st.Way.FreeHeight}
	if body[0].Pose.T.Sub(seated.T).Norm() > 1e-9 || body[1].Pose.T.Sub(seated.T).Sub(up).Norm() > 1e-9 {
		t.Errorf("veil at %v, vise at %v, seat at %v", body[0].Pose.T, body[1].Pose.T, seated.T)
	}
	if len(p.Ways) != 1 || len(p.Ways[0]) != 2 || p.Ways[0][0].Sub(p.Ways[0][1]).Sub(up).Norm() > 1e-9 {
		t.Errorf("ways %v", p.Ways)
	}
	if len(itemsOf(p, "stock"))+len(itemsOf(p, "machine/guards"))+len(itemsOf(p, "tool")) > 0 || len(itemsOf(p, "riser")) != 1 {
		t.Error("not what stands there")
	}
	if len(p.Marks) != 2 || p.Marks[0].Label != "B2" || p.Marks[1].Label != "D2" {
		t.Errorf("marks %v", p.Marks)
	}
	// The holes are 100 apart, on the riser's face.
	if d := p.Marks[0].Point.Sub(p.Marks[1].Point); d.Norm() < 99.9 || d.Norm() > 100.1 {
		t.Errorf("holes %v apart", d)
	}
}

// A way that is blocked shows both where they meet, hatched, and the point.
func TestBlockedStepPicture(t *testing.T) {
	_, plan, drawn := steps(t, r3.Vector{X: -500, Z: 20}, r3.Vector{Z: 20}, r3.Vector{})
	st := stepOf(t, plan, "vise")
	if st.Way.Verdict != check.Contact {
		t.Fatalf("%+v", st.Way)
	}
	p := drawn.picture(st)
	m := &st.Way.Meetings[0]
	a, b := itemsOf(p, m.Bodies[0]), itemsOf(p, m.Bodies[1])
	if len(a) != 2 || a[1].Emphasis != render.Contact || len(b) != 1 || b[0].Emphasis != render.Contact {
		t.Errorf("%d and %d items of %v", len(a), len(b), m.Bodies)
	}
	if !slices.ContainsFunc(p.Marks, func(m render.Mark) bool { return m.Label == "here" }) {
		t.Errorf("marks %v", p.Marks)
	}
	if p.Title != "5 of 6  put on vise: contact" {
		t.Errorf("%s", p.Title)
	}
	if len(p.Ways[0]) != 3 {
		t.Errorf("ways %v", p.Ways)
	}
}

// A machine without a table has a picture of the first step, too.
func TestStepOfAnEmptyMachine(t *testing.T) {
	s := small()
	s.Bodies = []machine.Body{s.Bodies[0]}
	s.Loading.At = motion.Params{}
	p, err := changeover.Make(t.Context(), nil, s, changeover.Options{})
	if err != nil {
		t.Fatal(err)
	}
	drawn, err := PrepareSteps(t.Context(), p, 1)
	if err != nil {
		t.Fatal(err)
	}
	images, err := drawn.Draw(t.Context())
	if err != nil || len(images) != 1 {
		t.Errorf("%d pictures, %v", len(images), err)
	}
}
