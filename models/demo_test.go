package models_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/collide"
	"gridswing/geom/motion"
	"gridswing/geom/stl"
	"gridswing/machine"
	"gridswing/models"
)

func load(t *testing.T, name string) *machine.Setup {
	t.Helper()
	s, err := machine.LoadFS(models.Demo, name)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestSetupsLoadWithoutWarning(t *testing.T) {
	for _, name := range []string{models.GoodSetup, models.BadSetup} {
		s := load(t, name)
		for _, w := range s.Warnings {
			t.Errorf("%s: %s", name, w)
		}
		for _, p := range s.Presence {
			if p.State == machine.NotModelled {
				t.Errorf("%s: %s is not modelled", name, p.What)
			}
		}
	}
}

// scene asks for distances in a setup; trees are built when needed.
type scene struct {
	t     *testing.T
	setup *machine.Setup
	trees map[int]*collide.Tree
}

func newScene(t *testing.T, name string) *scene {
	return &scene{t, load(t, name), map[int]*collide.Tree{}}
}

func (s *scene) body(name string) int {
	for i, b := range s.setup.Bodies {
		if b.Name == name {
			return i
		}
	}
	s.t.Fatalf("no body %q", name)
	return -1
}

// at returns the positions for tilt and rotary in degrees.
func (s *scene) at(a, c float64) motion.Params {
	var p motion.Params
	for i, x := range s.setup.Axes {
		switch x.Letter {
		case "A":
			p[i] = a * math.Pi / 180
		case "C":
			p[i] = c * math.Pi / 180
		}
	}
	return p
}

func (s *scene) distance(a, b string, p motion.Params) float64 {
	i, k := s.body(a), s.body(b)
	for _, n := range []int{i, k} {
		if s.trees[n] == nil {
			s.trees[n] = collide.NewTree(s.setup.Bodies[n].Solid.Mesh)
		}
	}
	from, to := s.setup.Pose(i, p), s.setup.Pose(k, p)
	return collide.Distance(s.trees[i], s.trees[k], from.Inverse().Mul(to)).Distance
}

// The closest places of the good setup by hand, from the drawing's sizes in mm
// relative to the point where the rotary axis comes nearest to the tilt axis.
//
// The vise's seat is 20 above the tilt axis (faceplate -30, riser 50), its screw's
// axis 52 above the seat, and its end, of radius 11, 182 from the rotary axis.
// With that end turned to the back and A at 110, where it is lowest, its upper
// edge is at -182 sin(110) + (20 + 52 + 11) cos(110); the base's top is at -205.
// Seen along the rotary axis the end's edge reaches hypot(182, 11) when it points
// along X, where the cradle's arms stand 190 from the middle.
func TestTightSpotsOfTheGoodSetup(t *testing.T) {
	s := newScene(t, models.GoodSetup)
	sin, cos := math.Sincos(110 * math.Pi / 180)
	base := 205 - (182*sin - 83*cos)
	arm := 190 - math.Hypot(182, 11)
	// at the turn that brings the edge on the 182 x 11 corner square to the arm
	turn := math.Atan2(11, 182) * 180 / math.Pi
	for _, c := range []struct {
		body string
		a, c float64
		want float64
	}{
		{"trunnion/base", 110, 180, base},
		{"trunnion/cradle", 0, 90 + turn, arm},
		{"trunnion/cradle", 0, 90 - turn, arm},
		{"trunnion/cradle", 40, 270 + turn, arm},
	} {
		got := s.distance(c.body, "vise/screw", s.at(c.a, c.c))
		if math.Abs(got-c.want) > 0.02 { // the chord error
			t.Errorf("%s to screw at A %v C %v: %.4f mm, want %.4f", c.body, c.a, c.c, got, c.want)
		}
	}
	if base < 4 || base > 8 || arm < 4 || arm > 8 {
		t.Errorf("tight spots of %.2f and %.2f mm, want 4 to 8", base, arm)
	}
}

// At random positions nothing of the good setup's stack is nearer to the trunnion
// than its tight spots.
func TestNothingElseIsTight(t *testing.T) {
	s := newScene(t, models.GoodSetup)
	random := rand.New(rand.NewPCG(7, 11))
	stack := []string{"riser", "vise/body", "vise/screw", "vise/fixed jaw", "vise/moving jaw", "vise/parallels", "stock"}
	rest := []string{"trunnion/base", "trunnion/cradle", "trunnion/drive support", "trunnion/bearing support", "plate", "tool", "machine/table"}
	for range 40 {
		p := s.at(-30+140*random.Float64(), 360*random.Float64())
		for _, a := range stack {
			for _, b := range rest {
				if d := s.distance(a, b, p); d < 5.5 {
					t.Errorf("%s to %s: %.3f mm at %v", a, b, d, p)
				}
			}
		}
	}
}

// The bad setup fails twice, each time for its own reason.
func TestWhatIsWrongWithTheBadSetup(t *testing.T) {
	s := newScene(t, models.BadSetup)
	rest := s.at(0, 0)
	// the jaw's face is at x = -30 of its solid, the block's at x = 30
	jaw := s.setup.Pose(s.body("vise/moving jaw"), rest)
	block := jaw.Inverse().Mul(s.setup.Pose(s.body("stock"), rest))
	if sunk := block.T.X + 30 - (-30); math.Abs(sunk-2) > 1e-9 {
		t.Errorf("stock %.4f mm deep in the moving jaw, want 2", sunk)
	}
	if d := s.distance("stock", "vise/moving jaw", rest); d != 0 {
		t.Errorf("stock and moving jaw %.3f mm apart, want an overlap", d)
	}
	if d := s.distance("vise/screw", "trunnion/cradle", rest); d < 20 {
		t.Errorf("at rest the screw is %.3f mm from the cradle: nobody could load that", d)
	}
	for _, b := range []struct {
		body string
		a, c float64
	}{{"trunnion/cradle", 0, 90}, {"trunnion/base", 90, 180}} {
		if d := s.distance("vise/screw", b.body, s.at(b.a, b.c)); d != 0 {
			t.Errorf("screw and %s at A %v C %v are %.3f mm apart, want contact", b.body, b.a, b.c, d)
		}
	}
}

// The part comes out of the stock: it is nowhere outside of it.
func TestPartFitsItsStock(t *testing.T) {
	stock, err := stl.ReadFS(models.Demo, "solids/stock.stl")
	if err != nil {
		t.Fatal(err)
	}
	part, err := stl.ReadFS(models.Demo, "solids/bracket.stl")
	if err != nil {
		t.Fatal(err)
	}
	block := stock.Bounds()
	for i := range part.Facets {
		for _, v := range part.Facets[i] {
			if !block.Contains(v.Vector()) {
				t.Fatalf("corner %v is outside of the stock %v", v, block)
			}
		}
	}
}
