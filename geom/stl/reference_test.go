//go:build reference

package stl_test

import (
	"archive/zip"
	"bufio"
	"encoding/xml"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/golang/geo/r3"

	"gridswing/geom"
	"gridswing/geom/stl"
)

// referenceDir is what testdata/solids/fetch.sh filled.
func referenceDir(t *testing.T) string {
	t.Helper()
	dir := os.Getenv("GRIDSWING_REFERENCE_SOLIDS")
	if dir == "" {
		t.Fatal("GRIDSWING_REFERENCE_SOLIDS is not set; it names the directory that testdata/solids/fetch.sh filled")
	}
	return dir
}

// The volumes of npm node-stl 0.7.3 are those that its own tests publish, in cm3;
// the other figures are by a separate small reader written for the purpose.
func TestReferenceSTL(t *testing.T) {
	const (
		node     = "npm/node-stl/test/test_data/"
		openscad = "deb/usr/share/openscad/testdata/scad/"
		assimp   = "deb/usr/share/assimp/models/STL/"
	)
	for _, want := range []model{
		{file: node + "002.STL", facets: 40, euler: 0, volume: 48625.1007777451},
		{file: node + "WALLY_1plate.stl", facets: 382, euler: -4, volume: 22863.82329248822},
		{file: node + "RasPiCaseLight.stl", facets: 248, euler: 2, volume: 1091.9298479039214},
		// Two binary solids in one file; the first alone is open.
		{file: node + "box.stl", facets: 1656 + 288, euler: -4, volume: 139853},
		{file: "npm/bunny/bunny.stl", facets: 3674, euler: 2, volume: 194.28837, area: 218.68927},
		{file: "npm/stl-models/objects/bunny.bin.stl", facets: 69451, euler: -3, open: true},
		{file: "npm/stl-models/objects/bunny.ascii.stl", facets: 69451, euler: -3, open: true},
		{file: "deb/usr/share/doc/lib3mf-dev/examples/Files/Helix.stl", facets: 500, euler: 2, volume: 108196.54, area: 23574.964},
		{file: assimp + "sphereWithHole.stl", facets: 285, euler: -1, open: true},
		{file: openscad + "3D/features/import.stl", facets: 46, euler: 2, volume: 2.8710737, area: 10.489315},
		{file: openscad + "3D/features/import_bin.stl", facets: 46, euler: 2, volume: 2.8710737, area: 10.489315},
		{file: openscad + "3D/features/import_bin_solid.stl", facets: 46, euler: 2, volume: 2.8710737, area: 10.489315},
		{file: openscad + "bugs/issue1580-zero-area-triangle.stl", facets: 14, euler: 2, volume: 1000},
	} {
		t.Run(want.file, func(t *testing.T) {
			m, err := stl.ReadFile(filepath.Join(referenceDir(t), want.file))
			if err != nil {
				t.Fatal(err)
			}
			want.check(t, m, 1e-7) // those that publish a volume computed in float64
		})
	}
}

func TestReferenceRefused(t *testing.T) {
	for _, file := range []string{"empty.stl", "invalidvertex.stl", "toomanyvertices.stl"} {
		path := filepath.Join(referenceDir(t), "deb/usr/share/openscad/testdata/stl", file)
		if _, err := stl.ReadFile(path); err == nil {
			t.Errorf("%s is accepted", path)
		}
	}
}

// Figures by a separate small reader; P, corner, corner_poly, cross_quad,
// octahedron and cube-meshed are of known volume by their coordinates.
func TestReferenceOFF(t *testing.T) {
	for _, want := range []model{
		{file: "anchor", facets: 1050, euler: 2 - 2*4, volume: 0.14342796},
		{file: "joint", facets: 446, euler: 2 - 2*2, volume: 0.35949445},
		{file: "handle", facets: 2326, euler: 2, volume: 0.20686062},
		{file: "couplingdown", facets: 3714, euler: 2 - 2*9, volume: 0.19065984},
		{file: "rotor", facets: 1200, euler: 0, volume: 0.080637301},
		{file: "pinion", facets: 1300, euler: 0, volume: 0.82101357},
		{file: "spool", facets: 1294, euler: 2, volume: 0.16184968},
		{file: "part", facets: 346, euler: 2, volume: 0.071607988},
		{file: "pipe", facets: 320, euler: 0, volume: 0.21156703},
		{file: "fandisk", facets: 12946, euler: 2, volume: 0.14036032},
		{file: "elk", facets: 3290, euler: 0, volume: 421700.58},
		// Genus 0, but two of its vertices are at one place, where welding makes them one.
		{file: "cow", facets: 5804, euler: 1, volume: 0.046963997},
		{file: "octahedron", facets: 8, euler: 2, volume: 32. / 3},
		{file: "cube-meshed", facets: 1728, euler: 2, volume: 8},
		{file: "beam", facets: 12, euler: 2, volume: -0.576, inverted: true},
		{file: "tetrahedron", facets: 4, euler: 2, volume: -1. / 6, inverted: true},
	} {
		t.Run(want.file, func(t *testing.T) {
			want.check(t, readOFF(t, want.file), 5e-7)
		})
	}
}

func TestReferenceFaults(t *testing.T) {
	for _, file := range []string{"cube-ouvert", "open_cube", "corner_with_hole", "triangular_hole"} {
		if a := geom.AuditOf(readOFF(t, file)); a.Closed {
			t.Errorf("%s passes for closed", file)
		}
	}
	if a := geom.AuditOf(readOFF(t, "tet-shuffled")); !a.Closed || a.Oriented {
		t.Errorf("tet-shuffled: closed %v, oriented %v, want closed and not oriented", a.Closed, a.Oriented)
	}
	if a := geom.AuditOf(readOFF(t, "ellipe0.003")); !a.InsideOut {
		t.Error("ellipe0.003 passes for the right way out")
	}
	if a := geom.AuditOf(readOFF(t, "knot2")); !a.Closed || len(a.Shells) != 2 {
		t.Errorf("knot2: closed %v, %d shells, want closed and 2", a.Closed, len(a.Shells))
	}
}

// readOFF reads a polygon mesh in Object File Format, as the Geomview manual
// describes it, each polygon split into a fan.
func readOFF(t *testing.T, name string) *geom.Mesh {
	t.Helper()
	f, err := os.Open(filepath.Join(referenceDir(t), "deb/data/meshes", name+".off"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	in := bufio.NewReader(f)
	var nv, nf, ne int
	if _, err := fmt.Fscanf(in, "OFF\n%d %d %d\n", &nv, &nf, &ne); err != nil {
		t.Fatal(err)
	}
	vertices := make([]geom.Vertex, nv)
	for i := range vertices {
		var p r3.Vector
		if _, err := fmt.Fscan(in, &p.X, &p.Y, &p.Z); err != nil {
			t.Fatal(err)
		}
		vertices[i] = geom.VertexOf(p)
	}
	m := &geom.Mesh{}
	for range nf {
		var n int
		if _, err := fmt.Fscan(in, &n); err != nil {
			t.Fatal(err)
		}
		polygon := make([]int, n)
		for i := range polygon {
			if _, err := fmt.Fscan(in, &polygon[i]); err != nil {
				t.Fatal(err)
			}
		}
		for i := 2; i < n; i++ {
			m.Facets = append(m.Facets, geom.Facet{vertices[polygon[0]], vertices[polygon[i-1]], vertices[polygon[i]]})
		}
	}
	return m
}

// The same helix is published as STL and as 3MF (Debian lib3mf-doc 1.8.1): same
// facets, same size.
func TestReferenceCrossFormat(t *testing.T) {
	dir := filepath.Join(referenceDir(t), "deb/usr/share/doc/lib3mf-dev/examples/Files")
	fromSTL, err := stl.ReadFile(filepath.Join(dir, "Helix.stl"))
	if err != nil {
		t.Fatal(err)
	}
	a, b := geom.AuditOf(fromSTL), geom.AuditOf(read3MF(t, filepath.Join(dir, "Helix.3mf")))
	if a.Facets != b.Facets || a.Vertices != b.Vertices || a.Edges != b.Edges || !b.Closed {
		t.Errorf("STL %d facets, %d vertices, %d edges; 3MF %d, %d, %d, closed %v",
			a.Facets, a.Vertices, a.Edges, b.Facets, b.Vertices, b.Edges, b.Closed)
	}
	if !near(a.Volume, b.Volume, 1e-6) || !near(a.Area, b.Area, 1e-6) {
		t.Errorf("STL volume %g, area %g; 3MF %g, %g", a.Volume, a.Area, b.Volume, b.Area)
	}
}

// read3MF reads the meshes of a 3MF file (3MF core specification 1.4.0), which
// must be in mm and not transformed.
func read3MF(t *testing.T, path string) *geom.Mesh {
	t.Helper()
	archive, err := zip.OpenReader(path)
	if err != nil {
		t.Fatal(err)
	}
	defer archive.Close()
	f, err := archive.Open("3D/3dmodel.model")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var doc struct {
		Vertices []struct {
			X float32 `xml:"x,attr"`
			Y float32 `xml:"y,attr"`
			Z float32 `xml:"z,attr"`
		} `xml:"resources>object>mesh>vertices>vertex"`
		Triangles []struct {
			V1 int `xml:"v1,attr"`
			V2 int `xml:"v2,attr"`
			V3 int `xml:"v3,attr"`
		} `xml:"resources>object>mesh>triangles>triangle"`
	}
	if err := xml.NewDecoder(f).Decode(&doc); err != nil {
		t.Fatal(err)
	}
	m := &geom.Mesh{}
	at := func(i int) geom.Vertex { return geom.Vertex{doc.Vertices[i].X, doc.Vertices[i].Y, doc.Vertices[i].Z} }
	for _, f := range doc.Triangles {
		m.Facets = append(m.Facets, geom.Facet{at(f.V1), at(f.V2), at(f.V3)})
	}
	return m
}
