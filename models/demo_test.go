package models_test

import (
	"testing"

	"gridswing/machine"
	"gridswing/models"
)

func TestSetupsLoadWithoutWarning(t *testing.T) {
	for _, name := range []string{models.GoodSetup, models.BadSetup} {
		s, err := machine.LoadFS(models.Demo, name)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for _, w := range s.Warnings {
			t.Errorf("%s: %s", name, w)
		}
	}
}
