package main

import (
	"bytes"
	"io/fs"
	"testing"

	"gridswing/machine"
	"gridswing/models"
)

// The programs in the repository are those that the generator writes.
func TestCheckedInProgramsAreTheGenerated(t *testing.T) {
	s, err := machine.LoadFS(models.Demo, models.GoodSetup)
	if err != nil {
		t.Fatal(err)
	}
	files, err := programs(s)
	if err != nil {
		t.Fatal(err)
	}
	known := map[string]bool{}
	for _, f := range files {
		known[f.name] = true
		kept, err := fs.ReadFile(models.Demo, "programs/"+f.name)
		if err != nil {
			t.Error(err)
		} else if !bytes.Equal(kept, f.text) {
			t.Errorf("%s: %d bytes checked in, %d written, or others", f.name, len(kept), len(f.text))
		}
	}
	list, err := fs.ReadDir(models.Demo, "programs")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range list {
		if !known[e.Name()] {
			t.Errorf("%s is not written by the generator", e.Name())
		}
	}
}
