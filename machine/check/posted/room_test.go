package posted

import (
	"os"
	"testing"

	"gridswing/machine"
)

// The least cell that is told does, and one a tenth smaller does not.
func TestLeastCell(t *testing.T) {
	s, err := machine.LoadFS(os.DirFS("../../../models/demo"), "setups/bracket-op10.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, most := range []float64{1e8, MostMemory, 1e11} {
		cell := LeastCell(s, most)
		if Memory(s, cell) > most || Memory(s, 0.9*cell) <= most {
			t.Errorf("for %g bytes cells of %g mm, which take %g; a tenth smaller, %g", most, cell, Memory(s, cell), Memory(s, 0.9*cell))
		}
	}
	if Memory(s, 0) > MostMemory {
		t.Errorf("the usual cells take %g bytes", Memory(s, 0))
	}
}
