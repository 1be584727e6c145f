package proof

import (
	"context"
	"math/rand/v2"
	"sync"
	"testing"

	"gridswing/machine/check"

	"pgregory.net/rapid"
)

// way is one of the ways to ask.
type way struct {
	what string
	ask  func(ctx context.Context, t *Trees, q *Question) (Answer, error)
}

func ways() []way {
	return []way{
		{"asked", func(ctx context.Context, t *Trees, q *Question) (Answer, error) { return t.Ask(ctx, q, sceneTests) }},
		{"measured", func(ctx context.Context, t *Trees, q *Question) (Answer, error) {
			return t.Measure(ctx, q, 5*q.Demand, sceneTests)
		}},
		{"measured little", func(ctx context.Context, t *Trees, q *Question) (Answer, error) {
			return t.Measure(ctx, q, 1.3*q.Demand, sceneTests)
		}},
		{"free", func(ctx context.Context, t *Trees, q *Question) (Answer, error) { return t.AskFree(ctx, q, sceneTests) }},
	}
}

// same fails where an answer differs in what anybody is told from that without a ledger.
func (w *way) same(t interface {
	Helper()
	Fatalf(string, ...any)
}, with, without *Answer) {
	t.Helper()
	if with.Verdict != without.Verdict || with.Reason != without.Reason || with.Sharp != without.Sharp ||
		len(with.Stated) != len(without.Stated) {
		t.Fatalf("%s: %+v with a ledger, %+v without", w.what, with, without)
	}
	if with.Verdict == check.Clear {
		if with.Out.Lower != without.Out.Lower {
			t.Fatalf("%s: %g with a ledger, %g without", w.what, with.Out.Lower, without.Out.Lower)
		}
		return
	}
	a, b := with.Out, without.Out
	a.Boxes, a.Tests, b.Boxes, b.Tests = 0, 0, 0, 0
	if a != b {
		t.Fatalf("%s: %+v with a ledger, %+v without", w.what, a, b)
	}
}

// What is told of a question is the same with a ledger in which questions much like it were
// noted before, whatever they were, as without one; and nothing is proven that is not so.
func TestLedgerChangesNothing(t *testing.T) {
	verdicts, recalled := map[check.Verdict]int{}, 0
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 31))
		plain := NewTrees()
		ledger := NewTrees()
		ledger.Ledger = NewLedger()
		s := randomScene(r, plain)
		all := ways()
		for range 8 {
			if r.IntN(4) > 0 {
				s = s.vary(r)
			}
			w := &all[r.IntN(len(all))]
			s.trees = plain
			q := s.question()
			without, err := w.ask(t.Context(), plain, q)
			if err != nil {
				t.Fatal(err)
			}
			s.trees = ledger
			q = s.question()
			if _, known := ledger.recall(ledger.enter(q, q.Moving, sceneTests), surelyClear(q.Demand, q.slack()), q.Demand); known {
				recalled++
			}
			with, err := w.ask(t.Context(), ledger, q)
			if err != nil {
				t.Fatal(err)
			}
			w.same(t, &with, &without)
			verdicts[with.Verdict]++
			if w.what == "free" {
				q.Moving = q.Moving.Nominal()
			}
			if lower := with.Out.Lower; lower > 0 {
				if least := nearest(r, q); lower > least+1e-6 {
					t.Fatalf("%s: %g is proven, %g was found", w.what, lower, least)
				}
			}
		}
	})
	if !testing.Short() && (len(verdicts) < 3 || recalled < 50) {
		t.Errorf("hardly anything was tried: %v, %d recalled", verdicts, recalled)
	}
}

// The order in which questions come, and how many ask at once, changes nothing.
func TestLedgerHasNoOrder(t *testing.T) {
	for seed := range uint64(12) {
		r := rand.New(rand.NewPCG(seed, 37))
		trees := NewTrees()
		s := randomScene(r, trees)
		var questions []*Question
		for range 12 {
			questions = append(questions, s.question())
			s = s.vary(r)
		}
		all := ways()
		want := make([]Answer, len(questions))
		for i, q := range questions {
			var err error
			if want[i], err = all[i%len(all)].ask(t.Context(), trees, q); err != nil {
				t.Fatal(err)
			}
		}
		trees.Ledger = NewLedger()
		var wg sync.WaitGroup
		for range 4 {
			order := r.Perm(len(questions))
			wg.Go(func() {
				for _, i := range order {
					w := &all[i%len(all)]
					got, err := w.ask(t.Context(), trees, questions[i])
					if err != nil {
						t.Error(err)
						return
					}
					w.same(raiser{t}, &got, &want[i])
					got.Stated = append(got.Stated, "something of his own")
				}
			})
		}
		wg.Wait()
	}
}

// raiser is a test whose failures do not end the goroutine.
type raiser struct{ *testing.T }

func (r raiser) Fatalf(format string, args ...any) { r.Errorf(format, args...) }

// A page holds no more than it may, and what nobody asks about for long is forgotten.
func TestLedgerIsBounded(t *testing.T) {
	l := NewLedger()
	for i := range 3*mostPages + 10 {
		for range 2 {
			l.change(place{which: uint64(i)}, func(p page) page {
				p.rooms = inFront(room{apart: 1}, p.rooms, mostRooms)
				return p
			})
		}
		if got := l.at(place{which: 0}); len(got.rooms) != 2 {
			t.Fatalf("what is asked about all the time was forgotten after %d", i)
		}
	}
	if n := len(l.new) + len(l.old); n > 2*mostPages {
		t.Errorf("%d pages, %d are most", n, 2*mostPages)
	}
	if got := l.at(place{which: 1}); len(got.rooms) != 0 {
		t.Error("what nobody asked about was kept")
	}
	var list []int
	for i := range 10 {
		list = inFront(i, list, 3)
	}
	if len(list) != 3 || list[0] != 9 || list[2] != 7 {
		t.Errorf("%v, want the last three, newest first", list)
	}
}
