package render

import (
	"testing"
	"time"

	"gridswing/render/raster"

	"github.com/golang/geo/r3"
)

func TestScratch(t *testing.T) {
	r := newRig(t)
	for _, v := range Views() {
		it := r.items(60, 30)
		it[1].Emphasis = Contact
		it[4].Emphasis = Contact
		it[2].Emphasis = Tight
		p := Picture{Title: "Setup 'housing, second side': contact", Caption: []string{"A +60.0°  C 30.0°  ·  X 0  Y 0  Z 600 mm", "Demanded clearance 2 mm; faceplate meets grid plate"}, Items: it, View: v,
			Marks: []Mark{{Point: it[4].Pose.Point(r.faceplate.Bounds().Center()), Label: "1  X 0.0  Y -40.0  Z 40.0"}}}
		t0 := time.Now()
		img, err := p.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		t1 := time.Now()
		if err := WritePNG("/tmp/r_"+string(v)+".png", img); err != nil {
			t.Fatal(err)
		}
		t.Log(v, t1.Sub(t0), time.Since(t1))
	}
}

func TestScratchClose(t *testing.T) {
	r := newRig(t)
	for _, v := range Views() {
		it := r.items(85, 30)
		it[2].Emphasis = Contact
		it[4].Emphasis = Contact
		c := r3.Vector{X: 20, Y: 85, Z: 65}
		p := Picture{Title: "Close-up: trunnion cradle meets grid plate", Caption: []string{"A +75.0°  C 30.0°"}, Items: it, View: v,
			Close: &CloseUp{Center: c, Radius: 45, Across: r3.Vector{Z: 1}},
			Marks: []Mark{{Point: c, Label: "1  contact"}}}
		img, err := p.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if err := WritePNG("/tmp/c_"+string(v)+".png", img); err != nil {
			t.Fatal(err)
		}
	}
}
func BenchmarkScratch(b *testing.B) {
	r := newRig(b)
	n := 0
	it := r.items(60, 30)
	for i := range it {
		n += r.count(it[i].Shape)
	}
	b.Log(n)
	it[1].Emphasis = Contact
	it[4].Emphasis = Contact
	it[2].Emphasis = Tight
	p := Picture{Title: "Setup", Items: it}
	for b.Loop() {
		p.Draw(b.Context())
	}
}
func (r rig) count(s *raster.Shape) int { return s.Facets() }
