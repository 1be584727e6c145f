package many

import (
	"testing"

	"gridswing/machine"
)

func TestJobIsAsLargeAsItSays(t *testing.T) {
	fsys, err := FS()
	if err != nil {
		t.Fatal(err)
	}
	s, err := machine.LoadFS(fsys, Setup)
	if err != nil {
		t.Fatal(err)
	}
	if s.Name != "Many features" {
		t.Errorf("its name is %q", s.Name)
	}
	for _, w := range s.Warnings {
		t.Error(w)
	}
	for _, f := range s.Faulty {
		t.Error(f)
	}
	features, used := 0, map[int]int{}
	kinds := map[string]int{}
	for i := range s.Operations {
		used[s.Operations[i].Tool]++
		for _, f := range s.Operations[i].Features {
			features++
			kinds[f.Kind]++
		}
	}
	if features != Features || len(used) != Tools || len(s.Tools) != Tools {
		t.Errorf("%d features, %d tools used of %d; want %d and %d", features, len(used), len(s.Tools), Features, Tools)
	}
	for _, kind := range []string{machine.Hole, machine.Face, machine.Pocket, machine.Contour} {
		if kinds[kind] < 10 {
			t.Errorf("%d features are a %s, want 10 or more", kinds[kind], kind)
		}
	}
	if len(s.Parts) != 2 {
		t.Errorf("%d parts, want 2", len(s.Parts))
	}
}
