package offsets

import (
	"math"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// A part turned counter-clockwise by d, seen from the positive end of the rotary at tilt 0: C'
// turns the workpiece clockwise with + (ISO 841), so + d puts it right, and - d where C is
// reversed; whatever the tilt. Where C has been turned right, the skew is gone: the
// linear values are those of the part that is not turned, about the line of C.
func TestSkewAboutTheRotary(t *testing.T) {
	for _, reversed := range []bool{false, true} {
		for _, method := range []string{machine.PerPosition, machine.TurnedByControl} {
			s := vertical(method, machine.AbsoluteLengths)
			s.Axes[c].Reversed = reversed
			build(s)
			s.Parts[0].Probed = &machine.Probed{Skew: r3.Vector{Z: radians(0.25)}}
			want := 0.25
			if reversed {
				want = -want
			}
			for _, w := range of(t, s, tilted(0, 0), tilted(90, 0), tilted(30, 70)).Offsets {
				same(t, "turn", w.Turn, map[string]float64{"C": want}, 0)
				if says(w.Notes, "not correctable") {
					t.Errorf("%q", w.Notes)
				}
			}
		}
	}
}

// Skew about the other two axes, on a trunnion that tilts about X. At A 0 a skew about X is
// A's to take out, by + as for C; one about Y is nobody's. At A 90 C 90 the part's Y is along
// X of the machine (C'+90 takes y to x), so there A takes it out. A control with one value for all
// positions can do neither.
func TestSkewAcross(t *testing.T) {
	skewed := func(method string, skew r3.Vector, p motion.Params) check.WorkOffset {
		s := vertical(method, machine.AbsoluteLengths)
		s.Parts[0].Probed = &machine.Probed{Skew: skew}
		return of(t, s, p).Offsets[0]
	}
	aboutX, aboutY := r3.Vector{X: radians(0.1)}, r3.Vector{Y: radians(0.1)}
	for _, k := range []struct {
		method string
		skew   r3.Vector
		at     motion.Params
		turn   map[string]float64
		left   string
	}{
		{machine.PerPosition, aboutX, tilted(0, 0), map[string]float64{"A": 0.1}, ""},
		{machine.PerPosition, aboutY, tilted(0, 0), nil, "turned by 0.1000 deg about (0.00, 1.00, 0.00) of the machine: not correctable, no rotary axis takes it out here"},
		{machine.PerPosition, aboutY, tilted(90, 90), map[string]float64{"A": 0.1}, ""},
		// A'+90 takes y to -z: what is left is about the tool, which lies right.
		{machine.PerPosition, aboutY, tilted(90, 0), nil, "turned by 0.1000 deg about (0.00, 0.00, -1.00)"},
		{machine.TurnedByControl, aboutX, tilted(0, 0), nil, "(1.00, 0.00, 0.00) of the machine: not correctable, no rotary axis takes it out at every position"},
	} {
		w := skewed(k.method, k.skew, k.at)
		same(t, k.method, w.Turn, k.turn, 0)
		if k.left == "" && says(w.Notes, "not correctable") || k.left != "" && !says(w.Notes, k.left) {
			t.Errorf("%v at %v: %q", k.skew, k.at, w.Notes)
		}
	}
	// Without a rotary axis under the part nothing is.
	s := vertical(machine.PerPosition, machine.AbsoluteLengths)
	s.Axes = s.Axes[:3]
	build(s)
	s.Parts[0].Probed = &machine.Probed{Skew: r3.Vector{Z: radians(0.1)}}
	if w := of(t, s).Offsets[0]; w.Turn != nil || !says(w.Notes, "not correctable") {
		t.Errorf("%+v", w)
	}
}

// machines draws trunnions: two rotary axes under the part, or one, along coordinate
// axes and otherwise, in either sense; linear axes on either side.
func machines(t *rapid.T, method, lengths string) *machine.Setup {
	s := vertical(method, lengths)
	s.Offsets.Decimals = 10
	s.Offsets.Shift = rapid.SampledFrom([]float64{0, 12.5}).Draw(t, "shift")
	centre := rapid.Float64Range(-200, 200)
	for k := range s.Axes {
		ax := &s.Axes[k]
		ax.Reversed = ax.Kind == motion.Rotary && rapid.Bool().Draw(t, "reversed")
		ax.OnTool = ax.Kind == motion.Linear && rapid.Bool().Draw(t, "on tool")
		if ax.Kind == motion.Rotary {
			ax.Centre = vec(centre.Draw(t, "x"), centre.Draw(t, "y"), centre.Draw(t, "z"))
		}
	}
	s.Axes[a].Direction = rapid.SampledFrom([]r3.Vector{eX, eY, vec(0, math.Sqrt(0.5), math.Sqrt(0.5))}).Draw(t, "tilt")
	if rapid.Bool().Draw(t, "one rotary axis") {
		s.Axes = s.Axes[:4]
	}
	build(s)
	turned := geom.Turn(partZero, eZ, rapid.Float64Range(-3, 3).Draw(t, "turned"))
	s.Parts[0].Chain.Home = turned.Mul(s.Parts[0].Chain.Home)
	if rapid.Bool().Draw(t, "probed") {
		small := rapid.Float64Range(-0.01, 0.01)
		s.Parts[0].Probed = &machine.Probed{
			Shift: vec(small.Draw(t, "dx"), small.Draw(t, "dy"), small.Draw(t, "dz")),
			Skew:  vec(small.Draw(t, "rx"), small.Draw(t, "ry"), small.Draw(t, "rz")),
		}
	}
	return s
}

// meets holds a position of the axes to the truth: where the chains of the setup put the
// tip of a tool and a point of the part as it was found.
func meets(t *rapid.T, s *machine.Setup, p motion.Params, q r3.Vector, length float64) {
	t.Helper()
	spindle, part := s.Spindle.Chain.Pose(p), s.Parts[0].Chain
	part = found(&s.Parts[0])
	pose := part.Pose(p)
	tip, want := spindle.Point(vec(0, 0, -length)), pose.Point(q)
	if d := tip.Sub(want).Norm(); d > 1e-6 {
		t.Errorf("the tip is %g off the point at %v", d, p)
	}
}

// What the control does with one offset for each position: machine position = offset + program, in
// the machine's directions at that rotary position, and the length along Z. What comes out puts the tip
// where it should be.
func TestControlPerPosition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lengths := rapid.SampledFrom([]string{machine.AbsoluteLengths, machine.TouchedOff}).Draw(t, "lengths")
		s := machines(t, machine.PerPosition, lengths)
		at := tilted(rapid.Float64Range(-180, 180).Draw(t, "A"), rapid.Float64Range(-180, 180).Draw(t, "C"))
		if len(s.Axes) == 4 {
			at[c] = 0
		}
		coordinate := rapid.Float64Range(-100, 100)
		q := vec(coordinate.Draw(t, "x"), coordinate.Draw(t, "y"), coordinate.Draw(t, "z"))
		length := rapid.Float64Range(0, 200).Draw(t, "length")
		o, err := Of(s, [][]motion.Params{{at}})
		if err != nil {
			t.Fatal(err)
		}
		w := o.Offsets[0]
		keyed, turn := values(w.Linear), values(w.Turn)
		p := at
		for k := range s.Axes {
			p[k] += radians(turn[s.Axes[k].Letter])
		}
		// The program's coordinates: the point from the part's zero, in the machine's directions.
		chain := found(&s.Parts[0])
		pose := chain.Pose(p)
		program := pose.Dir(q)
		inTable := length
		if lengths == machine.TouchedOff { // where Z stands as the tip touches the part's zero
			zero := chain.Pose(motion.Params{})
			inTable = zero.T.Z - gaugeZero.Z + length
		}
		p[x], p[y], p[z] = keyed["X"]+program.X, keyed["Y"]+program.Y, keyed["Z"]+program.Z+inTable-s.Offsets.Shift
		meets(t, s, p, q, length)
	})
}

// What the control does with one offset and the rotary centres: it turns the offset about the
// lines, the part's own axis first, by minus the program for an axis of ISO sense.
func TestControlTurns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := machines(t, machine.TurnedByControl, machine.AbsoluteLengths)
		at := tilted(rapid.Float64Range(-180, 180).Draw(t, "A"), rapid.Float64Range(-180, 180).Draw(t, "C"))
		coordinate := rapid.Float64Range(-100, 100)
		q := vec(coordinate.Draw(t, "x"), coordinate.Draw(t, "y"), coordinate.Draw(t, "z"))
		o, err := Of(s, nil)
		if err != nil {
			t.Fatal(err)
		}
		keyed, turn := values(o.Offsets[0].Linear), values(o.Offsets[0].Turn)
		p := at
		v := vec(keyed["X"], keyed["Y"], keyed["Z"]-s.Offsets.Shift)
		toward := q // from the part's zero, as the part lies at rotary zero
		chain := found(&s.Parts[0])
		atZero := chain.Pose(motion.Params{})
		toward = atZero.Dir(q)
		for k := len(s.Axes) - 1; k >= a; k-- {
			p[k] += radians(turn[s.Axes[k].Letter])
			ax := &s.Axes[k]
			angle := -p[k]
			if ax.Reversed {
				angle = -angle
			}
			line := values(o.Centres[k-a].Linear)
			if o.Centres[k-a].Axis != ax.Letter {
				t.Fatalf("%+v", o.Centres)
			}
			by := geom.Turn(vec(line["X"], line["Y"], line["Z"]), ax.Direction, angle)
			v, toward = by.Point(v), by.Dir(toward)
		}
		p[x], p[y], p[z] = v.X+toward.X, v.Y+toward.Y, v.Z+toward.Z+50
		meets(t, s, p, q, 50)
	})
}

// With the turn keyed in the part stands as it should but for what is said to be left.
func TestTurnedRight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := machines(t, machine.PerPosition, machine.AbsoluteLengths)
		at := tilted(rapid.Float64Range(-180, 180).Draw(t, "A"), rapid.Float64Range(-180, 180).Draw(t, "C"))
		b := &builder{setup: s, rules: s.Offsets, out: &check.Offsets{}}
		b.readParts()
		p := b.parts[0]
		add, left := b.turn(p, at)
		now := at
		for k := range add {
			now[k] += add[k]
		}
		is, want := p.chain.Pose(now), p.Chain.Pose(at)
		back := geom.Turn(r3.Vector{}, axisOf(left), -left.Norm())
		right := back.R.Mul(&is.R)
		if d := rotation(right, want.R).Norm(); d > 1e-9 {
			t.Errorf("off by %g", d)
		}
		for _, w := range p.lines(p.tables, now) {
			if math.Abs(left.Dot(w)) > 1e-8 && len(p.tables) < 3 {
				t.Errorf("%v is left, of which an axis along %v could take more", left, w)
			}
		}
	})
}

func axisOf(v r3.Vector) r3.Vector {
	if v == (r3.Vector{}) {
		return eZ
	}
	return v.Normalize()
}
