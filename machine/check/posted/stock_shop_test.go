package posted

import (
	"context"
	"io"
	"math"
	"strings"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
	"gridswing/machine/program"
)

// A shop small enough to work out by hand: a table in Y and X with its top at 0, a head in Z with
// the gauge line at the height of Z, a unit with an A axis 200 above the table, a faceplate whose top is 20 below
// that axis, and a block of 80 x 60 x 40 on it: its top, where the part's zero is, is at 220.
//
// T1 is an end mill with LPR 110: 20 mm that cut, a neck to 30, a shank to 40. T2 is a drill with LPR 120,
// T3 a ball end mill with LPR 110, T9 a probe with LPR 120.
func cutShop() map[string]string {
	return map[string]string{
		"machine.toml": `
kind = "machine"
name = "test machine"
units = "mm"
up = [0, 0, 1]
declared_absent = ["changer", "hoses", "guards", "spindle nose", "column"]
axis = [
  { letter = "Y", moves = "workpiece", carried_by = "bed", direction = [0, 1, 0], travel = [-200, 200], home = 150 },
  { letter = "X", moves = "workpiece", carried_by = "Y", direction = [1, 0, 0], travel = [-300, 300], home = 0 },
  { letter = "Z", moves = "tool", carried_by = "bed", direction = [0, 0, 1], travel = [0, 500], home = 500 },
]
spindle = { carried_by = "Z", gauge_point = [0, 0, 0], axis = [0, 0, 1] }
solid = [
  { name = "table", role = "table", file = "table.stl", carried_by = "X", chord_error = 0 },
  { name = "head", role = "head", file = "head.stl", carried_by = "Z", chord_error = 0 },
]
grid = [{ name = "top", solid = "table", origin = [-200, -100, 0], columns = 9, rows = 5, pitch = 50 }]
`,
		"unit.toml": `
kind = "component"
name = "unit"
units = "mm"
role = "workholding"
material = "steel"
solid = [
  { name = "base", file = "base.stl", chord_error = 0 },
  { name = "faceplate", file = "faceplate.stl", carried_by = "C", chord_error = 0 },
]
axis = [
  { letter = "A", direction = [1, 0, 0], centre = [0, 0, 200], travel = [-100, 100] },
  { letter = "C", carried_by = "A", direction = [0, 0, 1], centre = [0, 0, 0], unlimited = true },
]
seat = { pins = [[-150, 0, 0], [150, 0, 0]], play = 0 }
grid = [{ name = "face", solid = "faceplate", origin = [-25, 0, 180], columns = 2, rows = 1, pitch = 50 }]
`,
		"stock.toml": `
kind = "component"
name = "block"
units = "mm"
role = "stock"
material = "steel"
solid = [{ name = "block", file = "block.stl", chord_error = 0 }]
seat = { pins = [[-25, 0, 0], [25, 0, 0]], play = 0 }
`,
		"tools.toml": `
kind = "tools"
name = "crib"
units = "mm"
holder = [
  { name = "chuck", profile = [[0, 50], [30, 50], [30, 30], [70, 30]], bore = 13, grip = 25 },
  { name = "probe body", profile = [[0, 50], [70, 40]] },
]
cutter = [
  { name = "end mill 10", kind = "end mill", DC = 10, APMX = 20, LU = 30, DN = 9, DMM = 10, OAL = 72 },
  { name = "wide shank", kind = "end mill", DC = 10, APMX = 20, LU = 30, DN = 9, DMM = 12, OAL = 72 },
  { name = "drill 8", kind = "drill", DC = 8, SIG = 118, APMX = 40, DMM = 8, OAL = 80 },
  { name = "ball 6", kind = "ball end mill", DC = 6, APMX = 10, LU = 20, DN = 5, DMM = 6, OAL = 65 },
  { name = "stylus 6", kind = "touch probe", DC = 6, DN = 4, LU = 50, OAL = 50 },
]
tool = [
  { number = 1, cutter = "end mill 10", holder = "chuck", stick_out = 40 },
  { number = 2, cutter = "drill 8", holder = "chuck", stick_out = 50 },
  { number = 3, cutter = "ball 6", holder = "chuck", stick_out = 40 },
  { number = 4, cutter = "wide shank", holder = "chuck", stick_out = 40 },
  { number = 9, cutter = "stylus 6", holder = "probe body", stick_out = 50 },
]
`,
		"setup.toml": `
kind = "setup"
name = "test setup"
units = "mm"
machine = "machine.toml"
tools = ["tools.toml"]
demand = { default = 2, approach = 1, travel = 1 }
place = [
  { name = "unit", component = "unit.toml", on = "table", pins = ["B3", "H3"] },
  { name = "stock", component = "stock.toml", on = "unit/face", pins = ["A1", "B1"] },
]
part = [{ name = "part", place = "stock", at = [0, 0, 40] }]
`,
		"table.stl":     shoptest.Box(-250, -150, -50, 250, 150, 0),
		"head.stl":      shoptest.Box(-100, -100, 0.5, 100, 290, 400),
		"base.stl":      shoptest.Box(-145, -40, 0, 145, 40, 10),
		"faceplate.stl": shoptest.Box(-30, -15, 170, 30, 15, 180),
		"block.stl":     shoptest.Box(-40, -30, 0, 40, 30, 40),
	}
}

// script is a program by hand, in the coordinates of the part: its zero in the middle of the block's top.
type script struct {
	s     *machine.Setup
	steps []program.Step
	at    motion.Params // axes X, Y, Z, A, C of the shop
	lpr   float64
	tool  int
	turns int
	next  int
	axis  map[string]int
}

func newScript(s *machine.Setup) *script {
	p := &script{s: s, turns: 1, axis: map[string]int{}}
	for k := range s.Axes {
		p.axis[s.Axes[k].Letter] = k
		p.at[k] = s.Axes[k].Home
	}
	return p
}

// change puts a tool into the spindle.
func (p *script) change(tool int) *script {
	for _, t := range p.s.Tools {
		if t.Number == tool {
			p.lpr = t.LPR()
		}
	}
	p.tool = tool
	return p.step(program.Change, p.at)
}

func (p *script) step(kind program.Kind, to motion.Params) *script {
	st := program.Step{Kind: kind, Tool: p.tool, Turning: p.turns, Block: "by hand", Seconds: 1, Length: 1}
	st.Place = program.Place{File: "by hand", Line: len(p.steps) + 1, Column: 1}
	if kind == program.Rapid || kind == program.Feed {
		st.Legs = []program.Leg{{From: p.at, To: to, Box: kind == program.Rapid}}
	}
	p.at = to
	p.steps = append(p.steps, st)
	return p
}

// to is where the axes are with the tip at a place of the part, A and C as they are.
func (p *script) to(x, y, z float64) motion.Params {
	to := p.at
	to[p.axis["X"]], to[p.axis["Y"]], to[p.axis["Z"]] = x, y, 220+z+p.lpr
	return to
}

func (p *script) rapid(x, y, z float64) *script { return p.step(program.Rapid, p.to(x, y, z)) }
func (p *script) feed(x, y, z float64) *script  { return p.step(program.Feed, p.to(x, y, z)) }

// turnC feeds C to an angle in degrees.
func (p *script) turnC(degrees float64) *script {
	to := p.at
	to[p.axis["C"]] = degrees * math.Pi / 180
	return p.step(program.Feed, to)
}

// Next, Used and Read make a program.Steps of it.
func (p *script) Next() (*program.Step, error) {
	if p.next == len(p.steps) {
		return nil, io.EOF
	}
	p.next++
	return &p.steps[p.next-1], nil
}
func (p *script) Used() *program.Used  { return &program.Used{} }
func (p *script) Read() (int64, int64) { return int64(p.next), int64(p.next) }

// split cuts every move into n.
func (p *script) split(n int) *script {
	more := *p
	more.steps = nil
	for _, st := range p.steps {
		if len(st.Legs) == 0 {
			more.steps = append(more.steps, st)
			continue
		}
		l := st.Legs[0]
		for i := range n {
			part := st
			m := l
			for k := range m.From {
				d := l.To[k] - l.From[k]
				m.From[k], m.To[k] = l.From[k]+d*float64(i)/float64(n), l.From[k]+d*float64(i+1)/float64(n)
			}
			part.Legs = []program.Leg{m}
			more.steps = append(more.steps, part)
		}
	}
	return &more
}

// run checks the program.
func (p *script) run(t testing.TB, o Options) (*check.Report, *Result) {
	t.Helper()
	p.next = 0
	r := check.NewReport(p.s)
	o.NoWindow = true
	result, err := Check(context.Background(), p.s, r, Program{File: "by hand", Format: check.WordAddress, Steps: p}, o)
	if err != nil {
		t.Fatal(err)
	}
	return r, result
}

// stockFindings are those about the block.
func stockFindings(r *check.Report) (list []check.Finding) {
	for _, f := range r.Findings {
		if strings.HasPrefix(f.Bodies[1], "stock") {
			list = append(list, f)
		}
	}
	return list
}

func toolOf(t testing.TB, r *check.Report, number int) check.ProgramTool {
	t.Helper()
	for _, x := range r.Program.Tools {
		if x.Tool == number {
			return x
		}
	}
	t.Fatalf("no T%d in %+v", number, r.Program.Tools)
	return check.ProgramTool{}
}
