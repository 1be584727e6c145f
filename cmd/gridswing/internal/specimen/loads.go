package specimen

import "gridswing/machine/check"

// Loads returns what is carried by a trunnion that is rated for too little about its tilt
// axis, by another one without ratings whose part nobody has weighed, and by the table.
func Loads() *check.Loads {
	verdict := func(v check.Verdict) *check.Verdict { return &v }
	line := func(kind, axis, measure string, load, rating float64, v check.Verdict, at ...check.Position) check.Rated {
		return check.Rated{Unit: "trunnion", Kind: kind, Axis: axis, Measure: measure, Load: mm(load), Rating: mm(rating), Margin: mm(rating - load), At: at, Verdict: verdict(v)}
	}
	table := line(check.TableLoad, "", "kg", 308.071, 800, check.Clear)
	table.Unit = "machine"
	tilt := line(check.TiltMoment, "A", "N m", 41.756066, 40, check.Overload, deg(80.537678, 180)...)
	tilt.Own = true
	moving := tilt
	moving.Inertia, moving.Load, moving.Margin = true, mm(45.12), mm(-5.12)
	rotary := line(check.RotaryMoment, "C", "N m", 5.3345, 60, check.Unproven, deg(90, 90)...)
	rotary.Rating, rotary.Margin, rotary.Reason, rotary.Own = nil, nil, "no rating given", true
	unknown := check.Rated{Unit: "second trunnion", Kind: check.FaceplateLoad, Measure: "kg", At: []check.Position{}, Reason: "mass not known: part (neither mass nor material)"}
	rotaryRange := check.Range{Axis: "C", From: 0, To: 360, Unit: "deg"}
	return &check.Loads{
		Rated: []check.Rated{table, line(check.FaceplateLoad, "", "kg", 35, 80, check.Clear, deg(90, 0)[:1]...), tilt, moving, rotary,
			line(check.FaceplateMoment, "", "N m", 41.8, 250, check.Clear, deg(80, 90)...), unknown},
		Units: []check.UnitLoad{
			{Unit: "trunnion", Carried: &check.Weight{Mass: 35, Centre: [3]float64{0, 20, 355}}, Own: &check.Weight{Mass: 81.751, Centre: [3]float64{0, 0, 183.2}},
				Envelope: &check.Envelope{Tilt: check.Range{Axis: "A", From: -20, To: 110, Unit: "deg"}, Rotary: &rotaryRange, Own: true, Rating: mm(40),
					Points: []check.EnvelopePoint{{Tilt: -20, Least: -20, Greatest: 6, Lowest: -24, Highest: 10}, {Tilt: 110, Least: 30, Greatest: 41, Lowest: 26, Highest: 45}},
					Worst:  deg(80.537678, 180), Most: 41.756066, Moving: &check.EnvelopeExtreme{At: deg(80.5, 180), Moment: 45.12}}},
			{Unit: "second trunnion", Own: &check.Weight{}, Unknown: []string{"part (neither mass nor material)"}},
		},
		Counterweight: &check.Counterweight{On: "trunnion/faceplate holes", Axis: "C", Radius: 85, Mass: 6.4012, Angle: 225, Length: 415.307, Without: 544.102, Carried: 41.4012},
		Notes:         []string{"weights as modelled, gravity 9.80665 m/s2"},
	}
}
