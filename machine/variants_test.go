package machine

import (
	"fmt"
	"math"
	"sync"
	"testing"

	"gridswing/models"
)

// Several goroutines vary one draft at once; each gets what one alone gets, the same solids,
// and leaves the draft as it was.
func TestVariantsAtOnce(t *testing.T) {
	w := risen(t, high, wide)
	w["probe.stl"] = string(box(-30, -30, -105, 30, 30, 0))
	w = w.with(t, "tools.toml", "profile = [[0, 63], [30, 63], [30, 50], [105, 50]]", probeSolid).
		with(t, "setup.toml", "# [counterweight]", "[counterweight]\non = \"trunnion/faceplate\"\nradius = 85\nheight = 0\ndiameter = 50\nmaterial = \"steel\"\nmass = 1.9\nangle = 225\nwithin = 0.5\n#").
		with(t, "trunnion.toml", "bore = 12 ", "bore = 12\nretractable = { fit = \"12 g6\", height = 10, at = [\"A1\", \"D1\"] } #")
	st := NewStoreFS(w.fs())
	d, err := st.Draft("setup.toml")
	if err != nil {
		t.Fatal(err)
	}
	all := [][]Change{
		nil, {seatOf("riser", "B1", "D1")}, {stickOutOf(4, 50)}, {stickOutOf(4, 50), seatOf("vise", "A1", "C1")},
		{stackOf([2]string{"A2", "C2"}, Level{high.file(), [2]string{"B3", "D3"}})},
		{stackOf([2]string{"B1", "B3"}, Level{wide.file(), [2]string{"B3", "D3"}}, Level{high.file(), [2]string{"A2", "C2"}})},
		{seatOf("riser", "A1", "B1")},
	}
	got := make([]*Setup, 8*len(all))
	var group sync.WaitGroup
	for i := range got {
		group.Go(func() {
			got[i], _ = d.With(all[i%len(all)]...)
			if c, err := st.Catalogue("risers"); err != nil {
				t.Error(err)
			} else if list, _, err := d.Stacks("riser", c, 2); err != nil || len(list) == 0 {
				t.Error(len(list), err)
			}
			if list, err := d.Seats("vise"); err != nil || len(list) == 0 {
				t.Error(len(list), err)
			}
			if s := got[i]; s != nil {
				for k := range s.Tools {
					s.ToolBodies(k)
				}
			}
		})
	}
	group.Wait()
	for i := range got {
		alone, err := w.draft(t).With(all[i%len(all)]...)
		if (got[i] == nil) != (err != nil) {
			t.Errorf("%+v: %v", all[i%len(all)], err)
		}
		if err == nil {
			sameSetup(t, got[i], alone)
			sharesSolids(t, got[i], got[i%len(all)])
		}
	}
	sameSetup(t, d.Setup(), w.load(t))
}

// Whatever is asked of a draft, it answers or says why not.
func FuzzVariant(f *testing.F) {
	w := risen(f, high, wide)
	st := NewStoreFS(w.fs())
	d, err := st.Draft("setup.toml")
	if err != nil {
		f.Fatal(err)
	}
	for _, place := range []string{"riser", "vise", "plate", "stock", "trunnion", ""} {
		f.Add(uint8(0), place, "B3", "D3", low.file(), 50.0, int64(4), uint8(1))
		f.Add(uint8(1), place, "A2", "C2", wide.file(), 0.0, int64(1), uint8(3))
		f.Add(uint8(2), place, "centre", "A0", "stock.toml", math.Inf(1), int64(20), uint8(2))
	}
	f.Fuzz(func(t *testing.T, kind uint8, place, first, second, file string, mm float64, tool int64, levels uint8) {
		pins := [2]string{first, second}
		c := seatOf(place, first, second)
		switch kind % 4 {
		case 1:
			stack := &StackChange{Place: place, Above: map[string][2]string{"vise": pins, "stock": pins}}
			if kind&4 != 0 {
				delete(stack.Above, "stock")
			}
			for i := range levels % 5 {
				stack.Levels = append(stack.Levels, Level{[]string{file, low.file(), wide.file()}[(int(i)+int(kind>>3))%3], pins})
			}
			c = Change{Stack: stack}
		case 2:
			c = stickOutOf(int(tool), mm)
		case 3:
			if list, err := d.Seats(place); (err == nil) != (list != nil) && len(list) > 0 {
				t.Fatalf("%d seats and %v", len(list), err)
			}
		}
		s, err := d.With(c)
		if (s == nil) == (err == nil) {
			t.Fatalf("a setup: %v, an error: %v", s != nil, err)
		}
		if err != nil {
			return
		}
		for i := range s.Bodies {
			if at := s.Bodies[i].Chain.Home.T; math.IsNaN(at.Norm()) || math.IsInf(at.Norm(), 0) {
				t.Fatalf("%s stands at %v", s.Bodies[i].Name, at)
			}
		}
	})
}

// demoDraft is the demo's good setup, to be varied.
func demoDraft(b *testing.B) (*Draft, *Catalogue) {
	st := NewStoreFS(models.Demo)
	d, err := st.Draft("setups/bracket-op10.toml")
	if err != nil {
		b.Fatal(err)
	}
	c, err := st.Catalogue("components/riser-50.toml")
	if err != nil {
		b.Fatal(err)
	}
	return d, c
}

func BenchmarkWithSeat(b *testing.B) {
	d, _ := demoDraft(b)
	for b.Loop() {
		if _, err := d.With(seatOf("vise", "D2", "B2")); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWithStack(b *testing.B) {
	d, c := demoDraft(b)
	list, _, err := d.Stacks("riser", c, 3)
	if err != nil {
		b.Fatal(err)
	}
	change := Change{Stack: &list[2].Change}
	for b.Loop() {
		if _, err := d.With(change); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkStacks(b *testing.B) {
	d, one := demoDraft(b)
	for _, n := range []int{1, 10, 30} {
		c := &Catalogue{}
		for range n {
			c.Components = append(c.Components, one.Components[0])
		}
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if _, _, err := d.Stacks("riser", c, 3); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkSeats(b *testing.B) {
	d, _ := demoDraft(b)
	for b.Loop() {
		if _, err := d.Seats("trunnion"); err != nil {
			b.Fatal(err)
		}
	}
}
