package collide_test

import (
	"path/filepath"
	"testing"

	"gridswing/collide"
	"gridswing/geom/stl"
	"gridswing/testdata/peer"
)

// TestDistanceBesideLibrary asks for the distances and contacts that the
// Flexible Collision Library 0.7.0 (Debian 12) gave: testdata/peer/README.md.
func TestDistanceBesideLibrary(t *testing.T) {
	const dir = "../testdata/peer"
	cases, err := peer.ReadCases(filepath.Join(dir, "cases.csv"))
	if err != nil {
		t.Fatal(err)
	}
	trees := make(map[string]*collide.Tree)
	tree := func(name string) *collide.Tree {
		if trees[name] == nil {
			m, err := stl.ReadFile(filepath.Join(dir, "meshes", name+".stl"))
			if err != nil {
				t.Fatal(err)
			}
			trees[name] = collide.NewTree(m)
		}
		return trees[name]
	}
	for _, c := range cases {
		if got := collide.Distance(tree(c.A), tree(c.B), c.Pose); !c.Agrees(got.Distance) {
			t.Errorf("distance %v (facets %d and %d), the library says:\n%v", got.Distance, got.FacetA, got.FacetB, c)
		}
		// The bodies change places.
		if got := collide.Distance(tree(c.B), tree(c.A), c.Pose.Inverse()); !c.Agrees(got.Distance) {
			t.Errorf("changed round: distance %v (facets %d and %d), the library says:\n%v", got.Distance, got.FacetA, got.FacetB, c)
		}
	}
}
