package binder

import (
	"encoding/xml"
	"io"
	"slices"
	"strings"
	"testing"
)

// layout is what build servers accept: src/main/resources/org/jenkinsci/plugins/xunit/types/model/xsd/junit-10.xsd
// in github.com/jenkinsci/xunit-plugin, as far as it concerns the elements that are written here: for
// each its attributes (a ! marks those that must be there) and its children, in their order.
var layout = map[string]struct{ attributes, children []string }{
	"testsuites": {[]string{"name", "time", "tests", "failures", "disabled", "errors"}, []string{"testsuite"}},
	"testsuite": {[]string{"!name", "!tests", "failures", "errors", "time", "disabled", "skipped", "timestamp", "hostname", "id", "package"},
		[]string{"properties", "testcase", "system-out", "system-err"}},
	"testcase": {[]string{"!name", "assertions", "time", "classname", "status"}, []string{"skipped", "error", "failure", "system-out", "system-err"}},
	"error":    {[]string{"type", "message"}, nil},
	"failure":  {[]string{"type", "message"}, nil},
}

// accepted returns what is wrong with a document by that layout.
func accepted(t *testing.T, data []byte) {
	t.Helper()
	type level struct {
		name string
		next int // the first child that may come
	}
	var open []level
	d := xml.NewDecoder(strings.NewReader(string(data)))
	for {
		token, err := d.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		switch x := token.(type) {
		case xml.StartElement:
			name := x.Name.Local
			known, ok := layout[name]
			if !ok {
				t.Errorf("element %s", name)
			}
			if len(open) == 0 {
				if name != "testsuites" {
					t.Errorf("root %s", name)
				}
			} else {
				parent := &open[len(open)-1]
				i := slices.Index(layout[parent.name].children, name)
				if i < parent.next {
					t.Errorf("%s in %s, or not in this place", name, parent.name)
				}
				parent.next = i
			}
			var has []string
			for _, a := range x.Attr {
				has = append(has, a.Name.Local)
				if !slices.Contains(known.attributes, a.Name.Local) && !slices.Contains(known.attributes, "!"+a.Name.Local) {
					t.Errorf("attribute %s of %s", a.Name.Local, name)
				}
			}
			for _, a := range known.attributes {
				if must, ok := strings.CutPrefix(a, "!"); ok && !slices.Contains(has, must) {
					t.Errorf("%s without %s", name, must)
				}
			}
			open = append(open, level{name: name})
		case xml.EndElement:
			open = open[:len(open)-1]
		}
	}
}

// Whatever stands in names and messages, the document is one.
func TestJUnit(t *testing.T) {
	evil := "a<b>&\"'\x00\x1b[1m]]>\xff\u2028 \ufffe\n\tend"
	s := &Summary{Setups: []Setup{
		{Name: "op10", File: "op10.toml", State: MadeState, Facts: Facts{Verdict: "clear", Clear: true}, Seconds: 1.25},
		{Name: "line/" + evil, File: evil, State: MadeState, Facts: Facts{Verdict: "contact", Why: evil}, Seconds: 2},
		{Name: "line/sub/op30", File: "op30.toml", State: FaultyState, Fault: "first line\n" + evil, Stack: "goroutine 7"},
		{Name: "op40", State: MissingState, Fault: notMade},
	}}
	data, err := s.junit()
	if err != nil {
		t.Fatal(err)
	}
	accepted(t, data)
	var got junitSuites
	if err := xml.Unmarshal(data, &got); err != nil {
		t.Fatal(err)
	}
	if got.Tests != 4 || got.Failures != 1 || got.Errors != 2 || got.Suite.Time != "3.250" || len(got.Suite.Cases) != 4 {
		t.Errorf("%+v", got)
	}
	cases := got.Suite.Cases
	if cases[0].Name != "op10" || cases[0].Class != "setups" || cases[0].Error != nil || cases[0].Failure != nil {
		t.Errorf("%+v", cases[0])
	}
	if f := cases[1].Failure; f == nil || f.Type != "contact" || !strings.HasPrefix(f.Message, "a<b>&\"'") || !strings.HasSuffix(f.Message, "end") {
		t.Errorf("%+v", f)
	}
	if e := cases[2].Error; cases[2].Class != "line.sub" || e == nil || e.Message != "first line" || !strings.Contains(e.Text, "goroutine 7") {
		t.Errorf("%+v", e)
	}
}
