package posted

import (
	"bytes"
	"io"
	"io/fs"
	"path"
	"testing"

	"gridswing/machine/check"
	"gridswing/machine/check/offsets"
	"gridswing/machine/program"
	"gridswing/models"
)

// posted reads one of the demo's programs as the demo's good setup has it keyed in.
func demoReport(t testing.TB, name string, o Options) *check.Report {
	t.Helper()
	s := demoSetup(t)
	data, err := fs.ReadFile(models.Demo, name)
	if err != nil {
		t.Fatal(err)
	}
	computed, err := offsets.Of(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	open := func(file string) (io.ReadCloser, error) { return models.Demo.Open(path.Join(path.Dir(name), file)) }
	steps, err := program.Open(name, bytes.NewReader(data), s, Values(s, computed), program.Options{Open: open})
	if err != nil {
		t.Fatal(err)
	}
	r := check.NewReport(s)
	if _, err := Check(t.Context(), s, r, Program{File: name, Format: check.WordAddress, Steps: steps, Size: int64(len(data))}, o); err != nil {
		t.Fatal(err)
	}
	return r
}
