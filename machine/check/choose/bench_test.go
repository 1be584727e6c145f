package choose

import (
	"context"
	"fmt"
	"testing"
	"time"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/models/choice"
)

// large is the choice that is measured with, with a machine of so many facets (0: the demo's).
func large(b *testing.B, setup string, facets int) (*machine.Store, *machine.Draft) {
	b.Helper()
	fsys, err := choice.FS(facets)
	if err != nil {
		b.Fatal(err)
	}
	store := machine.NewStoreFS(fsys)
	d, err := store.Draft(setup)
	if err != nil {
		b.Fatal(err)
	}
	return store, d
}

// seatsOf lists the seats of the trunnion, every n-th of them.
func seatsOf(b *testing.B, d *machine.Draft, n int) []Candidate {
	b.Helper()
	line, err := SeatLine(d, choice.Trunnion, []float64{0, halfTurn})
	if err != nil {
		b.Fatal(err)
	}
	if len(line.Candidates) != choice.Seats {
		b.Fatalf("%d seats, want %d", len(line.Candidates), choice.Seats)
	}
	var list []Candidate
	for i := 0; i < len(line.Candidates); i += n {
		list = append(list, line.Candidates[i])
	}
	return list
}

const halfTurn = 3.141592653589793

// stacksOf lists the stacks of up to so many risers of the first so many of the catalogue.
func stacksOf(b *testing.B, store *machine.Store, d *machine.Draft, risers, most int) []Candidate {
	b.Helper()
	cat, err := store.Catalogue(choice.Catalogue)
	if err != nil {
		b.Fatal(err)
	}
	cat.Components = cat.Components[:risers]
	line, _, err := RiserLine(d, choice.Riser, cat, most)
	if err != nil {
		b.Fatal(err)
	}
	return line.Candidates
}

// run measures how long it takes until the best of candidates are known, trees and all.
func run(b *testing.B, d *machine.Draft, list []Candidate, o Options) {
	b.Helper()
	b.ResetTimer()
	var found *picked
	for b.Loop() {
		var err error
		if found, err = pick(context.Background(), d, list, o); err != nil {
			b.Fatal(err)
		}
	}
	n := count(found.looked)
	begun := 0
	for i := range found.looked {
		if len(found.looked[i].Judged) > 0 {
			begun++
		}
	}
	b.ReportMetric(float64(n.Candidates*b.N)/b.Elapsed().Seconds(), "candidates/s")
	b.ReportMetric(float64(n.Candidates), "candidates")
	b.ReportMetric(float64(n.Good), "good")
	b.ReportMetric(float64(begun), "begun")
}

func BenchmarkSeats(b *testing.B) {
	for _, rule := range []string{Nearest, Roomiest} {
		b.Run(rule, func(b *testing.B) {
			_, d := large(b, choice.SeatSetup, 0)
			run(b, d, seatsOf(b, d, 1), Options{Rule: rule}.ready(""))
		})
	}
}

// BenchmarkSeatsAll looks at seats to the end: more and more of them.
func BenchmarkSeatsAll(b *testing.B) {
	for _, every := range []int{16, 4, 1} {
		b.Run(fmt.Sprint(choice.Seats/every), func(b *testing.B) {
			_, d := large(b, choice.SeatSetup, 0)
			run(b, d, seatsOf(b, d, every), Options{Rule: Nearest, All: true}.ready(""))
		})
	}
}

// BenchmarkFacets looks at 25 seats to the end, the machine having more and more facets.
func BenchmarkFacets(b *testing.B) {
	for _, facets := range []int{300_000, 1_000_000, 3_000_000} {
		b.Run(fmt.Sprint(facets), func(b *testing.B) {
			_, d := large(b, choice.SeatSetup, facets)
			run(b, d, seatsOf(b, d, 16), Options{Rule: Nearest, All: true}.ready(""))
		})
	}
}

func BenchmarkRisers(b *testing.B) {
	for _, n := range []struct{ risers, most int }{{30, 1}, {10, 2}, {30, 2}, {30, 3}} {
		b.Run(fmt.Sprintf("%d in stacks of up to %d", n.risers, n.most), func(b *testing.B) {
			store, d := large(b, choice.RiserSetup, 0)
			run(b, d, stacksOf(b, store, d, n.risers, n.most), Options{Rule: Lowest}.ready(""))
		})
	}
}

// BenchmarkRisersAll looks at stacks to the end.
func BenchmarkRisersAll(b *testing.B) {
	store, d := large(b, choice.RiserSetup, 0)
	run(b, d, stacksOf(b, store, d, choice.Risers, 1), Options{Rule: Lowest, All: true}.ready(""))
}

// BenchmarkFromScratch reads and checks one setup as the command line does, as would be done
// for each candidate.
func BenchmarkFromScratch(b *testing.B) {
	for _, name := range []string{choice.RiserSetup, choice.SeatSetup} {
		b.Run(name, func(b *testing.B) {
			fsys, err := choice.FS(0)
			if err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				setup, err := machine.LoadFS(fsys, name)
				if err != nil {
					b.Fatal(err)
				}
				if r := everything(b, setup, proof.Options{}); r.Verdict != check.Clear {
					b.Fatal(r.Verdict)
				}
			}
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "candidates/s")
		})
	}
}

// BenchmarkWith puts variants together.
func BenchmarkWith(b *testing.B) {
	_, d := large(b, choice.SeatSetup, 0)
	list := seatsOf(b, d, 1)
	start, n := time.Now(), 0
	for b.Loop() {
		if _, err := d.With(list[n%len(list)].Changes...); err != nil {
			b.Fatal(err)
		}
		n++
	}
	b.ReportMetric(float64(n)/time.Since(start).Seconds(), "candidates/s")
}
