package check

import (
	"slices"
	"testing"
)

func TestByLetter(t *testing.T) {
	got := []string{"C", "A", "Y2", "Z", "Y", "W", "X", "B", "U", "V"}
	slices.SortFunc(got, ByLetter)
	want := []string{"X", "Y", "Y2", "Z", "U", "V", "W", "A", "B", "C"}
	if !slices.Equal(got, want) {
		t.Errorf("ordered %v, want %v", got, want)
	}
}
