package machine

import (
	"cmp"
	"fmt"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// brick is a riser as a test makes one: a box with its seat in the middle of its underside,
// and a grid on top that begins at a corner given from there.
type brick struct {
	name             string
	height, apart    float64 // apart: its pins
	columns, rows    int
	pitch            float64
	cornerX, cornerY float64
	more             string // TOML
}

// into adds the files of a riser to a world.
func (k brick) into(w world) {
	name := strings.ReplaceAll(k.name, " ", "-")
	half := k.apart/2 + 20
	w[name+".stl"] = string(box(-half, -half, 0, half, half, k.height))
	w["risers/"+name+".toml"] = fmt.Sprintf("kind = \"component\"\nname = %q\nunits = \"mm\"\nrole = \"workholding\"\nmaterial = \"steel\"\n"+
		"[[solid]]\nname = \"block\"\nfile = \"../%s.stl\"\nchord_error = 0\n"+
		"[seat]\npins = [[%g, 0, 0], [%g, 0, 0]]\nplay = 0.03\nheight_tolerance = 0.01\nparallelism = 0.01\n%s\n"+
		"[[grid]]\nname = \"top\"\nsolid = \"block\"\norigin = [%g, %g, %g]\ncolumns = %d\nrows = %d\npitch = %g\nposition_tolerance = 0.01\nbore = 12\nthread = \"M12\"\n",
		k.name, name, -k.apart/2, k.apart/2, k.more, k.cornerX, k.cornerY, k.height, k.columns, k.rows, k.pitch)
}

func (k brick) file() string { return "risers/" + strings.ReplaceAll(k.name, " ", "-") + ".toml" }

var low, high, wide = brick{"low", 20, 100, 3, 3, 50, -50, -50, ""}, brick{"high", 45, 100, 3, 3, 50, -50, -50, ""},
	brick{"wide", 30, 100, 4, 4, 50, -75, -75, ""}

// risen is the example with a riser under its vise.
func risen(t testing.TB, blocks ...brick) world {
	w := example(t).with(t, "setup.toml", "[[place]]\nname = \"vise\"\ncomponent = \"vise.toml\"\non = \"trunnion/faceplate\"\npins = [\"B3\", \"D3\"]",
		riserPlace+"[[place]]\nname = \"vise\"\ncomponent = \"vise.toml\"\n"+viseStands)
	for _, k := range append(blocks, low) {
		k.into(w)
	}
	return w
}

const (
	riserPlace = "[[place]]\nname = \"riser\"\ncomponent = \"risers/low.toml\"\non = \"trunnion/faceplate\"\npins = [\"B3\", \"D3\"]\n\n"
	viseStands = "on = \"riser\"\npins = [\"A2\", \"C2\"]"
)

// stackOf is a stack of blocks as a change.
func stackOf(above [2]string, levels ...Level) Change {
	return Change{Stack: &StackChange{Place: "riser", Levels: levels, Above: map[string][2]string{"vise": above}}}
}

// written is a setup file with a stack in it.
func (w world) written(t *testing.T, c *StackChange) world {
	text, on := "", "trunnion/faceplate"
	for i, l := range c.Levels {
		name := "riser"
		if i > 0 {
			name = fmt.Sprintf("riser %d", i+1)
		}
		text += fmt.Sprintf("[[place]]\nname = %q\ncomponent = %q\non = %q\npins = [%q, %q]\n\n", name, l.Component, on, l.Pins[0], l.Pins[1])
		on = name
	}
	pins := c.Above["vise"]
	return w.with(t, "setup.toml", viseStands, fmt.Sprintf("on = %q\npins = [%q, %q]", on, pins[0], pins[1])).
		with(t, "setup.toml", riserPlace, text)
}

// A stack is what a file says that is written so.
func TestStackIsAsWritten(t *testing.T) {
	w := risen(t, high, wide)
	d := w.draft(t)
	for _, c := range []Change{
		stackOf([2]string{"A2", "C2"}, Level{low.file(), [2]string{"B3", "D3"}}),
		stackOf([2]string{"B1", "B3"}, Level{high.file(), [2]string{"B1", "D1"}}),
		stackOf([2]string{"A1", "C1"}, Level{wide.file(), [2]string{"B3", "D3"}}, Level{low.file(), [2]string{"D2", "B2"}}),
		stackOf([2]string{"C2", "A2"}, Level{low.file(), [2]string{"C2", "C4"}}, Level{low.file(), [2]string{"A2", "C2"}}, Level{high.file(), [2]string{"B3", "B1"}}),
	} {
		got := d.variant(t, c)
		sameSetup(t, got, w.written(t, c.Stack).load(t))
		sharesSolids(t, d.Setup(), got)
		sharesSolids(t, got, d.variant(t, c))
	}
	sameSetup(t, d.Setup(), w.load(t))
	// One file is one component, however its path is written.
	other := d.variant(t, stackOf([2]string{"A2", "C2"}, Level{"./risers/../risers/low.toml", [2]string{"B3", "D3"}}))
	if a, b := d.Setup(), other; a.Bodies[a.body(t, "riser")].Solid != b.Bodies[b.body(t, "riser")].Solid {
		t.Error("another solid")
	}
}

// Where the file names the place, the levels stand in for it.
func TestNamesInAStack(t *testing.T) {
	w := risen(t, high).with(t, "setup.toml", "# [[may_be_cut]]", "[[may_be_cut]]\nbody = \"riser\"\ndepth = 0.5\nreason = \"soft\"\n# [[may_be_cut]]").
		with(t, "setup.toml", "[[demand.pair]]", "[[demand.pair]]\nbodies = [\"stock\", \"riser\"]\nclearance = 4\nreason = \"chips\"\n\n[[demand.pair]]").
		with(t, "setup.toml", "# loading_order", "loading_order = [\"plate\", \"trunnion\", \"riser\", \"vise\", \"stock\"]\n# loading_order").
		with(t, "setup.toml", "name = \"riser\"\n", "name = \"riser\"\nminutes = 3\n")
	c := stackOf([2]string{"A2", "C2"}, Level{high.file(), [2]string{"B3", "D3"}}, Level{low.file(), [2]string{"A2", "C2"}})
	s := w.draft(t).variant(t, c)
	if len(s.MayBeCut) != 1 || s.Bodies[s.MayBeCut[0].Body].Name != "riser 2" {
		t.Errorf("may be cut: %+v", s.MayBeCut)
	}
	if got := fmt.Sprint(s.Loading.Order); got != "[plate trunnion riser riser 2 vise stock]" {
		t.Error(got)
	}
	for _, level := range []string{"riser", "riser 2"} {
		if mm, _ := s.Demand.For(Rest, level, "stock"); mm != 4 {
			t.Errorf("%s: %g", level, mm)
		}
	}
	if h := s.Handling[2]; h.Unit != "riser" || h.Minutes != nil {
		t.Errorf("%+v", h)
	}
	if h := s.Handling[3]; h.Unit != "riser 2" || h.Minutes == nil || *h.Minutes != 3 {
		t.Errorf("%+v", h)
	}
	// A name that is taken is not taken again.
	taken := w.with(t, "setup.toml", "[[place]]\nname = \"plate\"", "[[place]]\nname = \"riser 2\"\ncomponent = \"stock.toml\"\non = \"table\"\nat = [300, 200, 40]\nwithin = 1\n\n[[place]]\nname = \"plate\"").
		with(t, "setup.toml", `["plate", "trunnion"`, `["riser 2", "plate", "trunnion"`)
	s = taken.draft(t).variant(t, c)
	s.body(t, "riser 3")
}

// What keeps a stack from being put together is told.
func TestStackRefusals(t *testing.T) {
	inch := brick{"inch", 30, 101.6, 3, 3, 50.8, -50.8, -50.8, ""}
	w := risen(t, inch)
	w["risers/open.toml"] = strings.Split(w[inch.file()], "[[grid]]")[0]
	d := w.draft(t)
	at, up := [2]string{"B3", "D3"}, [2]string{"A2", "C2"}
	for _, c := range []struct {
		change Change
		want   string
	}{
		{stackOf(up), "riser: found a stack of nothing"},
		{stackOf(up, Level{inch.file(), at}), "riser: pins: found holes B3 and D3, 100 mm apart"},
		{stackOf(up, Level{low.file(), at}, Level{low.file(), [2]string{"A1", "D1"}}), `riser 2: pins: found hole "D1"`},
		{stackOf([2]string{"A9", "C2"}, Level{low.file(), at}), `vise: pins: found hole "A9"`},
		{stackOf(up, Level{"risers/open.toml", at}), "riser: found inch (it has no grid), expected a grid on top"},
		{Change{Stack: &StackChange{Place: "riser", Levels: []Level{{low.file(), at}, {low.file(), up}}}}, "vise: pins: found none for it in the new stack"},
		{Change{Stack: &StackChange{Place: "riser", Levels: []Level{{low.file(), at}}, Above: map[string][2]string{"plate": up}}}, "plate: found a place on table"},
		{Change{Stack: &StackChange{Place: "vise", Levels: []Level{{low.file(), at}}}}, "stock: found a place that stands on vise by coordinates"},
		{Change{Stack: &StackChange{Place: "stock", Levels: []Level{{low.file(), at}}}}, "stock: found a place that stands by coordinates"},
	} {
		if r := refusal(t, d, c.change); !strings.HasPrefix(r.Error(), c.want) {
			t.Errorf("got  %s\nwant %s", r, c.want)
		}
	}
	for file, want := range map[string]string{"risers/none.toml": "component file: open risers/none.toml", "machine.toml": "machine.toml:3:1: kind: found"} {
		if _, err := d.With(stackOf(up, Level{file, at})); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%s: %v", file, err)
		}
	}
}

// plane is where something is on a face: its middle, and the way its X goes.
type plane struct{ at, way complex128 }

func (p plane) on(q plane) plane { return plane{q.at + q.way*p.at, q.way * p.way} }

// seats lists all ways in which pins so far apart stand in rows of holes, by trying every pair.
func (k brick) seats(apart float64, omit ...string) (list []plane, pins [][2]string) {
	for i := range k.columns * k.rows {
		for j := range k.columns * k.rows {
			a, b := k.hole(i), k.hole(j)
			names := [2]string{k.label(i), k.label(j)}
			if i == j || math.Abs(cmplx.Abs(b-a)-apart) > 0.01 || slices.Contains(omit, names[0]) || slices.Contains(omit, names[1]) {
				continue
			}
			list = append(list, plane{(a + b) / 2, (b - a) / complex(cmplx.Abs(b-a), 0)})
			pins = append(pins, names)
		}
	}
	return list, pins
}

func (k brick) hole(i int) complex128 {
	return complex(k.cornerX+k.pitch*float64(i%k.columns), k.cornerY+k.pitch*float64(i/k.columns))
}

func (k brick) label(i int) string {
	return fmt.Sprintf("%c%d", 'A'+i%k.columns, 1+i/k.columns)
}

// tried is what trying every pair of holes of every level finds: how far each level is from
// where the riser stands, and turned.
func tried(stack []brick, now, vise plane) (best []float64) {
	face := brick{"", 0, 0, 4, 4, 50, -75, -75, ""}
	var try func(k int, at plane, far []float64)
	try = func(k int, at plane, far []float64) {
		under, omit := face, []string{"B2"}
		if k > 0 {
			under, omit = stack[k-1], nil
		}
		if k == len(stack) {
			ways, _ := under.seats(100)
			for _, w := range ways {
				p := w.on(at)
				if cmplx.Abs(p.at-vise.at) < 1e-3 && cmplx.Abs(p.way-vise.way) < 1e-3 && (best == nil || slices.Compare(far, best) < 0) {
					best = far
				}
			}
			return
		}
		ways, _ := under.seats(stack[k].apart, omit...)
		for _, w := range ways {
			p := w.on(at)
			turn := math.Abs(cmplx.Phase(p.way / now.way))
			round := func(v float64) float64 { return math.Round(v*1e6) / 1e6 }
			try(k+1, p, slices.Concat(far, []float64{round(cmplx.Abs(p.at - now.at)), round(turn)}))
		}
	}
	try(0, plane{0, 1}, nil)
	return best
}

// Stacks are all those, and only those, that trying every pair of holes finds; the vise is
// over the same place as before, as much higher as the stack is; and no way is nearer.
func TestStacksAgainstTryingAll(t *testing.T) {
	for seed := range uint64(12) {
		rnd := rand.New(rand.NewPCG(seed, 1))
		var blocks []brick
		for i := range 4 {
			pitch := []float64{50, 50, 25, 50.8}[rnd.IntN(4)]
			k := brick{fmt.Sprintf("block %d", i), 20 + 5*float64(rnd.IntN(4)), []float64{100, 100, 50, 150}[rnd.IntN(4)], 2 + rnd.IntN(3), 2 + rnd.IntN(3), pitch, 0, 0, ""}
			k.cornerX, k.cornerY = -25*float64(rnd.IntN(4)), -25*float64(rnd.IntN(4))
			blocks = append(blocks, k)
		}
		st := NewStoreFS(risen(t, blocks...).fs())
		d, err := st.Draft("setup.toml")
		if err != nil {
			t.Fatal(err)
		}
		c, err := st.Catalogue(blocks[0].file(), blocks[1].file(), blocks[2].file(), blocks[3].file(), low.file())
		if err != nil {
			t.Fatal(err)
		}
		blocks = append(blocks, low)
		list, unfit, err := d.Stacks("riser", c, 2)
		if err != nil {
			t.Fatal(err)
		}
		now := plane{25 + 25i, 1} // B3, D3
		found := make(map[string]bool)
		for _, o := range list {
			found[fmt.Sprint(o.Names)] = true
		}
		count := 0
		each(blocks, 2, func(stack []brick) {
			var names []string
			for _, k := range stack {
				names = append(names, k.name)
			}
			best := tried(stack, now, now)
			if (best != nil) != found[fmt.Sprint(names)] {
				t.Errorf("seed %d: %v: found %v, by trying %v", seed, names, best == nil, best)
			}
			if best == nil {
				return
			}
			count++
			i := slices.IndexFunc(list, func(o StackOption) bool { return slices.Equal(o.Names, names) })
			d.checkOption(t, &list[i], stack, now, best)
		})
		if count != len(list) {
			t.Errorf("seed %d: %d stacks, %d by trying", seed, len(list), count)
		}
		if !slices.IsSortedFunc(list, func(a, b StackOption) int { return cmp.Compare(a.Height, b.Height) }) {
			t.Error("not the lowest first")
		}
		for _, u := range unfit {
			if u.Reason == "" || slices.ContainsFunc(list, func(o StackOption) bool { return slices.Contains(o.Names, u.Name) }) {
				t.Errorf("seed %d: %+v", seed, u)
			}
		}
	}
}

// each calls do for every stack of 1 to most blocks.
func each(blocks []brick, most int, do func([]brick)) {
	for _, k := range blocks {
		do([]brick{k})
		if most > 1 {
			each(blocks, most-1, func(rest []brick) { do(slices.Concat([]brick{k}, rest)) })
		}
	}
}

// checkOption puts a stack together and looks where everything stands.
func (d *Draft) checkOption(t *testing.T, o *StackOption, stack []brick, now plane, best []float64) {
	t.Helper()
	s := d.variant(t, Change{Stack: &o.Change})
	was := d.Setup()
	height := 0.0
	var far []float64
	at := plane{0, 1}
	under := brick{"", 0, 0, 4, 4, 50, -75, -75, ""}
	for i, k := range stack {
		ways, pins := under.seats(k.apart)
		at = ways[slices.Index(pins, o.Change.Levels[i].Pins)].on(at)
		far = append(far, math.Round(cmplx.Abs(at.at-now.at)*1e6)/1e6, math.Round(math.Abs(cmplx.Phase(at.way/now.way))*1e6)/1e6)
		height += k.height
		under = k
	}
	if slices.Compare(far, best) != 0 {
		t.Errorf("%v: %v, nearest is %v", o.Names, far, best)
	}
	nearly(t, "height", o.Height, height, 1e-9)
	a, b := &s.Bodies[s.body(t, "vise/body")].Chain.Home, &was.Bodies[was.body(t, "vise/body")].Chain.Home
	near(t, "vise", a.T, b.T.Add(vec(0, 0, height-low.height)), 1e-9)
	near(t, "vise's X", a.Dir(vec(1, 0, 0)), b.Dir(vec(1, 0, 0)), 1e-9)
}

// Thirty kinds of riser in stacks of up to three are listed without building any.
func TestManyStacks(t *testing.T) {
	var files []string
	var blocks []brick
	for i := range 30 {
		k := wide
		k.name, k.height = fmt.Sprintf("block %d", i), 10+float64(i)
		k.cornerX -= 25 * float64(i%2) // two kinds in plan
		blocks, files = append(blocks, k), append(files, k.file())
	}
	st := NewStoreFS(risen(t, blocks...).fs())
	d, err := st.Draft("setup.toml")
	if err != nil {
		t.Fatal(err)
	}
	c, err := st.Catalogue(files...)
	if err != nil {
		t.Fatal(err)
	}
	list, unfit, err := d.Stacks("riser", c, 3)
	if err != nil || len(unfit) > 0 {
		t.Fatal(unfit, err)
	}
	// All of one kind go on each other, and so do others: all stacks of the first kind.
	if least := 15 + 15*15 + 15*15*15; len(list) < least || len(list) > 27930 {
		t.Errorf("%d stacks", len(list))
	}
	if _, _, err := d.Stacks("riser", c, 5); err == nil || !strings.Contains(err.Error(), "more than a million") {
		t.Error(err)
	}
}
