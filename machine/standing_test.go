package machine

import (
	"fmt"
	"slices"
	"testing"
)

// What stands on what, in the order of the setup file, and what grips it.
func TestStanding(t *testing.T) {
	want := []string{
		"plate on machine/table []", "trunnion on plate []", "vise on trunnion/faceplate []",
		"stock on vise [vise/fixed jaw vise/moving jaw]",
	}
	if got := standings(example(t).load(t)); !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}

// A solid named in on, the bed, a place that stands lower in the file, and
// something that nothing grips.
func TestStandingOnOtherThings(t *testing.T) {
	w := example(t).
		with(t, "setup.toml", "gripped = { bite = 0 }", "").
		with(t, "setup.toml", `on = "vise"`, `on = "vise/body"`).
		with(t, "setup.toml", "[[place]]", `[[place]]
name = "first"
component = "stock.toml"
on = "stock"
at = [0, 0, 40]
within = 0.1
[[place]]
name = "loose"
component = "stock.toml"
on = "bed"
at = [0, 0, 900]
within = 0.1
[[place]]`)
	want := []string{
		"first on stock []", "loose on machine []", "plate on machine/table []", "trunnion on plate []",
		"vise on trunnion/faceplate []", "stock on vise/body []",
	}
	if got := standings(w.load(t)); !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}

func standings(s *Setup) (list []string) {
	for _, st := range s.Standing {
		names := []string{}
		for _, body := range st.Grips {
			names = append(names, s.Bodies[body].Name)
		}
		on := st.On
		for _, body := range st.Bodies {
			on = s.Bodies[body].Name
		}
		list = append(list, fmt.Sprintf("%s on %s %v", st.Unit, on, names))
	}
	return list
}
