package collide_test

import (
	"context"
	"encoding/csv"
	"math"
	"math/big"
	"os"
	"testing"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// TestSweepOfVertexAndFace asks exact queries about a vertex and a face one
// of which is shifted along a straight line (Wang et al. 2021,
// testdata/ccd/README.md): what touches must never be called clear.
func TestSweepOfVertexAndFace(t *testing.T) {
	queries := readLinearQueries(t, "../testdata/ccd/vertex-face.csv")
	touching, proven := 0, 0
	for i, q := range queries {
		pair := collide.Pair{
			A: collide.NewTree(facetMesh(q.begin[0], q.begin[0], q.begin[0])),
			B: collide.NewTree(facetMesh(q.begin[1], q.begin[2], q.begin[3])),
		}
		// The face's way as the vertex sees it.
		way := q.end[1].Sub(q.begin[1]).Sub(q.end[0].Sub(q.begin[0]))
		pair.Motion = motion.Chain{Home: geom.Identity(), Joints: []motion.Joint{{
			Kind: motion.Linear, Axis: way.Normalize(), Gain: motion.Params{way.Norm()},
		}}}
		over := motion.Box{Hi: motion.Params{1}}
		// Vertices are stored as float32, off by 6e-8 of themselves: a gap
		// below 1e-6 is none.
		out, err := collide.Sweep(context.Background(), pair, over, collide.Limits{Enough: 1e-6, Absolute: 1e-7})
		if err != nil {
			t.Fatal(err)
		}
		clear := out.Lower >= 1e-6
		switch {
		case q.touch && clear:
			t.Errorf("query %d touches, but is called clear: %+v", i, out)
		case q.touch:
			touching++
		case clear:
			proven++
		}
	}
	// 2 of the 19 that do not touch pass closer than 1e-6.
	if touching != 5 || proven < 17 {
		t.Errorf("%d queries touch and %d are proven clear, expected 5 and at least 17", touching, proven)
	}
}

type linearQuery struct {
	begin, end [4]r3.Vector
	touch      bool
}

func readLinearQueries(t *testing.T, path string) []linearQuery {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) == 0 || len(rows)%8 != 0 {
		t.Fatalf("%s: %d lines are no whole number of queries", path, len(rows))
	}
	queries := make([]linearQuery, len(rows)/8)
	for i, row := range rows {
		var v [3]float64
		for k := range v {
			exact, ok := new(big.Rat).SetString(row[2*k] + "/" + row[2*k+1])
			if !ok {
				t.Fatalf("%s:%d: %q is no fraction", path, i+1, row[2*k:2*k+2])
			}
			v[k], _ = exact.Float64()
		}
		q := &queries[i/8]
		at := r3.Vector{X: v[0], Y: v[1], Z: v[2]}
		if i%8 < 4 {
			q.begin[i%8] = at
		} else {
			q.end[i%8-4] = at
		}
		q.touch = row[6] == "1"
	}
	for i, q := range queries {
		for k := 2; k < 4; k++ {
			if off := q.end[k].Sub(q.begin[k]).Sub(q.end[1].Sub(q.begin[1])).Norm(); off > 1e-15 || math.IsNaN(off) {
				t.Fatalf("%s: query %d does not shift its face as one: %v", path, i, off)
			}
		}
	}
	return queries
}

// facetMesh returns a mesh of one facet.
func facetMesh(a, b, c r3.Vector) *geom.Mesh {
	return &geom.Mesh{Facets: []geom.Facet{{geom.VertexOf(a), geom.VertexOf(b), geom.VertexOf(c)}}}
}
