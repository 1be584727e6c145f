package pictures

import (
	"gridswing/geom/envelope"
	"gridswing/machine"
	"gridswing/machine/check"
)

// sweptLoad returns the space that what the rotary axis of a report's chart carries sweeps, over the tilt that is
// commanded; nil if the report has no such two axes, or something is not carried so.
func sweptLoad(s *machine.Setup, r *check.Report) *envelope.Hull {
	if r.Chart == nil || r.Chart.Rotary == nil {
		return nil
	}
	index := func(letter string) int {
		for k := range s.Axes {
			if s.Axes[k].Letter == letter {
				return k
			}
		}
		return -1
	}
	tilt, rotary := index(r.Chart.Tilt.Axis), index(r.Chart.Rotary.Axis)
	if tilt < 0 || rotary < 0 {
		return nil
	}
	var loads []envelope.Load
	for i := range s.Bodies {
		b := &s.Bodies[i]
		for _, j := range b.Chain.Joints {
			if j.Gain[rotary] != 0 && !b.OnTool {
				loads = append(loads, envelope.Load{Mesh: b.Solid.Mesh, Chain: b.Chain, Margin: b.Solid.ChordError})
				break
			}
		}
	}
	at := s.Axes[tilt].Commanded
	hull, err := envelope.Of(loads, envelope.Sweep{Tilt: tilt, Rotary: rotary, Lo: at[0], Hi: at[1], At: Home(s)})
	if err != nil {
		return nil // it is shown only where it can be told
	}
	return hull
}
