package posted

import (
	"io"
	"math"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/offsets"
	"gridswing/machine/kinematics"
	"gridswing/machine/program"
	"gridswing/models"
	"gridswing/models/blocks"

	"github.com/golang/geo/r3"
)

func demoSetup(t testing.TB) *machine.Setup {
	t.Helper()
	s, err := machine.LoadFS(models.Demo, models.GoodSetup)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// raster makes a program of so many feeds over the top of the demo's block in steps of 0.3 mm, in rows of 100 mm
// that are 0.25 apart; with every axis moving, or at one tilted position.
func raster(t testing.TB, s *machine.Setup, tool, feeds int, five bool) *walk {
	t.Helper()
	axes := make([]kinematics.Axis, len(s.Axes))
	letters := map[string]int{}
	for k := range s.Axes {
		a := &s.Axes[k]
		axes[k] = kinematics.Axis{Kind: a.Kind, Lo: a.Travel[0], Hi: a.Travel[1], Home: a.Home}
		letters[a.Letter] = k
	}
	m, err := kinematics.New(axes, s.Parts[0].Chain, s.Spindle.Chain)
	if err != nil {
		t.Fatal(err)
	}
	length := 0.0
	for _, x := range s.Tools {
		if x.Number == tool {
			length = x.LPR()
		}
	}
	place := func(i int) motion.Params {
		const columns, rows = 333, 240
		pass, i := i/(columns*rows), i%(columns*rows)
		row, column := i/columns, i%columns
		if row%2 == 1 {
			column = columns - 1 - column
		}
		tip := r3.Vector{X: -30 + 0.25*float64(row), Y: -50 + 0.3*float64(column), Z: 62 - 0.3*float64(pass%8)}
		var p motion.Params
		p[letters["A"]], p[letters["C"]] = 20*math.Pi/180, 30*math.Pi/180
		if five {
			p[letters["A"]] = (18 + 6*math.Sin(tip.Y*2*math.Pi/80)) * math.Pi / 180
			p[letters["C"]] = (30 + 15*math.Sin(tip.X*2*math.Pi/90) + 10*math.Cos(tip.Y*2*math.Pi/120)) * math.Pi / 180
		}
		p, err := m.Linear(p, tip, length)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	var step program.Step
	before := place(0)
	return &walk{step: func(i int) *program.Step {
		if i >= feeds {
			return nil
		}
		next := place(i + 1)
		step = straight(program.Feed, tool, i+1, before, next)
		step.Length, step.Seconds, step.H, step.Led = 0.3, 0.006, tool, true
		step.Block = "G1 X10.123 Y20.234 Z30.345"
		before = next
		return &step
	}}
}

// BenchmarkPairs is without the stock, and without reading blocks.
func BenchmarkPairs(b *testing.B) {
	s := demoSetup(b)
	for _, c := range []struct {
		name string
		five bool
	}{{"one position", false}, {"five axes", true}} {
		b.Run(c.name, func(b *testing.B) {
			const blocks = 1_000_000
			for b.Loop() {
				r := check.NewReport(s)
				_, err := Check(b.Context(), s, r, Program{File: "test.nc", Steps: raster(b, s, 7, blocks, c.five)}, Options{NoStock: true})
				if err != nil {
					b.Fatal(err)
				}
				b.StopTimer()
				for i := range r.Findings {
					if f := &r.Findings[i]; i < 10 {
						b.Logf("%v %v %s line %d", f.Verdict, f.Bodies, f.Short(), f.Line)
					}
				}
				b.StartTimer()
			}
			b.ReportMetric(float64(blocks*b.N)/b.Elapsed().Seconds(), "blocks/s")
		})
	}
}

// BenchmarkBlocks reads programs of blocks as well, without the stock.
func BenchmarkBlocks(b *testing.B) {
	s := demoSetup(b)
	computed, err := offsets.Of(s, nil)
	if err != nil {
		b.Fatal(err)
	}
	const feeds = 1_000_000
	for _, c := range []struct {
		name string
		open func() (io.Reader, error)
	}{
		{"one position", func() (io.Reader, error) { return blocks.Raster(s, feeds) }},
		{"five axes", func() (io.Reader, error) { return blocks.FiveAxis(s, feeds) }},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				in, err := c.open()
				if err != nil {
					b.Fatal(err)
				}
				steps, err := program.Open("test.nc", in, s, Values(s, computed), program.Options{})
				if err != nil {
					b.Fatal(err)
				}
				r := check.NewReport(s)
				if _, err := Check(b.Context(), s, r, Program{File: "test.nc", Steps: steps}, Options{NoStock: true}); err != nil {
					b.Fatal(err)
				}
				if r.Program.Fault != nil || r.Program.Blocks < feeds || len(r.Findings) > 1 {
					b.Fatalf("%d blocks, %v, %d findings: %+v", r.Program.Blocks, r.Program.Fault, len(r.Findings), r.Findings[0])
				}
			}
			b.ReportMetric(float64(feeds*b.N)/b.Elapsed().Seconds(), "blocks/s")
		})
	}
}
