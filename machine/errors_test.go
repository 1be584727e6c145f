package machine

import (
	"errors"
	"strings"
	"testing"
)

// faulty is one change to the example that makes it wrong in one place.
type faulty struct {
	name, file string
	old, new   string
	at         string // where it is told: at this text
	atFile     string // in this file, if not in the one that was changed
	says       []string
}

// told checks that a fault is told with its file, line and column, what was
// found and what was expected.
func (c *faulty) told(t *testing.T, w world) {
	w = w.with(t, c.file, c.old, c.new)
	e := w.onlyError(t)
	where := c.file
	if c.atFile != "" {
		where = c.atFile
	}
	if at := w.place(t, where, c.at); !strings.HasPrefix(e.Error(), at+": ") {
		t.Errorf("%v\nexpected at %s", e, at)
	}
	for _, s := range c.says {
		if !strings.Contains(e.Found+" "+e.Expected, s) {
			t.Errorf("%v\ndoes not say %q", e, s)
		}
	}
}

func TestFaults(t *testing.T) {
	w := example(t)
	for _, c := range []faulty{
		{"unknown key", "trunnion.toml", "chord_error = 0.02", "chrod_error = 0.02\nchord_error = 0.02", "chrod_error", "", []string{"unknown key", `"chord_error"`}},
		{"unknown table", "setup.toml", "[commanded]", "[comanded]", "comanded", "", []string{`"commanded"`}},
		{"missing key", "plate.toml", "play = 0.029", "", "seat]", "", []string{"no play"}},
		{"missing chord error", "stock.toml", "chord_error = 0\n", "", "solid]]", "", []string{"chord_error"}},
		{"wrong kind of value", "setup.toml", "turned = 0 ", `turned = "left" `, "turned =", "", []string{`"left"`, "a number"}},
		{"not a number", "setup.toml", "within = 0.1", "within = nan", "within", "", []string{"NaN", "a number"}},
		{"endless", "setup.toml", "default = 2", "default = inf", "default = inf", "", []string{"+Inf"}},
		{"two coordinates", "machine.toml", "gauge_point = [0, 0, 120]", "gauge_point = [0, 120]", "gauge_point", "", []string{"2 entries", "[x, y, z]"}},
		{"no TOML", "vise.toml", `name = "body"`, `name = "body`, "\nfile = \"vise-body", "", []string{"without its closing quote"}},
		{"key twice", "stock.toml", `role = "stock"`, "role = \"stock\"\nrole = \"part\"", "role = \"part\"", "", []string{"role"}},
		{"other kind of file", "setup.toml", `component = "stock.toml"`, `component = "machine.toml"`, "kind", "machine.toml", []string{`"machine"`, `"component"`}},
		{"unit", "plate.toml", `units = "mm"`, `units = "cm"`, "units", "", []string{`"cm"`, `"inch"`}},
		{"material", "stock.toml", "aluminium 7075", "alumimium", "material", "", []string{`"alumimium"`, `"aluminium"`}},
		{"role", "stock.toml", `role = "stock"`, `role = "stok"`, "role", "", []string{`"stok"`, `"stock"`}},
		{"machine role", "machine.toml", `role = "guards"`, `role = "gards"`, "role = \"gards\"", "", []string{`"guards"`}},
		{"absent role", "machine.toml", `["changer", "hoses"]`, `["changer", "hosen"]`, `"hosen"`, "", []string{`"hoses"`}},
		{"absent and there", "setup.toml", "# declared_absent = []", `declared_absent = ["stock"]`, `"stock"]`, "", []string{`body "stock"`}},
		{"zero direction", "trunnion.toml", "direction = [1, 0, 0]", "direction = [0, 0, 0]", "direction = [0, 0, 0]", "", []string{"not zero"}},
		{"no centre", "trunnion.toml", "centre = [0, 0, 180]        # a point on the axis\n", "", "axis]]\nletter", "", []string{"no centre"}},
		{"no travel", "trunnion.toml", "travel = [-30, 120] ", "", "axis]]\nletter", "", []string{"no travel"}},
		{"travel upside down", "machine.toml", "travel = [0, 550]", "travel = [550, 0]", "travel = [550", "", []string{"550 before 0"}},
		{"home outside", "machine.toml", "home = 550", "home = 551", "home = 551", "", []string{"551", "0 to 550"}},
		{"letter twice in a file", "machine.toml", "[spindle] ", axisA + strings.Replace(axisA, "[0, 1]", "[0, 2]", 1) + "[spindle] ", "letter = \"A\"\nmoves = \"workpiece\"\ncarried_by = \"X\"\ndirection = [1, 0, 0]\ncentre = [0, 0, 0]\ntravel = [0, 2]", "", []string{`"A" a second time`}},
		{"letter twice", "machine.toml", "[spindle] ", axisA + "[spindle] ", `component = "trunnion.toml"`, "setup.toml", []string{"axis A a second time", "the machine's", "trunnion's"}},
		{"letter", "machine.toml", "[spindle] ", strings.NewReplacer(`"A"`, `"Q"`, "centre = [0, 0, 0]", "home = 0").Replace(axisA) + "[spindle] ", `letter = "Q"`, "", []string{`"Q"`}},
		{"letter that turns", "machine.toml", "home = 0\n", "home = 0\nkind = \"rotary\"\n", "kind = \"rotary\"", "", []string{"of axis X", "ISO 841"}},
		{"carrier", "trunnion.toml", `carried_by = "A"            #`, `carried_by = "B"            #`, `carried_by = "B"`, "", []string{`"B"`}},
		{"carried by the other branch", "machine.toml", "moves = \"tool\"\ncarried_by = \"bed\"", "moves = \"tool\"\ncarried_by = \"X\"", "carried_by = \"X\"\ndirection", "", []string{"workpiece"}},
		{"hole", "setup.toml", `pins = ["B4", "L4"]`, `pins = ["B4", "L9"]`, `"L9"`, "", []string{`hole "L9"`, `"top"`, "A1 to M7"}},
		{"omitted hole", "setup.toml", `pins = ["B4", "L4"]`, `pins = ["G4", "L4"]`, `"G4"`, "", []string{`hole "G4"`, "A1 to M7 without G4"}},
		{"hole in small letters", "setup.toml", `pins = ["B4", "L4"]`, `pins = ["B4", "l4"]`, `"l4"`, "", []string{`hole "l4"`, `"L4", perhaps`}},
		{"no hole at all", "setup.toml", `pins = ["B4", "L4"]`, `pins = ["B4", "pin"]`, `"pin"`, "", []string{`hole "pin"`}},
		{"one pin", "setup.toml", `pins = ["B4", "L4"]`, `pins = ["B4"]`, `pins = ["B4"`, "", []string{"1 pin", "exactly two"}},
		{"three pins", "setup.toml", `pins = ["B4", "L4"]`, `pins = ["B4", "L4", "C1"]`, `pins = ["B4"`, "", []string{"3 pins", "exactly two"}},
		{"three pins of a seat", "plate.toml", "[300, 0, 0]]", "[300, 0, 0], [0, 9, 0]]", "pins", "", []string{"3 pins", "exactly two"}},
		{"distance", "setup.toml", `pins = ["B4", "L4"]`, `pins = ["B4", "K4"]`, `pins = ["B4"`, "", []string{"450 mm", "500 mm"}},
		{"pins aslant", "plate.toml", "[300, 0, 0]]", "[300, 0, 1]]", "pins", "", []string{"1 mm apart along"}},
		{"no grid", "setup.toml", `on = "trunnion/faceplate"`, `on = "trunnion/cradle"`, `on = "trunnion/cradle"`, "", []string{"no grid"}},
		{"nothing of that name", "setup.toml", `on = "trunnion/faceplate"`, `on = "trunnion/facplate"`, `on = "trunnion/facplate"`, "", []string{`"faceplate"`}},
		{"nothing at all", "setup.toml", `on = "plate"`, `on = "plat"`, `on = "plat"`, "", []string{`"plate"`}},
		{"cycle", "setup.toml", `on = "plate"`, `on = "stock"`, `on = "stock"`, "", []string{"trunnion on stock on vise on trunnion"}},
		{"two pins and at", "setup.toml", `pins = ["B4", "L4"]`, "pins = [\"B4\", \"L4\"]\nat = [0, 0, 0]", `pins = ["B4"`, "", []string{"either pins or at"}},
		{"neither", "setup.toml", `pins = ["B4", "L4"]`, "", "place]]\nname = \"trunnion\"", "", []string{"neither pins nor at"}},
		{"no within", "setup.toml", "within = 0.1 ", "# ", "place]]\nname = \"stock\"", "", []string{"at without within"}},
		{"name twice", "setup.toml", `name = "stock"`, `name = "vise"`, "name = \"vise\"\ncomponent = \"stock.toml\"", "", []string{"second time"}},
		{"name of the machine's", "setup.toml", `name = "stock"`, `name = "head"`, `name = "head"`, "", []string{`"head"`, "nothing of the machine"}},
		{"missing component", "setup.toml", `"stock.toml"`, `"stuck.toml"`, "component = \"stuck.toml\"", "", []string{"stuck.toml", "file does not exist"}},
		{"missing solid", "stock.toml", `"block.stl"`, `"blk.stl"`, "file", "", []string{"blk.stl", "file does not exist"}},
		{"backslash", "stock.toml", `"block.stl"`, `'a\block.stl'`, "file", "", []string{"forward slashes"}},
		{"broken solid", "stock.toml", `"block.stl"`, `"setup.toml"`, "file", "", []string{"cannot be read"}},
		{"beyond travel", "setup.toml", "A = [-30, 110]", "A = [-30, 121]", "A = [", "", []string{"-30 to 121", "-30 to 120"}},
		{"no such axis", "setup.toml", "A = [-30, 110]", "B = [-30, 110]", "B = [", "", []string{`axis "B"`}},
		{"index of a rotary axis", "setup.toml", "# [index]", "[index]\nC = 0 #", "C = 0 #", "", []string{"a linear axis"}},
		{"index beyond travel", "machine.toml", "Z = 550 ", "Z = 560 ", "Z = 560", "", []string{"560", "0 to 550"}},
		{"jaw not set", "setup.toml", "set = { jaw = 60 }", "", "place]]\nname = \"vise\"", "", []string{`"jaw"`, "0 to 150"}},
		{"jaw too wide", "setup.toml", "jaw = 60", "jaw = 151", "jaw = 151", "", []string{"151", "0 to 150"}},
		{"no such jaw", "setup.toml", "jaw = 60", "jaw = 60, jwa = 2", "jwa = 2", "", []string{`"jaw"`}},
		{"opposite of nothing", "vise.toml", "file = \"vise-body.stl\"", "opposite = true\nfile = \"vise-body.stl\"", "opposite = true\nfile", "", []string{"no setting axis"}},
		{"jaws that do not open", "vise.toml", `["fixed jaw", "moving jaw"]`, `["fixed jaw", "body"]`, "grip]]", "", []string{"opening"}},
		{"gripped by no jaws", "setup.toml", "on = \"vise\"", "on = \"plate\"", "gripped", "", []string{"no jaws"}},
		{"no clearance", "setup.toml", "default = 2", "default = 0", "default = 0", "", []string{"more than 0"}},
		{"unknown body", "setup.toml", `["vise", "trunnion/cradle"]`, `["vise", "trunnion/cardle"]`, `"trunnion/cardle"`, "", []string{`"trunnion/cradle"`}},
		{"no reason", "setup.toml", `reason = "the vise is made to pass close to the cradle"`, `reason = " "`, "reason", "", []string{"a reason"}},
		{"tool without spindle", "machine.toml", w["machine.toml"][strings.Index(w["machine.toml"], "[spindle]"):strings.Index(w["machine.toml"], "[tool]")], "", "tool]", "", []string{"no spindle"}},
		{"two holes at once", "setup.toml", `pins = ["B4", "L4"]`, `pins = ["B4", "B4"]`, `pins = ["B4"`, "", []string{"0 mm apart", "500 mm"}},
		{"skew grid", "plate.toml", "pitch = 50", "pitch = 50\nv = [1, 1, 0]", "v = [1", "", []string{"45.0000 degrees"}},
		{"no columns", "plate.toml", "columns = 13", "columns = 0", "columns", "", []string{"1 to 300"}},
		{"thread", "plate.toml", `"M12"`, `"12 mm"`, "thread", "", []string{"M12"}},
	} {
		t.Run(c.name, func(t *testing.T) { c.told(t, w) })
	}
}

// Faults of single tables.
func TestTableFaults(t *testing.T) {
	w := example(t)
	jaw := "name = \"jaw\"\nsetting = true"
	for _, c := range []faulty{
		{"kind of axis", "machine.toml", "home = 0\n", "home = 0\nkind = \"turning\"\n", "kind = \"turning\"", "", []string{`"turning"`, `"rotary"`}},
		{"letter of a setting axis", "vise.toml", jaw, jaw + "\nletter = \"X\"", "letter", "", []string{`"X"`, "not programmed"}},
		{"name of a programmed axis", "trunnion.toml", "letter = \"A\"\n", "letter = \"A\"\nname = \"tilt\"\n", "name = \"tilt\"", "", []string{`"tilt"`, "setting = true"}},
		{"branch of a component", "trunnion.toml", "letter = \"A\"\n", "letter = \"A\"\nmoves = \"tool\"\n", "moves = \"tool\"", "", []string{"only a machine's"}},
		{"no branch", "machine.toml", "letter = \"X\"\nmoves = \"workpiece\"", "letter = \"X\"\nmoves = \"part\"", "moves = \"part\"", "", []string{`"workpiece"`}},
		{"sense", "trunnion.toml", "letter = \"A\"\n", "letter = \"A\"\nsense = \"left\"\n", "sense", "", []string{`"left"`, `"reversed"`}},
		{"sense of a setting axis", "vise.toml", jaw, jaw + "\nsense = \"iso\"", "sense", "", []string{"own direction"}},
		{"centre of a linear axis", "vise.toml", jaw, jaw + "\ncentre = [0, 0, 0]", "centre", "", []string{"linear"}},
		{"unlimited and linear", "vise.toml", "travel = [0, 150]", "unlimited = true", "unlimited", "", []string{"a rotary one"}},
		{"unlimited and travel", "trunnion.toml", "travel = [-30, 120] ", "unlimited = true\ntravel = [-30, 120] ", "travel = [-30", "", []string{"unlimited = false"}},
		{"home of a setting axis", "vise.toml", jaw, jaw + "\nhome = 1", "home", "", []string{"sets this axis"}},
		{"no home", "machine.toml", "home = 0\n", "", "axis]]\nletter = \"X\"", "", []string{"no home"}},
		{"carried by itself", "trunnion.toml", "letter = \"A\"\n", "letter = \"A\"\ncarried_by = \"A\"\n", "carried_by = \"A\"\ndirection = [1", "", []string{"by itself"}},
		{"carried by nothing", "machine.toml", "carried_by = \"bed\"\ndirection = [0, 1", "direction = [0, 1", "axis]]\nletter = \"Y\"", "", []string{"no carried_by", `"bed"`}},
		{"setting axis twice", "vise.toml", "[seat]", "[[axis]]\n" + jaw + "\ndirection = [1, 0, 0]\ntravel = [0, 1]\n[seat]", jaw + "\ndirection = [1, 0", "", []string{`"jaw" a second time`}},
		{"accuracy", "machine.toml", "accuracy = 0.005  ", "accuracy = -0.005  ", "accuracy = -", "", []string{"-0.005", "0 or more"}},
		{"name with a slash", "vise.toml", `name = "body"`, `name = "bo/dy"`, `name = "bo/dy"`, "", []string{"without a slash"}},
		{"true or false", "trunnion.toml", "unlimited = true ", "unlimited = 1 ", "unlimited", "", []string{"1", "true or false"}},
		{"text", "stock.toml", `name = "block"`, `name = 3`, "name = 3", "", []string{"3", "a text"}},
		{"whole number", "plate.toml", "rows = 7", "rows = 7.5", "rows", "", []string{"7.5", "a whole number"}},
		{"table", "setup.toml", "set = { jaw = 60 }", "set = [60]", "set = [60]", "", []string{"a list", "a table"}},
		{"list", "plate.toml", `omit = ["G4"]`, `omit = "G4"`, "omit", "", []string{`"G4"`, "a list"}},
		{"point", "plate.toml", "origin = [-300, -150, 40]", "origin = 40", "origin", "", []string{"40", "[x, y, z]"}},
		{"point of words", "plate.toml", "origin = [-300, -150, 40]", `origin = [-300, -150, "40"]`, "origin", "", []string{`"40"`, "[x, y, z]"}},
		{"three bodies", "setup.toml", `["vise", "trunnion/cradle"]`, `["vise", "trunnion/cradle", "plate"]`, "bodies =", "", []string{"3 bodies", "two"}},
		{"hole to omit", "plate.toml", `omit = ["G4"]`, `omit = ["G4", "N1"]`, `"N1"`, "", []string{`"N1"`, "A1 to M7"}},
		{"grid carried otherwise", "trunnion.toml", "solid = \"faceplate\" ", "carried_by = \"A\"\nsolid = \"faceplate\" ", "carried_by = \"A\"\nsolid", "", []string{`"A"`, `"C", as solid`}},
		{"grid in no solid", "plate.toml", `solid = "plate"`, `solid = "plat"`, `solid = "plat"`, "", []string{`"plate"`}},
		{"grid twice", "machine.toml", "[[grid]] ", "[[grid]]\nname = \"table top\"\nsolid = \"table\"\norigin = [0, 0, 0]\ncolumns = 1\nrows = 1\npitch = 1\n[[grid]] ", "name = \"table top\"\nsolid = \"table\"\norigin = [-400", "", []string{"second time"}},
		{"solid twice", "vise.toml", `name = "body"`, `name = "fixed jaw"`, "name = \"fixed jaw\"\nfile = \"fixed", "", []string{"second time"}},
		{"one jaw", "vise.toml", `jaws = ["fixed jaw", "moving jaw"]`, `jaws = ["fixed jaw"]`, "jaws", "", []string{"1 jaw", "two or more"}},
		{"unknown jaw", "vise.toml", `jaws = ["fixed jaw", "moving jaw"]`, `jaws = ["fixed jaw", "moving jar"]`, `"moving jar"`, "", []string{`"moving jaw"`}},
		{"openings", "vise.toml", "# opening = [[0, -1, 0], [0, 1, 0]]", "opening = [[0, 1, 0]]", "opening", "", []string{"1 direction", "2"}},
		{"no such grip", "setup.toml", "bite = 0", "bite = 0, grip = \"left\"", "grip = \"left\"", "", []string{`"left"`}},
		{"mass and material", "stock.toml", "role =", "mass = 1\nrole =", "mass", "", []string{"one of the two"}},
		{"mass of nothing", "trunnion.toml", "mass = 165", "mass = 0", "mass", "", []string{"more than 0"}},
		{"pins of what has no seat", "setup.toml", "at = [0, 0, 60] ", "pins = [\"A1\", \"A3\"] # ", "pins = [\"A1\", \"A3\"]", "", nil},
		{"pins on the bed", "setup.toml", `on = "plate"`, `on = "bed"`, `on = "bed"`, "", []string{"no grid"}},
		{"pins at one point", "plate.toml", "[300, 0, 0]]", "[-300, 0, 0]]", "pins", "", []string{"one point"}},
		{"play", "plate.toml", "play = 0.029", "play = 600", "play", "", []string{"less than the distance"}},
		{"no part of a vise", "setup.toml", `on = "vise"`, `on = "vise/bodi"`, `on = "vise/bodi"`, "", []string{`"body"`}},
		{"fastener", "trunnion.toml", "at = [200, 50, 0]\nthread = \"M12\"", "at = [200, 50, 0]\nthread = \"12\"", "thread = \"12\"", "", []string{"M12"}},
		{"no kind", "stock.toml", "kind = \"component\"\n", "", "", "", []string{"no kind"}},
		{"no solid", "stock.toml", strings.SplitAfter(w["stock.toml"], "7075\"\n")[1], "solid = []\n", "solid", "", []string{"no solid"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := w
			if c.name == "pins of what has no seat" {
				w = w.with(t, "setup.toml", "turned = 0 ", "# ").with(t, "setup.toml", "within = 0.1 ", "# ")
			}
			c.told(t, w)
		})
	}
}

// A solid a kilometre away, a tool without a spindle, several grids: faults
// that need more than one change.
func TestFaultsOfTheWhole(t *testing.T) {
	w := example(t)
	w["block.stl"] = string(box(0, 0, 0, 10, 10, 1.1e6))
	if e := w.onlyError(t); !strings.Contains(e.Error(), "is the unit right?") {
		t.Error(e)
	}
	w = example(t)
	spindle, rest := strings.Index(w["machine.toml"], "[spindle]"), strings.Index(w["machine.toml"], "[index]")
	w["machine.toml"] = w["machine.toml"][:spindle] + w["machine.toml"][rest:]
	w["setup.toml"] += "[tool]\ndiameter = 10\nlength = 100\n"
	if e := w.onlyError(t); !strings.HasPrefix(e.Error(), w.place(t, "setup.toml", "tool]\ndiam")) {
		t.Error(e)
	}
	w = example(t)
	w["trunnion.toml"] += "[[grid]]\nname = \"side\"\nsolid = \"base\"\norigin = [0, 0, 0]\ncolumns = 4\nrows = 4\npitch = 50\n"
	w = w.with(t, "setup.toml", `on = "trunnion/faceplate"`, `on = "trunnion"`)
	if e := w.onlyError(t); !strings.Contains(e.Error(), "trunnion/faceplate, trunnion/side") {
		t.Error(e)
	}
	// A file of nothing but faults is told in part.
	w = example(t)
	w["stock.toml"] += strings.Repeat("[[unknown]]\n", 1) + strings.Repeat("[[solid]]\n", 500)
	_, err := LoadFS(w.fs(), "setup.toml")
	if n := strings.Count(err.Error(), "\n") + 1; n != maxFaults {
		t.Errorf("%d faults told", n)
	}
}

const axisA = `[[axis]]
letter = "A"
moves = "workpiece"
carried_by = "X"
direction = [1, 0, 0]
centre = [0, 0, 0]
travel = [0, 1]
`

// All faults of the files are told together, file by file, from the top.
func TestFaultsTogether(t *testing.T) {
	w := example(t).
		with(t, "trunnion.toml", "play = 0.035", "paly = 0.035").
		with(t, "machine.toml", `role = "column"`, `role = "colunm"`).
		with(t, "machine.toml", `moves = "tool"`, `moves = "tools"`)
	_, err := LoadFS(w.fs(), "setup.toml")
	if err == nil {
		t.Fatal("loaded")
	}
	lines := strings.Split(err.Error(), "\n")
	for i, start := range []string{
		w.place(t, "machine.toml", `moves = "tools"`), w.place(t, "machine.toml", `role = "colunm"`),
		w.place(t, "trunnion.toml", "paly"),
	} {
		if i >= len(lines) || !strings.HasPrefix(lines[i], start) {
			t.Fatalf("line %d does not start with %s:\n%v", i+1, start, err)
		}
	}
	if len(lines) != 3 {
		t.Errorf("%d errors:\n%v", len(lines), err)
	}
}

func TestMissingSetup(t *testing.T) {
	_, err := Load(t.TempDir() + "/no such setup.toml")
	if err == nil || !strings.Contains(err.Error(), "no such setup.toml") {
		t.Errorf("got %v", err)
	}
	var e *Error
	if errors.As(err, &e) {
		t.Error("no file, yet a place in it")
	}
}
