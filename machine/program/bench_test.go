package program

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"testing"

	"gridswing/machine"
)

// text is a program of n blocks that block makes, in the state that head leaves.
func programOf(head string, n int, block func(b *bytes.Buffer, i int)) []byte {
	var b bytes.Buffer
	b.WriteString(head)
	for i := range n {
		block(&b, i)
	}
	b.WriteString("M2\n")
	return b.Bytes()
}

func benchmark(b *testing.B, s *machine.Setup, text []byte, n int) {
	b.ReportAllocs()
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		steps, err := Open("p.nc", bytes.NewReader(text), s, atPart(keyed()), Options{})
		if err != nil {
			b.Fatal(err)
		}
		for {
			if _, err := steps.Next(); err == io.EOF {
				break
			} else if err != nil {
				b.Fatal(err)
			}
		}
	}
	b.ReportMetric(float64(n)*float64(b.N)/b.Elapsed().Seconds(), "blocks/s")
}

const benchmarkBlocks = 20000

// BenchmarkLines reads a raster of short straight feeds.
func BenchmarkLines(b *testing.B) {
	benchmark(b, mill(), programOf("T1 M6\nG43 H1 G0 Z0\nG1 F1000\n", benchmarkBlocks, func(w *bytes.Buffer, i int) {
		fmt.Fprintf(w, "X%.3f Y%.3f Z%.3f\n", float64(i%500)*0.3, float64(i/500)*0.3, math.Sin(float64(i))/10)
	}), benchmarkBlocks)
}

// BenchmarkArcs reads arcs of 5 mm.
func BenchmarkArcs(b *testing.B) {
	benchmark(b, mill(), programOf("G0 X0 Y0\nF1000\n", benchmarkBlocks, func(w *bytes.Buffer, i int) {
		fmt.Fprintf(w, "G3 X%.3f Y0 I%.3f J0\n", float64((i+1)%2)*10, 5-float64(i%2)*10)
	}), benchmarkBlocks)
}

// BenchmarkTip reads short feeds under tip control on which both rotary axes turn.
func BenchmarkTip(b *testing.B) {
	benchmark(b, mill(), programOf("G271 H1\nG1 F1000 X0 Y0 Z50 A10 C0\n", benchmarkBlocks, func(w *bytes.Buffer, i int) {
		f := float64(i) / 50
		fmt.Fprintf(w, "X%.3f Y%.3f Z%.3f A%.4f C%.4f\n", 20*math.Cos(f), 20*math.Sin(f), 50+math.Sin(f), 20+10*math.Sin(f/3), math.Mod(degrees(f), 360))
	}), benchmarkBlocks)
}
