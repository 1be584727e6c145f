package changeover

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"gridswing/machine"

	"pgregory.net/rapid"
)

// draw writes a setup of the test shop: whether it goes together is nothing to a changeover.
func draw(t *rapid.T, label string) string {
	pick := func(name string, of ...string) string { return rapid.SampledFrom(of).Draw(t, label+" "+name) }
	text := setupFile
	text = strings.Replace(text, `["B2", "H2"]`, pick("plate", `["B2", "H2"]`, `["B3", "H3"]`), 1)
	text = strings.Replace(text, `["unused"]`, pick("withdrawn", `["unused"]`, `[]`, `["F4"]`, `["F2", "F4"]`), 1)
	var places []string
	if pick("carrier there", "yes", "no") == "yes" {
		place := strings.Replace(carrierPlace, `["B2", "D2"]`, pick("carrier", `["B2", "D2"]`, `["D2", "B2"]`, `["B4", "D4"]`), 1)
		places = append(places, strings.Replace(place, `"carrier"`, pick("carrier's name", `"carrier"`, `"slide"`), 1))
	}
	if pick("vise there", "yes", "no") == "yes" {
		place := strings.Replace(visePlace, `["E3", "G3"]`, pick("vise", `["E3", "G3"]`, `["E5", "G5"]`), 1)
		opening := pick("opening", "60", "58")
		places = append(places, strings.Replace(place, "jaw = 60", "jaw = "+opening, 1))
		if pick("block there", "yes", "no") == "yes" {
			places = append(places, blockPlace)
		}
	}
	if pick("order", "as written", "backwards") == "backwards" {
		slices.Reverse(places)
	}
	return text + strings.Join(places, "")
}

// Going through the steps from any setup gives any other one; nothing ever stands on
// what is not there.
func TestStepsLeadThere(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := newShop().with("a.toml", draw(r, "from")).with("b.toml", draw(r, "to"))
		var from *machine.Setup
		if rapid.Bool().Draw(r, "from something") {
			from = s.load(t, "a.toml")
		}
		to := s.load(t, "b.toml")
		p, err := Make(t.Context(), from, to, Options{Tests: 2000})
		if err != nil {
			r.Fatal(err)
		}
		replay(t, from, to, p)
		supported(r, from, to, p)
		if t.Failed() {
			r.Fatal("the plan does not lead there")
		}
	})
}

// supported holds what stands after each step to what it stands on.
func supported(t *rapid.T, from, to *machine.Setup, p *Plan) {
	names := map[string]string{}
	for _, st := range p.Stays {
		names[st.From] = st.To
	}
	down := from != nil
	for _, st := range p.Steps {
		down = down && (st.Kind == TakeOff || st.Kind == Ready && st.Number == 1)
		setup := to
		if down {
			setup = from
		}
		for _, unit := range st.Standing {
			for _, on := range supports(setup, unit) {
				if on != machineUnit && !slices.Contains(st.Standing, on) {
					t.Fatal(fmt.Sprintf("step %d: %s stands on %s, which is not there\n%s", st.Number, unit, on, p))
				}
			}
		}
	}
}
