package pictures

import (
	"fmt"
	"math"
	"strings"

	"gridswing/machine/check"
	"gridswing/render/chart"
)

// moments returns the charts of the moments about tilt axes, unit by unit.
func (sc *Scene) moments(r *check.Report) (list []sheet) {
	if r.Loads == nil {
		return nil
	}
	for i := range r.Loads.Units {
		u := &r.Loads.Units[i]
		if u.Envelope == nil {
			continue
		}
		name := "loads"
		if len(list) > 0 {
			name = fmt.Sprintf("loads-%d", len(list)+1)
		}
		list = append(list, sheet{name, moment(r, u).Draw})
	}
	return list
}

// moment returns the chart of one unit.
func moment(r *check.Report, u *check.UnitLoad) *chart.Moment {
	e := u.Envelope
	m := &chart.Moment{
		Title: fmt.Sprintf("Moment about %s of %s: %s", e.Tilt.Axis, u.Unit, momentWords(r, u)),
		Caption: []string{
			r.Setup + ", " + r.Machine + ".",
			"Weights as modelled; no cutting forces. " + ownWords(e.Own, u.Unit),
		},
		Tilt:   chart.Axis{Name: e.Tilt.Axis, Lo: e.Tilt.From, Hi: e.Tilt.To},
		Moving: e.Moving != nil,
	}
	if e.Rotary != nil && e.Rotary.From < e.Rotary.To {
		m.Over = fmt.Sprintf("%s %s to %s°", e.Rotary.Axis, number(e.Rotary.From), number(e.Rotary.To))
	}
	if e.Rating != nil {
		m.Rating = *e.Rating
	}
	for _, p := range e.Points {
		m.Points = append(m.Points, chart.MomentPoint{Tilt: p.Tilt, Least: p.Least, Greatest: p.Greatest, Lowest: p.Lowest, Highest: p.Highest})
	}
	m.Marks = append(m.Marks, momentMark(e.Worst, e.Most))
	if e.Moving != nil {
		m.Marks = append(m.Marks, momentMark(e.Moving.At, e.Moving.Moment))
	}
	return m
}

// momentWords says what became of the rating: the worst verdict on the moment.
func momentWords(r *check.Report, u *check.UnitLoad) string {
	words, worst := "no rating given", check.Clear
	for i := range r.Loads.Rated {
		q := &r.Loads.Rated[i]
		if q.Unit != u.Unit || q.Kind != check.TiltMoment || q.Verdict == nil || q.Rating == nil {
			continue
		}
		if q.Verdict.Worse(worst) {
			worst = *q.Verdict
		}
		words = worst.String()
	}
	return words
}

func ownWords(own bool, unit string) string {
	if own {
		return "What " + unit + " itself moves is counted."
	}
	return "What " + unit + " itself moves is not counted."
}

// momentMark marks the largest moment and says where it is: tilt first, then the rotary axis.
func momentMark(at []check.Position, moment float64) chart.MomentMark {
	var where []string
	for _, p := range at {
		p.Value = math.Round(p.Value*100) / 100 // as the report prints it: 359.999 is 0
		where = append(where, p.Axis+" "+number(p.Shown())+"°")
	}
	return chart.MomentMark{Tilt: at[0].Value, Moment: moment, Label: fmt.Sprintf("%s N m: %s", number(moment), strings.Join(where, ", "))}
}
