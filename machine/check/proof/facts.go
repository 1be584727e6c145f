package proof

import (
	"sync"

	"gridswing/geom"
	"gridswing/machine"
)

// Fact returns what was worked out for a key, which is done once however many setups ask.
// A key must hold all that the work depends on; its type tells one kind of fact from
// another, so that packages with types of their own cannot be in each other's way. What is
// returned is shared and must not be changed. Several goroutines may ask at once; all but one
// wait for it.
func Fact[K comparable, V any](t *Trees, key K, work func() V) V {
	return t.facts.of(key, func() any { return sync.OnceValue(work) }).(func() V)()
}

// facts are what was worked out, by key, in two ages: what is asked for is young again.
type facts struct {
	lock       sync.RWMutex
	young, old map[any]any
}

// of returns what a key has; if that is nothing, what begin returns from now on.
func (f *facts) of(key any, begin func() any) any {
	f.lock.RLock()
	known := f.young[key]
	f.lock.RUnlock()
	if known != nil {
		return known
	}
	f.lock.Lock()
	defer f.lock.Unlock()
	if known = f.young[key]; known != nil {
		return known
	}
	if known = f.old[key]; known == nil {
		known = begin()
	}
	if f.young == nil {
		f.young = make(map[any]any)
	}
	f.young[key] = known
	return known
}

// age forgets what is old already.
func (f *facts) age() {
	f.lock.Lock()
	defer f.lock.Unlock()
	f.old, f.young = f.young, nil
}

type massKey struct{ solid *machine.Solid }

// MassOf is geom.MassOf of a solid, once.
func (t *Trees) MassOf(s *machine.Solid) geom.Mass {
	return Fact(t, massKey{s}, func() geom.Mass { return geom.MassOf(s.Mesh) })
}

type boxKey struct {
	solid *machine.Solid
	turn  geom.Rotation
}

// BoxOf returns the box around a solid that is turned, once. What it stands at is added to it:
// it is the same box wherever the solid stands.
func (t *Trees) BoxOf(s *machine.Solid, turn geom.Rotation) geom.Box {
	return Fact(t, boxKey{s, turn}, func() geom.Box {
		box, pose := geom.EmptyBox(), geom.Pose{R: turn}
		for i := range s.Mesh.Facets {
			for _, v := range s.Mesh.Facets[i] {
				box = box.Include(pose.Point(v.Vector()))
			}
		}
		return box
	})
}
