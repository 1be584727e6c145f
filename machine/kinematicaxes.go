package machine

import (
	"strings"

	"gridswing/geom/motion"
	"gridswing/machine/kinematics"
)

// KinematicAxes tells the kinematics about the axes. U, V and W stay where they are, and so does what
// is Free: nothing is led with them unless a program names them.
func (s *Setup) KinematicAxes() []kinematics.Axis {
	axes := make([]kinematics.Axis, len(s.Axes))
	for k := range s.Axes {
		a := &s.Axes[k]
		axes[k] = kinematics.Axis{
			Kind: a.Kind, Lo: a.Travel[0], Hi: a.Travel[1], Home: a.Home,
			Hold: a.Free || a.Kind == motion.Linear && a.Letter != "" && strings.ContainsAny(a.Letter[:1], "UVW"),
		}
	}
	return axes
}
