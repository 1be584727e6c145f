package loads

import (
	"math"
	"slices"
)

// trig is a trigonometric polynomial: the sum over k of
//
//	cos[k] cos(k y) + sin[k] sin(k y),
//
// both lists equally long, sin[0] without meaning.
type trig struct{ cos, sin []float64 }

// constant returns the one of degree 0.
func constant(c float64) trig { return trig{[]float64{c}, []float64{0}} }

// wave returns a + b cos y + c sin y.
func wave(a, b, c float64) trig { return trig{[]float64{a, b}, []float64{0, c}} }

func (f trig) degree() int { return len(f.cos) - 1 }

func (f trig) at(y float64) float64 {
	sum := f.cos[0]
	for k := 1; k < len(f.cos); k++ {
		sin, cos := math.Sincos(float64(k) * y)
		sum += f.cos[k]*cos + f.sin[k]*sin
	}
	return sum
}

// zeroTrig returns one of the given degree that is 0 everywhere.
func zeroTrig(degree int) trig { return trig{make([]float64, degree+1), make([]float64, degree+1)} }

// plus returns f + s g.
func (f trig) plus(s float64, g trig) trig {
	sum := zeroTrig(max(f.degree(), g.degree()))
	copy(sum.cos, f.cos)
	copy(sum.sin, f.sin)
	for k := range g.cos {
		sum.cos[k] += s * g.cos[k]
		sum.sin[k] += s * g.sin[k]
	}
	return sum
}

func (f trig) times(s float64) trig { return zeroTrig(0).plus(s, f) }

// mul returns f g, by the theorems for products of sines and cosines.
func (f trig) mul(g trig) trig {
	product := zeroTrig(f.degree() + g.degree())
	for i := range f.cos {
		for j := range g.cos {
			cc, ss := f.cos[i]*g.cos[j]/2, f.sin[i]*g.sin[j]/2
			sc, cs := f.sin[i]*g.cos[j]/2, f.cos[i]*g.sin[j]/2
			if i == 0 {
				ss, sc = 0, 0
			}
			if j == 0 {
				ss, cs = 0, 0
			}
			product.cos[i+j] += cc - ss
			product.sin[i+j] += sc + cs
			if i >= j {
				product.cos[i-j] += cc + ss
				product.sin[i-j] += sc - cs
			} else {
				product.cos[j-i] += cc + ss
				product.sin[j-i] += cs - sc
			}
		}
	}
	product.sin[0] = 0
	return product
}

// slope returns the derivative.
func (f trig) slope() trig {
	d := zeroTrig(f.degree())
	for k := range f.cos {
		d.cos[k] = float64(k) * f.sin[k]
		d.sin[k] = -float64(k) * f.cos[k]
	}
	return d
}

// zeros returns points of [0, 2 pi) among which are all the zeros of f, unless f is 0
// everywhere; others may be among them. With t = tan(y/2),
//
//	cos y = (1 - t^2) / (1 + t^2),  sin y = 2 t / (1 + t^2),
//
// f is a polynomial of twice its degree in t over a power of 1 + t^2. The half of the
// circle about 0 is t in [-1, 1]; the other half is so, too, seen from pi.
func (f trig) zeros() (list []float64) {
	opposite := zeroTrig(f.degree()) // f(y + pi)
	for k := range f.cos {
		sign := float64(1 - 2*(k%2))
		opposite.cos[k], opposite.sin[k] = sign*f.cos[k], sign*f.sin[k]
	}
	for half, g := range []trig{f, opposite} {
		for _, t := range roots(g.inTangent()) {
			list = append(list, turn(2*math.Atan(t)+float64(half)*math.Pi, 0))
		}
	}
	return list
}

// inTangent returns the coefficients in t, lowest power first, of f (1 + t^2)^degree.
// cos(k y) + i sin(k y) is ((1 + i t)^2 / (1 + t^2))^k.
func (f trig) inTangent() []float64 {
	n := f.degree()
	sum := make([]float64, 2*n+1)
	power := []complex128{1} // (1 + i t)^2k
	for k := 0; k <= n; k++ {
		rest := slices.Clone(power)
		for range n - k {
			rest = multiply(rest, []complex128{1, 0, 1})
		}
		for i, c := range rest {
			sum[i] += f.cos[k] * real(c)
			if k > 0 {
				sum[i] += f.sin[k] * imag(c)
			}
		}
		power = multiply(power, []complex128{1, 2i, -1})
	}
	return sum
}

func multiply(a, b []complex128) []complex128 {
	product := make([]complex128, len(a)+len(b)-1)
	for i, x := range a {
		for j, y := range b {
			product[i+j] += x * y
		}
	}
	return product
}

// roots returns points of [-1, 1] among which are all the roots of a polynomial, lowest
// power first, in that stretch: its ends, what is returned of the derivative, and
// between each two of those, where the polynomial is monotonic, the one root that there
// can be. A double root is a root of the derivative.
func roots(p []float64) []float64 {
	if len(p) < 2 {
		return []float64{-1, 1}
	}
	slope := make([]float64, len(p)-1)
	for i := range slope {
		slope[i] = float64(i+1) * p[i+1]
	}
	points := roots(slope)
	list := slices.Clone(points)
	for i := 1; i < len(points); i++ {
		lo, hi := points[i-1], points[i]
		below := horner(p, lo) < 0
		if below == (horner(p, hi) < 0) {
			continue
		}
		for {
			mid := lo + (hi-lo)/2
			if mid <= lo || mid >= hi {
				break
			}
			if (horner(p, mid) < 0) == below {
				lo = mid
			} else {
				hi = mid
			}
		}
		list = append(list, lo)
	}
	slices.Sort(list)
	return slices.Compact(list)
}

func horner(p []float64, t float64) float64 {
	sum := 0.0
	for i := len(p) - 1; i >= 0; i-- {
		sum = sum*t + p[i]
	}
	return sum
}

// turn returns the angle, give or take whole turns, that lies in [from, from + 2 pi).
func turn(angle, from float64) float64 {
	a := angle - 2*math.Pi*math.Floor((angle-from)/(2*math.Pi))
	if a >= from+2*math.Pi { // rounding
		a -= 2 * math.Pi
	}
	return max(a, from)
}
