package proof

import (
	"sync"
	"testing"

	"gridswing/geom"
	"gridswing/geom/shape"
	"gridswing/machine"

	"github.com/golang/geo/r3"
)

func TestFactIsWorkedOutOnce(t *testing.T) {
	type key struct{ n int }
	type other struct{ n int }
	trees := NewTrees()
	var lock sync.Mutex
	worked := 0
	var wg sync.WaitGroup
	for i := range 40 {
		wg.Go(func() {
			got := Fact(trees, key{i % 2}, func() int {
				lock.Lock()
				defer lock.Unlock()
				worked++
				return 10 * (i % 2)
			})
			if got != 10*(i%2) {
				t.Errorf("key %d: got %d", i%2, got)
			}
		})
	}
	wg.Wait()
	if worked != 2 {
		t.Errorf("worked out %d times, want once for each of two keys", worked)
	}
	if got := Fact(trees, other{0}, func() string { return "own" }); got != "own" {
		t.Errorf("a key of another type: got %q", got)
	}
}

func TestMassOfSolid(t *testing.T) {
	mesh := shape.Box(r3.Vector{}, r3.Vector{X: 2, Y: 3, Z: 4}).Mesh()
	trees, s := NewTrees(), &machine.Solid{Mesh: mesh}
	for range 2 {
		if got := trees.MassOf(s); got != geom.MassOf(mesh) || got.Volume < 23.99 || got.Volume > 24.01 {
			t.Errorf("got %+v", got)
		}
	}
}

func TestWhichTellsApart(t *testing.T) {
	seen := map[uint64]bool{}
	for _, w := range []uint64{Which(), Which("a"), Which("", "a"), Which("a", ""), Which("ab"), Which("a", "b"),
		WhichOf(Which("a"), 0), WhichOf(Which("a"), 1), WhichOf(WhichOf(Which("a"), 0), 0), WhichOf(Which("ab"), 0)} {
		if seen[w] {
			t.Errorf("%x twice", w)
		}
		seen[w] = true
	}
	if again := Which("a", "b"); !seen[again] {
		t.Error("not the same for the same words")
	}
}
