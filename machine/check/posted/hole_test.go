package posted

import (
	"math"
	"testing"

	"gridswing/machine/check/internal/shoptest"
)

// A hole with its point of 118 degrees in two pecks, and back in rapid.
func TestDrilledHole(t *testing.T) {
	p := newScript(shoptest.Load(t, cutShop(), "setup.toml")).change(2)
	p.rapid(10, 5, 2).feed(10, 5, -8).rapid(10, 5, 2).rapid(10, 5, -7.5).feed(10, 5, -20).rapid(10, 5, 2).rapid(0, 0, 100)
	r, _ := p.run(t, Options{})
	point := 4 / math.Tan(59*math.Pi/180)
	removes(t, r, 2, math.Pi*16*(20-point)+math.Pi*16*point/3, 0.02)
}
