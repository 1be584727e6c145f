//go:build peer

package peer_test

import (
	"flag"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/stl"
	"gridswing/testdata/peer"
)

var (
	pairs = flag.Int("pairs", 500, "posed pairs to compare")
	seed  = flag.Uint64("seed", 1, "seed of the random poses")
)

// TestLive compares package collide with the library on fresh random poses.
// GRIDSWING_PEER_HARNESS is the path of the built harness. Whatever differs is printed as
// a line for cases.csv; who is right is then for brute force to say.
func TestLive(t *testing.T) {
	harness := os.Getenv("GRIDSWING_PEER_HARNESS")
	if harness == "" {
		t.Fatal("GRIDSWING_PEER_HARNESS is not set: it must name the harness that testdata/peer/harness/build.sh builds")
	}
	dir := t.TempDir()
	solids := peer.Solids()
	meshes := make(map[string]*geom.Mesh)
	trees := make(map[string]*collide.Tree)
	for _, s := range solids {
		if err := stl.WriteFile(filepath.Join(dir, s.Name+".stl"), s.Mesh); err != nil {
			t.Fatal(err)
		}
		meshes[s.Name], trees[s.Name] = s.Mesh, collide.NewTree(s.Mesh)
	}
	cases, err := peer.Draw(rand.New(rand.NewPCG(*seed, 7)), solids, *pairs, harness, dir)
	if err != nil {
		t.Fatal(err)
	}
	contacts := 0
	for _, c := range cases {
		got := collide.Distance(trees[c.A], trees[c.B], c.Pose)
		if !c.Agrees(got.Distance) {
			t.Errorf("collide says %v (facets %d and %d, points %v and %v), by brute force %v, the library:\n%v",
				got.Distance, got.FacetA, got.FacetB, got.A, got.B, peer.BruteForce(meshes[c.A], meshes[c.B], c.Pose), c)
		}
		if c.Contact {
			contacts++
		}
	}
	t.Logf("%d posed pairs compared, %d of them in contact (seed %d)", len(cases), contacts, *seed)
	if contacts == 0 || contacts == len(cases) {
		t.Errorf("%d of %d pairs in contact: the poses compare one kind of answer only", contacts, len(cases))
	}
}
