package varied

import (
	"fmt"
	"strings"
)

// setup is the setup file. Features are in the coordinates of the block: its zero is the
// middle of the underside.
func (j *job) setup() string {
	var w strings.Builder
	extra, stock, demand := "", j.stockFile(), 2
	switch j.slip {
	case wide:
		demand = 40
	case unknown:
		extra = "colour = \"blue\"\n"
	case missing:
		stock = "components/varied/stock-of-nobody.toml"
	}
	fmt.Fprintf(&w, `kind = "setup"
name = "Job %d, block %g x %g x %g"
units = "mm"
machine = "../../machines/mill-3.toml"
tools = ["../../tools/crib.toml"]
%s
[binder]
revision = %q

[demand]
default = %d
approach = 1
travel = 5
tool_change = 5

`, j.number, j.width, j.length, j.height, extra, string(rune('A'+j.number%5)), demand)
	j.places(&w, stock)
	fmt.Fprintf(&w, "[commanded]\nA = [%g, %g]\nC = [0, 360]\n\n", j.tilt[0]+0, j.tilt[1])
	fmt.Fprintf(&w, "[[part]]\nname = \"part %d\"\nplace = \"stock\"\noffset = \"G54\"\n\n", 1000+j.number)
	j.operations(&w)
	return w.String()
}

func (j *job) places(w *strings.Builder, stock string) {
	column := func(c byte) string { return string(rune(int(c) + j.trunnion)) }
	vise := []string{"B2", "D2"}
	if j.slip == hole {
		vise = []string{"C2", "E2"}
	}
	if j.turned {
		vise[0], vise[1] = vise[1], vise[0]
	}
	opening := j.width
	if j.slip == jaw {
		opening -= 2
	}
	fmt.Fprintf(w, `[[place]]
name = "plate"
component = "../../components/grid-plate.toml"
on = "table"
pins = ["B1", "H1"]

[[place]]
name = "trunnion"
component = "../../components/trunnion.toml"
on = "plate"
pins = ["%s2", "%s2"]

[[place]]
name = "riser"
component = "../../components/%s.toml"
on = "trunnion/faceplate holes"
pins = ["C5", "C1"]

[[place]]
name = "vise"
component = "../../components/vise-125.toml"
on = "riser"
pins = [%q, %q]
set = { jaw = %g }

[[place]]
name = "stock"
component = "../../%s"
on = "vise/parallels"
at = [%g, 0, 95] # against the fixed jaw
within = 0.1
gripped = { bite = 0 }

`, column('C'), column('M'), j.riser, vise[0], vise[1], opening, stock, j.width/2-fixed)
}

// fixed is where the vise's fixed jaw is, mm from the middle between its pins, against the screw.
const fixed = 30

// top is where the finished part ends, mm above the underside of the block.
func (j *job) top() float64 { return j.height - 3 }

func (j *job) operations(w *strings.Builder) {
	x, y, top := j.width/2, j.length/2, j.top()
	fmt.Fprintf(w, `[[operation]]
name = "face the top"
tool = 1
approach = 3
retract = 25

[[operation.face]]
from = [%g, %g, %g]
to = [%g, %g, %g]
axis = [0, 0, 1]
overrun = 2

`, -x, -y, j.height, x, y, top)
	if j.ends {
		for _, side := range []float64{1, -1} {
			fmt.Fprintf(w, `[[operation]]
name = "step at y %+g"
tool = 2
approach = 10
retract = 25

[[operation.pocket]]
from = [%g, %g, %g]
to = [%g, %g, %g]
axis = [0, %g, 0]

`, side, -x-9, side*y, top-16, x+9, side*(y-6), top+9, side)
		}
	}
	j.drilled(w, "spot", 4, "depth = 2\ndepth_to = \"tip\"")
	j.drilled(w, "drill", 5, "depth = 14\ndepth_to = \"full diameter\"")
	depth := 0.0
	if j.deep {
		depth = top - 20
	}
	if j.slip == reach {
		depth = top + 40
	}
	if depth > 0 {
		fmt.Fprintf(w, "[[operation]]\nname = \"bore\"\ntool = 6\napproach = 3\nretract = 25\npositions = { A = 0, C = 0 }\n\n"+
			"[[operation.hole]]\nat = [[0, 0, %g]]\naxis = [0, 0, 1]\ndepth = %g\ndepth_to = \"tip\"\n\n", top, depth)
	}
}

// drilled writes the holes along the block by one tool.
func (j *job) drilled(w *strings.Builder, name string, tool int, depth string) {
	var at []string
	for k := range j.holes {
		y := (j.length/2 - 12) * (2*float64(k)/float64(j.holes-1) - 1)
		at = append(at, fmt.Sprintf("[%g, %g, %g]", j.width/4, y, j.top()))
	}
	fmt.Fprintf(w, "[[operation]]\nname = \"%s %d holes\"\ntool = %d\napproach = 3\nretract = 25\npositions = { A = 0, C = 0 }\n\n"+
		"[[operation.hole]]\nat = [%s]\naxis = [0, 0, 1]\n%s\n\n", name, j.holes, tool, strings.Join(at, ", "), depth)
}
