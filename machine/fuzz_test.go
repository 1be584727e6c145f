package machine

import (
	"math"
	"testing"

	"gridswing/geom/motion"
)

// Whatever stands in any of the files, loading returns a setup or an error, and
// a setup has finite poses.
func FuzzLoad(f *testing.F) {
	w := example(f)
	names := []string{"machine.toml", "trunnion.toml", "setup.toml", "vise.toml"}
	for kind, name := range names {
		f.Add(uint8(kind), []byte(w[name]))
	}
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
	})
}
