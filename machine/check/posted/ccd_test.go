package posted

import (
	"encoding/csv"
	"math/big"
	"os"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/program"

	"github.com/golang/geo/r3"
)

// Exact queries about a vertex and a face, one of which is shifted along a straight line, as programs of one move, and
// of several on the same way (Wang et al. 2021, testdata/ccd/README.md): what touches must never be
// called clear, however it is parted.
func TestVertexAndFace(t *testing.T) {
	touching, clear := 0, 0
	for i, q := range vertexFaces(t, "../../../testdata/ccd/vertex-face.csv") {
		for _, parts := range []int{1, 7, 300} {
			s := vertexScene(q.begin)
			way := q.end[0].Sub(q.begin[0]).Sub(q.end[1].Sub(q.begin[1])) // of the vertex, as the face sees it
			var list []program.Step
			for k := range parts {
				a, b := way.Mul(float64(k)/float64(parts)), way.Mul(float64(k+1)/float64(parts))
				list = append(list, straight(program.Feed, 0, k+1, spot(a.X, a.Y, a.Z), spot(b.X, b.Y, b.Z)))
			}
			found := len(found(checked(t, s, steps(list), Options{}), "vertex", "face")) > 0
			switch {
			case q.touch && !found:
				t.Errorf("query %d in %d moves touches, but is called clear", i, parts)
			case q.touch:
				touching++
			case !found:
				clear++
			}
		}
	}
	// 3 of the 19 that do not touch pass closer than 1e-6, or hardly farther.
	if touching != 3*5 || clear < 3*16 {
		t.Errorf("%d programs touch and %d are clear, expected 15 and at least 48", touching, clear)
	}
}

// vertexScene has a vertex in the head and a face on the bed.
func vertexScene(begin [4]r3.Vector) *machine.Setup {
	s := plain()
	solid := func(a, b, c r3.Vector) *machine.Solid {
		m := &geom.Mesh{Facets: []geom.Facet{{geom.VertexOf(a), geom.VertexOf(b), geom.VertexOf(c)}}}
		return &machine.Solid{Mesh: m, Audit: geom.AuditOf(m), Outside: true}
	}
	var head motion.Chain
	head.Home = geom.Identity()
	for k, axis := range []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
		j := motion.Joint{Name: "XYZ"[k : k+1], Kind: motion.Linear, Axis: axis}
		j.Gain[k] = 1
		head.Joints = append(head.Joints, j)
	}
	s.Spindle.Chain = head
	s.Bodies = []machine.Body{
		{Name: "face", Unit: "machine", Role: "bed", Fixed: true, Solid: solid(begin[1], begin[2], begin[3]), Chain: motion.Chain{Home: geom.Identity()}},
		{Name: "vertex", Unit: "head", Role: "head", OnTool: true, Solid: solid(begin[0], begin[0], begin[0]), Chain: head},
	}
	s.Demand = machine.Demand{Default: 1e-6, Holder: 1e-6, Rapid: 1e-6, Swing: 1e-6, Change: 1e-6}
	return s
}

// vertexFace is a query: vertex and three corners of the face at the beginning and at the end.
type vertexFace struct {
	begin, end [4]r3.Vector
	touch      bool
}

func vertexFaces(t *testing.T, path string) []vertexFace {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) == 0 || len(rows)%8 != 0 {
		t.Fatalf("%s: %d lines are no whole number of queries: %v", path, len(rows), err)
	}
	list := make([]vertexFace, len(rows)/8)
	for i, row := range rows {
		var v [3]float64
		for k := range v {
			exact, ok := new(big.Rat).SetString(row[2*k] + "/" + row[2*k+1])
			if !ok {
				t.Fatalf("%s:%d: %q is no fraction", path, i+1, row[2*k:2*k+2])
			}
			v[k], _ = exact.Float64()
		}
		at := &list[i/8].begin
		if i%8 >= 4 {
			at = &list[i/8].end
		}
		at[i%4] = r3.Vector{X: v[0], Y: v[1], Z: v[2]}
		list[i/8].touch = row[6] == "1"
	}
	return list
}
