package pictures

import (
	"context"
	"fmt"
	"math"
	"strings"

	"gridswing/machine/check"
	"gridswing/render/chart"
	"gridswing/render/ink"
)

// moments returns the charts of the moments about tilt axes, unit by unit.
func moments(r *check.Report) (list []*chart.Moment) {
	if r.Loads == nil {
		return nil
	}
	for i := range r.Loads.Units {
		if u := &r.Loads.Units[i]; u.Envelope != nil {
			list = append(list, moment(r, u))
		}
	}
	return list
}

// momentSheets are the pictures of them.
func momentSheets(r *check.Report) (list []sheet) {
	for i, c := range moments(r) {
		name := "loads"
		if i > 0 {
			name = fmt.Sprintf("loads-%d", i+1)
		}
		list = append(list, sheet{name, c.Draw})
	}
	return list
}

// momentFigures are the figures of them.
func momentFigures(r *check.Report) (list []Figure) {
	for _, c := range moments(r) {
		c.Bare = true
		list = append(list, Figure{Kind: MomentFigure, Title: c.Title, Words: lines(c.Caption), Aspect: 16.0 / 9, Draw: func(ctx context.Context, s ink.Surface) error {
			c.Lettering = lettering(s)
			return c.DrawOn(ctx, s)
		}})
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
