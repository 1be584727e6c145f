// Package varied writes folders of setups that differ, to measure and test what looks at
// many: the shop of the demo, with as many jobs as are asked for. Stock, riser, where the
// trunnion and the vise stand, ranges, features and tools vary; most are clear, some fail in
// different ways, and a few files are faulty. Nothing of it is checked in.
package varied

import (
	"bytes"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"

	"gridswing/geom/shape"
	"gridswing/geom/stl"
	"gridswing/models"

	"github.com/golang/geo/r3"
)

// Folder is where the setups are within a folder that Write has written.
const Folder = "setups"

// Write writes the demo's shop and n setups into a folder, which is made if it is not there; files
// of the same names are replaced. The same n and seed give the same bytes, and the first setups
// of a seed are the same however many there are.
func Write(dir string, n int, seed int64) error {
	err := fs.WalkDir(models.Demo, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || name == Folder {
			if name == Folder && err == nil {
				return fs.SkipDir
			}
			return err
		}
		if d.IsDir() {
			return nil
		}
		data, err := fs.ReadFile(models.Demo, name)
		if err != nil {
			return err
		}
		return put(dir, name, data)
	})
	if err != nil {
		return err
	}
	random := rand.New(rand.NewPCG(uint64(seed), 0))
	for i := range n {
		j := draw(i, random)
		solid, err := j.solid()
		if err != nil {
			return err
		}
		for name, data := range map[string][]byte{
			j.setupFile(): []byte(j.setup()), j.stockFile(): []byte(j.stock()), j.solidFile(): solid,
		} {
			if err := put(dir, name, data); err != nil {
				return err
			}
		}
	}
	return nil
}

func put(dir, name string, data []byte) error {
	path := filepath.Join(dir, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	return os.WriteFile(path, data, 0o644)
}

// job is one setup: a block in the vise, and what is cut from it.
type job struct {
	number                int
	width, length, height float64 // of the block, mm: along the vise's screw, along the jaws, up
	riser                 string
	trunnion              int // columns to the right of where it stands in the demo
	turned                bool
	tilt                  [2]float64 // degrees
	ends, deep            bool       // pockets in the ends, a bore all through
	holes                 int        // along the block
	slip                  slip
}

// slip is what is wrong with a setup.
type slip uint8

const (
	none    slip = iota
	hole         // the vise stands one hole further out
	jaw          // its jaw is set too narrow
	reach        // a bore deeper than its drill
	wide         // more clearance is asked for than there is
	unknown      // a key that no file has
	missing      // a component that is not there
	slips
)

// often is how often one of so many setups has a slip at all.
const often = 5

func draw(i int, random *rand.Rand) *job {
	step := func(from float64, steps int, by float64) float64 { return from + by*float64(random.IntN(steps)) }
	j := &job{
		number: i + 1, width: step(44, 12, 2), length: step(70, 8, 5), height: step(48, 8, 3),
		riser:    []string{"riser-50", "riser-50", "risers/riser-30", "risers/riser-75"}[random.IntN(4)],
		trunnion: random.IntN(3) - 1, turned: random.IntN(2) == 1,
		tilt: [2]float64{-step(0, 4, 10), step(90, 3, 10)},
		ends: random.IntN(2) == 1, deep: random.IntN(3) == 0, holes: 2 + random.IntN(5),
	}
	if s := slip(random.IntN(int(slips)-1)) + 1; random.IntN(often) == 0 {
		j.slip = s
	}
	return j
}

func (j *job) setupFile() string {
	return fmt.Sprintf("%s/line-%d/job-%03d.toml", Folder, 1+j.number%4, j.number)
}

func (j *job) stockFile() string { return fmt.Sprintf("components/varied/stock-%03d.toml", j.number) }
func (j *job) solidFile() string { return fmt.Sprintf("solids/varied/stock-%03d.stl", j.number) }

// edge is how long edges of the block's facets are at most, mm: it has some thousand.
const edge = 5

func (j *job) solid() ([]byte, error) {
	block := shape.Box(r3.Vector{X: -j.width / 2, Y: -j.length / 2}, r3.Vector{X: j.width / 2, Y: j.length / 2, Z: j.height})
	var data bytes.Buffer
	err := stl.Encode(&data, block.Refined(edge).Mesh())
	return data.Bytes(), err
}

func (j *job) stock() string {
	return fmt.Sprintf(`# Sawn block %g x %g x %g. Origin: middle of the underside.
kind = "component"
name = "stock of job %d"
units = "mm"
role = "stock"
material = "aluminium 7075"

[[solid]]
name = "block"
file = "../../%s"
chord_error = 0
`, j.width, j.length, j.height, j.number, j.solidFile())
}
