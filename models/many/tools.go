package many

import (
	"fmt"
	"strings"
)

// tool is a cutter in a holder, by the symbols of ISO 13399, in mm and degrees.
// Sizes are common practice, no source.
type tool struct {
	kind           string
	dc, sig        float64
	apmx, dmm, oal float64
	stickOut       float64
	holder         string
}

const (
	slim  = "collet chuck 13, long"
	stout = "collet chuck 20, long"
	arbor = "arbor 16, long"
)

// tools are long enough for the head to stay beside the vise's screw.
var tools = [Tools]tool{
	{"face mill", 40, 0, 8, 0, 40, 40, arbor},
	{"end mill", 16, 0, 40, 16, 110, 60, stout},
	{"end mill", 12, 0, 40, 12, 100, 55, slim},
	{"end mill", 10, 0, 40, 10, 100, 55, slim},
	{"end mill", 8, 0, 36, 8, 90, 50, slim},
	{"ball end mill", 10, 0, 40, 10, 100, 55, slim},
	{"ball end mill", 8, 0, 36, 8, 90, 50, slim},
	{"chamfer mill", 10, 90, 25, 10, 80, 45, slim},
	{"spot drill", 10, 90, 25, 10, 90, 45, slim},
	{"drill", 3.3, 140, 35, 6, 80, 45, slim},
	{"drill", 4.2, 140, 35, 6, 80, 45, slim},
	{"drill", 5, 140, 40, 6, 82, 50, slim},
	{"drill", 6.8, 140, 43, 8, 91, 52, slim},
	{"drill", 8.5, 140, 49, 10, 103, 60, slim},
	{"drill", 10.2, 140, 56, 12, 118, 70, slim},
	{"drill", 12, 118, 56, 12, 118, 70, slim},
	{"reamer", 8, 0, 33, 8, 117, 60, slim},
	{"reamer", 10, 0, 38, 10, 133, 65, slim},
	{"tap", 5, 0, 35, 6, 80, 45, slim},
	{"tap", 6, 0, 35, 6, 80, 45, slim},
}

// holders have the 7/24 taper of size 40.
const holders = `kind = "tools"
name = "many"
units = "mm"

[[holder]]
name = "collet chuck 13, long"
taper = "7/24 40"
profile = [[0, 44.45], [3.2, 44.45], [3.2, 63.55], [19.1, 63.55], [19.1, 46], [60, 46], [66, 34], [100, 34]]
bore = 13
mass = 1.2

[[holder]]
name = "collet chuck 20, long"
taper = "7/24 40"
profile = [[0, 44.45], [3.2, 44.45], [3.2, 63.55], [19.1, 63.55], [19.1, 46], [60, 46], [62, 50], [90, 50]]
bore = 20
mass = 1.6

[[holder]]
name = "arbor 16, long"
taper = "7/24 40"
profile = [[0, 44.45], [3.2, 44.45], [3.2, 63.55], [19.1, 63.55], [19.1, 38], [100, 38]]
mass = 1.5
`

func toolsText() string {
	var w strings.Builder
	w.WriteString(holders)
	for i := range tools {
		t := &tools[i]
		fmt.Fprintf(&w, "\n[[cutter]]\nname = \"T%d\"\nkind = %q\nDC = %g\nAPMX = %g\nOAL = %g\nmass = 0.2\n", i+1, t.kind, t.dc, t.apmx, t.oal)
		if t.sig > 0 {
			fmt.Fprintf(&w, "SIG = %g\n", t.sig)
		}
		if t.dmm > 0 {
			fmt.Fprintf(&w, "DMM = %g\n", t.dmm)
		}
		fmt.Fprintf(&w, "\n[[tool]]\nnumber = %d\nname = \"%s %g\"\ncutter = \"T%d\"\nholder = %q\nstick_out = %g\n", i+1, t.kind, t.dc, i+1, t.holder, t.stickOut)
	}
	return w.String()
}
