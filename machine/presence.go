package machine

import (
	"fmt"
	"slices"
)

// absent checks the roles that a file declares absent.
func (s *source) absent(roles []string) []string {
	for i, r := range roles {
		if !slices.Contains(Roles, r) {
			s.fault(fmt.Sprintf("declared_absent[%d]", i), quoted(r), "%s", oneOf(r, Roles))
		}
	}
	return roles
}

// presence says of each role whether something in the model has it. Declaring
// absent what is modelled is a contradiction and a fault.
func presence(bodies []Body, declarers ...declarer) []Presence {
	list := make([]Presence, len(Roles))
	for i, role := range Roles {
		p := Presence{What: role, State: NotModelled}
		for _, b := range bodies {
			if b.Role == role {
				p.State = Modelled
				p.Bodies = append(p.Bodies, b.Name)
			}
		}
		for _, d := range declarers {
			n := slices.Index(d.absent, role)
			switch {
			case n < 0:
			case p.State == Modelled:
				d.src.fault(fmt.Sprintf("declared_absent[%d]", n), quoted(role),
					"no such entry: body %q models it", p.Bodies[0])
			default:
				p.State = DeclaredAbsent
			}
		}
		list[i] = p
	}
	return list
}

// declarer is a file that declares roles absent.
type declarer struct {
	src    *source
	absent []string
}

// modelling lists what models a role: all bodies and the zones that a tool changer sweeps.
func (s *Setup) modelling() []Body {
	list := slices.Clone(s.Bodies)
	if s.ToolChange != nil {
		list = append(list, s.ToolChange.Zones...)
	}
	return list
}
