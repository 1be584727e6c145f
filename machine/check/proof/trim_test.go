package proof

import (
	"context"
	"runtime"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/geom/together"
	"gridswing/machine"
)

// own returns a solid of so many facets that nobody else has.
func own(facets int) *machine.Solid {
	m := &geom.Mesh{Facets: make([]geom.Facet, facets)}
	for i := range m.Facets {
		x := float32(i)
		m.Facets[i] = geom.Facet{{x, 0, 0}, {x + 1, 0, 0}, {x, 1, 0}}
	}
	return &machine.Solid{Mesh: m}
}

// Two solids of one mesh, as two setups have them, have one tree.
func TestTreesOfOneMesh(t *testing.T) {
	trees := NewTrees()
	a := own(20)
	b := &machine.Solid{Mesh: a.Mesh, ChordError: 0.1}
	if trees.Of(a) != trees.Of(b) {
		t.Error("two trees")
	}
	trees.Forget(b)
	if len(trees.of) != 0 {
		t.Error("still there")
	}
}

// What was asked for since the last time stays, whatever its size; of the rest what was
// not for longest goes first.
func TestTrim(t *testing.T) {
	trees := NewTrees()
	first, second, third := own(100), own(100), own(1000)
	tree := trees.Of(second)
	trees.Trim(0, 1)
	trees.Of(first)
	trees.Of(third)
	trees.Trim(0, 1) // second was asked for before the last time
	if len(trees.of) != 2 {
		t.Fatalf("%d trees, expected first and third", len(trees.of))
	}
	if trees.Of(second) == tree {
		t.Error("the tree was kept")
	}
	trees.Trim(200, 1)
	if trees.of[second.Mesh] == nil || trees.of[third.Mesh] != nil || trees.of[first.Mesh] == nil {
		t.Errorf("%d trees, expected second, and first of the idle ones", len(trees.of))
	}
}

// What nobody asked for lately goes, however much room there is.
func TestTrimForgetsOld(t *testing.T) {
	trees := NewTrees()
	trees.Of(own(10))
	for range leastAge*agesIdle + 2 {
		trees.Trim(1<<20, 1)
	}
	if len(trees.of) != 0 {
		t.Error("still there")
	}
}

// What several setups that are looked at at once have in common stays, however large it is.
func TestTrimKeepsRecent(t *testing.T) {
	trees := NewTrees()
	shared := own(1000)
	tree := trees.Of(shared)
	for range 3 {
		trees.Trim(0, 4)
	}
	if trees.Of(shared) != tree {
		t.Error("asked for three calls before, and forgotten")
	}
	for range 5 {
		trees.Trim(0, 4)
	}
	if len(trees.of) != 0 {
		t.Error("not asked for since five calls, and kept")
	}
}

// Facts that are asked for stay the very same, those that are not are forgotten.
func TestFactsAge(t *testing.T) {
	trees := NewTrees()
	type key string
	worked := map[string]int{}
	ask := func(k string) { Fact(trees, key(k), func() int { worked[k]++; return 1 }) }
	ask("often")
	ask("once")
	for range 3 * leastAge {
		ask("often")
		trees.Trim(0, 1)
	}
	ask("often")
	ask("once")
	if worked["often"] != 1 || worked["once"] != 2 {
		t.Errorf("worked out %v", worked)
	}
}

// Hundreds of setups with solids of their own leave no more behind than a few of them do.
func TestTreesDoNotGrow(t *testing.T) {
	trees := NewTrees()
	heap := func() float64 {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return float64(m.HeapAlloc) / 1e6
	}
	shared := own(500)
	tree := trees.Of(shared)
	early := 0.0
	for i := range 400 {
		s := own(2000)
		trees.Of(s)
		trees.MassOf(s)
		if trees.Of(shared) != tree {
			t.Fatalf("setup %d: what is shared was built again", i)
		}
		trees.Trim(10*2000, 1)
		if i == 40 {
			early = heap()
		}
	}
	if late := heap(); late > early+0.5 {
		t.Errorf("%.2f MB after 40 setups, %.2f MB after 400", early, late)
	}
	if len(trees.of) > 12 {
		t.Errorf("%d trees", len(trees.of))
	}
	runtime.KeepAlive(trees)
}

// A panic comes to the caller, with where it happened, and what was begun is waited for.
func TestInParallelPanics(t *testing.T) {
	defer func() {
		value, stack := together.Recovered(recover())
		if value != "three" || !strings.Contains(string(stack), "TestInParallelPanics") {
			t.Errorf("recovered %v at %s", value, stack)
		}
	}()
	err := InParallel(context.Background(), 4, 100, func(i int) error {
		if i == 3 {
			panic("three")
		}
		return nil
	})
	t.Errorf("it returned %v", err)
}

// A tree over which the program breaks down is not one without facets for whoever asks for it next.
func TestBrokenTree(t *testing.T) {
	trees, solid := NewTrees(), &machine.Solid{}
	for i := range 2 {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("asked for the %d. time: there is a tree of no mesh", i+1)
				}
			}()
			trees.Of(solid)
		}()
	}
}
