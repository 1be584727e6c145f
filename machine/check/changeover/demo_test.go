package changeover

import (
	"io/fs"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/models"
)

// variants of the demo's setup, by name, without what is cut.
func demo(t *testing.T, variants map[string][]string) func(name string) *machine.Setup {
	t.Helper()
	data, err := fs.ReadFile(models.Demo, models.GoodSetup)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	text = strings.Replace(text[:strings.Index(text, "[[part]]")], "tools =", "# tools =", 1)
	more := fstest.MapFS{}
	for name, edits := range variants {
		variant := text
		for i := 0; i < len(edits); i += 2 {
			if !strings.Contains(variant, edits[i]) {
				t.Fatalf("the demo has no %q", edits[i])
			}
			variant = strings.Replace(variant, edits[i], edits[i+1], 1)
		}
		more["setups/"+name] = &fstest.MapFile{Data: []byte(variant)}
	}
	all := models.Overlay(more)
	return func(name string) *machine.Setup {
		s, err := machine.LoadFS(all, "setups/"+name)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
}

const riserPlace = `[[place]]
name = "riser"
component = "../components/riser-50.toml"
on = "trunnion/faceplate holes"
pins = ["C5", "C1"] # so that the screw points to the operator
`

// Real solids: the demo is loaded onto the empty machine, and turned into one without
// its riser, and one whose vise comes in from the side, against the trunnion.
func TestDemo(t *testing.T) {
	low := []string{riserPlace, "", `on = "riser"` + "\npins = [\"B2\", \"D2\"]", `on = "trunnion/faceplate holes"` + "\npins = [\"C4\", \"C2\"]"}
	// At 40 above the faceplate, whose face is 30 below the tilt axis, half a metre from the
	// side: the drive support stands there.
	blocked := append(slices.Clone(low), `pins = ["C4", "C2"]`, "pins = [\"C4\", \"C2\"]\npath = [[-500, 0, 40], [0, 0, 40], [0, 0, 0]]")
	over := append(slices.Clone(low), `pins = ["C4", "C2"]`, "pins = [\"C4\", \"C2\"]\npath = [[-500, 0, 160], [0, 0, 160], [0, 0, 0]]")
	load := demo(t, map[string][]string{"high.toml": nil, "low.toml": low, "blocked.toml": blocked, "over.toml": over})
	high := load("high.toml")
	p := plan(t, nil, high)
	if want := []string{"plate", "trunnion", "riser", "vise", "stock"}; p.Verdict != check.Clear || !slices.Equal(p.On, want) {
		t.Errorf("%s", p)
	}
	p.step(t, PutOn, "trunnion").says(t, "Lock its tilt (A at 0) and its rotary (C at 0) before it hangs", "Its pins are in C2 (the first) and M2 of plate/top",
		"8 screws M12, from above, in plate/top", "Connect its lines. Release the locks last")
	replay(t, nil, high, p)

	to := load("low.toml")
	p = plan(t, high, to)
	if p.Verdict != check.Clear || !slices.Equal(p.Off, []string{"stock", "vise", "riser"}) || !slices.Equal(p.On, []string{"vise", "stock"}) || len(p.Stays) != 2 {
		t.Errorf("%s", p)
	}
	p.step(t, TakeOff, "vise").says(t, "A at 0 and C at 0 must be clamped", "Loosen and take out 2 screws M12", "Keep it by: it goes on again as vise")
	replay(t, high, to, p)
	if back := plan(t, to, high); back.Verdict != check.Clear || !slices.Equal(back.On, []string{"riser", "vise", "stock"}) {
		t.Errorf("%s", back)
	}

	if v := verdicts(plan(t, high, load("over.toml")))["put on vise"]; v != check.Clear {
		t.Errorf("over the support: %v", v)
	}
	st := plan(t, high, load("blocked.toml")).step(t, PutOn, "vise")
	if m := st.Way.meets("vise/body", "trunnion/drive support"); st.Way.Verdict != check.Contact || m == nil || m.Points == nil || m.Leg != 1 {
		t.Errorf("%+v", st.Way)
	}
}

// Before the trunnion is lifted off: it is locked, and its lines are off.
func TestTrunnionComesOff(t *testing.T) {
	load := demo(t, map[string][]string{"high.toml": nil, "bare.toml": {
		"[[place]]\nname = \"trunnion\"\ncomponent = \"../components/trunnion.toml\"\non = \"plate\"\npins = [\"C2\", \"M2\"]\n", "",
		riserPlace, "", `on = "riser"`, `on = "plate"`, "A = [-30, 110]\nC = [0, 360]\n", "",
	}})
	high, bare := load("high.toml"), load("bare.toml")
	p := plan(t, high, bare)
	if !slices.Equal(p.Off, []string{"stock", "vise", "riser", "trunnion"}) || p.Verdict != check.Clear {
		t.Errorf("%s", p)
	}
	p.step(t, TakeOff, "trunnion").says(t, "Lock its tilt (A at 0) and its rotary (C at 0)", "Depressurise its lines, then disconnect them",
		"Loosen and take out 8 screws M12", "Lift it straight")
	replay(t, high, bare, p)
}
