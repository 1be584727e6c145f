package machine

import (
	"strings"
	"testing"
)

// holesFrom is one hole table whose places are in a list.
func holesFrom(t testing.TB, list, more string) world {
	w := drilling(t, 4, "[[operation.hole]]\nlist = \"points.csv\"\n"+more)
	w["points.csv"] = list
	return w
}

// What a line of a list says goes before what the table says of all.
func TestList(t *testing.T) {
	const table = "axis = [0, 0, 1]\ndepth = 10\ndepth_to = \"tip\"\n"
	for _, list := range []string{
		"x,y,z,i,j,k,depth,breakthrough,depth_to,name\n0,0,40,,,,,,,\n40,0,20,1,0,0,5,0.5,full diameter,side\n",
		"\ufeffx;y;z;i;j;k;depth;breakthrough;depth_to;name\r\n0; 0;40;;;;;;;\r\n40;0;20;1;0;0;5;.5;full diameter;\"side\"\r\n",
		"name,depth_to,breakthrough,depth,k,j,i,z,y,x\n,,,,,,,4e1,0,-0\n\nside,full diameter,0.5,5,0,0,1,20,0,40",
	} {
		s := holesFrom(t, list, table).load(t)
		f := s.Operations[0].Features
		if len(f) != 2 || f[0].Name != "hole 1" || f[1].Name != "side" {
			t.Fatalf("%q: %+v", list, f)
		}
		near(t, "first", f[0].Tips[0], vec(0, 0, 30), 0)
		near(t, "second", f[1].Tips[0], vec(40-5-0.5-3.0043, 0, 20), 5e-5)
		near(t, "axis", f[1].Axes[0], vec(1, 0, 0), 0)
	}
}

func TestListFaults(t *testing.T) {
	const table = "axis = [0, 0, 1]\ndepth = 10\ndepth_to = \"tip\"\n"
	for _, c := range []struct {
		list, at string
		says     []string
	}{
		{"", "1:1", []string{"an empty file", "x,y,z"}},
		{"x,y,z\n", "2:1", []string{"no point"}},
		{"x,y\n0,0\n", "1:1", []string{"no column z", "x,y,z"}},
		{"x,y,z,dia\n0,0,0,1\n", "1:7", []string{`column "dia"`, "breakthrough"}},
		{"x,y,z,dpth\n0,0,0,1\n", "1:7", []string{`"depth", perhaps`}},
		{"x,y,z,y\n0,0,0,1\n", "1:7", []string{`"y" a second time`}},
		{"x,y,z,i,k\n0,0,0,1,0\n", "1:1", []string{"no column j"}},
		{"x,y,z,i,j,k\n0,0,40,1,,0\n", "2:8", []string{"without i, j or k"}},
		{"x,y,z\n1,2,3\n1,b,3\n", "3:3", []string{`"b"`, "a number"}},
		{"x,y,z\n1,,3\n", "2:3", []string{`""`, "a number"}},
		{"x;y;z\n1;2,5;3\n", "2:3", []string{`"2,5"`, "2.5"}},
		{"x,y,z\n1,2,inf\n", "2:5", []string{`"inf"`, "a number"}},
		{"x,y,z\n1,2,0x10\n", "2:5", []string{`"0x10"`, "a number"}},
		{"x,y,z\n1,2,1e300\n", "2:5", []string{`"1e300"`, "a number"}},
		{"x,y,z\n1,2\n", "2:3", []string{"2 fields", "3, as in the first line"}},
		{"x,y,z\n1,2,3,4\n", "2:5", []string{"4 fields"}},
		{"x,y,z,name\n1,2,40,a\n\n1,2,40,a\n", "4:8", []string{`"a" a second time`}},
		{"x,y,z\n1,\"2,3\n", "2:8", []string{"a list in CSV"}},
		{"x,y,z\n1,\xff,3\n", "2:3", []string{"0xFF", "UTF-8"}},
	} {
		e := holesFrom(t, c.list, table).onlyError(t)
		if !strings.HasPrefix(e.Error(), "points.csv:"+c.at+": ") {
			t.Errorf("%q: %v, expected at %s", c.list, e, c.at)
		}
		for _, text := range c.says {
			if !strings.Contains(e.Found+" "+e.Expected, text) {
				t.Errorf("%q: %v does not say %q", c.list, e, text)
			}
		}
	}
	// A contour asks for an axis in each line, and for nothing else.
	w := drilling(t, 2, "[[operation.contour]]\nlist = \"points.csv\"\ntip_control = true\n")
	for list, at := range map[string]string{
		"x,y,z\n0,0,0\n":                       "1:1",
		"x,y,z,i,j,k\n0,0,0,0,0,1\n1,0,0,,,\n": "3:7",
		"x,y,z,i,j,k,depth\n0,0,0,0,0,1,2\n":   "1:13",
	} {
		w["points.csv"] = list
		if e := w.onlyError(t); !strings.HasPrefix(e.Error(), "points.csv:"+at+": ") {
			t.Errorf("%q: %v, expected at %s", list, e, at)
		}
	}
	// Named by two operations it is read once, and told once.
	w = example(t).with(t, "setup.toml", "at = [[40, 0, -20]] ", "list = \"holes.csv\" #")
	if n := len(w.load(t).Operations[3].Features); n != 4 {
		t.Errorf("%d holes", n)
	}
	w["holes.csv"] = "x,y,z\n0,0,zero\n"
	w.onlyError(t)
}
