package peer_test

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"gridswing/geom"
	"gridswing/geom/stl"

	"github.com/golang/geo/r3"
)

// TestMassesAreThoseOfTheLibrary compares volume, middle and inertia of the solids here and of
// some of the demo with those that the Flexible Collision Library 0.7.0 computes of the same
// files (mass/masses.csv, made by mass/mass.cpp; README.md tells how).
func TestMassesAreThoseOfTheLibrary(t *testing.T) {
	f, err := os.Open(filepath.Join("mass", "masses.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil || len(lines) < 10 {
		t.Fatal(len(lines), err)
	}
	for _, line := range lines[1:] {
		path := filepath.Join("meshes", line[0])
		if _, err := os.Stat(path); err != nil {
			path = filepath.Join("..", "..", "models", "demo", "solids", line[0])
		}
		mesh, err := stl.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		var want [10]float64
		for i := range want {
			if want[i], err = strconv.ParseFloat(line[i+1], 64); err != nil {
				t.Fatal(err)
			}
		}
		compare(t, line[0], geom.MassOf(mesh), want)
	}
}

// compare holds a volume to 1e-10 of it, the middle to 1e-8 mm, the inertia to 1e-9 of its trace.
func compare(t *testing.T, name string, got geom.Mass, want [10]float64) {
	if d := math.Abs(got.Volume - want[0]); d > 1e-10*want[0] {
		t.Errorf("%s: volume %.17g, want %.17g", name, got.Volume, want[0])
	}
	middle := r3.Vector{X: want[1], Y: want[2], Z: want[3]}
	if d := got.Centroid.Sub(middle).Norm(); d > 1e-8 {
		t.Errorf("%s: middle %v, want %v, off by %g", name, got.Centroid, middle, d)
	}
	i := got.Inertia
	trace := want[4] + want[5] + want[6]
	for k, v := range []float64{i[0][0], i[1][1], i[2][2], i[0][1], i[0][2], i[1][2]} {
		if d := math.Abs(v - want[4+k]); d > 1e-9*trace {
			t.Errorf("%s: inertia %d is %.17g, want %.17g", name, k, v, want[4+k])
		}
	}
}
