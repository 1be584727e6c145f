package choose

import (
	"bytes"
	"context"
	"encoding/json"
	"slices"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"

	"pgregory.net/rapid"
)

// choices looks at seats of the riser, or at stacks of risers.
func choices(t testing.TB, s shop, risers bool, o Options) *Choice {
	t.Helper()
	store := machine.NewStoreFS(s.fs())
	d, err := store.Draft("setup.toml")
	if err != nil {
		t.Fatal(err)
	}
	var c *Choice
	if risers {
		cat, e := store.Catalogue(s.catalogue()...)
		if e != nil {
			t.Fatal(e)
		}
		c, err = Risers(context.Background(), d, "", cat, 2, o)
	} else {
		c, err = Seats(context.Background(), d, "riser", nil, o)
	}
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestAnswersAreThoseOfTheFullCheck writes every candidate's files, loads and checks
// them as the command line does, and compares verdicts concern by concern, and margins: both
// are proven and no more than a fiftieth or 0.02 mm below what there is.
func TestAnswersAreThoseOfTheFullCheck(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		z := drawn(rt)
		s := z.shop()
		c := choices(t, s, rapid.Bool().Draw(rt, "risers"), Options{All: true})
		for range 2 {
			l := &c.Candidates[rapid.IntRange(0, len(c.Candidates)-1).Draw(rt, "candidate")]
			if l.GivenUp != "" || l.Faulty {
				rt.Fatalf("%s: given up %q, faulty %v: %s", l.Name, l.GivenUp, l.Faulty, l.Reason)
			}
			alone := s.with(&l.Candidate)
			compare(rt, l, alone.fromScratch(t, false), alone.fromScratch(t, true))
		}
	})
}

type fataller interface{ Fatalf(string, ...any) }

// compare holds what was found of a candidate to the full check and to the brief one.
func compare(t fataller, l *Looked, full, brief *check.Report) {
	if l.Verdict != full.Verdict {
		t.Fatalf("%s: %v (%s), checked alone %v", l.Name, l.Verdict, l.Reason, full.Verdict)
	}
	byFull, byBrief := full.Judge(), brief.Judge()
	for _, j := range l.Judged {
		k := slices.IndexFunc(byFull, func(o check.Judged) bool { return o.Concern == j.Concern })
		if byFull[k].Verdict != j.Verdict {
			t.Fatalf("%s, %s: %v, checked alone %v", l.Name, j.Concern, j.Verdict, byFull[k].Verdict)
		}
		if a, b := j.Margin, byBrief[k].Margin; (a == nil) != (b == nil) {
			t.Fatalf("%s, %s: margin %+v, alone %+v", l.Name, j.Concern, a, b)
		} else if a != nil && !alike(a, b) {
			t.Fatalf("%s, %s: margin %+v, alone %+v", l.Name, j.Concern, a, b)
		}
	}
}

// alike reports whether two margins can be of the same thing.
func alike(a, b *check.Margin) bool {
	off := 0.021 * max(a.Share, b.Share)
	if a.Demand > 0 {
		off = max(off, 0.021/a.Demand)
	}
	return a.Share-b.Share <= off && b.Share-a.Share <= off
}

// TestSharingChangesNothing looks at candidates one by one, each with trees of its own, with
// one goroutine and with four, and to the end or only as far as it takes.
func TestSharingChangesNothing(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := drawn(rt).shop()
		risers := rapid.Bool().Draw(rt, "risers")
		rule := rapid.SampledFrom(Rules()).Draw(rt, "rule")
		one := choices(t, s, risers, Options{Rule: rule, Options: proof.Options{Jobs: 1}})
		if four := choices(t, s, risers, Options{Rule: rule, Options: proof.Options{Jobs: 4}}); !bytes.Equal(asJSON(t, one), asJSON(t, four)) {
			rt.Fatalf("one goroutine:\n%s\nfour:\n%s", asJSON(t, one), asJSON(t, four))
		}
		all := choices(t, s, risers, Options{Rule: rule, All: true})
		if !slices.Equal(one.Best, all.Best) {
			rt.Fatalf("rule %s: best %v, of all %v\n%s\n%s", rule, one.Best, all.Best, asJSON(t, one), asJSON(t, all))
		}
		for i := range all.Candidates {
			a, b := &all.Candidates[i], &one.Candidates[i]
			if b.GivenUp == noGood && a.Good() {
				rt.Fatalf("%s was given up for %v (%s) and is good", a.Name, b.Verdict, b.Reason)
			}
			if alone, err := Look(context.Background(), s.draft(t), a.Candidate, Options{}); err != nil || alone.Verdict != a.Verdict {
				rt.Fatalf("%s: alone %v, among others %v (%v)", a.Name, alone.Verdict, a.Verdict, err)
			}
		}
	})
}

func asJSON(t testing.TB, c *Choice) []byte {
	t.Helper()
	data, err := json.MarshalIndent(c, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return data
}
