package raster

import (
	"context"
	"math"
)

// Ambient occlusion darkens what lies in pockets, at the foot of walls and close behind
// something nearer. It is found from the depths of the finished picture at every other pixel
// both ways: what stands out of the tangent plane on opposite sides of a point, divided by the
// distance. As the two sides are added, planes of any slant add up to nothing and need no
// normals. (The pairing of samples after Loos and Sloan, "Volumetric obscurance", I3D 2010.)
const (
	occlusionShare = 1.0 / 24 // how far it reaches by itself, as a share of the picture's smaller side
	occlusionDark  = 0.5      // how much of the light it takes away if everything around is higher
	directions     = 3        // looked into from one point, both ways each
	rings          = 4        // distances looked at in each direction
	interleaved    = 4        // points that look into different directions, along x and y
	bandRows       = 16       // rows of points computed in one go
)

// occlusion is the work of finding it: arrays of points, two pixels apart, with a margin.
type occlusion struct {
	j             *job
	width, height int // points
	margin        int // points
	stride        int
	depth         []float32
	raw, smooth   []float32 // 0: open, 1: closed in
	taps          [interleaved * interleaved][]tap
}

// tap is a pair of points to look at: at an offset and the opposite one.
type tap struct {
	offset  int
	inverse float32 // of twice the distance, 1/mm
}

// occlude darkens the picture. It must be called when all tiles are finished.
func (j *job) occlude(ctx context.Context) {
	mm := j.scene.Occlusion
	if mm < 0 {
		return
	}
	w, h := j.seen.Width, j.seen.Height
	radius := mm * j.scene.Camera.Scale / 2 // points
	most := float64(min(w, h)) / 8
	if mm == 0 {
		radius = occlusionShare * float64(min(w, h)) / 2
	}
	if radius = min(radius, most); radius < 1 {
		return
	}
	o := &occlusion{j: j, width: (w + 1) / 2, height: (h + 1) / 2, margin: int(radius) + 2}
	o.stride = o.width + 2*o.margin
	n := o.stride * (o.height + 2*o.margin)
	o.depth, o.raw, o.smooth = make([]float32, n), make([]float32, n), make([]float32, n)
	o.setTaps(radius)
	bands := func(rows int, work func(row int)) {
		j.parallel(ctx, (rows+bandRows-1)/bandRows, func(_ *tile, i int) {
			for row := i * bandRows; row < min(rows, (i+1)*bandRows); row++ {
				work(row)
			}
		})
	}
	bands(o.height+2*o.margin, o.fetch)
	bands(o.height, o.look)
	bands(o.height, o.blur)
	bands(h, o.darken)
}

// setTaps chooses the points to look at. Points beside each other look into directions that
// lie between, and as far as between, so that after blur all have looked everywhere.
func (o *occlusion) setTaps(radius float64) {
	const variants = interleaved * interleaved
	mm := 2 / o.j.scene.Camera.Scale // per point
	for v := range o.taps {
		for d := range directions {
			angle := math.Pi / directions * (float64(d) + (float64(v)+0.5)/variants)
			sin, cos := math.Sincos(angle)
			for r := range rings {
				// 7 and 16 have no common factor: every sixteenth of a ring once.
				part := (float64(r) + (float64((7*v+5*d)%variants)+0.5)/variants) / rings
				distance := max(1, radius*math.Pow(part, 1.5))
				x, y := math.Round(cos*distance), math.Round(sin*distance)
				if x == 0 && y == 0 {
					x = 1
				}
				o.taps[v] = append(o.taps[v], tap{offset: int(y)*o.stride + int(x),
					inverse: float32(1 / (2 * mm * math.Hypot(x, y)))})
			}
		}
	}
}

// fetch takes over the depths of a row, the margin included.
func (o *occlusion) fetch(row int) {
	to := o.depth[row*o.stride : (row+1)*o.stride]
	y := row - o.margin
	if y < 0 || y >= o.height {
		for i := range to {
			to[i] = math.MaxFloat32
		}
		return
	}
	for i := range o.margin {
		to[i], to[len(to)-1-i] = math.MaxFloat32, math.MaxFloat32
	}
	from := o.j.seen.depth[2*y*o.j.seen.Width:]
	for x := range o.width {
		to[o.margin+x] = from[2*x]
	}
}

// look finds how much the points of a row are closed in.
func (o *occlusion) look(row int) {
	for x := range o.width {
		i := (row+o.margin)*o.stride + o.margin + x
		d := o.depth[i]
		if d == math.MaxFloat32 {
			continue
		}
		sum := float32(0)
		for _, t := range o.taps[row%interleaved*interleaved+x%interleaved] {
			if s := (2*d - o.depth[i+t.offset] - o.depth[i-t.offset]) * t.inverse; s > 0 {
				sum += s / (1 + s)
			}
		}
		o.raw[i] = sum / (directions * rings)
	}
}

// blur averages over all variants: the points round the middle of four, on the same surface.
func (o *occlusion) blur(row int) {
	for x := range o.width {
		i := (row+o.margin)*o.stride + o.margin + x
		d := o.depth[i]
		if d == math.MaxFloat32 {
			continue
		}
		across, down := o.slope(i, 1), o.slope(i, o.stride)
		sum, weight := float32(0), float32(0)
		for v := -1; v < interleaved-1; v++ {
			for u := -1; u < interleaved-1; u++ {
				k := i + v*o.stride + u
				w := o.together(o.depth[k] - d - float32(u)*across - float32(v)*down)
				sum += w * o.raw[k]
				weight += w
			}
		}
		o.smooth[i] = sum / weight
	}
}

// slope is by how much the surface falls away from point i to the next: the gentler of
// what the two neighbours tell.
func (o *occlusion) slope(i, step int) float32 {
	a, b := o.depth[i+step]-o.depth[i], o.depth[i]-o.depth[i-step]
	if a*a < b*b {
		return a
	}
	return b
}

// together is how much two points are one surface, 0 to 1, if one lies so far off the plane
// through the other.
func (o *occlusion) together(off float32) float32 {
	off *= float32(o.j.scene.Camera.Scale / 4)
	return max(0, 1-off*off)
}

// darken takes light off a row of the picture.
func (o *occlusion) darken(row int) {
	seen := o.j.seen
	pix := o.j.img.Pix[o.j.img.PixOffset(0, row):]
	for x := range seen.Width {
		if at := row*seen.Width + x; seen.owner[at] != 0 {
			light := uint32(256*(1-occlusionDark*o.value(x, row, seen.depth[at])) + 0.5)
			for k := 4 * x; k < 4*x+3; k++ {
				pix[k] = uint8(uint32(pix[k]) * light >> 8)
			}
		}
	}
}

// value is how much the pixel (x, y) is closed in: from the four points round it, as far as they
// are one surface with it.
func (o *occlusion) value(x, y int, depth float32) float32 {
	// A smoothed point lies at the lower right of its four pixels.
	u, v := (x-1)>>1, (y-1)>>1
	fx, fy := float32(x-1)/2-float32(u), float32(y-1)/2-float32(v)
	i := (v+o.margin)*o.stride + u + o.margin
	sum, weight := float32(0), float32(0)
	for k, w := range [4]float32{(1 - fx) * (1 - fy), fx * (1 - fy), (1 - fx) * fy, fx * fy} {
		n := i + k>>1*o.stride + k&1
		if w *= o.together((o.depth[n] - depth) / 4); w > 0 {
			sum += w * o.smooth[n]
			weight += w
		}
	}
	if weight > 0 {
		return sum / weight
	}
	return o.likeliest(i, depth)
}

// likeliest is how much that point round i is closed in which is most nearly as deep.
func (o *occlusion) likeliest(i int, depth float32) float32 {
	best, least := float32(0), float32(math.MaxFloat32)
	for v := -1; v <= 2; v++ {
		for u := -1; u <= 2; u++ {
			k := i + v*o.stride + u
			if off := max(o.depth[k]-depth, depth-o.depth[k]); off < least {
				best, least = o.smooth[k], off
			}
		}
	}
	return best
}
