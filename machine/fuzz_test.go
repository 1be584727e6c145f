package machine

import (
	"math"
	"testing"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// Whatever stands in any of the files, loading returns a setup or an error, and
// a setup has finite poses.
func FuzzLoad(f *testing.F) {
	w := example(f)
	names := []string{"machine.toml", "trunnion.toml", "setup.toml", "vise.toml", "tools.toml", "holes.csv"}
	for kind, name := range names {
		f.Add(uint8(kind), []byte(w[name]))
	}
	f.Add(uint8(1), []byte(polar(f)["trunnion.toml"]))
	f.Add(uint8(1), []byte(w.with(f, "trunnion.toml", "play = 0.035", "relieved = 2\nlocated_by = \"keys\"\nfit = [\"18 h6\", \"18 h6\"]").
		with(f, "trunnion.toml", "thread = \"M12\"", "retractable = { fit = \"12 g6\", height = 9 }\nthrough = 14\nthread_from = 3\nthread = \"M12\"").
		with(f, "trunnion.toml", "[[fastener]]\n", "[[fastener]]\nfrom = \"below\"\nlength = 30\nclamped = 10\nthread_depth = 20\nhead = [18, 12]\n")["trunnion.toml"]))
	f.Add(uint8(2), []byte(w.with(f, "setup.toml", "within = 0.1 ", "stops = [[0, 0, 0], [9, 0, 0], [0, 9, 0]]\ntemperature = 40\nalso_on = [\"plate\"]\nwithin = 0.1 ").
		with(f, "setup.toml", `pins = ["B3", "D3"]`, "keyed = { slot = 1, along = 9, within = 1, turned = 180 }\nwithdrawn = [\"unused\"]")["setup.toml"]))
	f.Fuzz(func(t *testing.T, kind uint8, data []byte) {
		v := world{}
		for name, text := range w {
			v[name] = text
		}
		v[names[int(kind)%len(names)]] = string(data)
		s, err := LoadFS(v.fs(), "setup.toml")
		if (s == nil) == (err == nil) {
			t.Fatalf("a setup: %v, an error: %v", s != nil, err)
		}
		if err != nil {
			return
		}
		var p motion.Params
		for k := range s.Axes {
			p[k] = s.Axes[k].Commanded[1]
		}
		for i := range s.Bodies {
			pose := s.Pose(i, p)
			for _, v := range []float64{pose.T.X, pose.T.Y, pose.T.Z, pose.R[0][0], pose.R[2][1]} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("body %s stands at %v", s.Bodies[i].Name, pose)
				}
			}
		}
		checkJob(t, s)
		for _, seat := range s.Seats {
			for _, l := range seat.Locators {
				if n := l.At.Norm() + seat.Off.Angle + seat.Off.Along; math.IsNaN(n) || math.IsInf(n, 0) {
					t.Fatalf("a locator of %s: %+v", seat.Unit, seat)
				}
			}
		}
	})
}

// checkJob checks that what is cut can be worked with: indices that are there,
// finite points, unit axes.
func checkJob(t *testing.T, s *Setup) {
	finite := func(what string, points ...r3.Vector) {
		for _, p := range points {
			if n := p.Norm(); math.IsNaN(n) || math.IsInf(n, 0) {
				t.Fatalf("%s: %v", what, p)
			}
		}
	}
	for _, op := range s.Operations {
		if op.Part < 0 || op.Part >= len(s.Parts) || op.Tool < 0 || op.Tool >= len(s.Tools) || s.Spindle == nil || len(op.Features) == 0 {
			t.Fatalf("operation %+v", op)
		}
		for _, f := range op.Features {
			finite(f.Name, f.Tips...)
			if (f.Area == nil) == (len(f.Tips) == 0) || len(f.Axes) != 1 && len(f.Axes) != len(f.Tips) {
				t.Fatalf("feature %+v", f)
			}
			if f.Area != nil {
				finite(f.Name, f.Area.Corner, f.Area.U, f.Area.V)
			}
			for _, a := range f.Axes {
				if math.Abs(a.Norm()-1) > 1e-9 {
					t.Fatalf("axis %v", a)
				}
			}
		}
	}
	for _, tool := range s.Tools {
		for _, f := range tool.Check() {
			if !f.Warning {
				t.Fatalf("T%d: %v", tool.Number, f)
			}
		}
	}
	for i := range s.Axes {
		finite(s.Axes[i].Letter, s.Axes[i].Centre)
	}
}
