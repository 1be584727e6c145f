package machine

import (
	"math"
	"strings"
	"testing"

	"gridswing/geom/motion"
)

// fitted is the example with sizes instead of play at the trunnion's seat.
func fitted(t testing.TB) world {
	return example(t).
		with(t, "trunnion.toml", "play = 0.035 ", `fit = "12 g6" #`).
		with(t, "plate.toml", "bore = 16", `bore = "12 H7"`).
		with(t, "plate.toml", "position_tolerance = 0.01", "position_tolerance = 0")
}

func (s *Setup) seat(t *testing.T, unit string) *Seat {
	t.Helper()
	for i := range s.Seats {
		if s.Seats[i].Unit == unit {
			return &s.Seats[i]
		}
	}
	t.Fatalf("no seat of %s", unit)
	return nil
}

// slacks of the joints of a unit's play, by their names without the unit.
func (s *Setup) slacks(t *testing.T, body, unit string) map[string]float64 {
	t.Helper()
	list := make(map[string]float64)
	for _, j := range s.Bodies[s.body(t, body)].Chain.Joints {
		if name, ok := strings.CutPrefix(j.Name, unit+": "); ok {
			list[name] = j.Slack
		}
	}
	return list
}

// 12 H7/g6 is 6 to 35 micrometres (ISO 286-2), so pins 500 apart turn by 0.035/500: half
// of the 28.877 seconds of arc that belong to 250 (worked out by hand).
func TestPlayOfSizes(t *testing.T) {
	s := fitted(t).load(t)
	seat := s.seat(t, "trunnion")
	for i := range seat.Locators {
		l := &seat.Locators[i]
		nearly(t, "least", l.Clearance.Least, 0.006, 1e-12)
		nearly(t, "most", l.Clearance.Most, 0.035, 1e-12)
		if !l.LeastKnown || l.Pin != "12 g6" || l.Bores[0] != "12 H7" || l.Diameter != 12 {
			t.Errorf("%+v", l)
		}
	}
	near(t, "first pin", seat.Locators[0].At, vec(-250, 0, 40), 1e-12)
	const arcsec = math.Pi / 180 / 3600
	nearly(t, "angle", seat.Off.Angle/arcsec, 28.877/2, 0.001)
	play := s.slacks(t, "trunnion/base", "trunnion")
	nearly(t, "joints", (play["play at pin 1"]+play["play at pin 2"])/arcsec, 28.877/2, 0.001)
	nearly(t, "along", play["play along the pins"], 0.0175, 1e-6)
}

// A relieved second pin leaves the line to the first, which rules where the component
// stands; its land takes up the difference of the distances.
func TestRelievedPin(t *testing.T) {
	w := fitted(t).with(t, "trunnion.toml", "[250, 0, 0]]", "[250.04, 0, 0]]")
	// Two round pins take (0.035 + 0.035)/2 = 0.035 at most.
	if e := w.onlyError(t); !strings.Contains(e.Error(), "500.04 mm (within 0.035") {
		t.Error(e)
	}
	// With a land of 1.78 the pin takes 0.02 at the least clearance of 0.006; more at the
	// largest (W = ((D^2 - (D - c)^2)/4 - T^2)/T: 12, 0.006, 0.02 give 1.7796, by hand).
	s := w.with(t, "trunnion.toml", `fit = "12 g6"`, "relieved = 1.7796\nfit = \"12 g6\"").load(t)
	seat := s.seat(t, "trunnion")
	near(t, "on the first pin", seat.Locators[0].At, vec(-250, 0, 40), 1e-12)
	near(t, "beyond the second hole", seat.Locators[1].At, vec(250.04, 0, 40), 1e-12)
	nearly(t, "along", seat.Off.Along, 0.0175, 1e-12)
	if seat.Locators[0].Relieved || !seat.Locators[1].Relieved {
		t.Error("the second pin is the relieved one")
	}
	nearly(t, "spare", seat.Fit.Spare(), 0.003+0.02-0.04, 1e-6)
}

// 250 x (23 - 12)e-6 x 10 = 0.0275 mm: an aluminium plate on steel, 10 kelvin warmer than
// drawn (coefficients: Gere, Mechanics of Materials, appendix H); here 500 apart.
func TestTemperature(t *testing.T) {
	w := fitted(t).
		with(t, "plate.toml", `material = "steel"`, `material = "aluminium"`).
		with(t, "machine.toml", `material = "cast iron"`, `material = "aluminium"`).
		with(t, "trunnion.toml", "mass = 165 ", `material = "steel" #`).
		with(t, "trunnion.toml", `fit = "12 g6"`, "relieved = 1\nfit = \"12 g6\"").
		with(t, "setup.toml", `machine = "machine.toml"`, "temperature = 30\nmachine = \"machine.toml\"")
	s := w.load(t)
	nearly(t, "spread", s.seat(t, "trunnion").Fit.Spread, 2*0.0275, 1e-9)
	// The stock, 80 x 60 x 40 of aluminium, about its zero in the middle of its underside.
	grown := s.slacks(t, "stock", "stock")
	nearly(t, "X", grown["growth along x"], 40*23e-6*10, 1e-12)
	nearly(t, "Z", grown["growth along z"], 40*23e-6*10, 1e-12)
	// A component that is as warm as its drawing says does not grow.
	s = w.with(t, "setup.toml", "gripped = { bite = 0 }", "gripped = { bite = 0 }\ntemperature = 20").load(t)
	if grown := s.slacks(t, "stock", "stock"); len(grown) != 3 {
		t.Errorf("%v", grown)
	}
	c := faulty{"nobody knows what it is made of", "stock.toml", "material = \"aluminium 7075\"\n", "", "temperature = 30", "setup.toml",
		[]string{"stock/block", "steel, aluminium"}}
	c.told(t, w)
}

// polar is the example with rings instead of rows on the faceplate.
func polar(t testing.TB) world {
	return example(t).
		with(t, "trunnion.toml", "origin = [-75, -75, 200]", "origin = [0, 0, 200]").
		with(t, "trunnion.toml", "columns = 4 ", "rings = [50, 80] #").
		with(t, "trunnion.toml", "rows = 4 ", "per_ring = 12 #").
		with(t, "trunnion.toml", "pitch = 50 ", "centre = 30 #").
		with(t, "vise.toml", "[[-50, 0, 0], [50, 0, 0]]", "[[0, 0, 0], [50, 0, 0]]").
		with(t, "setup.toml", `pins = ["B3", "D3"]`, `pins = ["centre", "A4"]`)
}

// Rings of twelve: A4 is a quarter turn from u to v, B2 30 degrees.
func TestPolarPattern(t *testing.T) {
	s := polar(t).load(t)
	pose := s.Pose(s.body(t, "vise/body"), motion.Params{})
	if pose.T != vec(0, 0, 240) || pose.Dir(vec(1, 0, 0)) != vec(0, 1, 0) {
		t.Errorf("the vise stands at %+v", pose)
	}
	s = polar(t).with(t, "vise.toml", "[50, 0, 0]]", "[80, 0, 0]]").with(t, "setup.toml", `"A4"`, `"B2"`).
		with(t, "trunnion.toml", `omit = ["B2"]`, `omit = ["A2"]`).load(t)
	pose = s.Pose(s.body(t, "vise/body"), motion.Params{})
	near(t, "B2", pose.Dir(vec(80, 0, 0)), vec(80*math.Sqrt(3)/2, 40, 0), 1e-9)
	for _, c := range []faulty{
		{"beyond the ring", "setup.toml", `"A4"`, `"A13"`, `"A13"`, "", []string{`hole "A13"`, "A1 to B12 and centre"}},
		{"omitted", "setup.toml", `"A4"`, `"B2"`, `"B2"`, "", []string{`hole "B2"`, "without B2"}},
		{"rows and rings", "trunnion.toml", "rings = [50, 80]", "rings = [50, 80]\ncolumns = 3", "columns = 3", "", []string{"columns and rings"}},
		{"rings from outside in", "trunnion.toml", "rings = [50, 80]", "rings = [80, 50]", "50] #", "", []string{"50", "inside out"}},
		{"centre of rows", "plate.toml", "columns = 13", "columns = 13\ncentre = 30", "centre", "", []string{"without rings"}},
		{"no rows", "plate.toml", "rows = 7\n", "", "grid]]", "", []string{"no rows"}},
		{"too far", "setup.toml", `"A4"`, `"B4"`, `pins = ["centre"`, "", []string{"80 mm apart", "50 mm"}},
	} {
		t.Run(c.name, func(t *testing.T) { c.told(t, polar(t)) })
	}
}

// What is wrong with sizes and locators is told with component and hole.
func TestLocatorFaults(t *testing.T) {
	w := fitted(t)
	for _, c := range []faulty{
		{"no such class", "trunnion.toml", `"12 g6"`, `"12 q9"`, "fit = ", "", []string{"q9"}},
		{"no designation", "trunnion.toml", `"12 g6"`, `"g6"`, "fit = ", "", []string{`"g6"`}},
		{"too large", "trunnion.toml", `"12 g6"`, `"400 g6"`, "fit = ", "", []string{"400"}},
		{"a hole's class for a pin", "trunnion.toml", `"12 g6"`, `"12 H7"`, "fit = ", "", []string{`"12 H7"`, "pin alone"}},
		{"a pin's class for a bore", "plate.toml", `"12 H7"`, `"12 g6"`, "bore = ", "", []string{`"12 g6"`, "hole alone"}},
		{"no class", "trunnion.toml", `"12 g6"`, `12`, "fit = ", "", []string{"12 mm", "tolerance class"}},
		{"bore without class", "plate.toml", `bore = "12 H7"`, `bore = 12`, `"B4"`, "setup.toml", []string{`hole B4 of grid "top"`, "no tolerance class"}},
		{"other diameter", "plate.toml", `"12 H7"`, `"16 H7"`, `"B4"`, "setup.toml", []string{`hole B4 of grid "top", 16 H7`, "12 mm", "trunnion"}},
		{"three sizes", "trunnion.toml", `"12 g6"`, `["12 g6", "12 g6", "12 g6"]`, "fit = ", "", []string{"3 sizes", "or two"}},
		{"play and fit", "trunnion.toml", `fit = "12 g6"`, "play = 0.1\nfit = \"12 g6\"", "play", "", []string{"one of the two"}},
		{"neither", "trunnion.toml", `fit = "12 g6"`, "", "seat]", "", []string{"no play", "fit ="}},
		{"bore of its own pins", "trunnion.toml", `fit = "12 g6"`, "bore = \"12 H7\"\nfit = \"12 g6\"", "bore = \"12 H7\"\nfit", "", []string{"own pins"}},
		{"way of locating", "trunnion.toml", `fit = "12 g6"`, "located_by = \"screws\"\nfit = \"12 g6\"", "located_by", "", []string{`"screws"`, "own pins"}},
		{"no bores of its own", "trunnion.toml", `fit = "12 g6"`, "located_by = \"dowels\"\nfit = \"12 g6\"", "seat]", "", []string{"no bore", "dowels"}},
		{"no pins to set", "trunnion.toml", `fit = "12 g6"`, "located_by = \"set pins\"\nbore = \"12 H7\"", `"B4"`, "setup.toml", []string{`hole B4 of grid "top"`, "no pin to set", "trunnion"}},
		{"relieved beside play", "vise.toml", "play = 0.035", "play = 0.035\nrelieved = 2", "relieved", "", []string{"relieved beside play"}},
		{"keys on holes", "trunnion.toml", `fit = "12 g6"`, "located_by = \"keys\"\nfit = \"12 h6\"", `pins = ["B4"`, "setup.toml", []string{"tenon keys"}},
		{"no fasteners wanted", "trunnion.toml", `fit = "12 g6"`, "least_fasteners = 0\nfit = \"12 g6\"", "least_fasteners", "", []string{"1 or more"}},
		{"fastener from aside", "trunnion.toml", "at = [-200, 50, 0]", "from = \"left\"\nat = [-200, 50, 0]", "from = \"left", "", []string{`"left"`, `"above" or "below"`}},
		{"property class", "trunnion.toml", "at = [-200, 50, 0]", "class = \"8\"\nat = [-200, 50, 0]", "class = \"8\"\n", "", []string{`"8"`, "8.8"}},
		{"length of a screw", "trunnion.toml", "at = [-200, 50, 0]", "length = 0\nat = [-200, 50, 0]", "length = 0", "", []string{"more than 0"}},
		{"thread that ends before it begins", "plate.toml", `thread = "M12"`, "thread = \"M12\"\nthread_from = 20\nthread_depth = 15", "thread_depth", "", []string{"more than thread_from"}},
		{"withdrawn of nothing", "setup.toml", "set = { jaw = 60 }", "set = { jaw = 60 }\nwithdrawn = [\"A1\"]", "\"A1\"]", "", []string{`"A1" of vise`, "no retractable pins"}},
		{"pins everywhere", "plate.toml", "columns = 13\nrows = 7", "retractable = { fit = \"12 g6\", height = 9 }\ncolumns = 130\nrows = 70", "retractable", "", []string{"9099 pins", "at most 1000"}},
		{"pins of no class", "plate.toml", "columns = 13\n", "retractable = { fit = 12, height = 9 }\ncolumns = 13\n", "fit = 12", "", []string{"12 mm", "tolerance class"}},
		{"no such place", "setup.toml", "gripped = { bite = 0 }", "gripped = { bite = 0 }\nalso_on = [\"vice\"]", `"vice"`, "", []string{`"vise"`}},
		{"the same place", "setup.toml", "gripped = { bite = 0 }", "gripped = { bite = 0 }\nalso_on = [\"vise\"]", `"vise"]   `, "", []string{"another place"}},
		{"two stops", "setup.toml", "within = 0.1 ", "stops = [[0, 0, 0], [1, 0, 0]]\nwithin = 0.1 ", "stops", "", []string{"2 stops", "three"}},
		{"parallels that are none", "setup.toml", "bite = 0 ", "bite = 0, parallels = \"table\" ", `parallels = "table"`, "", []string{`"table"`, "a solid of a place"}},
		{"keys of a vise without", "setup.toml", `pins = ["B3", "D3"]`, "keyed = { slot = 1, along = 0, within = 1 }", "keyed", "", []string{"without tenon keys"}},
		{"no tolerance at all", "setup.toml", "offset = \"G54\"", "unprobed_within = 0\noffset = \"G54\"", "unprobed_within", "", []string{"more than 0"}},
	} {
		t.Run(c.name, func(t *testing.T) { c.told(t, w) })
	}
}

// Pins that are set and locate nothing are a body; those that locate, or are withdrawn, are
// none.
func TestPinsStandUp(t *testing.T) {
	w := fitted(t).
		with(t, "trunnion.toml", `fit = "12 g6"`, "located_by = \"set pins\"\nbore = \"12 H7\" ").
		with(t, "plate.toml", `bore = "12 H7"`, "bore = 12\nretractable = { fit = \"12 g6\", height = 15, at = [\"A1\", \"M1\", \"B4\", \"L4\"] }").
		with(t, "setup.toml", `pins = ["C5", "O5"]`, "withdrawn = [\"A1\"]\npins = [\"C5\", \"O5\"]")
	s := w.load(t)
	if n := len(s.Pins); n != 4 {
		t.Fatalf("%d pins", n)
	}
	body := &s.Bodies[s.body(t, "plate/top pins")]
	for _, p := range s.Pins {
		want := map[string]Pin{
			"A1": {Withdrawn: true, Body: -1}, "M1": {Body: s.body(t, "plate/top pins")},
			"B4": {Locates: "trunnion", Body: -1}, "L4": {Locates: "trunnion", Body: -1},
		}[p.Hole]
		if p.Withdrawn != want.Withdrawn || p.Body != want.Body || p.Locates != want.Locates {
			t.Errorf("%+v", p)
		}
	}
	// M1 of the plate is at (300, -150, 40), and the pin 15 high.
	b := body.Solid.Audit.Bounds
	near(t, "pin", b.Center(), vec(300, -150, 47.5), 1e-5)
	if b.Size().X < 12 || b.Size().X > 12.1 || !body.Solid.Audit.Closed {
		t.Errorf("%v", b.Size())
	}
	if body.Unit != "plate" || len(body.Chain.Joints) != len(s.Bodies[s.body(t, "plate")].Chain.Joints) {
		t.Error("the pins do not move with the plate")
	}
	// Play of the pin in the component's bore only: the plate's is not stated.
	nearly(t, "clearance", s.seat(t, "trunnion").Locators[0].Clearance.Most, 0.035, 1e-12)
	// One text for a list of one.
	s = w.with(t, "setup.toml", `withdrawn = ["A1"]`, `withdrawn = "unused"`).load(t)
	for _, p := range s.Pins {
		if p.Withdrawn != (p.Locates == "") {
			t.Errorf("%+v", p)
		}
	}
	c := faulty{"a pin that is needed", "setup.toml", `withdrawn = ["A1"]`, `withdrawn = ["A1", "L4"]`, `"L4"]`, "", []string{"pin at L4 withdrawn, which locates trunnion"}}
	c.told(t, w)
	c = faulty{"no such pin", "setup.toml", `withdrawn = ["A1"]`, `withdrawn = ["A2"]`, `"A2"`, "", []string{`"A2"`, `"unused"`}}
	c.told(t, w)
}
