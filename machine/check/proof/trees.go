package proof

import (
	"cmp"
	"context"
	"slices"

	"gridswing/collide"
	"gridswing/machine"
)

// Trees holds the tree of every solid, built once however many bodies have it.
type Trees map[*machine.Solid]*collide.Tree

// Plant builds the trees that are still missing for the bodies, on so many
// goroutines. Nobody may read the trees meanwhile.
func (t Trees) Plant(jobs int, bodies []machine.Body) {
	var solids []*machine.Solid
	for i := range bodies {
		s := bodies[i].Solid
		if _, known := t[s]; !known {
			t[s] = nil
			solids = append(solids, s)
		}
	}
	// Largest first, so that no core is left with a large one at the end.
	slices.SortStableFunc(solids, func(a, b *machine.Solid) int {
		return cmp.Compare(len(b.Mesh.Facets), len(a.Mesh.Facets))
	})
	trees := make([]*collide.Tree, len(solids))
	_ = InParallel(context.Background(), jobs, len(solids), func(i int) error {
		trees[i] = collide.NewTree(solids[i].Mesh)
		return nil
	})
	for i, s := range solids {
		t[s] = trees[i]
	}
}
