package choice

import (
	"fmt"
	"math"
	"path"
	"testing/fstest"

	"gridswing/geom/shape"

	"github.com/golang/geo/r2"
)

func at(x, y float64) r2.Point { return r2.Point{X: x, Y: y} }

// riser is one of the catalogue: a block of 240 x 140 with 5 x 3 holes of pitch 50, but for
// four through which screws go. There are two kinds, by where these are, and one
// stands on the other.
type riser struct {
	name     string
	height   float64
	screwsAt float64 // from the middle
}

// catalogue lists the risers: every 5 mm, one kind and the other in turn.
func catalogue() (list []riser) {
	for i := range Risers {
		r := riser{height: float64(15 + 5*i), screwsAt: 100}
		if i%2 == 1 {
			r.screwsAt = 50
		}
		r.name = fmt.Sprintf("riser %g", r.height)
		list = append(list, r)
	}
	return list
}

func (r *riser) text(solid string) string {
	omit := `"A1", "E1", "A3", "E3"`
	if r.screwsAt == 50 {
		omit = `"B1", "D1", "B3", "D3"`
	}
	text := fmt.Sprintf(`kind = "component"
name = %q
units = "mm"
role = "workholding"
material = "steel"
solid = [{ name = "block", file = "../../%s", chord_error = 0.06 }]
seat = { pins = [[-100, 0, 0], [100, 0, 0]], play = 0.035, height_tolerance = 0.01, parallelism = 0.01 }

[[grid]]
name = "top"
solid = "block"
origin = [-100, -50, %g]
columns = 5
rows = 3
pitch = 50
omit = [%s]
position_tolerance = 0.02
bore = 16
thread = "M12"
`, r.name, solid, r.height, omit)
	for _, y := range []float64{-50, 50} {
		for _, x := range []float64{-r.screwsAt, r.screwsAt} {
			text += fmt.Sprintf("\n[[fastener]]\nat = [%g, %g, 0]\nthread = \"M12\"\n", x, y)
		}
	}
	return text
}

func (r *riser) surface() (shape.Surface, error) {
	p := shape.Plate{Outline: shape.Rect(-120, -70, 120, 70), Thickness: r.height, Chamfer: 2, Round: shape.Round{Chord: 0.06}}
	for _, h := range shape.HoleGrid(shape.Hole{Radius: 5.1, HeadRadius: 8, HeadDepth: 12}, at(0, 0), 5, 3, 50, nil) {
		switch {
		case math.Abs(h.At.X) == 100 && h.At.Y == 0:
			h = shape.Hole{At: h.At, Radius: 8}
		case math.Abs(h.At.X) == r.screwsAt && h.At.Y != 0:
			h = shape.Hole{At: h.At, Radius: 6.75, HeadRadius: 10, HeadDepth: r.height / 2}
		}
		p.Holes = append(p.Holes, h)
	}
	return p.Surface()
}

func addRisers(extra fstest.MapFS) error {
	for _, r := range catalogue() {
		file := fmt.Sprintf("riser-%03.0f", r.height)
		solid := "solids/choice-" + file + ".stl"
		s, err := r.surface()
		if err != nil {
			return fmt.Errorf("%s: %w", r.name, err)
		}
		if err := addSolid(extra, solid, s); err != nil {
			return err
		}
		extra[path.Join(Catalogue, file+".toml")] = &fstest.MapFile{Data: []byte(r.text(solid))}
	}
	return nil
}
