package machine

import (
	"fmt"
	"slices"

	"github.com/golang/geo/r3"
)

// machineModel is a machine file read: an assembly whose base is the bed, and
// what only a machine has.
type machineModel struct {
	assembly
	up             r3.Vector
	tableLoad      float64 // kg
	declaredAbsent []string
	index          map[string]float64 // in the file's unit, by letter
	spindle        *spindle
	tool           *Tool
	rapid          string
	offsets        *OffsetRules
	magazine       *Magazine
	changer        *assembly          // the zones of [tool_change], nil without
	changeAt       map[string]float64 // in the file's unit, by letter
	control        *Control           // nil without [program]
	secondHome     map[string]float64 // in the file's unit, by letter
}

// machineOf turns a machine file into a model; nil if it cannot be read.
func machineOf(src *source) *machineModel {
	var f machineFile
	if !src.is("machine") {
		return nil
	}
	src.decode(&f)
	if src.any() {
		return nil
	}
	m := &machineModel{
		assembly:       assembly{src: src, name: f.Name, unit: src.unit(f.Units)},
		up:             src.unitVector("up", f.Up),
		tableLoad:      src.notNegative("table_load", f.TableLoad),
		declaredAbsent: src.absent(f.DeclaredAbsent),
		index:          f.Index,
	}
	carriers := m.readAxes(f.Axes, "bed", true)
	m.checkBranches()
	for i := range f.Solids {
		t := &f.Solids[i]
		p := src.solid(&t.solidTable, m.unit)
		p.role, p.at, p.size = t.Role, m.unit.point(t.At), sizeOf(t.Role)
		src.role(t.Path+".role", t.Role, slices.Concat(Roles, moreRoles))
		p.carriedBy = src.carrier(t.Path, t.CarriedBy, "bed", carriers)
		m.parts = append(m.parts, p)
	}
	src.uniqueParts(m.parts)
	m.readGrids(f.Grids, carriers)
	m.readSlots(f.Slots)
	m.ratings = m.readRatings(f.Ratings, true)
	if f.Spindle != nil {
		m.spindle = src.spindle(f.Spindle, m.unit, carriers)
	}
	if f.Tool != nil {
		m.tool = src.tool(f.Tool, m.unit)
		if m.spindle == nil {
			src.fault("tool", "a tool and no spindle", "a table [spindle] that says where the tool stands")
		}
	}
	m.readJob(&f, carriers)
	return m
}

// readJob reads what counts once something is cut.
func (m *machineModel) readJob(f *machineFile, carriers []string) {
	if m.rapid = f.Rapid; m.rapid != Independent && m.rapid != Interpolated {
		m.src.fault("rapid", quoted(m.rapid), "%q, or no such key where axes need not arrive together", Interpolated)
	}
	if f.Offsets != nil {
		m.offsets = m.src.offsetRules(f.Offsets)
	}
	if f.Magazine != nil {
		m.magazine = m.src.magazine(f.Magazine, m.assembly.unit)
	}
	if f.ToolChange != nil {
		m.changeAt = f.ToolChange.At
		m.readChanger(f.ToolChange, carriers)
	}
	if f.Program != nil {
		m.control, m.secondHome = m.src.control(f.Program, m.assembly.unit), f.Program.SecondHome
	}
}

// checkBranches holds every axis to the branch of the axis that carries it,
// and gives a setting axis the branch it stands on.
func (m *machineModel) checkBranches() {
	for _, a := range m.axes {
		c := a.carriedBy
		for c >= 0 && m.axes[c].setting {
			c = m.axes[c].carriedBy
		}
		switch {
		case c < 0:
		case a.setting:
			a.onTool = m.axes[c].onTool
		case a.onTool != m.axes[c].onTool:
			m.src.fault(a.path+".carried_by", fmt.Sprintf("%s, which moves the %s", m.axes[c].id, branchName(m.axes[c].onTool)),
				"an axis that moves the %s, or %q", branchName(a.onTool), "bed")
		}
	}
}

func branchName(onTool bool) string {
	if onTool {
		return "tool"
	}
	return "workpiece"
}
