package pictures

import (
	"slices"
	"testing"

	"gridswing/cmd/gridswing/internal/specimen"
	"gridswing/machine/check"
	"gridswing/render/chart"
)

// One chart for each unit whose moment is known, under names of their own; none without.
func TestMomentCharts(t *testing.T) {
	r := &check.Report{Loads: specimen.Loads(), Setup: "a setup", Machine: "a mill"}
	names := func() (list []string) {
		for _, s := range momentSheets(r) {
			list = append(list, s.name)
			if _, err := s.draw(t.Context()); err != nil {
				t.Error(err)
			}
		}
		return list
	}
	if got := names(); !slices.Equal(got, []string{"loads"}) {
		t.Errorf("charts %q", got)
	}
	r.Loads.Units[1].Envelope = r.Loads.Units[0].Envelope
	if got := names(); !slices.Equal(got, []string{"loads", "loads-2"}) {
		t.Errorf("charts %q", got)
	}
	r.Loads = nil
	if got := names(); len(got) != 0 {
		t.Errorf("charts %q without loads", got)
	}
}

// The chart says what became of the rating, over what the envelope is, and where it is worst.
func TestMomentChart(t *testing.T) {
	r := &check.Report{Loads: specimen.Loads(), Setup: "a setup", Machine: "a mill"}
	m := moment(r, &r.Loads.Units[0])
	if want := "Moment about A of trunnion: overload"; m.Title != want {
		t.Errorf("title %q, want %q", m.Title, want)
	}
	want := []string{"a setup, a mill.", "Weights as modelled; no cutting forces. What trunnion itself moves is counted."}
	if !slices.Equal(m.Caption, want) {
		t.Errorf("caption %q, want %q", m.Caption, want)
	}
	if m.Rating != 40 || !m.Moving || m.Over != "C 0 to 360°" || len(m.Points) != 2 || m.Points[1] != (chart.MomentPoint{Tilt: 110, Least: 30, Greatest: 41, Lowest: 26, Highest: 45}) {
		t.Errorf("%+v", m)
	}
	if len(m.Marks) != 2 || m.Marks[0] != (chart.MomentMark{Tilt: 80.537678, Moment: 41.756066, Label: "41.76 N m: A 80.54°, C 180°"}) {
		t.Errorf("marks %+v", m.Marks)
	}
	e := r.Loads.Units[0].Envelope
	e.Rating, e.Moving, e.Own, e.Rotary.To = nil, nil, false, 0
	r.Loads.Rated = nil
	m = moment(r, &r.Loads.Units[0])
	if m.Title != "Moment about A of trunnion: no rating given" || m.Rating != 0 || m.Moving || m.Over != "" || len(m.Marks) != 1 {
		t.Errorf("%+v", m)
	}
}
