package chart

import (
	"testing"

	"gridswing/render/internal/proof"
	"gridswing/render/page"
)

// charts returns the charts that are in testdata, by their names there, at full size.
func charts() map[string]drawn {
	all, _ := pictures()
	for name, s := range map[string]*Swing{"field": invented(70, 60), "coarse": invented(14, 9), "tilt": invented(70, 1), "rotary": invented(1, 60)} {
		if s.Rows == 1 {
			s.Cap = 12
		}
		all[name] = s
	}
	short := program()
	short.Cells, short.Marks, short.Cap = short.Cells[100:101], nil, 4
	for name, c := range map[string]drawn{"moment-over": pull(40, true), "moment-within": pull(90, true), "moment-unrated": pull(0, false),
		"run": program(), "run-cut": cut(), "run-short": short} {
		all[name] = c
	}
	for _, c := range all {
		switch c := c.(type) {
		case *Swing:
			c.Width, c.Height = 0, 0
		case *Moment:
			c.Width, c.Height = 0, 0
		case *SeatMap:
			c.Width, c.Height = 0, 0
		case *HeatMap:
			c.Width, c.Height = 0, 0
		case *HeightStrip:
			c.Width = 0
		case *Run:
			c.Width = 0
		}
	}
	return all
}

// What is drawn on a plate and printed looks as it does on pixels.
func TestPrintedCharts(t *testing.T) {
	for name, c := range charts() {
		img, err := c.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		p := page.NewPlate(float64(img.Rect.Dx()), float64(img.Rect.Dy()))
		if err := c.DrawOn(t.Context(), p); err != nil {
			t.Fatal(err)
		}
		proof.Same(t, name, img, proof.Print(t, p.Drawing(180), img.Rect.Dx()))
	}
}
