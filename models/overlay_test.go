package models_test

import (
	"io/fs"
	"os"
	"testing"
	"testing/fstest"

	"gridswing/models"
)

// Copied to disk, an overlay is all of the demo and what is laid over it.
func TestOverlayCanBeCopied(t *testing.T) {
	dir := t.TempDir()
	laid := fstest.MapFS{"setups/other.toml": {Data: []byte("other")}, models.GoodSetup: {Data: []byte("mine")}}
	if err := os.CopyFS(dir, models.Overlay(laid)); err != nil {
		t.Fatal(err)
	}
	copied := os.DirFS(dir)
	for name, want := range map[string]string{"setups/other.toml": "other", models.GoodSetup: "mine"} {
		if data, err := fs.ReadFile(copied, name); err != nil || string(data) != want {
			t.Errorf("%s: %q, %v", name, data, err)
		}
	}
	err := fs.WalkDir(models.Demo, ".", func(name string, _ fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		_, err = fs.Stat(copied, name)
		return err
	})
	if err != nil {
		t.Error(err)
	}
}
