package main

import (
	"bytes"
	"context"
	"encoding/json"
	"path/filepath"
	"testing"

	"gridswing/cmd/gridswing/internal/specimen"
	"gridswing/machine"
	"gridswing/machine/check/choose"
	"gridswing/machine/check/proof"
	"gridswing/models"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// TestSidesFollowSchema holds both sides of the demo and of what the pages are made of to their
// schema, by the validator github.com/santhosh-tekuri/jsonschema v6.0.3.
func TestSidesFollowSchema(t *testing.T) {
	s, err := jsonschema.NewCompiler().Compile(filepath.Join("schema", "sides-v1.schema.json"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{models.GoodSetup, models.BadSetup} {
		setup, err := machine.LoadFS(models.Demo, name)
		if err != nil {
			t.Fatal(err)
		}
		found, err := choose.Sides(context.Background(), setup, proof.Options{Tests: 200_000})
		if err != nil {
			t.Fatal(err)
		}
		if p := &found.Plans[found.Recommended]; p.Side != choose.Above || len(p.Lines) != len(setup.Operations) {
			t.Errorf("%s: %s is recommended", name, p.Side)
		}
		followsSides(t, s, found)
	}
	for _, found := range []*choose.BothSides{specimen.Sides(), specimen.MixedSides()} {
		followsSides(t, s, found)
	}
}

func followsSides(t *testing.T, s *jsonschema.Schema, found *choose.BothSides) {
	t.Helper()
	text, err := json.Marshal(found)
	if err != nil {
		t.Fatal(err)
	}
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(document); err != nil {
		t.Errorf("%v\n%s", err, text)
	}
}
