package models_test

import (
	"io"
	"math"
	"path"
	"testing"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/geom/stl"
	"gridswing/machine"
	"gridswing/machine/kinematics"
	"gridswing/machine/program"
	"gridswing/machine/tooling"
	"gridswing/models"

	"github.com/golang/geo/r3"
)

// keyedIn is what an operator keys in for the good setup: G54 where the gauge point is at the part's
// zero, and the lengths of the tools.
func keyedIn(t *testing.T, s *machine.Setup, m *kinematics.Machine) program.Values {
	t.Helper()
	at, err := m.Linear(motion.Params{}, r3.Vector{}, 0)
	if err != nil {
		t.Fatal(err)
	}
	v := program.Values{Offsets: map[string]motion.Params{"G54": at}, Lengths: map[int]float64{}}
	for _, tool := range s.Tools {
		v.Lengths[tool.Number] = tool.LPR()
	}
	return v
}

func kinematicsOf(t *testing.T, s *machine.Setup) *kinematics.Machine {
	t.Helper()
	axes := make([]kinematics.Axis, len(s.Axes))
	for k, a := range s.Axes {
		axes[k] = kinematics.Axis{Kind: a.Kind, Lo: a.Travel[0], Hi: a.Travel[1], Home: a.Home}
	}
	m, err := kinematics.New(axes, s.Parts[0].Chain, s.Spindle.Chain)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// read reads a program of the demo to its end.
func read(t *testing.T, name string, s *machine.Setup, v program.Values, each func(*program.Step)) *program.Used {
	t.Helper()
	f, err := models.Demo.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	open := func(file string) (io.ReadCloser, error) { return models.Demo.Open(path.Join(path.Dir(name), file)) }
	steps, err := program.Open(name, f, s, v, program.Options{Open: open})
	if err != nil {
		t.Fatal(err)
	}
	for {
		st, err := steps.Next()
		if err == io.EOF {
			return steps.Used()
		}
		if err != nil {
			t.Fatal(err)
		}
		each(st)
	}
}

// The program is read to its end, keeps every axis within its travel, does something with each tool
// of the setup's operations but the probe, and leaves the bracket whole: wherever it is fed to, its solid
// keeps out of the cutter less a tenth of a millimetre.
func TestProgramLeavesTheBracketWhole(t *testing.T) {
	s := load(t, models.GoodSetup)
	m := kinematicsOf(t, s)
	mesh, err := stl.ReadFS(models.Demo, "solids/bracket.stl")
	if err != nil {
		t.Fatal(err)
	}
	bracket := collide.NewTree(mesh)
	const less = 0.1
	trees, at := map[int]*collide.Tree{}, map[int]geom.Pose{}
	fed := map[int]int{}
	for _, tool := range s.Tools {
		cutter := smaller(tool, less)
		trees[tool.Number] = collide.NewTree(cutter.Solid(tooling.Cutting))
		at[tool.Number] = geom.Pose{R: geom.Identity().R, T: r3.Vector{Z: cutter.LPR() + less}}
	}
	v := keyedIn(t, s, m)
	used := read(t, models.GoodProgram, s, v, func(st *program.Step) {
		for _, l := range st.Legs {
			for k, a := range s.Axes {
				if l.To[k] < a.Travel[0] || l.To[k] > a.Travel[1] || math.IsNaN(l.To[k]) {
					t.Fatalf("line %d: %s at %g", st.Place.Line, a.Letter, l.To[k])
				}
			}
			if st.Kind != program.Feed {
				continue
			}
			fed[st.Tool]++
			tip, axis := m.Forward(l.To, v.Lengths[st.Tool])
			p := upright(tip, axis)
			if d := collide.Distance(bracket, trees[st.Tool], p.Mul(at[st.Tool])); d.Distance == 0 {
				t.Errorf("line %d: T%d is in the bracket with its tip at %v", st.Place.Line, st.Tool, tip)
			}
		}
	})
	for _, op := range s.Operations {
		tool := s.Tools[op.Tool]
		if tool.Cutter.Kind != tooling.TouchProbe && fed[tool.Number] == 0 {
			t.Errorf("%s: T%d is not fed", op.Name, tool.Number)
		}
	}
	if len(used.Offsets) != 1 || used.Offsets[0].Set || len(used.Lengths) != len(fed) {
		t.Errorf("used %+v", used)
	}
}

// The other program sets the same offset but for one pitch of the holes along Y.
func TestOffsetProgram(t *testing.T) {
	s := load(t, models.GoodSetup)
	v := keyedIn(t, s, kinematicsOf(t, s))
	used := read(t, models.OffsetProgram, s, program.Values{Lengths: v.Lengths}, func(*program.Step) {})
	if len(used.Offsets) != 1 || !used.Offsets[0].Set {
		t.Fatalf("used %+v", used.Offsets)
	}
	for k, a := range s.Axes {
		want := v.Offsets["G54"][k]
		if a.Letter == "Y" {
			want -= 50
		}
		if math.Abs(used.Offsets[0].Values[k]-want) > 1e-3 {
			t.Errorf("%s at %g, want %g", a.Letter, used.Offsets[0].Values[k], want)
		}
	}
}

// The program of cutter locations is read to its end; its feeds stay above the bracket's highest face,
// 58, but for the points of the spots, 2 below the top as it was faced.
func TestLocationProgram(t *testing.T) {
	s := load(t, models.GoodSetup)
	m := kinematicsOf(t, s)
	lengths := keyedIn(t, s, m).Lengths
	f, err := models.Demo.Open(models.LocationProgram)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	steps, err := program.OpenLocations(models.LocationProgram, f, s, 0)
	if err != nil {
		t.Fatal(err)
	}
	lowest := map[int]float64{}
	for {
		st, err := steps.Next()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range st.Legs {
			if tip, _ := m.Forward(l.To, lengths[st.Tool]); st.Kind == program.Feed {
				if z, known := lowest[st.Tool]; !known || tip.Z < z {
					lowest[st.Tool] = tip.Z
				}
			}
		}
	}
	// By hand: the ball's centre is 5 - 0.2 above the face, its tip 5 along the axis below that, of
	// which 1/sqrt(1 + 0.35^2) is upright.
	want := map[int]float64{1: 58.5, 4: 56.5, 7: 58.5 + 4.8 - 5/math.Sqrt(1+0.35*0.35)}
	for tool, z := range want {
		if math.Abs(lowest[tool]-z) > 1e-4 {
			t.Errorf("T%d goes down to %g, want %g", tool, lowest[tool], z)
		}
	}
	if len(lowest) != len(want) {
		t.Errorf("fed %v", lowest)
	}
}
