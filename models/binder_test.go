package models_test

import (
	"testing"

	"gridswing/machine"
	"gridswing/models"
)

// The pages of the good setup are made with its program: the path is taken from the setup's folder.
func TestBinderOfDemo(t *testing.T) {
	s, err := machine.LoadFS(models.Demo, models.GoodSetup)
	if err != nil {
		t.Fatal(err)
	}
	if s.Binder == nil || s.Binder.Program != models.GoodProgram || s.Binder.Revision == "" || len(s.Binder.Notes) != 2 {
		t.Errorf("binder %+v", s.Binder)
	}
}
