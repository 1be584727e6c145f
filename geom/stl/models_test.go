package stl_test

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"gridswing/geom"
	"gridswing/geom/stl"
)

// model is what is known of a published solid.
type model struct {
	file     string
	facets   int
	euler    int // vertices - edges + facets
	volume   float64
	area     float64
	open     bool
	inverted bool
}

// check reads the model and holds it to what is known, to 1e-7 or as given. An
// area of 0 is not known.
func (want model) check(t *testing.T, m *geom.Mesh, tolerance float64) {
	t.Helper()
	a := geom.AuditOf(m)
	if a.Facets != want.facets {
		t.Errorf("%d facets, want %d", a.Facets, want.facets)
	}
	if euler := a.Vertices - a.Edges + a.Facets; euler != want.euler {
		t.Errorf("V - E + F = %d, want %d", euler, want.euler)
	}
	if a.Closed == want.open || !a.Oriented || a.InsideOut != want.inverted {
		t.Errorf("closed %v, oriented %v, inside out %v: %q", a.Closed, a.Oriented, a.InsideOut, a.Faults())
	}
	if !near(a.Volume, want.volume, tolerance) {
		t.Errorf("volume %.12g, want %.12g", a.Volume, want.volume)
	}
	if mass := geom.MassOf(m); !want.open && !near(mass.Volume, want.volume, tolerance) {
		t.Errorf("volume by MassOf %.12g, want %.12g", mass.Volume, want.volume)
	}
	if want.area != 0 && !near(a.Area, want.area, tolerance) {
		t.Errorf("area %.12g, want %.12g", a.Area, want.area)
	}
}

func near(got, want, relative float64) bool {
	return math.Abs(got-want) <= relative*math.Abs(want)
}

const solids = "../../testdata/solids"

// Shapes of known volume by their names and coordinates; figures of the gearwheel
// from a separate small reader written for the purpose, which measured the
// package's files (version in testdata/solids/README.md).
var models = []model{
	{file: "stl-models/objects/gearwheel.bin.stl", facets: 2444, euler: 0, volume: 8922.6367, area: 4508.7344},
	{file: "stl-models/objects/gearwheel.ascii.stl", facets: 2444, euler: 0, volume: 8922.6369, area: 4508.7349},
	{file: "stl-models/polytopes/unitCube.ascii.stl", facets: 12, euler: 2, volume: 1, area: 6},
	{file: "stl-models/polytopes/unitCube.binary.stl", facets: 12, euler: 2, volume: 1, area: 6},
	{file: "stl-models/polytopes/cube.ascii.stl", facets: 12, euler: 2, volume: 8, area: 24},
	{file: "stl-models/polytopes/cube.bin.stl", facets: 12, euler: 2, volume: 8, area: 24},
	{file: "stl-models/polytopes/cubeLarge.ascii.stl", facets: 12, euler: 2, volume: 1e6, area: 6e4},
	{file: "stl-models/polytopes/tetrahedron.ascii.stl", facets: 4, euler: 2, volume: 1. / 6, area: 1.5 + math.Sqrt(0.75)},
	{file: "stl-models/polytopes/tetrahedron.min.ascii.stl", facets: 4, euler: 2, volume: 1. / 6, area: 1.5 + math.Sqrt(0.75)},
	{file: "stl-models/polytopes/tetrahedron.bin.stl", facets: 4, euler: 2, volume: 1. / 6, area: 1.5 + math.Sqrt(0.75)},
	{file: "stl-models/polytopes/tetrahedronIrregular.ascii.stl", facets: 4, euler: 2, volume: 1, area: 9},
	{file: "stl-models/polytopes/tetrahedronIrregular.bin.stl", facets: 4, euler: 2, volume: 1, area: 9},
	{file: "stl-models/polytopes/tetrahedronMinusZero.bin.stl", facets: 4, euler: 2, volume: 1. / 6, area: 1.5 + math.Sqrt(0.75)},
	{file: "stl-models/polytopes/triangle.ascii.stl", facets: 1, euler: 1, area: 0.5, open: true},
	{file: "stl-models/polytopes/triangle.bin.stl", facets: 1, euler: 1, area: 0.5, open: true},
	{file: "node-stl/box_2x3x4.stl", facets: 12, euler: 2, volume: 24, area: 52},
	// One corner is 1e-5 off in one direction: closed all the same.
	{file: "node-stl/box_3x3x3_offset.stl", facets: 12, euler: 2, volume: 27, area: 54},

	// Faults that are none here: normals and names are not used.
	{file: "stl-models/broken/missingNormal.ascii.stl", facets: 4, euler: 2, volume: 1. / 6},
	{file: "stl-models/broken/notANumberNormal.ascii.stl", facets: 4, euler: 2, volume: 1. / 6},
	{file: "stl-models/broken/wrongNormal.ascii.stl", facets: 4, euler: 2, volume: 1. / 6},
	{file: "stl-models/broken/wrongNormals.ascii.stl", facets: 4, euler: 2, volume: 1. / 6},
	{file: "stl-models/broken/solidNameMismatch.ascii.stl", facets: 4, euler: 2, volume: 1. / 6},
	{file: "stl-models/broken/wrongHeader.bin.stl", facets: 12, euler: 2, volume: 1e6},
	{file: "stl-models/misc/multiWordName.ascii.stl", facets: 4, euler: 2, volume: 1. / 6},
	{file: "stl-models/misc/namelessSolid.ascii.stl", facets: 4, euler: 2, volume: 1. / 6},
	// Faults of the solid, which are the audit's to tell.
	{file: "stl-models/broken/missingFace.ascii.stl", facets: 3, euler: 1, open: true},
	{file: "stl-models/broken/singleFace.ascii.stl", facets: 1, euler: 1, open: true},
}

// refused are the models that are not whole, with the place and what is said of it.
var refused = map[string]stl.Error{
	"stl-models/broken/empty.stl":                    {Facet: -1, Found: "an empty file", Expected: "an STL solid"},
	"stl-models/broken/fourVertices.ascii.stl":       {Line: 7, Column: 4, Offset: 129, Facet: 0, Found: `"vertex"`, Expected: `"endloop"`},
	"stl-models/broken/quad.ascii.stl":               {Line: 7, Column: 4, Offset: 105, Facet: 0, Found: `"vertex"`, Expected: `"endloop"`},
	"stl-models/broken/twoVertices.ascii.stl":        {Line: 6, Column: 3, Offset: 112, Facet: 0, Found: `"endloop"`, Expected: `"vertex"`},
	"stl-models/broken/missingEndsolid.ascii.stl":    {Line: 30, Column: 1, Offset: 452, Facet: -1, Found: "end of file", Expected: `"facet" or "endsolid"`},
	"stl-models/broken/incorrectFaceCounter.bin.stl": {Offset: 80, Facet: -1, Found: "a count of 66 facets", Expected: "at most 4, all that a file of 284 bytes has room for (it is truncated, or the count is wrong)"},
	"stl-models/misc/faceless.ascii.stl":             {Line: 3, Column: 1, Offset: 27, Facet: -1, Found: "end of file", Expected: "at least one facet"},
}

func TestModels(t *testing.T) {
	for _, want := range models {
		t.Run(want.file, func(t *testing.T) {
			m, err := stl.ReadFile(filepath.Join(solids, want.file))
			if err != nil {
				t.Fatal(err)
			}
			want.check(t, m, 3e-8)
		})
	}
}

func TestModelsRefused(t *testing.T) {
	for file, want := range refused {
		t.Run(file, func(t *testing.T) {
			path := filepath.Join(solids, file)
			m, err := stl.ReadFile(path)
			want.File = path
			var got *stl.Error
			if !errors.As(err, &got) || *got != want {
				t.Errorf("got  %#v\nwant %#v", err, &want)
			}
			if m != nil {
				t.Error("a mesh comes with the error")
			}
		})
	}
}

// Mangled: the bytes above 0x7f of a good file have been replaced by what stands
// for a bad character in UTF-8, so the coordinates are noise, and finite. All that
// can be told is that it is no solid.
func TestModelMangled(t *testing.T) {
	m, err := stl.ReadFile(filepath.Join(solids, "stl-models/misc/multiWordName.bin.stl"))
	if err != nil {
		t.Fatal(err)
	}
	if a := geom.AuditOf(m); a.Closed {
		t.Error("noise passes for a closed solid")
	}
}

// Every file of the folder is named above: none is kept for nothing.
func TestModelsComplete(t *testing.T) {
	var want []string
	for _, m := range models {
		want = append(want, m.file)
	}
	for file := range refused {
		want = append(want, file)
	}
	want = append(want, "stl-models/misc/multiWordName.bin.stl")
	var got []string
	for _, pattern := range []string{"*/*.stl", "*/*/*.stl"} {
		files, err := filepath.Glob(filepath.Join(solids, pattern))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			rel, err := filepath.Rel(solids, f)
			if err != nil {
				t.Fatal(err)
			}
			got = append(got, filepath.ToSlash(rel))
		}
	}
	slices.Sort(want)
	slices.Sort(got)
	if !slices.Equal(got, want) {
		t.Errorf("files\n%q\ntested\n%q", got, want)
	}
}

// ReadFS and Decode give what ReadFile gives.
func TestReadFS(t *testing.T) {
	for _, want := range models {
		byPath, err := stl.ReadFile(filepath.Join(solids, want.file))
		if err != nil {
			t.Fatal(err)
		}
		byName, err := stl.ReadFS(os.DirFS(solids), want.file)
		if err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile(filepath.Join(solids, want.file))
		if err != nil {
			t.Fatal(err)
		}
		decoded, err := stl.Decode(data, want.file)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(byPath.Facets, byName.Facets) || !slices.Equal(byPath.Facets, decoded.Facets) {
			t.Errorf("%s: three ways of reading give different meshes", want.file)
		}
	}
}

func ExampleReadFile() {
	m, err := stl.ReadFile("../../testdata/solids/node-stl/box_2x3x4.stl")
	if err != nil {
		fmt.Println(err)
		return
	}
	a := geom.AuditOf(m)
	fmt.Printf("%d facets, closed %v, %g mm3\n", a.Facets, a.Closed, a.Volume)
	// Output: 12 facets, closed true, 24 mm3
}
