package posted

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
)

// shopOf is the shop with edits: file, old, new, and so on.
func shopOf(t testing.TB, edits ...string) *machine.Setup {
	t.Helper()
	files := cutShop()
	for i := 0; i < len(edits); i += 3 {
		shoptest.Edit(t, files, edits[i], edits[i+1], edits[i+2])
	}
	return shoptest.Load(t, files, "setup.toml")
}

// told is a finding in one line.
func told(f *check.Finding) string {
	return fmt.Sprintf("%v %s: %s line %d", f.Verdict, f.Question, f.Bodies[0], f.Line)
}

func toldAll(list []check.Finding) (lines []string) {
	for i := range list {
		lines = append(lines, told(&list[i]))
	}
	return lines
}

// What must keep clear of the stock does, or is found, with its line. All by hand, from the shop's sizes.
func TestWhatMeetsTheStock(t *testing.T) {
	tests := []struct {
		name  string
		tool  int
		moves func(p *script)
		want  []string
	}{
		{"rapid into it", 1, func(p *script) { p.rapid(0, 0, 20).rapid(0, 0, -3) }, []string{"contact program: T1 cutting part line 3"}},
		{"rapid close above it", 1, func(p *script) { p.rapid(0, 0, 0.5) }, []string{"tight program: T1 cutting part line 2"}},
		{"rapid as far above it as is asked", 1, func(p *script) { p.rapid(0, 0, 1.01) }, nil},
		{"fed while the spindle stands", 1, func(p *script) {
			p.turns = 0
			p.rapid(0, 0, 2).feed(0, 0, -3)
		}, []string{"contact program: T1 cutting part line 3"}},
		{"a probe that is fed into it", 9, func(p *script) { p.rapid(0, 0, 2).feed(0, 0, -3) }, []string{"contact program: T9 cutting part line 3"}},
		{"a probe above it", 9, func(p *script) { p.rapid(0, 0, 2).feed(0, 0, 0.5) }, nil},
		{"27 deep, the shank 3 above", 1, func(p *script) { layers(p, 27, 9) }, nil},
		{"29 deep, the shank 1 above", 1, func(p *script) { layers(p, 29, 29./3) }, []string{"tight program: T1 shank line 12"}},
		{"35 deep, the shank wider than what was cut", 4, func(p *script) { layers(p, 35, 35./4) }, []string{"contact program: T4 shank line 16"}},
		{"25 deep at once, the neck meets what is left", 1, func(p *script) { p.rapid(-60, 0, 5).feed(-60, 0, -25).feed(0, 0, -25) },
			[]string{"contact program: T1 neck line 4"}},
		{"leaving along what was cut", 1, func(p *script) { p.rapid(-60, 0, 5).feed(-60, 0, -5).feed(0, 0, -5).rapid(0, 0, 5) }, nil},
		{"leaving through what was not", 1, func(p *script) { p.rapid(-60, 0, 5).feed(-60, 0, -5).feed(0, 0, -5).rapid(60, 0, -5) },
			[]string{"contact program: T1 cutting part line 5"}},
		{"lifted by less than an approach", 1, func(p *script) { p.rapid(-60, 0, 5).feed(-60, 0, -5).feed(0, 0, -5).rapid(0, 0, 0.5) },
			[]string{"T1 cutting part line 5"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			p := newScript(shopOf(t)).change(test.tool)
			test.moves(p)
			r, _ := p.run(t, Options{Cell: 1, NoRemaining: true})
			got := toldAll(stockFindings(r))
			ok := len(got) == len(test.want)
			for i := range test.want {
				ok = ok && strings.HasSuffix(got[i], test.want[i])
			}
			if !ok {
				for _, f := range r.Findings {
					t.Logf("%s %s %v", told(&f), f.Reason, f.Depth)
				}
				t.Errorf("got %q, want %q", got, test.want)
			}
			same := p.split(7)
			same.renumber(p, 7)
			again, _ := same.run(t, Options{Cell: 1, NoRemaining: true})
			if found := toldAll(stockFindings(again)); fmt.Sprint(found) != fmt.Sprint(got) {
				t.Errorf("in short blocks %q, want %q", found, got)
			}
		})
	}
}

// layers cuts a slot so deep, in steps, from outside to outside.
func layers(p *script, depth, step float64) {
	p.rapid(-60, 0, 5)
	for z := step; z < depth+1e-9; z += step {
		p.feed(-60, 0, -z).feed(60, 0, -z)
		if z+step < depth+1e-9 {
			p.rapid(60, 0, 50).rapid(-60, 0, 50)
		}
	}
}

// renumber gives the parts of a move the line that it had.
func (p *script) renumber(whole *script, n int) {
	i := 0
	for _, st := range whole.steps {
		if len(st.Legs) == 0 {
			p.steps[i].Place.Line = st.Place.Line
			i++
			continue
		}
		for range n {
			p.steps[i].Place.Line = st.Place.Line
			i++
		}
	}
}

// A finished part 5 below the block's top: a cutter may go 0.05 deeper.
func TestGouge(t *testing.T) {
	for _, test := range []struct {
		tool  int
		depth float64
		line  int
	}{{1, 5, 0}, {1, 5.04, 0}, {1, 5.2, 4}, {3, 5.04, 0}, {3, 5.2, 4}, {1, 9, 4}} {
		files := cutShop()
		files["finished.stl"] = shoptest.Box(-41, -31, -40, 41, 31, -5)
		shoptest.Edit(t, files, "setup.toml", "at = [0, 0, 40] }", "at = [0, 0, 40], finished = \"finished.stl\", finished_chord_error = 0, gouge_within = 0.05 }")
		p := newScript(shoptest.Load(t, files, "setup.toml")).change(test.tool)
		p.rapid(-60, 0, 5).feed(-60, 0, -test.depth).feed(60, 3, -test.depth).feed(60, 0, 5)
		r, _ := p.run(t, Options{Cell: 0.8, NoRemaining: true})
		var got *check.Finding
		for i := range r.Findings {
			if r.Findings[i].Question == check.Gouging {
				got = &r.Findings[i]
			}
		}
		switch {
		case test.line == 0 && got != nil:
			t.Errorf("T%d at %g: %s %s", test.tool, test.depth, told(got), got.Reason)
		case test.line == 0:
		case got == nil || got.Verdict != check.Contact || got.Line != test.line:
			t.Errorf("T%d at %g: found %+v", test.tool, test.depth, got)
		case got.Depth == nil || *got.Depth > test.depth-5+1e-3 || *got.Depth < min(test.depth-5, 0.05)-1e-9:
			t.Errorf("T%d at %g: depth %v", test.tool, test.depth, *got.Depth)
		}
		if st := r.Program.Stock[0]; st.Left == nil || math.Abs(*st.Left-(st.Remaining-82*62*35)) > 1 && *st.Left != 0 {
			t.Errorf("left %v", st.Left)
		}
	}
}

// Stocks after lines: as long as the program is on the line, what it does counts.
func TestStockAfterLines(t *testing.T) {
	p := newScript(shopOf(t)).change(1)
	p.rapid(-60, 0, 5).feed(-60, 0, -5).feed(60, 0, -5).rapid(60, 0, 50).rapid(-60, 20, 50).feed(-60, 20, -5).feed(60, 20, -5)
	_, result := p.run(t, Options{Cell: 0.8, After: []int{8, 4, 2, 99, 4}})
	want := []float64{192000 - 8000, 192000 - 4000, 192000, math.NaN(), 192000 - 4000}
	for i, w := range want {
		if math.IsNaN(w) {
			if result.After[i] != nil {
				t.Error("a stock after a line that there is not")
			}
			continue
		}
		if result.After[i] == nil {
			t.Fatalf("no stock of %d", i)
		}
		m := result.After[i][0]
		if a := geom.AuditOf(m); !a.Closed || math.Abs(geom.MassOf(m).Volume-w) > 0.01*w {
			t.Errorf("%d: %g mm3, want %g; closed %v", i, geom.MassOf(m).Volume, w, a.Closed)
		}
	}
}
