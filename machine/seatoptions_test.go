package machine

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// everyPair lists all ordered pairs of holes of the grid under a place for which a setup can
// be put together, by trying each.
func everyPair(t *testing.T, d *Draft, place string) (list [][2]string) {
	t.Helper()
	_, g, _ := gridUnder(d, place)
	names := append(g.names(), centreHole)
	for _, a := range names {
		for _, b := range names {
			if a == b {
				continue
			}
			if _, err := d.With(seatOf(place, a, b)); err == nil {
				list = append(list, [2]string{a, b})
			}
		}
	}
	return list
}

func gridUnder(d *Draft, place string) (*placed, *grid, *placeTable) {
	t := d.built.tables[place]
	u := d.built.support(t)
	return u.on, d.built.gridOf(t, u), t
}

// Seats are all pairs of holes, and only those, in which a setup can be put together; and
// what they say of where the component stands then is so.
func TestSeatsAgainstEveryPair(t *testing.T) {
	fits := func(w world, seat, grid string) world {
		return w.with(t, "vise.toml", "play = 0.035", seat).with(t, "trunnion.toml", "bore = 12 ", grid+" # ")
	}
	for name, w := range map[string]world{
		"rows":                    example(t),
		"rings":                   polar(t).with(t, "trunnion.toml", "centre = 30 ", "").with(t, "setup.toml", `pins = ["centre", "A4"]`, `pins = ["A1", "A3"]`),
		"rings and a centre bore": polar(t),
		"set pins":                fits(example(t), "located_by = \"set pins\"\nbore = \"12 H7\"", "bore = \"12 H7\"\nretractable = { fit = \"12 g6\", height = 9, at = [\"B3\", \"D3\", \"A1\", \"C1\", \"A4\", \"A2\"] }"),
		"a relieved pin":          fits(example(t), "fit = \"12 g6\"\nrelieved = 3", "bore = \"12 H7\""),
		"one of two grids":        example(t).with(t, "trunnion.toml", "[[fastener]]", "[[grid]]\nname = \"side\"\nsolid = \"base\"\norigin = [0, 0, 0]\ncolumns = 2\nrows = 2\npitch = 100\n[[fastener]]"),
	} {
		t.Run(name, func(t *testing.T) {
			d := w.draft(t)
			list, err := d.Seats("vise")
			if err != nil {
				t.Fatal(err)
			}
			var got [][2]string
			for i := range list {
				got = append(got, list[i].Pins)
			}
			if want := everyPair(t, d, "vise"); !slices.Equal(got, want) || len(got) == 0 {
				t.Errorf("%d seats %v\nby trying %d %v", len(got), got, len(want), want)
			}
			checkSeats(t, d, list)
		})
	}
}

// checkSeats puts each seat's setup together and looks where the vise stands.
func checkSeats(t *testing.T, d *Draft, list []SeatOption) {
	t.Helper()
	was := d.Setup()
	a := &was.Bodies[was.body(t, "vise/body")].Chain.Home
	now := 0
	for i := range list {
		o := &list[i]
		s := d.variant(t, Change{Seat: &SeatChange{"vise", o.Pins}})
		b := &s.Bodies[s.body(t, "vise/body")].Chain.Home
		st := d.built.done["vise"].seat
		middle := st.pins[0].Add(st.pins[1]).Mul(0.5)
		near(t, "middle", o.Middle, b.Point(middle), 1e-9)
		nearly(t, "moved", o.Moved, b.Point(middle).Sub(a.Point(middle)).Norm(), 1e-9)
		// Turned about the vise's own Z by so much, its X is where it is then.
		sin, cos := math.Sincos(o.Turned)
		near(t, "X", a.Dir(vec(cos, sin, 0)), b.Dir(vec(1, 0, 0)), 1e-9)
		if o.Now {
			now++
			if o.Moved != 0 || o.Turned != 0 {
				t.Errorf("%+v", o)
			}
		}
		if !(o.Turned > -math.Pi && o.Turned <= math.Pi) {
			t.Errorf("turned by %g", o.Turned)
		}
	}
	if now != 1 {
		t.Errorf("%d seats are that of now", now)
	}
}

func TestSeatsRefused(t *testing.T) {
	d := example(t).draft(t)
	for place, want := range map[string]string{
		"stock": "stock: found a place that stands by coordinates",
		"vice":  `place: found "vice", expected "vise", perhaps`,
	} {
		if _, err := d.Seats(place); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%v", err)
		}
	}
	w := example(t).with(t, "plate.toml", "columns = 13\nrows = 7", "columns = 300\nrows = 300")
	if _, err := w.draft(t).Seats("trunnion"); err == nil || !strings.Contains(err.Error(), "more than 100000 pairs of holes") {
		t.Error(err)
	}
}
