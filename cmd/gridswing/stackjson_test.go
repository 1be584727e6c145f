package main

import (
	"bytes"
	"encoding/json"
	"testing"

	"gridswing/cmd/gridswing/internal/specimen"
	"gridswing/machine/check"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// TestStackFollowsSchema holds a report with all that can be said of a stack to the schema,
// which takes nothing else.
func TestStackFollowsSchema(t *testing.T) {
	s := schema(t)
	r := specimen.Reach()
	r.Stack = specimen.Stack()
	r.Checks = []string{check.SwingCheck, check.ReachCheck, check.StackCheck}
	r.Findings = append(r.Findings,
		check.Finding{Verdict: check.Contact, Question: check.Stacked, Bodies: [2]string{"vise", "plate"}, Reason: "it bottoms"},
		check.Finding{Verdict: check.WithinPlay, Question: check.Located, Bodies: [2]string{"bracket", ""}, Reason: "farther off"})
	data, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	follows := func(data []byte) bool {
		document, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		err = s.Validate(document)
		if err != nil {
			t.Log(err)
		}
		return err == nil
	}
	if !follows(data) {
		t.Error("the report does not follow the schema")
	}
	for _, c := range [][2]string{
		{`"located_by":"stops"`, `"located_by":"edges"`}, {`"point":"zero"`, `"point":"middle"`}, {`"to":"the tool"`, `"to":"the bed"`},
		{`"spare_mm":`, `"left_mm":`}, {`"fasteners_wanted":2`, `"fasteners_wanted":-1`}, {`"from":"below"`, `"from":"aside"`},
		{`"question":"location"`, `"question":"place"`}, {`"before_mm":8`, `"before_mm":null`}, {`"root_sum_square_mm":`, `"likely_mm":`},
	} {
		if !bytes.Contains(data, []byte(c[0])) {
			t.Fatalf("the report has no %s", c[0])
		}
		if follows(bytes.ReplaceAll(data, []byte(c[0]), []byte(c[1]))) {
			t.Errorf("%s passes for %s", c[1], c[0])
		}
	}
}
