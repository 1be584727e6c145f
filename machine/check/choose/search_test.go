package choose

import (
	"context"
	"slices"
	"sync/atomic"
	"testing"

	"gridswing/machine/check"

	"pgregory.net/rapid"
)

// fate is what becomes of an invented candidate, stage by stage.
type fate struct {
	verdicts []check.Verdict
	shares   []float64
}

func drawFates(t *rapid.T) ([]*candidacy, []fate) {
	n := rapid.IntRange(0, 60).Draw(t, "candidates")
	list, fates := make([]*candidacy, n), make([]fate, n)
	clear := rapid.IntRange(0, 9).Draw(t, "how mostly clear")
	for i := range list {
		c := &candidacy{place: i, worst: check.Clear, room: wholeRoom()}
		c.Height = float64(rapid.IntRange(1, 8).Draw(t, "height"))
		c.Moved = float64(rapid.IntRange(0, 8).Draw(t, "moved"))
		c.Parts = make([]string, rapid.IntRange(1, 3).Draw(t, "parts"))
		list[i] = c
		for range rapid.IntRange(1, 4).Draw(t, "stages") {
			v := check.Clear
			if rapid.IntRange(0, 9).Draw(t, "luck") > clear {
				v = rapid.SampledFrom(check.Verdicts()).Draw(t, "verdict")
			}
			fates[i].verdicts = append(fates[i].verdicts, v)
			fates[i].shares = append(fates[i].shares, rapid.Float64Range(0, check.MostShare).Draw(t, "share"))
		}
	}
	return list, fates
}

// lead returns what leads candidates on to their fates, and counts how often it is called.
func lead(fates []fate, calls *atomic.Int64) func(context.Context, *candidacy, func(*candidacy) bool) error {
	at := make([]int, len(fates))
	return func(ctx context.Context, c *candidacy, _ func(*candidacy) bool) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		calls.Add(1)
		f, i := &fates[c.place], at[c.place]
		if f.verdicts[i].Worse(c.worst) {
			c.worst = f.verdicts[i]
		}
		c.room = c.room.with(i, f.shares[i])
		at[c.place]++
		c.done = at[c.place] == len(f.verdicts)
		return nil
	}
}

func fresh(list []*candidacy) []*candidacy {
	out := make([]*candidacy, len(list))
	for i, c := range list {
		copied := *c
		out[i] = &copied
	}
	return out
}

// TestBestAreThoseOfAll compares what is found when candidates are given up with what is found
// when every one is looked at to the end and then sorted.
func TestBestAreThoseOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list, fates := drawFates(t)
		rule := rapid.SampledFrom(Rules()).Draw(t, "rule")
		most := rapid.IntRange(1, 6).Draw(t, "most")
		by, err := orderOf(rule)
		if err != nil {
			t.Fatal(err)
		}
		run := func(all bool, jobs int) (places []int, calls int64) {
			var n atomic.Int64
			s := &search{list: fresh(list), by: by, most: most, all: all, jobs: jobs, further: lead(fates, &n)}
			if broken, err := s.run(context.Background()); broken || err != nil {
				t.Fatal(broken, err)
			}
			return best(s.list, by, most), n.Load()
		}
		want, whole := run(true, 1)
		got, one := run(false, 1)
		if !slices.Equal(got, want) {
			t.Fatalf("best %v, of all %v", got, want)
		}
		four, again := run(false, 4)
		if !slices.Equal(four, want) || again != one {
			t.Fatalf("with four goroutines best %v in %d looks, with one %v in %d", four, again, got, one)
		}
		if one > whole {
			t.Fatalf("%d looks, %d would have been all", one, whole)
		}
	})
}

// TestFewAreLookedAt makes sure that candidates are given up at all: of a thousand that get
// higher one after the other, the fourth and all above it being good, few are begun.
func TestFewAreLookedAt(t *testing.T) {
	var list []*candidacy
	fates := make([]fate, 1000)
	for i := range fates {
		c := &candidacy{place: i, worst: check.Clear, room: wholeRoom()}
		c.Height = float64(i)
		list = append(list, c)
		fates[i] = fate{[]check.Verdict{check.Clear, check.Clear}, []float64{2, 2}}
		if i < 3 {
			fates[i].verdicts[1] = check.Contact
		}
	}
	by, _ := orderOf(Lowest)
	var n atomic.Int64
	s := &search{list: list, by: by, most: 5, jobs: 2, further: lead(fates, &n)}
	if _, err := s.run(context.Background()); err != nil {
		t.Fatal(err)
	}
	if got := best(list, by, 5); !slices.Equal(got, []int{3, 4, 5, 6, 7}) {
		t.Errorf("best %v", got)
	}
	if n.Load() > 100 {
		t.Errorf("%d looks at 1000 candidates", n.Load())
	}
}

// TestBrokenOff ends the context after some looks: what was finished until then is kept.
func TestBrokenOff(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list, fates := drawFates(t)
		by, _ := orderOf(Roomiest)
		after := rapid.Int64Range(1, 60).Draw(t, "after")
		ctx, cancel := context.WithCancel(context.Background())
		defer cancel()
		var n atomic.Int64
		on := lead(fates, &n)
		finished := 0
		s := &search{list: list, by: by, most: 5, all: true, jobs: 1, further: func(ctx context.Context, c *candidacy, matters func(*candidacy) bool) error {
			if n.Load() == after {
				cancel()
			}
			err := on(ctx, c, matters)
			if c.done {
				finished++
			}
			return err
		}}
		broken, err := s.run(ctx)
		if err != nil {
			t.Fatal(err)
		}
		if broken != (ctx.Err() != nil) {
			t.Fatalf("broken off: %v, context %v", broken, ctx.Err())
		}
		done := 0
		for _, c := range list {
			if c.done {
				done++
			}
		}
		if done != finished {
			t.Fatalf("%d candidates are done, %d were finished", done, finished)
		}
	})
}
