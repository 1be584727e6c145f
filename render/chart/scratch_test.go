package chart

import (
	"math"
	"testing"

	"gridswing/render"
)

func demo(cols, rows int) *Swing {
	s := &Swing{Title: "Swing of 'housing, second side'", Caption: []string{
		"Trunnion TR-2 on grid plate, riser 40, vise V-1. Demanded clearance 2 mm. Index position: Z 0, X and Y anywhere.",
		"Smallest clearance over the whole range: contact at A 92.5°, C 41.0° (faceplate, base)."},
		Tilt: Axis{"A tilt", -30, 110}, Rotary: Axis{"C rotary", 0, 360}, Columns: cols, Rows: rows, Demand: 2, Cap: 20}
	for r := range rows {
		for c := range cols {
			a := -30 + 140*(float64(c)+.5)/float64(cols)
			b := 360 * (float64(r) + .5) / float64(rows)
			d := 30 - math.Abs(a-20)*0.28 - 8*math.Pow(math.Abs(math.Sin(2*b*math.Pi/180)), 1.5) - 2*math.Cos(b*math.Pi/180)
			st := Clear
			switch {
			case d < 0:
				st = Contact
			case d < 0.3:
				st = WithinPlay
			case d < 2:
				st = Tight
			}
			if a < -25 && b > 250 && b < 300 {
				st = Unproven
			}
			if a < -27 && b < 40 {
				st = OverTravel
			}
			s.Cells = append(s.Cells, Cell{State: st, Lower: d * 0.95, Upper: d})
		}
	}
	s.Marks = []Mark{{92.5, 41, "1  faceplate meets base"}, {-29.9, 359, "2  0.8 mm: vise, column"}, {100, 315, "3  riser meets base"}}
	return s
}

func TestScratch(t *testing.T) {
	for name, s := range map[string]*Swing{"field": demo(140, 120), "strip": demo(140, 1), "coarse": demo(14, 9), "col": demo(1, 60)} {
		img, err := s.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if err := render.WritePNG("/tmp/s_"+name+".png", img); err != nil {
			t.Fatal(err)
		}
	}
}

func BenchmarkScratch(b *testing.B) {
	s := demo(140, 120)
	for b.Loop() {
		s.Draw(b.Context())
	}
}
