//go:build linux

package main

import (
	"math"
	"runtime"
	"slices"
	"syscall"
	"time"
)

// processorTime is what this process, or the calling thread, has used.
func processorTime(who int) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(who, &u); err != nil {
		panic(err) // the arguments are constants
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// onThread runs the function n times on one thread, again and again until
// enough time has gone by to be measured, and returns the mean in microseconds
// of processor time and how often a run allocated.
func onThread(n int, f func(i int)) (micros, allocs float64) {
	const enough = 50 * time.Millisecond
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	f(0) // the first query finds its memory
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	start, runs := processorTime(syscall.RUSAGE_THREAD), 0
	for runs == 0 || processorTime(syscall.RUSAGE_THREAD)-start < enough {
		for i := range n {
			f(i)
		}
		runs += n
	}
	used := processorTime(syscall.RUSAGE_THREAD) - start
	runtime.ReadMemStats(&after)
	return used.Seconds() * 1e6 / float64(runs), float64(after.Mallocs-before.Mallocs) / float64(runs)
}

// onWall returns the seconds that the function takes on the wall, with all cores.
func onWall(f func()) float64 {
	wall, _ := onCores(f)
	return wall
}

// onCores returns the seconds that the function takes on the wall and, over all
// cores, of the processor.
func onCores(f func()) (wall, processor float64) {
	before, start := processorTime(syscall.RUSAGE_SELF), time.Now()
	f()
	wall = time.Since(start).Seconds()
	return wall, (processorTime(syscall.RUSAGE_SELF) - before).Seconds()
}

// fastest is the least of several turns: what the function takes where nothing
// else on the machine holds it up.
func fastest(seconds []float64) float64 { return slices.Min(seconds) }

func median(v []float64) float64 {
	v = slices.Clone(v)
	slices.Sort(v)
	if n := len(v); n%2 == 0 {
		return (v[n/2-1] + v[n/2]) / 2
	}
	return v[len(v)/2]
}

// ratios divides each of a by its partner in b.
func ratios(a, b []float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = a[i] / b[i]
	}
	return out
}

func geometricMean(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += math.Log(x)
	}
	return math.Exp(sum / float64(len(v)))
}
