package posted

import (
	"strings"
	"testing"

	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
)

// What is asked about smaller than it is, since the model tells corners of cuts too large, must not go through what
// no cutter has touched, nor drift into the wall of a cut: half a millimetre of it is much in rapid. The same moves as they
// should be are clear.
func TestSmallCellsAreNoExcuse(t *testing.T) {
	narrow := []string{"tools.toml", "LU = 30, DN = 9, DMM = 10", "LU = 30, DN = 9.9, DMM = 10"}
	slot := func(p *script) *script {
		return p.rapid(-60, 0, 100).rapid(-60, 0, -5).feed(-60, 0, -5.001).feed(20, 0, -5)
	}
	for _, test := range []struct {
		name  string
		edits []string
		moves func(p *script)
		want  string
	}{
		{"lifted under a ledge", nil, func(p *script) {
			p.rapid(-47, 0, 100).rapid(-47, 0, -25).feed(-44.6, 0, -25).rapid(-44.6, 0, 100)
		}, "T1 cutting part line 5"},
		{"lifted beside it", nil, func(p *script) {
			p.rapid(-47, 0, 100).rapid(-47, 0, -25).feed(-44.6, 0, -25).feed(-46.5, 0, -25).rapid(-46.5, 0, 100)
		}, ""},
		{"a neck in a ledge", narrow, func(p *script) {
			p.rapid(-60, 0, 100).rapid(-60, 0, -25).feed(-60, 34.4, -25).feed(60, 34.4, -25)
		}, "T1 neck line 5"},
		{"a neck beside a wall that was cut", narrow, func(p *script) {
			p.rapid(-60, 34.4, 100)
			for _, z := range []float64{-12, -25} {
				p.rapid(-60, 34.4, 100).rapid(-60, 34.4, z).feed(60, 34.4, z).rapid(60, 34.4, 100)
			}
		}, ""},
		{"back along a slot", nil, func(p *script) { slot(p).rapid(-60, 0, -5) }, ""},
		{"back along it and up", nil, func(p *script) { slot(p).rapid(-60, 0, 20) }, ""},
		{"back along it into its wall", nil, func(p *script) { slot(p).rapid(-60, 0.5, -4.9) }, "T1 cutting part line 6"},
		{"straight up", nil, func(p *script) { slot(p).rapid(20, 0, 60) }, ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			for _, cell := range []float64{0.4, 1} {
				p := newScript(shopOf(t, test.edits...)).change(1)
				test.moves(p)
				for i := range p.steps {
					for n := range p.steps[i].Legs {
						p.steps[i].Legs[n].Box = false
					}
				}
				last := len(p.steps)
				for _, pieces := range []int{1, 40} {
					q := p.split(pieces)
					q.renumber(p, pieces)
					r, _ := q.run(t, Options{Cell: cell, NoRemaining: true})
					got := toldAll(stockFindings(r))
					if test.want == "" && len(got) > 0 || test.want != "" && !strings.Contains(strings.Join(got, "; "), test.want) {
						t.Errorf("cells of %g, %d pieces: %q, want %q of %d", cell, pieces, got, test.want, last)
					}
				}
			}
		})
	}
}

// A finished surface counts in rapid, too: what leaves a cut drifts 0.2 mm into it.
func TestGougeInRapid(t *testing.T) {
	for _, test := range []struct {
		drift float64
		want  bool
	}{{0, false}, {0.2, true}} {
		files := cutShop()
		files["finished.stl"] = shoptest.Box(-40, 5, -40, 40, 30, 0)
		shoptest.Edit(t, files, "setup.toml", "at = [0, 0, 40] }", "at = [0, 0, 40], finished = \"finished.stl\", finished_chord_error = 0, gouge_within = 0.05 }")
		p := newScript(shoptest.Load(t, files, "setup.toml")).change(1)
		p.rapid(-60, 0, 100).rapid(-60, 0, -5).feed(20, 0, -5).rapid(-60, test.drift, -5)
		r, _ := p.run(t, Options{Cell: 1, NoRemaining: true})
		got := false
		for _, f := range r.Findings {
			got = got || f.Question == check.Gouging && f.Line == 5 && f.Verdict == check.Contact
		}
		if got != test.want {
			t.Errorf("drift of %g: %q", test.drift, toldAll(r.Findings))
		}
	}
}
