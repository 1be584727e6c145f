package fits

import (
	"math"
	"strings"
	"testing"
)

const arcsec = math.Pi / 180 / 3600

// Largest rotation (c1 + c2) / (2 L), sideways (|1 - x/L| c1 + |x/L| c2) / 2: from the
// definitions.
func TestPlay(t *testing.T) {
	for _, c := range []struct{ c1, c2, length, angle float64 }{
		{0.035, 0.035, 100, 72.193}, // 12 H7/g6
		{0.035, 0.035, 250, 28.877},
		{0.029, 0.029, 200, 29.908}, // 12 H7/h6
		{0.022, 0.022, 150, 30.252}, // 12 H6/h6
		{0.035, 0.018, 100, 54.660},
	} {
		p := play(t, Seat{Distance: c.length, Clearance: [2]Clearance{{Most: c.c1}, {Most: c.c2}}})
		if got := p.Angle / arcsec; math.Abs(got-c.angle) > 1e-3 {
			t.Errorf("%v: %.4f arcsec", c, got)
		}
		if p.Along != min(c.c1, c.c2)/2 {
			t.Errorf("%v: %v along the pins", c, p.Along)
		}
	}
	for clearances, want := range map[[2]float64][5]float64{
		{0.035, 0.035}: {0.0525, 0.0175, 0.0175, 0.0175, 0.0525},
		{0.035, 0.018}: {0.0440, 0.0175, 0.01325, 0.009, 0.0355},
	} {
		p := play(t, Seat{Distance: 100, Clearance: [2]Clearance{{Most: clearances[0]}, {Most: clearances[1]}}, Relief: &Relief{Bore: 12, Land: 2}})
		for i, x := range []float64{-100, 0, 50, 100, 200} {
			if got := p.Sideways(x); math.Abs(got-want[i]) > 1e-12 {
				t.Errorf("%v at %v mm: %v, want %v", clearances, x, got, want[i])
			}
		}
		if p.Along != clearances[0]/2 {
			t.Errorf("%v: %v along the pins, which the round one alone decides", clearances, p.Along)
		}
	}
}

func play(t *testing.T, s Seat) Play {
	t.Helper()
	p, err := s.Play()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Zones of the holes add to the clearances, a spread only to how far the second pin holds.
func TestPlayOfZones(t *testing.T) {
	s := Seat{Distance: 200, Clearance: [2]Clearance{{Most: 0.035}, {Most: 0.015}}, Position: [2]float64{0.01, 0.02}, Spread: 0.004}
	p := play(t, s)
	if math.Abs(p.Across[0]-0.0225) > 1e-15 || math.Abs(p.Across[1]-0.0175) > 1e-15 ||
		math.Abs(p.Along-0.0215) > 1e-15 || math.Abs(p.Angle-math.Asin(0.04/200)) > 1e-15 {
		t.Errorf("%+v", p)
	}
	s.Clearance[0], s.Clearance[1] = s.Clearance[1], s.Clearance[0]
	s.Position[0], s.Position[1] = s.Position[1], s.Position[0]
	if q := play(t, s); q.Angle != p.Angle || math.Abs(q.Sideways(250)-p.Sideways(-50)) > 1e-15 {
		t.Errorf("pins exchanged: %+v, was %+v", q, p)
	}
}

// No position that two pins allow is outside of what Play says: the pins anywhere on their
// circles, the component laid through them, rigid.
func TestPlayHolds(t *testing.T) {
	s := Seat{Distance: 80, Clearance: [2]Clearance{{Most: 0.2}, {Most: 0.12}}}
	p := play(t, s)
	const n = 720
	for i := range n {
		a := 2 * math.Pi * float64(i) / n
		first := [2]float64{0.1 * math.Cos(a), 0.1 * math.Sin(a)}
		for j := -20; j <= 20; j++ {
			angle := p.Angle * float64(j) / 20 * 1.001
			second := [2]float64{first[0] + s.Distance*math.Cos(angle) - s.Distance, first[1] + s.Distance*math.Sin(angle)}
			if math.Hypot(second[0], second[1]) > 0.06 {
				continue // the second pin does not allow it
			}
			for _, x := range []float64{-100, -10, 30, 80, 300} {
				if y := math.Abs(first[1] + x*math.Sin(angle)); y > p.Sideways(x)*(1+1e-9) {
					t.Fatalf("%v at %v: %v off, %v said", first, x, y, p.Sideways(x))
				}
			}
			if math.Abs(first[0]) > p.Along+s.Distance*(1-math.Cos(angle)) || math.Abs(angle) > p.Angle {
				t.Fatalf("%v, %v: outside of %+v", first, angle, p)
			}
		}
	}
}

func TestNoSeat(t *testing.T) {
	for want, s := range map[string]Seat{
		"pin 2: clearance -0.01": {Distance: 100, Clearance: [2]Clearance{{}, {Least: -0.03, Most: -0.01}}},
		"pin 1: clearance 0":     {Distance: 100, Position: [2]float64{-1, 0}},
		"pins 0.05 mm apart":     {Distance: 0.05, Clearance: [2]Clearance{{Most: 0.05}, {Most: 0.05}}},
		"pins NaN mm apart":      {Distance: math.NaN()},
		"pin 1: clearance NaN":   {Distance: 100, Clearance: [2]Clearance{{Most: math.NaN()}, {}}},
	} {
		if _, err := s.Play(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want ... %s ...", err, want)
		}
	}
}

// The land's corner on the bore's circle: from the geometry. About D c / (2 T).
func TestLand(t *testing.T) {
	for _, c := range []struct{ bore, clearance, offset, land, about float64 }{
		{12, 0.006, 0.02, 1.7796, 1.8}, {12, 0.006, 0.05, 0.6698, 0.72},
		{10, 0.020, 0.05, 1.9480, 2.0}, {10, 0.025, 0.10, 1.1484, 1.25},
	} {
		got := Land(c.bore, c.clearance, c.offset)
		if math.Abs(got-c.land) > 6e-5 || got > c.about || math.Abs(c.bore*c.clearance/2/c.offset-c.about) > 1e-12 {
			t.Errorf("%v: land %.5f", c, got)
		}
		if back := Offset(c.bore, c.clearance, got); math.Abs(back-c.offset) > 1e-12 {
			t.Errorf("%v: a land of %v takes %v", c, got, back)
		}
		// Where it is said to touch it does, and a little farther off it is outside.
		r, pin := c.bore/2, (c.bore-c.clearance)/2
		if d := math.Hypot(got/2+c.offset, math.Sqrt(pin*pin-got*got/4)); math.Abs(d-r) > 1e-12 {
			t.Errorf("%v: the corner is %v from the bore's middle", c, d)
		}
	}
	if got := Land(10, 0, 0.1); got > 0 {
		t.Errorf("no clearance, land %v", got)
	}
	if got := Offset(10, -0.01, 2); got != 0 {
		t.Errorf("interference takes %v", got)
	}
}

// Two round pins go in while the spacing error is at most half the sum of their clearances;
// a relieved one takes more.
func TestSpare(t *testing.T) {
	s := Seat{Distance: 100, Clearance: [2]Clearance{{0.006, 0.035}, {0.006, 0.035}}, Position: [2]float64{0.02, 0.02}}
	if got := s.Spare(); math.Abs(got-(0.006-0.02)) > 1e-15 {
		t.Errorf("two round pins: %v", got)
	}
	s.Relief = &Relief{Bore: 12, Land: 1.7796}
	if got := s.Spare(); math.Abs(got-(0.003+0.02-0.02)) > 1e-6 {
		t.Errorf("round and relieved: %v", got)
	}
	was := s.Spare()
	s.Spread = 0.01
	if got := s.Spare(); math.Abs(was-got-0.01) > 1e-15 {
		t.Errorf("with a spread of 0.01: %v, was %v", got, was)
	}
}

// Gere, "Mechanics of Materials", appendix H: aluminium 23e-6, steel 12e-6: over 250 mm and
// 10 K the difference is 0.0275 mm.
func TestMismatch(t *testing.T) {
	got, err := Mismatch(250, "aluminium", 10, "steel", 10)
	if err != nil || math.Abs(got-0.0275) > 1e-12 {
		t.Errorf("%v, %v", got, err)
	}
	back, _ := Mismatch(250, "steel", 10, "aluminium", 10)
	if same, _ := Mismatch(250, "steel", 10, "steel", 10); back != -got || same != 0 {
		t.Errorf("the other way round %v, the same material %v", back, same)
	}
	if one, _ := Mismatch(100, "steel", 5, "steel", 0); math.Abs(one-0.006) > 1e-12 {
		t.Errorf("plate alone 5 K warmer: %v", one)
	}
	for _, pair := range [][2]string{{"oak", "steel"}, {"steel", "oak"}} {
		if _, err := Mismatch(1, pair[0], 1, pair[1], 1); err == nil || !strings.Contains(err.Error(), `"oak", expected one whose thermal expansion is known: acetal, aluminium,`) {
			t.Errorf("%v", err)
		}
	}
}
