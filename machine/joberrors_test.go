package machine

import (
	"fmt"
	"strings"
	"testing"
)

// What is wrong with the form of the new tables is an error with its place.
func TestJobFaults(t *testing.T) {
	w := example(t)
	for _, c := range []faulty{
		{"unknown key", "setup.toml", "depth = 12", "dept = 12\ndepth = 12", "dept =", "", []string{`"depth"`}},
		{"unknown feature", "setup.toml", "[[operation.pocket]]", "[[operation.poket]]", "poket", "", []string{`"pocket"`}},
		{"one operation", "setup.toml", "[[operation]]\nname = \"face the top\"", "[operation]\nname = \"face the top\"", "operation]]\nname", "", []string{"[[operation]]"}},
		{"no tool of an operation", "setup.toml", "tool = 1\n", "", "operation]]\nname = \"face the top\"", "", []string{"no tool"}},
		{"no approach", "setup.toml", "approach = 5 ", "#", "operation]]\nname = \"face the top\"", "", []string{"no approach", "above the stock"}},
		{"no retract", "setup.toml", "retract = 25 ", "#", "operation]]\nname = \"face the top\"", "", []string{"no retract"}},
		{"no depth", "setup.toml", "depth = 12\n", "", "hole]]\nlist", "", []string{"no depth, and none in holes.csv:2"}},
		{"no depth_to", "setup.toml", "depth = 15\ndepth_to = \"tip\"", "depth = 15", "hole]]\nat", "", []string{"no depth_to", `"full diameter"`}},
		{"no axis", "setup.toml", "at = [[40, 0, -20]]         # where it begins at the part\naxis = [1, 0, 0]", "at = [40, 0, -20]", "hole]]\nat", "", []string{"no axis", "towards the spindle"}},
		{"no place of a hole", "setup.toml", "at = [[40, 0, -20]] ", "#", "hole]]\n#", "", []string{"neither at nor list"}},
		{"place and list", "setup.toml", "at = [[40, 0, -20]] ", "list = \"holes.csv\"\nat = [[40, 0, -20]] ", "list = \"holes.csv\"\nat", "", []string{"one of the two"}},
		{"text for points", "setup.toml", "at = [[40, 0, -20]] ", "at = \"A1\" ", "at = \"A1\"", "", []string{`"A1"`, "a list"}},
		{"two coordinates", "setup.toml", "at = [[40, 0, -20]] ", "at = [40, 0] ", "at = [40, 0]", "", []string{"2 entries", "[x, y, z]"}},
		{"box and points", "setup.toml", "overrun = 2 ", "points = [[0, 0, 0]]\noverrun = 2 ", "points = [[0, 0, 0]]", "", []string{"either a box or"}},
		{"half a box", "setup.toml", "to = [40, 30, -1]", "", "face]]", "", []string{"neither box nor points"}},
		{"overrun of a path", "setup.toml", "from = [-40, -30, 0]        # opposite corners of what is cut\nto = [40, 30, -1]", "points = [[0, 0, 0]]", "overrun", "", []string{"none"}},
		{"axes of a contour", "setup.toml", "axes = [[0, -0.1, 1], ", "axes = [", "axes = [", "", []string{"2 axes", "3, one for each point"}},
		{"contour of nothing", "setup.toml", "axes = [[0, -0.1, 1], [0, -0.15, 1], [0, -0.2, 1]]\n", "", "contour]]", "", []string{"neither points and axes nor list"}},
		{"list and points", "setup.toml", "axes = [[0", "list = \"holes.csv\"\naxes = [[0", "i,j,k", "none", nil},
		{"tip control", "setup.toml", "tip_control = true ", "#", "contour]]", "", []string{"no tip_control"}},
		{"search", "setup.toml", "search = 3 ", "#", "touch]]", "", []string{"no search"}},
		{"operation twice", "setup.toml", `name = "mill the seat"`, `name = "face the top"`, "name = \"face the top\"\ntool = 2", "", []string{"a second time"}},
		{"feature twice", "setup.toml", `name = "rim"`, `name = "seat"`, "contour]]", "", []string{`"seat" a second time`}},
		{"part and parts", "setup.toml", "# part = \"bearing block\" ", "part = \"bearing block\"\nparts = [\"bearing block\"] #", "parts = [\"bearing", "", []string{"one of the two"}},
		{"no parts", "setup.toml", "# part = \"bearing block\" ", "parts = [] #", "parts = []", "", []string{"no part"}},
		{"part of no place", "setup.toml", `place = "stock"`, `place = "stok"`, `place = "stok"`, "", []string{`"stock", perhaps`}},
		{"part twice", "setup.toml", "# Operations come", "[[part]]\nname = \"bearing block\"\nplace = \"stock\"\n# Operations come", "name = \"bearing block\"\nplace = \"stock\"\n#", "", []string{"a second time"}},
		{"offset twice", "setup.toml", "# Operations come", "[[part]]\nname = \"b\"\nplace = \"stock\"\noffset = \"G54\"\n# Operations come", "offset = \"G54\"\n#", "", []string{`part "bearing block" has`}},
		{"no such offset", "setup.toml", `offset = "G54"`, `offset = "G60"`, `offset = "G60"`, "", []string{"G54, G55"}},
		{"missing tool file", "setup.toml", `tools = ["tools.toml"]`, `tools = ["tool.toml"]`, `"tool.toml"`, "", []string{"file does not exist"}},
		{"tool file twice", "setup.toml", `tools = ["tools.toml"]`, `tools = ["tools.toml", "./tools.toml"]`, `"./tools.toml"`, "", []string{"a second time"}},
		{"other kind", "setup.toml", `tools = ["tools.toml"]`, `tools = ["vise.toml"]`, "kind", "vise.toml", []string{`"tools"`}},
		{"missing list", "setup.toml", `list = "holes.csv"`, `list = "hole.csv"`, "list = \"hole.csv\"", "", []string{"file does not exist"}},
		{"negative demand", "setup.toml", "holder = 1.5", "holder = -1.5", "holder = -", "", []string{"more than 0"}},
		{"negative margin", "setup.toml", "travel = 1 ", "travel = -1 ", "travel = -", "", []string{"0 or more"}},
		{"no such body", "setup.toml", "# [[may_be_cut]]", mayCut("vise/fixd jaw", "soft"), "body = \"vise/fixd jaw\"", "", []string{`"vise/fixed jaw", perhaps`}},
		{"cut the machine", "setup.toml", "# [[may_be_cut]]", mayCut("machine/table", "soft"), "body = \"machine/table\"", "", []string{"a body that is set up"}},
		{"cut for no reason", "setup.toml", "# [[may_be_cut]]", mayCut("vise/body", " "), "reason = \" \"", "", []string{"a reason"}},
		{"cut twice", "setup.toml", "# [[may_be_cut]]", mayCut("vise/body", "a") + mayCut("vise/body", "b"), "body = \"vise/body\"\ndepth = 1\nreason = \"b\"", "", []string{"a second time"}},
		{"cut from a vise", "setup.toml", "place = \"stock\" ", "place = \"vise\" ", "place = \"vise\"", "", []string{`role "workholding"`, `"stock" or "part"`}},
		{"probed what", "setup.toml", "# [[probed]]", "[[probed]]\npart = \"block\"\nshift = [0, 0, 0]\n#", "part = \"block\"", "", []string{`"bearing block"`}},
		{"probed nothing", "setup.toml", "# [[probed]]", "[[probed]]\npart = \"bearing block\"\n#", "probed]]\npart", "", []string{"neither shift nor skew"}},
		{"measured what", "setup.toml", "# [[measured]]", "[[measured]]\naxis = \"B\"\nposition = { Y = 0 }\n#", "axis = \"B\"", "", []string{`axis "B"`}},
		{"measured a slide", "setup.toml", "# [[measured]]", "[[measured]]\naxis = \"X\"\nposition = { Y = 0 }\n#", "axis = \"X\"", "", []string{"a rotary axis"}},
		{"measured too little", "setup.toml", "# [[measured]]", "[[measured]]\naxis = \"A\"\nposition = { Y = 0 }\n#", "position = { Y = 0 }\n#", "", []string{"no Z", "line of A"}},
		{"measured along it", "setup.toml", "# [[measured]]", "[[measured]]\naxis = \"A\"\nposition = { X = 1, Y = 0, Z = 100 }\n#", "X = 1", "", []string{"along the line of A"}},
		{"measured beyond", "setup.toml", "# [[measured]]", "[[measured]]\naxis = \"A\"\nposition = { Y = 0, Z = 600 }\n#", "Z = 600", "", []string{"0 to 550"}},
		{"measured with another", "setup.toml", "# [[measured]]", "[[measured]]\naxis = \"A\"\nposition = { Y = 0, Z = 100, W = 1 }\n#", "W = 1", "", []string{"Y, Z"}},
		{"measured twice", "setup.toml", "# [[measured]]", strings.Repeat("[[measured]]\naxis = \"A\"\nposition = { Y = 0, Z = 100 }\n", 2) + "#", "axis = \"A\"\nposition = { Y = 0, Z = 100 }\n#", "", []string{"a second time"}},
		{"shift of what", "setup.toml", "# [offsets]", "[offsets]", "offsets]", "", []string{"no shift"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.atFile == "none" { // the list has no axes, and stands beside points
				w := w.with(t, c.file, c.old, c.new)
				if _, err := LoadFS(w.fs(), "setup.toml"); err == nil || !strings.Contains(err.Error(), "holes.csv:1:7: found column \"name\"") {
					t.Errorf("got %v", err)
				}
				return
			}
			c.told(t, w)
		})
	}
}

func mayCut(body, reason string) string {
	return fmt.Sprintf("[[may_be_cut]]\nbody = %q\ndepth = 1\nreason = %q\n# [[may_be_cut]]", body, reason)
}

// Faults of the new tables of a machine, and of a tool file.
func TestFaultsOfMachineAndTools(t *testing.T) {
	w := example(t)
	zone := "# [[tool_change.zone]] "
	for _, c := range []faulty{
		{"rapid", "machine.toml", "# rapid = \"interpolated\" ", "rapid = \"fast\" #", "rapid", "", []string{`"fast"`, `"interpolated"`}},
		{"roll over", "trunnion.toml", `roll_over = "shorter"`, `roll_over = "longer"`, "roll_over", "", []string{`"longer"`, `"by value"`}},
		{"roll over of an end", "trunnion.toml", "travel = [-30, 120] ", "roll_over = \"shorter\"\ntravel = [-30, 120] ", "roll_over", "", []string{"only an unlimited axis"}},
		{"method", "machine.toml", `"per-position"     # one`, `"per position"     # one`, "method", "", []string{`"per-position" or "turned-by-control"`}},
		{"lengths", "machine.toml", `lengths = "absolute"`, `lengths = "relative"`, "lengths", "", []string{`"touched-off"`}},
		{"number twice", "machine.toml", `["G54", "G55", "G56"`, `["G54", "G54", "G56"`, `"G54", "G56"`, "", []string{"a second time"}},
		{"no number", "machine.toml", `["G54", "G55", "G56", "G57", "G58", "G59"]`, `[]`, "numbers", "", []string{"no number"}},
		{"decimals", "machine.toml", "decimals = 3", "decimals = 7", "decimals", "", []string{"0 to 6"}},
		{"magazine", "machine.toml", "heaviest = 8", "heaviest = 0", "heaviest", "", []string{"more than 0"}},
		{"alone", "machine.toml", "alone = 125", "alone = 70", "alone", "", []string{"at least diameter, 80"}},
		{"change at", "machine.toml", "at = { X = 0,", "at = { A = 0,", "A = 0, Z", "", []string{"a linear axis of the machine"}},
		{"change beyond", "machine.toml", "at = { X = 0,", "at = { X = 500,", "X = 500", "", []string{"-400 to 400"}},
		{"zone of nothing", "machine.toml", zone, "[[tool_change.zone]]\nname = \"arm\"\n#", "zone]]\nname", "", []string{"neither file nor box"}},
		{"zone of both", "machine.toml", zone, "[[tool_change.zone]]\nname = \"arm\"\nfile = \"nose.stl\"\nchord_error = 0\nfrom = [0, 0, 0]\nto = [1, 1, 1]\n#", "file = \"nose.stl\"\nchord_error = 0\nfrom", "", []string{"one of the two"}},
		{"zone that is flat", "machine.toml", zone, "[[tool_change.zone]]\nname = \"arm\"\nfrom = [0, 0, 0]\nto = [1, 0, 1]\n#", "to = [1, 0, 1]", "", []string{"flat"}},
		{"zone far away", "machine.toml", zone, "[[tool_change.zone]]\nname = \"arm\"\nfrom = [0, 0, 0]\nto = [1, 1, 2e6]\n#", "zone]]\nname", "", []string{"2e+06 mm"}},
		{"zone without error", "machine.toml", zone, "[[tool_change.zone]]\nname = \"arm\"\nfile = \"nose.stl\"\n#", "zone]]\nname", "", []string{"no chord_error"}},
		{"zone called head", "machine.toml", zone, "[[tool_change.zone]]\nname = \"head\"\nfrom = [0, 0, 0]\nto = [1, 1, 1]\n#", "name = \"head\"\nfrom", "", []string{"a second time"}},
		{"zone carried", "machine.toml", zone, "[[tool_change.zone]]\nname = \"arm\"\ncarried_by = \"W\"\nfrom = [0, 0, 0]\nto = [1, 1, 1]\n#", "carried_by = \"W\"", "", []string{`"W"`}},
		{"changer absent and there", "machine.toml", zone, "[[tool_change.zone]]\nname = \"arm\"\nfrom = [0, 0, 0]\nto = [1, 1, 1]\n#", `"changer", `, "", []string{`body "machine/arm"`}},

		{"kind of cutter", "tools.toml", `kind = "drill"`, `kind = "dril"`, `kind = "dril"`, "", []string{`"drill", perhaps`}},
		{"no point angle", "tools.toml", "SIG = 118 ", "#", "cutter]]\nname = \"drill 10\"", "", []string{"no SIG", "a drill needs it"}},
		{"point angle", "tools.toml", "SIG = 118 ", "SIG = 181 ", "SIG = 181", "", []string{"1 to 180"}},
		{"negative corner", "tools.toml", "RE = 0.8", "RE = -0.8", "RE = -", "", []string{"0 or more"}},
		{"no diameter", "tools.toml", "DC = 50", "DC = 0", "DC = 0", "", []string{"more than 0"}},
		{"symbol in small letters", "tools.toml", "APMX = 6", "apmx = 6\nAPMX = 6", "apmx", "", []string{`"APMX", perhaps`}},
		{"cutter twice", "tools.toml", "[[cutter]]\nname = \"end mill 10\"", "[[cutter]]\nname = \"face mill 50\"\nkind = \"drill\"\nDC = 1\nSIG = 90\nAPMX = 1\nDMM = 1\nOAL = 9\n[[cutter]]\nname = \"end mill 10\"", "name = \"face mill 50\"\nkind = \"drill\"", "", []string{"a second time"}},
		{"holder twice", "tools.toml", "[[holder]]\nname = \"probe", "[[holder]]\nname = \"arbor 22\"\nprofile = [[0, 9], [9, 9]]\n[[holder]]\nname = \"probe", "name = \"arbor 22\"\nprofile = [[0, 9]", "", []string{"a second time"}},
		{"no outline", "tools.toml", "profile = [[0, 63], [30, 63], [30, 50], [105, 50]]\n", "", "holder]]\nname = \"probe body\"", "", []string{"neither profile nor file"}},
		{"outline and solid", "tools.toml", "# file = \"arbor.stl\" ", "file = \"arbor.stl\" #", "file = \"arbor", "", []string{"one of the two"}},
		{"length of an outline", "tools.toml", "# length = 45 ", "length = 45 #", "length = 45", "", []string{"ends at the face"}},
		{"chord error of an outline", "tools.toml", "# chord_error = 0.02 ", "chord_error = 0.02 #", "chord_error", "", []string{"exact"}},
		{"step of three", "tools.toml", "[[0, 63], [30, 63]", "[[0, 63, 1], [30, 63]", "0, 63, 1]", "", []string{"3 entries", "a pair"}},
		{"solid of no length", "tools.toml", "profile = [[0, 63], [30, 63], [30, 50], [105, 50]]", "file = \"nose.stl\"\nchord_error = 0", "holder]]\nname = \"probe body\"", "", []string{"no length"}},
		{"solid of no error", "tools.toml", "profile = [[0, 63], [30, 63], [30, 50], [105, 50]]", "file = \"nose.stl\"\nlength = 50", "holder]]\nname = \"probe body\"", "", []string{"no chord_error"}},
		{"solid that is not there", "tools.toml", "profile = [[0, 63], [30, 63], [30, 50], [105, 50]]", "file = \"probe.stl\"\nlength = 50\nchord_error = 0", "file = \"probe.stl\"", "", []string{"file does not exist"}},
		{"number of a tool", "tools.toml", "number = 4", "number = 0", "number = 0", "", []string{"1 or more"}},
		{"tool twice", "tools.toml", "number = 4", "number = 2", "number = 2\ncutter = \"drill", "", []string{"T2 a second time"}},
		{"no such cutter", "tools.toml", "cutter = \"drill 10\"", "cutter = \"drill 11\"", "cutter = \"drill 11\"", "", []string{`"drill 10", perhaps`}},
		{"no such holder", "tools.toml", `holder = "probe body"`, `holder = "probe"`, `holder = "probe"`, "", []string{"collet chuck 70"}},
		{"one tool", "tools.toml", "[[tool]]                    # a cutter", "[tool] # a cutter", "tool]\nnumber = 2", "", []string{"[[tool]]"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.name == "one tool" { // TOML itself refuses the table and the array of one name
				e := w.with(t, c.file, c.old, c.new).onlyError(t)
				if !strings.Contains(e.Expected, "[[tool]]") {
					t.Error(e)
				}
				return
			}
			c.told(t, w)
		})
	}
	// In a setup file the same word is a table.
	e := example(t).with(t, "setup.toml", "# [tool] ", "[tool]\ndiameter = 1\nlength = 1\n[tool] #").onlyError(t)
	if e.Found != "[tool] a second time" {
		t.Error(e)
	}
}

// What is wrong with the values of one operation leaves out that one.
func TestFaultyOperations(t *testing.T) {
	w := example(t)
	drill, end := "drill the corners", "drill the end"
	for _, c := range []struct {
		what, file, old, new string
		names                []string
		file2, at            string // where it is told
		says                 []string
	}{
		{"unknown tool", "setup.toml", "tool = 1\n", "tool = 7\n", []string{"face the top"}, "setup.toml", "tool = 7", []string{"tool: found T7", "T1, T2, T4, T20"}},
		{"zero axis", "setup.toml", "axis = [1, 0, 0]", "axis = [0, 0, 0]", []string{end}, "setup.toml", "axis = [0, 0, 0]", []string{"axis: found [0, 0, 0]", "not zero"}},
		{"zero way", "setup.toml", "toward = [0, 0, -1]", "toward = [0, 0, 0]", []string{"probe the top"}, "setup.toml", "toward =", []string{"not zero"}},
		{"small pocket", "setup.toml", "to = [15, 12, -9]", "to = [15, -3, -9]", []string{"mill the seat"}, "setup.toml", "pocket]]", []string{"a pocket 9 mm wide and a cutter of DC 10 mm"}},
		{"face not all cut", "setup.toml", "overrun = 2 ", "overrun = -25.1 ", []string{"face the top"}, "setup.toml", "overrun = -25.1", []string{"overrun: found -25.1 mm", "0.1 mm inside the edges", "no less than -25 mm"}},
		{"skew side", "setup.toml", "name = \"seat\"\n", "name = \"seat\"\nalong = [1, 0, 1]\n", []string{"mill the seat"}, "setup.toml", "along = [1, 0, 1]", []string{"45.0000 degrees", "square"}},
		{"unknown part", "setup.toml", "# part = \"bearing block\" ", "part = \"block\" #", []string{"face the top"}, "setup.toml", "part = \"block\"", []string{`"bearing block"`}},
		{"negative depth", "setup.toml", "depth = 15", "depth = -15", []string{end}, "setup.toml", "depth = -15", []string{"depth: found -15", "more than 0"}},
		{"negative breakthrough", "setup.toml", "breakthrough = 0 ", "breakthrough = -1 ", []string{end}, "setup.toml", "breakthrough = -1", []string{"0 or more"}},
		{"depth to what", "setup.toml", "depth_to = \"tip\"", "depth_to = \"point\"", []string{end}, "setup.toml", "depth_to = \"point\"", []string{`"tip" or "full diameter"`}},
		{"retract below approach", "setup.toml", "retract = 40\npositions", "retract = 2\npositions", []string{end}, "setup.toml", "retract = 2\npositions", []string{"at least the approach, 3"}},
		{"no approach at all", "setup.toml", "approach = 5 ", "approach = 0 ", []string{"face the top"}, "setup.toml", "approach = 0", []string{"more than 0"}},
		{"position beyond", "setup.toml", "{ A = 90, C = 90 }", "{ A = 130, C = 90 }", []string{end}, "setup.toml", "A = 130", []string{"-30 to 120"}},
		{"position of a slide", "setup.toml", "{ A = 90, C = 90 }", "{ X = 90, C = 90 }", []string{end}, "setup.toml", "X = 90", []string{"a rotary one"}},
		{"position of nothing", "setup.toml", "{ A = 90, C = 90 }", "{ B = 90, C = 90 }", []string{end}, "setup.toml", "B = 90", []string{`axis "B"`}},
		{"no feature", "setup.toml", "[[operation.touch]]\nat = [30, 0, -1]\naxis = [0, 0, 1]\ntoward = [0, 0, -1]         # the way of the search\nstart = 8                   # how far before the point it begins\nsearch = 3 ", "#", []string{"probe the top"}, "setup.toml", "operation]]\nname = \"probe the top\"", []string{"no feature"}},
		{"one point of a path", "setup.toml", "points = [[-15, -12, -2], [0, -12, -2], [15, -12, -2]]\naxes = [[0, -0.1, 1], [0, -0.15, 1], [0, -0.2, 1]]", "points = [[-15, -12, -2]]\naxes = [[0, 0, 1]]", []string{"mill the seat"}, "setup.toml", "contour]]", []string{"1 point", "two or more"}},
		{"probe that cuts", "setup.toml", "tool = 2\n", "tool = 20\n", []string{"mill the seat"}, "setup.toml", "tool = 20", []string{"a touch probe for a pocket"}},
		{"drill that touches", "setup.toml", "tool = 20\n", "tool = 4\n", []string{"probe the top"}, "setup.toml", "tool = 4\napproach = 10", []string{"a drill for a touch"}},
		{"full diameter of a tap", "tools.toml", "kind = \"drill\"\nDC = 10\nSIG = 118 ", "kind = \"tap\"\nDC = 10\n#", []string{drill}, "setup.toml", "depth_to = \"full", []string{`"full diameter" of a tap`, "its lead"}},
		{"zero axis in a list", "holes.csv", "x,y,z,name\n-30,-20,-1,lower left", "x,y,z,i,j,k,name\n-30,-20,-1,0,0,0,lower left", []string{drill}, "holes.csv", "-30,-20,-1,0", []string{"not zero"}},
		{"profile that goes backwards", "tools.toml", "[19, 50], [35, 50]", "[19, 50], [15, 50]", []string{drill, "mill the seat", end}, "tools.toml", "profile", []string{"goes backwards"}},
		{"stick-out longer than the tool", "tools.toml", "stick_out = 60", "stick_out = 95", []string{drill, end}, "tools.toml", "stick_out = 95", []string{"T4: stick_out: found 95 mm", "89 mm"}},
		{"shank wider than its bore", "tools.toml", "DMM = 10\nOAL = 89", "DMM = 14\nOAL = 89", []string{drill, end}, "tools.toml", "tool]]\nnumber = 4", []string{"T4: DMM: found 14 mm", "13 mm"}},
	} {
		v := w.with(t, c.file, c.old, c.new)
		if c.what == "zero axis in a list" {
			v["holes.csv"] = "x,y,z,i,j,k,name\n-30,-20,-1,0,0,0,lower left\n"
		}
		s := v.load(t)
		var names []string
		for _, f := range s.Faulty {
			names = append(names, f.Name)
		}
		if strings.Join(names, "|") != strings.Join(c.names, "|") {
			t.Errorf("%s: faulty %q, want %q: %+v", c.what, names, c.names, s.Faulty)
			continue
		}
		if len(s.Operations) != 5-len(c.names) {
			t.Errorf("%s: %d operations left", c.what, len(s.Operations))
		}
		if at := v.place(t, c.file2, c.at); !strings.HasPrefix(at, s.Faulty[0].Where+":") {
			t.Errorf("%s: told at %s, want %s", c.what, s.Faulty[0].Where, at)
		}
		for _, text := range c.says {
			if !strings.Contains(s.Faulty[0].Reason, text) {
				t.Errorf("%s: %q does not say %q", c.what, s.Faulty[0].Reason, text)
			}
		}
	}
}

// Several things wrong with one operation are told together; a part that is not
// there leaves out the operation at that part only.
func TestFaultyTogether(t *testing.T) {
	s := drilling(t, 4, "[[operation.hole]]\nat = [0, 0, 40]\naxis = [0, 0, 0]\ndepth = -1\ndepth_to = \"tip\"\n").load(t)
	if len(s.Faulty) != 1 || strings.Count(s.Faulty[0].Reason, "found") != 2 {
		t.Errorf("%+v", s.Faulty)
	}
	w := drilling(t, 4, "parts = [\"block\", \"brick\"]\n[[operation.hole]]\nat = [0, 0, 40]\naxis = [0, 0, 1]\ndepth = 1\ndepth_to = \"tip\"\n")
	s = w.load(t)
	if len(s.Operations) != 1 || s.Operations[0].Name != "op (block)" || len(s.Faulty) != 1 || s.Faulty[0].Name != "op (brick)" {
		t.Errorf("operations %+v, faulty %+v", s.Operations, s.Faulty)
	}
	// Without a part, and without a spindle, nothing can be cut; the rest loads.
	s = example(t).with(t, "setup.toml", "[[part]]\nname = \"bearing block\"\nplace = \"stock\"             # what it is cut from, of the role \"stock\" or \"part\"\nat = [0, 0, 40]             # its zero in the coordinates of the place (default: theirs)\nturned = 0                  # degrees about their Z, counter-clockwise (optional)\noffset = \"G54\" ", "#").load(t)
	if len(s.Operations) != 0 || len(s.Faulty) != 5 || !strings.Contains(s.Faulty[0].Reason, "[[part]]") {
		t.Errorf("faulty %+v", s.Faulty)
	}
	w = example(t)
	spindle, index := strings.Index(w["machine.toml"], "[spindle]"), strings.Index(w["machine.toml"], "[index]")
	w["machine.toml"] = w["machine.toml"][:spindle] + w["machine.toml"][index:]
	s = w.load(t)
	if len(s.Faulty) != 5 || !strings.Contains(s.Faulty[0].Reason, "no spindle in machine.toml") || s.Spindle != nil {
		t.Errorf("faulty %+v", s.Faulty)
	}
}
