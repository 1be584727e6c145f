package changeover

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
)

// From the empty machine: the order of support, what locates each, what holds it, its
// mass, in the order in which it is done.
func TestFromEmpty(t *testing.T) {
	s := newShop(carrierPlace, visePlace, blockPlace)
	p := s.empty(t)
	if want := []string{"plate", "carrier", "vise", "block"}; !slices.Equal(p.On, want) || len(p.Off) != 0 || p.From != nil {
		t.Errorf("%v %v", p.On, p.Off)
	}
	if p.Verdict != check.Clear {
		t.Errorf("%s", p)
	}
	plate := p.step(t, PutOn, "plate")
	// 400 x 300 x 30 mm of steel at 7850 kg/m3.
	if want := 0.4 * 0.3 * 0.03 * 7850; plate.Mass == nil || math.Abs(*plate.Mass-want) > 1e-9 || plate.Heavy {
		t.Errorf("mass %v, heavy %v", plate.Mass, plate.Heavy)
	}
	if len(plate.Caution) != 0 || p.ByHand != nil {
		t.Errorf("%q, by hand %v", plate.Caution, p.ByHand)
	}
	plate.says(t, "Bring it to where it is 50 mm straight above its place",
		"Lower it straight by 50 mm", "Its pins are in B2 (the first) and H2 of machine/holes",
		"Put in and tighten 2 screws M12 x 40, class 8.8, from above, in machine/holes B6, H6 (",
		"Withdraw the pins at B2, D2, B4, D4, F2 and F4 of plate/top")
	// M12, 8.8, friction 0.12: 84 N m (VDI 2230-1:2015, table A1; from memory).
	if w := plate.Screws; len(w) != 1 || w[0].Count != 2 || w[0].Torque == nil || math.Abs(*w[0].Torque-84) > 1 {
		t.Errorf("%+v", w)
	}
	carrier := p.step(t, PutOn, "carrier")
	carrier.says(t, "Set the pins at B2 and D2 of plate/top", "Lower it straight", "1 screw M12, from above, in plate/top C2 (torque not known: no class is stated)")
	p.step(t, PutOn, "vise").says(t, "Lower it straight", "Put in the dowels at E3 and G3 of plate/top", "No screws are stated for it")
	block := p.step(t, PutOn, "block")
	// Opened by what is asked for, 2, and 1 more.
	block.says(t, "Open jaw of vise to 63 mm or more", "Lower it",
		"No pins locate it: the zero of its drawing is at X 0, Y 0, Z 40 mm in the drawing of vise, within 0.1 mm", "Close jaw of vise: it reads 60 mm", "Tighten vise/fixed jaw and vise/moving jaw")
	if got := block.Standing; !slices.Equal(got, []string{"plate", "carrier", "vise", "block"}) {
		t.Errorf("%v", got)
	}
	if p.Minutes != nil || len(p.NoMinutes) != 4 || p.NoMinutes[0] != "put on plate" {
		t.Errorf("%v %v", p.Minutes, p.NoMinutes)
	}
}

// Times are added up when all are given; what may be lifted by hand is To's, else From's.
func TestTimesAndMass(t *testing.T) {
	s := newShop(visePlace).edit(t, "setup.toml", "withdrawn", "minutes = 12\nwithdrawn").
		edit(t, "setup.toml", "set = {", "minutes = 7.5\nset = {").
		edit(t, "setup.toml", "[[place]]", "lifting = { by_hand = 20 }\n[[place]]")
	p := s.empty(t)
	if p.Minutes == nil || *p.Minutes != 19.5 || len(p.NoMinutes) != 0 {
		t.Errorf("%v %v", p.Minutes, p.NoMinutes)
	}
	if p.ByHand == nil || *p.ByHand != 20 {
		t.Errorf("%v", p.ByHand)
	}
	plate, vise := p.step(t, PutOn, "plate"), p.step(t, PutOn, "vise")
	plate.says(t, "It weighs 28.3 kg, more than the 20 kg that may be lifted by hand: use lifting gear")
	if !plate.Heavy || vise.Heavy || len(vise.Caution) != 0 || *vise.Mass != 9 {
		t.Errorf("%v %v %q", plate.Heavy, vise.Heavy, vise.Caution)
	}
	s.edit(t, "vise.toml", "mass = 9\n", "")
	vise = s.empty(t).step(t, PutOn, "vise")
	if vise.says(t, "Its mass is not known"); !vise.Heavy || vise.Mass != nil {
		t.Errorf("%+v", vise)
	}
}

// What stays: the same component file in the same place on what stays, whatever it is called.
func TestWhatStays(t *testing.T) {
	s := newShop(carrierPlace, visePlace, blockPlace)
	from := s.load(t, "setup.toml")
	for _, c := range []struct {
		name, old, new  string
		off, stays, on  []string
		sentence, where string
	}{
		{"nothing changes", "test setup", "second setup", nil, []string{"plate", "carrier", "vise", "block"}, nil, "", ""},
		{"another name", `name = "carrier"`, `name = "slide"`, nil, []string{"plate", "slide", "vise", "block"}, nil, "", ""},
		{"other holes", `pins = ["B2", "D2"]`, `pins = ["B4", "D4"]`, []string{"carrier"}, []string{"plate", "vise", "block"}, []string{"carrier"},
			"Keep it by: it goes on again as carrier", "carrier"},
		{"another opening", "jaw = 60", "jaw = 59", []string{"block"}, []string{"plate", "carrier", "vise"}, []string{"block"}, "Open jaw of vise to 63 mm", "block"},
		{"half a turn", `pins = ["E3", "G3"]`, `pins = ["G3", "E3"]`, []string{"block", "vise"}, []string{"plate", "carrier"}, []string{"vise", "block"}, "Open jaw", "block"},
		{"the plate elsewhere", `pins = ["B2", "H2"]`, `pins = ["B3", "H3"]`, []string{"block", "vise", "carrier", "plate"}, nil,
			[]string{"plate", "carrier", "vise", "block"}, "Withdraw the pins at B2 and D2 of plate/top", "carrier"},
	} {
		t.Run(c.name, func(t *testing.T) {
			to := newShop(carrierPlace, visePlace, blockPlace).edit(t, "setup.toml", c.old, c.new).load(t, "setup.toml")
			p := plan(t, from, to)
			var stays []string
			for _, st := range p.Stays {
				stays = append(stays, st.To)
			}
			if !slices.Equal(p.Off, c.off) || !slices.Equal(p.On, c.on) || !slices.Equal(stays, c.stays) {
				t.Errorf("off %v stays %v on %v", p.Off, stays, p.On)
			}
			if c.where != "" {
				p.step(t, TakeOff, c.where).says(t, c.sentence)
			}
			replay(t, from, to, p)
		})
	}
}

// Pins of what stays are set and withdrawn as the second setup has them.
func TestPinsOfWhatStays(t *testing.T) {
	from := newShop(carrierPlace).load(t, "setup.toml")
	to := newShop().edit(t, "setup.toml", `withdrawn = ["unused"]`, `withdrawn = ["B2", "D2", "B4", "D4", "F2"]`).load(t, "setup.toml")
	p := plan(t, from, to)
	p.step(t, TakeOff, "carrier").says(t, "Loosen and take out 1 screw M12", "Lift it straight by 50 mm, and take it away", "Withdraw the pins at B2 and D2")
	adjust := p.step(t, Adjust, "plate")
	if adjust.says(t, "Set the pin at F4 of plate/top"); len(adjust.Pins) != 1 || adjust.Way != nil {
		t.Errorf("%+v", adjust)
	}
	replay(t, from, to, p)
}

// Only one machine, and its axes go from one loading position to the other.
func TestOneMachine(t *testing.T) {
	s := newShop().with("other.toml", machineFile).with("second.toml", strings.Replace(setupFile, "machine.toml", "other.toml", 1)).
		with("third.toml", setupFile+"[loading]\nX = 50\n")
	from := s.load(t, "setup.toml")
	_, err := Make(t.Context(), from, s.load(t, "second.toml"), Options{})
	if err == nil || !strings.HasPrefix(err.Error(), "second.toml: machine: found other.toml, expected machine.toml, that of setup.toml") {
		t.Errorf("%v", err)
	}
	p := plan(t, from, s.load(t, "third.toml"))
	if len(p.Steps) != 2 || p.Steps[1].Kind != Ready {
		t.Fatalf("%s", p)
	}
	p.Steps[1].says(t, "Move the axes to X 50, Y 0, Z 500 mm")
	if p.Verdict != check.Clear || len(p.Assumed) == 0 {
		t.Errorf("%s %q", p, p.Assumed)
	}
}

// An order that leaves something standing on nothing is refused with both names.
func TestImpossibleOrders(t *testing.T) {
	s := newShop(carrierPlace, visePlace, blockPlace)
	setup := s.load(t, "setup.toml")
	bad := *setup
	bad.Loading.Order = []string{"plate", "block", "carrier", "vise"}
	for _, c := range []struct {
		from, to *machine.Setup
		want     string
	}{
		{nil, &bad, `setup.toml: loading_order: found "block" going on before "vise"`},
		{&bad, newShop().load(t, "setup.toml"), `setup.toml: loading_order: found "vise" coming off while "block" still stands on it`},
	} {
		if _, err := Make(t.Context(), c.from, c.to, Options{}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v, want %s", err, c.want)
		}
	}
	s.edit(t, "setup.toml", "[[place]]", `loading_order = ["plate", "block", "carrier", "vise"]`+"\n[[place]]")
	if _, err := s.try("setup.toml"); err == nil || !strings.Contains(err.Error(), `"block" before "vise"`) {
		t.Errorf("%v", err)
	}
	s = newShop(carrierPlace, visePlace, blockPlace).edit(t, "setup.toml", "[[place]]", `loading_order = ["plate", "vise", "block", "carrier"]`+"\n[[place]]")
	if p := s.empty(t); !slices.Equal(p.On, []string{"plate", "vise", "block", "carrier"}) {
		t.Errorf("%v", p.On)
	}
}

// What is neither modelled nor declared absent leaves the plan unproven.
func TestNotModelled(t *testing.T) {
	s := newShop().edit(t, "machine.toml", `"changer", `, "")
	if p := s.empty(t); p.Verdict != check.Unproven || !slices.Equal(p.NotModelled, []string{"changer"}) {
		t.Errorf("%v %v", p.Verdict, p.NotModelled)
	}
}

// replay goes through the steps from the first setup and looks whether the second one
// stands there then: components, pins and setting axes.
func replay(t testing.TB, from, to *machine.Setup, p *Plan) {
	t.Helper()
	type thing struct{ component, place string }
	things := map[string]thing{} // by To's name
	names := map[string]string{machineUnit: machineUnit}
	if from != nil {
		for _, st := range p.Stays {
			names[st.From] = st.To
		}
		for _, h := range from.Handling {
			things["from "+h.Unit] = thing{h.Component, placeOf(&h)}
		}
	}
	for _, st := range p.Steps {
		switch st.Kind {
		case TakeOff:
			if _, there := things["from "+st.Unit]; !there {
				t.Errorf("step %d takes %s off, which is not there", st.Number, st.Unit)
			}
			delete(things, "from "+st.Unit)
		case PutOn:
			h := handling(to, st.Unit)
			things["to "+st.Unit] = thing{h.Component, placeOf(h)}
		}
		if len(st.Standing) != len(things) {
			t.Errorf("step %d: %v stand, of %v", st.Number, st.Standing, things)
		}
	}
	seen := map[thing]bool{}
	for _, one := range things {
		seen[one] = true
	}
	for i := range to.Handling {
		h := &to.Handling[i]
		if !seen[thing{h.Component, placeOf(h)}] {
			t.Errorf("%s does not stand where it should:\n%s", h.Unit, p)
		}
	}
	if len(things) != len(to.Handling) {
		t.Errorf("%d things stand, not %d", len(things), len(to.Handling))
	}
	replayPins(t, from, to, p, names)
}

// replayPins does so for pins and setting axes.
func replayPins(t testing.TB, from, to *machine.Setup, p *Plan, names map[string]string) {
	t.Helper()
	pins, settings := map[hole]bool{}, map[axis]float64{}
	if from != nil {
		for _, pin := range from.Pins {
			if name, stays := names[pin.Unit]; stays {
				pins[hole{name, pin.Grid, pin.Hole}] = !pin.Withdrawn
			}
		}
		for _, s := range from.Settings {
			if name, stays := names[s.Unit]; stays {
				settings[axis{name, s.Axis}] = s.At
			}
		}
	}
	replaySteps(p, names, pins, settings)
	for _, pin := range to.Pins {
		if set, known := pins[hole{pin.Unit, pin.Grid, pin.Hole}]; !known || set == pin.Withdrawn {
			t.Errorf("pin %s of %s is set: %v, known: %v, want %v\n%s", pin.Hole, pin.Unit, set, known, !pin.Withdrawn, p)
		}
	}
	for _, s := range to.Settings {
		if at, known := settings[axis{s.Unit, s.Axis}]; !known || math.Abs(at-s.At) > 1e-9 {
			t.Errorf("%s of %s at %v, want %v\n%s", s.Axis, s.Unit, at, s.At, p)
		}
	}
}

// replaySteps applies what the steps say of pins and setting axes.
func replaySteps(p *Plan, names map[string]string, pins map[hole]bool, settings map[axis]float64) {
	for _, st := range p.Steps {
		for _, c := range st.Pins {
			unit := c.Unit
			if st.Kind == TakeOff {
				name, stays := names[unit]
				if !stays {
					continue // it comes off later
				}
				unit = name
			}
			if !c.Loose {
				pins[hole{unit, c.Grid, c.Hole}] = c.Set
			}
		}
		for _, c := range st.Settings {
			unit := c.Unit
			if st.Kind == TakeOff {
				name, stays := names[unit]
				if !stays {
					continue
				}
				unit = name
			}
			settings[axis{unit, c.Axis}] = c.To
		}
	}
}

func placeOf(h *machine.Handling) string {
	var b strings.Builder
	for _, v := range []float64{h.Frame.T.X, h.Frame.T.Y, h.Frame.T.Z, h.Frame.R[0][0], h.Frame.R[0][1]} {
		b.WriteString(number(v) + " ")
	}
	return b.String()
}
