package proof

import (
	"cmp"
	"context"
	"slices"
	"sync"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
)

// Trees holds the tree of every mesh, built once however many bodies and setups have
// it. Several goroutines may use it at once.
type Trees struct {
	// Ledger, if not nil, keeps what was proven, for questions that are much like it.
	Ledger *Ledger

	lock  sync.Mutex
	of    map[*geom.Mesh]*planting
	trims int // how often Trim was called

	facts facts // see Fact
}

// planting is a tree that somebody builds, or has built.
type planting struct {
	tree func() *collide.Tree // breaks down each time if it does once
	used int                  // Trees.trims when it was asked for last
}

// NewTrees returns trees of nothing as yet, without a ledger.
func NewTrees() *Trees { return &Trees{of: map[*geom.Mesh]*planting{}} }

// Of returns the tree of a solid, which is built if it is missing.
func (t *Trees) Of(s *machine.Solid) *collide.Tree {
	t.lock.Lock()
	p := t.of[s.Mesh]
	if p == nil {
		p = &planting{tree: sync.OnceValue(func() *collide.Tree { return collide.NewTree(s.Mesh) })}
		t.of[s.Mesh] = p
	}
	p.used = t.trims
	t.lock.Unlock()
	return p.tree()
}

// Forget drops the tree of a solid that was needed for one question only.
func (t *Trees) Forget(s *machine.Solid) {
	t.lock.Lock()
	defer t.lock.Unlock()
	delete(t.of, s.Mesh)
}

// Trim is for those who look at setup after setup, and call it after each. Trees that were asked for
// since so many recent calls (1: since the last one) stay. Of the others it forgets those that
// nobody asked for lately, and then those that nobody did for longest, until all have so many facets
// at most; and it forgets facts that nobody asked for lately. All that is forgotten is worked out
// again when it is asked for. Where several setups are looked at at once, recent should be more
// than they are, so that what they have in common stays.
func (t *Trees) Trim(facets, recent int) {
	t.lock.Lock()
	defer t.lock.Unlock()
	total := 0
	var idle []*geom.Mesh
	for m, p := range t.of {
		total += len(m.Facets)
		if p.used <= t.trims-recent {
			idle = append(idle, m)
		}
	}
	slices.SortFunc(idle, func(a, b *geom.Mesh) int {
		return cmp.Or(cmp.Compare(t.of[a].used, t.of[b].used), cmp.Compare(len(b.Facets), len(a.Facets)))
	})
	for _, m := range idle {
		if total <= facets && t.of[m].used > t.trims-agesIdle*max(leastAge, recent) {
			break // the rest is younger
		}
		total -= len(m.Facets)
		delete(t.of, m)
	}
	t.trims++
	if t.trims%max(leastAge, recent) == 0 {
		t.facts.age()
	}
}

const (
	leastAge = 4 // after how many calls of Trim facts grow older, at least
	agesIdle = 4 // how many such ages a tree is kept that nobody asks for
)

// Plant builds the trees that are still missing for the bodies, on so many
// goroutines.
func (t *Trees) Plant(jobs int, bodies []machine.Body) {
	var solids []*machine.Solid
	t.lock.Lock()
	for i := range bodies {
		if s := bodies[i].Solid; t.of[s.Mesh] == nil && !slices.Contains(solids, s) {
			solids = append(solids, s)
		}
	}
	t.lock.Unlock()
	// Largest first, so that no core is left with a large one at the end.
	slices.SortStableFunc(solids, func(a, b *machine.Solid) int {
		return cmp.Compare(len(b.Mesh.Facets), len(a.Mesh.Facets))
	})
	_ = InParallel(context.Background(), jobs, len(solids), func(i int) error {
		t.Of(solids[i])
		return nil
	})
}

// Pair returns two bodies as a sweep wants them, with the motion of b as seen
// from a.
func (t *Trees) Pair(a, b *machine.Body, m motion.Chain) collide.Pair {
	return collide.Pair{
		A: t.Of(a.Solid), B: t.Of(b.Solid), Motion: m,
		Margin: a.Solid.ChordError + b.Solid.ChordError,
	}
}
