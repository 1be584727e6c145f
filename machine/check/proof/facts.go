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
	once, known := t.facts.Load(key)
	if !known {
		once, _ = t.facts.LoadOrStore(key, sync.OnceValue(work))
	}
	return once.(func() V)()
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
