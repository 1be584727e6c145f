package machine

import (
	"math"
	"strings"
	"testing"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// Two pins: the largest angle is (c1 + c2)/(2 L) either way, the largest
// sideways error e(x) = (|1 - x/L| c1 + |x/L| c2)/2. Worked out for 12 H7/g6,
// H7/h6 and H6/h6 (largest clearances 35, 29 and 22 micrometres by ISO 286-2).
// The two-pin relations are those of S.H. Werst, "Pinned Interfaces", in P.J.
// Drake (ed.), Dimensioning and Tolerancing Handbook, McGraw-Hill 1999.
func TestTwoPins(t *testing.T) {
	const arcsec = math.Pi / 180 / 3600
	for _, c := range []struct{ clearance, length, seconds float64 }{
		{0.035, 100, 72.193}, {0.035, 250, 28.877}, {0.029, 200, 29.908}, {0.022, 150, 30.252},
	} {
		s := seating{pins: [2]r3.Vector{{}, {X: c.length}}, normal: r3.Vector{Z: 1}, clearance: [2]float64{c.clearance, c.clearance}, along: c.clearance / 2}
		joints := s.joints("unit")
		if len(joints) != 3 {
			t.Fatalf("%d joints", len(joints))
		}
		angle := joints[1].Slack + joints[2].Slack
		nearly(t, "angle", angle/arcsec, c.seconds, 0.001)
		if along := joints[0].Slack; along < c.clearance/2 || along > c.clearance/2+1e-5 {
			t.Errorf("along the pins %g", along)
		}
	}
	s := seating{pins: [2]r3.Vector{{}, {X: 100}}, normal: r3.Vector{Z: 1}, clearance: [2]float64{0.035, 0.035}, along: 0.0175}
	for x, want := range map[float64]float64{-100: 0.0525, 0: 0.0175, 50: 0.0175, 100: 0.0175, 200: 0.0525} {
		nearly(t, "sideways", sideways(s.joints("unit"), vec(x, 0, 0), vec(0, 1, 0)), want, 1e-8)
	}
}

// sideways adds up how far the slack of joints moves a point along u.
func sideways(joints []motion.Joint, p, u r3.Vector) float64 {
	sum := 0.0
	for _, j := range joints {
		if j.Kind == motion.Linear {
			sum += j.Slack * math.Abs(j.Axis.Dot(u))
		} else {
			sum += math.Sin(j.Slack) * math.Abs(j.Axis.Cross(p.Sub(j.Point)).Dot(u))
		}
	}
	return sum
}

// Every position that the pins allow is reached by the joints within their
// slack: pins anywhere in their bushings, by brute force, at a clearance so
// large that second orders show.
func TestPlayReachesEverything(t *testing.T) {
	const c, length = 2.0, 20.0
	s := seating{pins: [2]r3.Vector{{}, {X: length}}, normal: r3.Vector{Z: 1}, clearance: [2]float64{c, c}, along: c / 2}
	joints := s.joints("unit")
	tried := 0
	for angle := -0.2; angle <= 0.2; angle += 0.005 {
		for x := -1.0; x <= 1; x += 0.05 {
			for y := -1.0; y <= 1; y += 0.05 {
				// Pin 1 at (x, y), pin 2 turned about it.
				q := vec(x+length*math.Cos(angle)-length, y+length*math.Sin(angle), 0)
				if math.Hypot(x, y) > c/2 || q.Norm() > c/2 {
					continue
				}
				tried++
				// pose = shift(v) turn(pin 2, a) turn(pin 1, b), a + b = angle,
				// pin 1 stays where the first two put it: y = -L sin a.
				a := math.Asin(-y / length)
				b := angle - a
				v := x - (length - length*math.Cos(a))
				for i, value := range []float64{v, a, b} {
					if math.Abs(value) > joints[i].Slack {
						t.Fatalf("%s must be %g for pin 1 at (%g, %g) turned by %g, slack is %g",
							joints[i].Name, value, x, y, angle, joints[i].Slack)
					}
				}
			}
		}
	}
	if tried < 1000 {
		t.Errorf("only %d positions tried", tried)
	}
}

// Holes that are not as far apart as the pins, yet near enough: the component
// stands in the middle, and what is left of the play is reckoned from there.
func TestMismatchAddsToPlay(t *testing.T) {
	w := example(t).with(t, "trunnion.toml", "[[-250, 0, 0], [250, 0, 0]]", "[[-250, 0, 0], [250.03, 0, 0]]")
	s := w.load(t)
	i := s.body(t, "trunnion/base")
	var zero motion.Params
	pose := s.Pose(i, zero)
	near(t, "middle", pose.T, vec(-0.015, 0, 40), 1e-12)
	for _, j := range s.Bodies[i].Chain.Joints {
		if j.Name == "trunnion: play along the pins" {
			nearly(t, "shift", j.Slack, (0.035+0.01+0.03)/2, 1e-5)
		}
	}
	// 0.045 is all that play and position of the holes allow.
	w = w.with(t, "trunnion.toml", "250.03", "250.046")
	if e := w.onlyError(t); !strings.Contains(e.Error(), "500.046") {
		t.Error(e)
	}
}

// Play in a whole setup: what is common to two bodies' chains cancels.
func TestPlayCancels(t *testing.T) {
	s := example(t).load(t)
	chain := func(name string) motion.Chain { return s.Bodies[s.body(t, name)].Chain }
	slack := func(a, b string) (names []string) {
		rel := motion.Between(chain(a), chain(b))
		for _, j := range rel.Joints {
			names = append(names, j.Name)
		}
		return names
	}
	if got := slack("trunnion/cradle", "trunnion/base"); strings.Join(got, ", ") != "trunnion/A" {
		t.Errorf("cradle against base: %q", got)
	}
	if got := slack("vise/body", "vise/moving jaw"); len(got) != 0 {
		t.Errorf("jaw against vise: %q", got)
	}
	got := strings.Join(slack("trunnion/base", "stock"), ", ")
	want := "trunnion/A, trunnion/C, vise: play along the pins, vise: play at pin 1, vise: play at pin 2, " +
		"stock: within along x, stock: within along y, stock: within along z"
	if got != want {
		t.Errorf("stock against trunnion:\n%s\n%s", got, want)
	}
	if got := slack("plate", "machine/table"); len(got) != 6 {
		t.Errorf("plate on the table: %q", got)
	}
	seen := make(map[string]bool)
	c := chain("stock")
	for _, j := range c.Joints {
		if seen[j.Name] {
			t.Errorf("joint %q twice in one chain", j.Name)
		}
		seen[j.Name] = true
	}
}

// The sizes of play: the plate has pins 600 apart, play 0.029, in holes whose
// zone is 0.02; height 0.01, and 0.01 parallel over 700 x 400.
func TestPlaySizes(t *testing.T) {
	s := example(t).load(t)
	c := s.Bodies[s.body(t, "plate")].Chain
	slack := make(map[string]float64)
	for _, j := range c.Joints {
		slack[j.Name] = j.Slack
	}
	nearly(t, "shift", slack["plate: play along the pins"], 0.049/2, 1e-6)
	nearly(t, "turn", slack["plate: play at pin 1"]+slack["plate: play at pin 2"], 2*0.049/(2*600), 1e-9)
	nearly(t, "height", slack["plate: height"], 0.01, 0)
	nearly(t, "tilt along", slack["plate: parallelism along the pins"], 0.01/700, 1e-12)
	nearly(t, "tilt across", slack["plate: parallelism across the pins"], 0.01/400, 1e-12)
	nearly(t, "axis", slack["X"], 0.005, 0)
	a := s.axis(t, "A")
	nearly(t, "accuracy", a.Accuracy, radians(0.008), 0)
	// At the plate's corner, height and tilt together lift by 0.01 + 0.01.
	lift := 0.0
	for _, j := range c.Joints {
		if strings.HasPrefix(j.Name, "plate: ") {
			lift += sideways([]motion.Joint{j}, vec(350, 200, 0), vec(0, 0, 1))
		}
	}
	nearly(t, "corner", lift, 0.01+0.005+0.005, 1e-9)
}

// Two pins of unequal clearance, 0.035 and 0.018, 100 apart: the angle and the largest
// sideways errors by the same relations, worked out by hand.
func TestTwoUnequalPins(t *testing.T) {
	s := seating{pins: [2]r3.Vector{{}, {X: 100}}, normal: r3.Vector{Z: 1}, clearance: [2]float64{0.035, 0.018}, along: 0.0175}
	joints := s.joints("unit")
	const arcsec = math.Pi / 180 / 3600
	nearly(t, "angle", (joints[1].Slack+joints[2].Slack)/arcsec, 54.660, 0.001)
	for x, want := range map[float64]float64{-100: 0.044, 0: 0.0175, 50: 0.01325, 100: 0.009, 200: 0.0355} {
		nearly(t, "sideways", sideways(joints, vec(x, 0, 0), vec(0, 1, 0)), want, 1e-8)
	}
}

// Every position that a round pin and a relieved one allow, by brute force: the first
// anywhere in its bore, the second off to the side by half its clearance at most.
func TestRelievedPlayReachesEverything(t *testing.T) {
	const c1, c2, length = 2.0, 1.2, 20.0
	s := seating{pins: [2]r3.Vector{{}, {X: length}}, normal: r3.Vector{Z: 1}, clearance: [2]float64{c1, c2}, along: c1 / 2}
	joints := s.joints("unit")
	tried := 0
	for angle := -0.2; angle <= 0.2; angle += 0.005 {
		for x := -1.0; x <= 1; x += 0.05 {
			for y := -1.0; y <= 1; y += 0.05 {
				if math.Hypot(x, y) > c1/2 || math.Abs(y+length*math.Sin(angle)) > c2/2 {
					continue
				}
				tried++
				// pose = shift(v) turn(pin 2, a) turn(pin 1, b), as with two round pins.
				a := math.Asin(-y / length)
				b := angle - a
				v := x - (length - length*math.Cos(a))
				for i, value := range []float64{v, a, b} {
					if math.Abs(value) > joints[i].Slack {
						t.Fatalf("%s must be %g for pin 1 at (%g, %g) turned by %g, slack is %g",
							joints[i].Name, value, x, y, angle, joints[i].Slack)
					}
				}
			}
		}
	}
	if tried < 1000 {
		t.Errorf("only %d positions tried", tried)
	}
}

// The same for two round pins of unequal clearance: along their line the closer one rules.
func TestUnequalPlayReachesEverything(t *testing.T) {
	const c1, c2, length = 2.0, 1.2, 20.0
	for _, c := range [][2]float64{{c1, c2}, {c2, c1}} {
		s := seating{pins: [2]r3.Vector{{}, {X: length}}, normal: r3.Vector{Z: 1}, clearance: c, along: c2 / 2}
		joints := s.joints("unit")
		tried := 0
		for angle := -0.2; angle <= 0.2; angle += 0.005 {
			for x := -1.0; x <= 1; x += 0.02 {
				for y := -1.0; y <= 1; y += 0.02 {
					q := vec(x+length*math.Cos(angle)-length, y+length*math.Sin(angle), 0)
					if math.Hypot(x, y) > c[0]/2 || q.Norm() > c[1]/2 {
						continue
					}
					tried++
					a := math.Asin(-y / length)
					for i, value := range []float64{x - (length - length*math.Cos(a)), a, angle - a} {
						if math.Abs(value) > joints[i].Slack {
							t.Fatalf("clearances %v: %s must be %g for pin 1 at (%g, %g) turned by %g, slack is %g",
								c, joints[i].Name, value, x, y, angle, joints[i].Slack)
						}
					}
				}
			}
		}
		if tried < 1000 {
			t.Errorf("only %d positions tried", tried)
		}
	}
}
