package peer

import (
	"math/rand/v2"
	"path/filepath"

	"gridswing/geom"
)

// Draw draws count random posed pairs from all pairings of the solids in turn
// and asks the library about each. Poses with one body inside the other are
// drawn again: the library knows surfaces only.
func Draw(rng *rand.Rand, solids []Solid, count int, harness, meshes string) ([]Case, error) {
	var pairs [][2]*Solid
	for i := range solids {
		for j := range solids[i:] {
			pairs = append(pairs, [2]*Solid{&solids[i], &solids[i+j]})
		}
	}
	cases := make([]Case, 0, count)
	for k, pair := range pairs {
		a, b := pair[0], pair[1]
		var poses []geom.Pose
		for range (count + len(pairs) - 1 - k) / len(pairs) {
			poses = append(poses, RandomPose(rng, a.Mesh, b.Mesh))
		}
		answers, err := askOutside(rng, a, b, poses, harness, meshes)
		if err != nil {
			return nil, err
		}
		for i, answer := range answers {
			cases = append(cases, Case{A: a.Name, B: b.Name, Pose: poses[i], Answer: answer})
		}
	}
	return cases, nil
}

// askOutside asks the library, and draws afresh those poses where the surfaces
// do not cross because one body is inside the other.
func askOutside(rng *rand.Rand, a, b *Solid, poses []geom.Pose, harness, meshes string) ([]Answer, error) {
	answers := make([]Answer, len(poses))
	open := make([]int, len(poses))
	for i := range open {
		open[i] = i
	}
	for len(open) > 0 {
		asked := make([]geom.Pose, len(open))
		for k, i := range open {
			asked[k] = poses[i]
		}
		got, err := Ask(harness, filepath.Join(meshes, a.Name+".stl"), filepath.Join(meshes, b.Name+".stl"), asked)
		if err != nil {
			return nil, err
		}
		var again []int
		for k, i := range open {
			answers[i] = got[k]
			if !got[k].Contact && got[k].Distance > 0 && Nested(a, b, poses[i]) {
				poses[i] = RandomPose(rng, a.Mesh, b.Mesh)
				again = append(again, i)
			}
		}
		open = again
	}
	return answers, nil
}
