package main

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/loads"
	"gridswing/machine/check/proof"
	"gridswing/machine/check/reach"
	"gridswing/machine/check/stack"
	"gridswing/machine/check/swing"
	"gridswing/models"
)

// TestBriefFollowsSchema holds a report in brief, with its margins, to the schema, by the same
// validator as TestReportsFollowSchema.
func TestBriefFollowsSchema(t *testing.T) {
	schema := schema(t)
	for _, name := range []string{models.GoodSetup, models.BadSetup} {
		s, err := machine.LoadFS(models.Demo, name)
		if err != nil {
			t.Fatal(err)
		}
		r, o := check.NewReport(s), proof.Options{Brief: true, Trees: proof.NewTrees()}
		if err := swing.Check(t.Context(), s, r, o); err != nil {
			t.Fatal(err)
		}
		if err := reach.Check(t.Context(), s, r, o); err != nil {
			t.Fatal(err)
		}
		if err := stack.Check(t.Context(), s, r, o); err != nil {
			t.Fatal(err)
		}
		if err := loads.Check(t.Context(), s, r, o); err != nil {
			t.Fatal(err)
		}
		if len(r.Margins) < 5 {
			t.Errorf("%s: margins %+v", name, r.Margins)
		}
		text, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		document, err := jsonschema.UnmarshalJSON(strings.NewReader(string(text)))
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(document); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}
