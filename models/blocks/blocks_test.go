package blocks_test

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"runtime"
	"strings"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check/offsets"
	"gridswing/machine/check/posted"
	"gridswing/machine/kinematics"
	"gridswing/machine/program"
	"gridswing/models"
	"gridswing/models/blocks"

	"github.com/golang/geo/r3"
)

func demo(t testing.TB) *machine.Setup {
	t.Helper()
	s, err := machine.LoadFS(models.Demo, models.GoodSetup)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// feeds reads the feed blocks of a program: what its words say, by letter.
func feeds(t *testing.T, r io.Reader, each func(words map[byte]float64)) {
	t.Helper()
	lines := bufio.NewScanner(r)
	for lines.Scan() {
		if !strings.HasPrefix(lines.Text(), "G1 X") {
			continue
		}
		words := map[byte]float64{}
		for _, w := range strings.Fields(lines.Text())[1:] {
			var v float64
			if _, err := fmt.Sscanf(w[1:], "%g", &v); err != nil {
				t.Fatalf("%q: %v", lines.Text(), err)
			}
			words[w[0]] = v
		}
		each(words)
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
}

// The tip of the ball end mill stays where the raster says and every axis within its travel,
// in each block of both programs; from block to block it goes a step, or a step over.
func TestWhereItGoes(t *testing.T) {
	s := demo(t)
	axes := make([]kinematics.Axis, len(s.Axes))
	at := map[byte]int{}
	for k, a := range s.Axes {
		axes[k] = kinematics.Axis{Kind: a.Kind, Lo: a.Travel[0], Hi: a.Travel[1], Home: a.Home}
		at[a.Letter[0]] = k
	}
	m, err := kinematics.New(axes, s.Parts[0].Chain, s.Spindle.Chain)
	if err != nil {
		t.Fatal(err)
	}
	length := 0.0
	for _, tool := range s.Tools {
		if tool.Number == 7 {
			length = tool.LPR()
		}
	}
	raster, err := blocks.Raster(s, 100000)
	if err != nil {
		t.Fatal(err)
	}
	for name, r := range map[string]io.Reader{"raster": raster, "five axes": fiveAxis(t, s, 100000)} {
		n := 0
		var last r3.Vector
		feeds(t, r, func(w map[byte]float64) {
			var p motion.Params
			p[at['A']], p[at['C']] = 20*math.Pi/180, 30*math.Pi/180
			if name == "five axes" {
				p[at['A']], p[at['C']] = w['A']*math.Pi/180, w['C']*math.Pi/180
			}
			directions := p
			if name == "five axes" {
				directions = motion.Params{}
			}
			pose := s.Parts[0].Chain.Pose(directions)
			tip := pose.R.ApplyInverse(r3.Vector{X: w['X'], Y: w['Y'], Z: w['Z']})
			q, err := m.Linear(p, tip, length)
			if err != nil {
				t.Fatal(err)
			}
			for k, a := range s.Axes {
				margin := 5.0 // the demand of the setup
				if a.Kind == motion.Rotary {
					margin = 0
				}
				if q[k] < a.Travel[0]+margin || q[k] > a.Travel[1]-margin {
					t.Fatalf("%s: block %d: %s at %g", name, n, a.Letter, q[k])
				}
			}
			if math.Abs(tip.X) > 31.001 || math.Abs(tip.Y) > 52.001 || tip.Z < 58.699 || tip.Z > 62.301 {
				t.Fatalf("%s: block %d: tip at %v", name, n, tip)
			}
			if d := tip.Distance(last); n > 0 && n != 86403 && d > 0.31 {
				t.Fatalf("%s: block %d: a step of %g", name, n, d)
			}
			last = tip
			n++
		})
		if n != 100000 {
			t.Errorf("%s: %d feeds", name, n)
		}
	}
}

func fiveAxis(t testing.TB, s *machine.Setup, n int64) io.Reader {
	t.Helper()
	r, err := blocks.FiveAxis(s, n)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A program is a stream, the same whatever the pieces that it is read in, and takes no memory.
func TestStream(t *testing.T) {
	s := demo(t)
	whole, err := io.ReadAll(fiveAxis(t, s, 20000))
	if err != nil {
		t.Fatal(err)
	}
	r := fiveAxis(t, s, 20000)
	var pieces []byte
	for size := 1; ; size = size%977 + 13 {
		p := make([]byte, size)
		n, err := r.Read(p)
		pieces = append(pieces, p[:n]...)
		if err == io.EOF {
			break
		}
	}
	if string(pieces) != string(whole) {
		t.Error("another program in pieces")
	}
	if text := string(whole); !strings.HasPrefix(text, "%\n(RASTER WITH FIVE AXES, 20000 FEEDS)\n") || !strings.HasSuffix(text, "\nM30\n%\n") {
		t.Errorf("begins %q, ends %q", text[:40], text[len(text)-40:])
	}
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	if _, err := io.Copy(io.Discard, fiveAxis(t, s, 300000)); err != nil {
		t.Fatal(err)
	}
	runtime.ReadMemStats(&after)
	if grown := after.TotalAlloc - before.TotalAlloc; grown > 1<<20 {
		t.Errorf("%d bytes taken", grown)
	}
}

// Both programs are read to their ends, block by block, and lead every axis within its travel.
func TestRead(t *testing.T) {
	s := demo(t)
	computed, err := offsets.Of(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	raster, err := blocks.Raster(s, 20000)
	if err != nil {
		t.Fatal(err)
	}
	for name, r := range map[string]io.Reader{"raster": raster, "five axes": fiveAxis(t, s, 20000)} {
		steps, err := program.Open(name, r, s, posted.Values(s, computed), program.Options{})
		if err != nil {
			t.Fatal(err)
		}
		feeds := 0
		for {
			st, err := steps.Next()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
			if st.Kind == program.Feed {
				feeds++
			}
			for _, l := range st.Legs {
				for k, a := range s.Axes {
					if !(l.To[k]-l.Within[k] >= a.Travel[0] && l.To[k]+l.Within[k] <= a.Travel[1]) {
						t.Fatalf("%s: line %d: %s at %g", name, st.Place.Line, a.Letter, l.To[k])
					}
				}
			}
		}
		if feeds != 20000 {
			t.Errorf("%s: %d feeds", name, feeds)
		}
	}
}

func BenchmarkFiveAxis(b *testing.B) {
	s := demo(b)
	b.ResetTimer()
	n, err := io.Copy(io.Discard, fiveAxis(b, s, int64(b.N)))
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(n / int64(b.N))
}
