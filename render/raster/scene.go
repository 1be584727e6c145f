package raster

import (
	"context"
	"fmt"
	"image"
	"image/color"
	"runtime"
	"sync/atomic"

	"gridswing/geom"
	"gridswing/geom/together"
	"gridswing/render/ink"

	"github.com/golang/geo/r3"
)

// Body is a shape standing somewhere, and how it is to look.
type Body struct {
	Shape   *Shape
	Pose    geom.Pose // body frame to the scene's frame
	Color   color.RGBA
	Pattern ink.Pattern // drawn over the surface
	Stroke  color.RGBA  // colour of the pattern
	Outline float64     // width of a heavy line round what is seen of it, pixels, at most MaxOutline; 0: none
	Ghost   bool        // a veil: hides nothing
	Merge   int         // ghosts of one number that is not 0 are shown as one veil, with a line only round the whole
	Whole   bool        // the cut takes nothing of it away
	Yields  bool        // where it fills the same place of the cut as another body, that one is shown, and no overlap
}

// MaxOutline is the widest outline, in pixels.
const MaxOutline = 2 * (apron - 1)

// Plane cuts all bodies that are neither ghosts nor whole; what lies on the side of Normal is
// taken away. Normal must have a component towards the viewer.
type Plane struct {
	Point, Normal r3.Vector // Normal of unit length
}

// Scene is what is drawn. Cut faces of closed shapes are shown filled with
// section lines, and where bodies overlap in the cut they are shown solid.
type Scene struct {
	Camera  Camera
	Bodies  []Body
	Cut     *Plane
	Lines   color.RGBA // colour of edges
	Overlap color.RGBA // where two bodies fill the same place of the cut
	Density float64    // pixels to one that patterns are counted in; 0: 1
	Workers int        // 0: as many as there are cores
	// Occlusion is how far ambient occlusion reaches, in mm across the line of sight: what lies
	// in pockets and at the foot of walls is darker, by half at most. 0: a twenty-fourth of the
	// picture's smaller side; at most a quarter of it; negative: none.
	Occlusion float64
}

func (s *Scene) density() float64 {
	if s.Density > 0 {
		return s.Density
	}
	return 1
}

// Seen says which body each pixel shows, and how deep it lies there.
type Seen struct {
	Width, Height int
	owner         []uint16
	depth         []float32
}

// Body returns the index of the body that covers most of the pixel, or -1 for
// none. Ghosts are not seen.
func (s *Seen) Body(x, y int) int { return int(s.owner[y*s.Width+x]) - 1 }

// Hides reports whether a body lies before a point that the camera sees at the
// pixel (x, y) and the depth (mm, see Camera.Project), by more than the given
// allowance in mm there and in the pixels round it.
func (s *Seen) Hides(x, y int, depth, allowance float64) bool {
	for v := max(y-1, 0); v <= min(y+1, s.Height-1); v++ {
		for u := max(x-1, 0); u <= min(x+1, s.Width-1); u++ {
			if float64(s.depth[v*s.Width+u]) >= depth-allowance {
				return false
			}
		}
	}
	return true
}

// merged reports whether the body is shown as part of a veil of several.
func (b *Body) merged() bool { return b.Ghost && b.Merge != 0 }

// mergedInto returns the first body that is shown as one with body i.
func (s *Scene) mergedInto(i int) int {
	if s.Bodies[i].merged() {
		for k := range s.Bodies[:i] {
			if s.Bodies[k].merged() && s.Bodies[k].Merge == s.Bodies[i].Merge {
				return k
			}
		}
	}
	return i
}

// Draw draws the scene over the image, whose origin must be (0, 0). It fails if
// the context is done, which leaves the image unfinished, or if the scene is too large for
// the scale or has too many bodies.
func (s *Scene) Draw(ctx context.Context, img *image.RGBA) (*Seen, error) {
	if len(s.Bodies) > 65000 {
		return nil, fmt.Errorf("a picture of %d bodies cannot be drawn: at most 65000", len(s.Bodies))
	}
	j, err := newJob(s, img)
	if err != nil {
		return nil, err
	}
	j.parallel(ctx, len(j.facetChunks), func(t *tile, i int) { j.setFacets(&j.facetChunks[i], &t.scratch) })
	j.sortChunks()
	j.parallel(ctx, len(j.lineChunks), func(t *tile, i int) { j.setLines(&j.lineChunks[i], &t.scratch) })
	j.parallel(ctx, j.across*j.down, func(t *tile, i int) { t.draw(i) })
	j.occlude(ctx)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return j.seen, nil
}

// parallel calls work for 0 to n-1 on all workers; each worker keeps its tile buffers.
func (j *job) parallel(ctx context.Context, n int, work func(t *tile, i int)) {
	var next atomic.Int64
	var wg together.Group
	for w := range min(len(j.tiles), n) {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < n && ctx.Err() == nil; i = int(next.Add(1)) - 1 {
				work(j.tiles[w], i)
			}
		})
	}
	wg.Wait()
}

func workers(n int) int {
	if n > 0 {
		return n
	}
	return runtime.GOMAXPROCS(0)
}
