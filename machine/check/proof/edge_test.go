package proof

import (
	"math/rand/v2"
	"testing"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/geom/shape"
	"gridswing/machine"
	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

// blocks asks about two blocks that slide along each other, face to face or edge to edge, a little
// more or less than 2 mm apart.
func blocks(r *rand.Rand, t *Trees, a, b *machine.Body) *Question {
	gap := 2 + []float64{-0.02, -1e-4, 0, 1e-7, 1e-4, 0.005, 0.0099, 0.0101, 0.02, 0.2, 0.5, 1, 3}[r.IntN(13)]
	shift := r3.Vector{Z: 10 + gap}
	if a.Name == "edge" {
		shift = r3.Vector{Y: 10 + 0.8*gap, Z: 10 + 0.6*gap}
	}
	m := motion.Chain{
		Joints: []motion.Joint{{Kind: motion.Linear, Axis: r3.Vector{X: 1}, Gain: motion.Params{1}}},
		Home:   geom.Shift(shift),
	}
	for _, axis := range []r3.Vector{{Y: 1}, {Z: 1}} {
		if r.IntN(2) == 0 {
			m.Joints = append(m.Joints, motion.Joint{Kind: motion.Linear, Axis: axis, Slack: []float64{0.001, 0.5, 1.5, 3}[r.IntN(4)]})
		}
	}
	q := &Question{A: a, B: b, Moving: t.Pair(a, b, m), Over: motion.Box{Hi: motion.Params{4}}, Demand: 2}
	q.Moving.Margin = []float64{0, 0, 0.001, 0.1}[r.IntN(4)]
	q.Demand += []float64{0, 0, 0, 0.001, -0.1, 0.4}[r.IntN(6)]
	return q
}

// Near the demand, where a search finds what its tolerances let it find, a ledger changes nothing
// either.
func TestLedgerAtTheDemand(t *testing.T) {
	block := func(name string) *machine.Body {
		m := shape.Box(r3.Vector{}, r3.Vector{X: 10, Y: 10, Z: 10}).Mesh()
		return &machine.Body{Name: name, Solid: &machine.Solid{Mesh: m, Audit: geom.AuditOf(m)}}
	}
	verdicts := map[check.Verdict]int{}
	all := ways()
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 41))
		a, b := block([]string{"face", "edge"}[seed%2]), block("other")
		plain, ledger := NewTrees(), NewTrees()
		ledger.Ledger = NewLedger()
		w := &all[r.IntN(3)]
		for range 12 {
			q := blocks(r, plain, a, b)
			without, err := w.ask(t.Context(), plain, q)
			if err != nil {
				t.Fatal(err)
			}
			q.Moving.A, q.Moving.B = ledger.Of(a.Solid), ledger.Of(b.Solid)
			with, err := w.ask(t.Context(), ledger, q)
			if err != nil {
				t.Fatal(err)
			}
			w.same(t, &with, &without)
			verdicts[with.Verdict]++
		}
	}
	for _, v := range []check.Verdict{check.Clear, check.Tight, check.WithinPlay} {
		if verdicts[v] < 100 {
			t.Errorf("hardly anything was tried: %v", verdicts)
		}
	}
}

// What goes into the hollow of another without touching it is inside only if that is closed; that
// is looked at each time.
func TestLedgerLooksInside(t *testing.T) {
	box := func(name string, from, to float64) *machine.Body {
		m := shape.Box(r3.Vector{X: from, Y: from, Z: from}, r3.Vector{X: to, Y: to, Z: to}).Mesh()
		return &machine.Body{Name: name, Solid: &machine.Solid{Mesh: m, Audit: geom.AuditOf(m)}}
	}
	around, within := box("around", 0, 100), box("within", 0, 10)
	open := box("open", 0, 100)
	open.Solid.Mesh = &geom.Mesh{Facets: open.Solid.Mesh.Facets[:10]}
	open.Solid.Audit = geom.AuditOf(open.Solid.Mesh)
	trees := NewTrees()
	trees.Ledger = NewLedger()
	for _, s := range []struct {
		a    *machine.Body
		at   float64
		want check.Verdict
	}{
		{around, 45, check.Contact}, {around, 46, check.Contact}, {around, 160, check.Clear}, {around, 161, check.Clear}, {around, 45, check.Contact},
		{open, 45, check.Unproven}, {open, 160, check.Clear}, {open, 159, check.Clear}, {open, 45, check.Unproven}, {open, 44, check.Unproven},
	} {
		m := motion.Chain{Home: geom.Shift(r3.Vector{X: s.at, Y: s.at, Z: s.at})}
		q := &Question{A: s.a, B: within, Moving: trees.Pair(s.a, within, m), Demand: 2}
		for range 2 {
			a, err := trees.Ask(t.Context(), q, sceneTests)
			if err != nil || a.Verdict != s.want {
				t.Errorf("%s, at %g: %v (%s) %v, want %v", s.a.Name, s.at, a.Verdict, a.Reason, err, s.want)
			}
		}
	}
}

// surelyClear rests on two things. Nothing is seen nearer than what lies between the bodies as
// drawn, less the margin and what the location uncertainty can do. And a sweep that sees nothing
// nearer than sure proves enough.
func TestNothingIsSeenNearer(t *testing.T) {
	seen, sured, seeds := 0, 0, 100
	if testing.Short() {
		seeds = 20
	}
	for seed := range uint64(seeds) {
		r := rand.New(rand.NewPCG(seed, 43))
		s := randomScene(r, NewTrees())
		for i := range s.table.Joints {
			if j := &s.table.Joints[i]; j.Slack > 0 {
				j.Slack *= 100 * r.Float64() // so much that it matters
			}
		}
		q := s.question()
		drawn, err := collide.Sweep(t.Context(), q.Moving.Nominal(), q.Over, collide.Limits{
			Enough: 100, Absolute: sharpness, Tests: sceneTests,
		})
		if err != nil {
			t.Fatal(err)
		}
		for _, relative := range []float64{0, measureShare, firstShare, 0.9} {
			out, err := collide.Sweep(t.Context(), q.Moving, q.Over, collide.Limits{
				Enough: q.Demand, Absolute: sharpness, Relative: relative, Tests: sceneTests,
			})
			if err != nil {
				t.Fatal(err)
			}
			if out.Stopped == "" && out.Upper >= sure(q.Demand, relative) {
				sured++
				if out.Lower != q.Demand {
					t.Errorf("seed %d: nothing nearer than %g was seen, but %g of %g proven", seed, out.Upper, out.Lower, q.Demand)
				}
			}
			if out.Contact || drawn.Lower <= 0 || drawn.Stopped != "" {
				continue
			}
			seen++
			if least := drawn.Lower - q.Moving.Margin - q.slack(); out.Upper < least-1e-6 {
				t.Errorf("seed %d: %g was seen, no position leaves less than %g", seed, out.Upper, least)
			}
		}
	}
	if seen < seeds || sured < seeds/3 {
		t.Errorf("hardly anything was tried: %d, %d", seen, sured)
	}
}
