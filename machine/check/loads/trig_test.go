package loads

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func anyTrig(t *rapid.T, degree int, name string) trig {
	f := zeroTrig(degree)
	for k := range f.cos {
		f.cos[k] = rapid.Float64Range(-5, 5).Draw(t, name)
		f.sin[k] = rapid.Float64Range(-5, 5).Draw(t, name)
	}
	f.sin[0] = 0
	return f
}

func close(a, b, within float64) bool { return math.Abs(a-b) <= within }

// Sums, products and derivatives are those of the values.
func TestTrigArithmetic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := anyTrig(t, rapid.IntRange(0, 4).Draw(t, "degree"), "f")
		g := anyTrig(t, rapid.IntRange(0, 4).Draw(t, "degree"), "g")
		y := rapid.Float64Range(-10, 10).Draw(t, "y")
		if got, want := f.mul(g).at(y), f.at(y)*g.at(y); !close(got, want, 1e-10) {
			t.Errorf("product %v, want %v", got, want)
		}
		if got, want := f.plus(-2, g).at(y), f.at(y)-2*g.at(y); !close(got, want, 1e-11) {
			t.Errorf("sum %v, want %v", got, want)
		}
		const h = 1e-5
		if got, want := f.slope().at(y), (f.at(y+h)-f.at(y-h))/(2*h); !close(got, want, 1e-5) {
			t.Errorf("slope %v, want %v", got, want)
		}
	})
}

// Wherever the values change their sign there is one of the zeros.
func TestZerosAreAllThere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := anyTrig(t, rapid.IntRange(1, 8).Draw(t, "degree"), "f")
		zeros := f.zeros()
		const n = 3000
		for i := range n {
			a, b := 2*math.Pi*float64(i)/n, 2*math.Pi*float64(i+1)/n
			if (f.at(a) < 0) == (f.at(b) < 0) {
				continue
			}
			found := false
			for _, z := range zeros {
				found = found || z >= a-1e-9 && z <= b+1e-9 && math.Abs(f.at(z)) < 1e-8 || b > 2*math.Pi-1e-9 && z < 1e-9
			}
			if !found {
				t.Fatalf("no zero between %v and %v, but %v", a, b, zeros)
			}
		}
	})
}

// A double zero, where nothing changes its sign: 1 + cos y at pi, sin^2 (y - 1) at 1.
func TestDoubleZeros(t *testing.T) {
	square := wave(0, -math.Sin(1), math.Cos(1)) // sin(y - 1)
	for _, c := range []struct {
		f  trig
		at float64
	}{{wave(1, 1, 0), math.Pi}, {square.mul(square), 1}, {square.mul(square), 1 + math.Pi}} {
		found := false
		for _, z := range c.f.zeros() {
			found = found || close(z, c.at, 1e-6)
		}
		if !found {
			t.Errorf("no zero at %v among %v", c.at, c.f.zeros())
		}
	}
}

func anyReach(t *rapid.T, name string) reach {
	lo := rapid.Float64Range(-4, 4).Draw(t, name)
	length := rapid.SampledFrom([]float64{0, 0.3, 2, 2 * math.Pi}).Draw(t, name)
	return reach{lo, lo + length}
}

// The highest point is in the range and has its value, and nothing is higher on a grid
// that is refined again and again about its own best point.
func TestHighestIsHighest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := &surface{anyTrig(t, rapid.IntRange(0, 2).Draw(t, "degree"), "p"), anyTrig(t, rapid.IntRange(0, 2).Draw(t, "degree"), "q"),
			anyTrig(t, rapid.IntRange(0, 2).Draw(t, "degree"), "k")}
		x, y := anyReach(t, "x"), anyReach(t, "y")
		top := f.highest(x, y)
		if top.x < x.lo || top.x > x.hi || top.y < y.lo || top.y > y.hi {
			t.Fatalf("%+v is not within %v, %v", top, x, y)
		}
		if got := f.at(top.x, top.y); !close(got, top.value, 1e-12) {
			t.Fatalf("%v there, said %v", got, top.value)
		}
		if best := sampled(f, x, y); best > top.value+1e-9 {
			t.Fatalf("%v is found by sampling, and %v was said to be the highest", best, top.value)
		}
	})
}

// sampled returns the highest of a grid that is refined about its best point.
func sampled(f *surface, x, y reach) float64 {
	best := math.Inf(-1)
	bx, by := x, y
	for range 6 {
		const n = 40
		px, py := bx.lo, by.lo
		high := math.Inf(-1)
		for i := range n + 1 {
			for j := range n + 1 {
				u, v := bx.lo+(bx.hi-bx.lo)*float64(i)/n, by.lo+(by.hi-by.lo)*float64(j)/n
				if w := f.at(u, v); w > high {
					high, px, py = w, u, v
				}
			}
		}
		best = max(best, high)
		dx, dy := (bx.hi-bx.lo)*0.1, (by.hi-by.lo)*0.1
		bx, by = reach{max(x.lo, px-dx), min(x.hi, px+dx)}, reach{max(y.lo, py-dy), min(y.hi, py+dy)}
	}
	return best
}

func TestTurn(t *testing.T) {
	for _, c := range [][2]float64{{7, 0}, {-1, 0}, {1, 1}, {1, -100}, {-1e-17, 0}} {
		got := turn(c[0], c[1])
		if got < c[1] || got >= c[1]+2*math.Pi || !close(math.Mod(got-c[0]+200*math.Pi+1, 2*math.Pi), 1, 1e-9) {
			t.Errorf("turn(%v, %v) = %v", c[0], c[1], got)
		}
	}
}
