//go:build linux

// Command table lays package collide beside the library in one run, on the same
// meshes and poses, and prints the result as Markdown: how fast, how many
// allocations, how much memory, and how both grow. table.sh builds what it needs.
//
// Times of single queries are processor time of one thread on either side, so
// that what others do on the machine meanwhile counts little; both sides take
// turns, and ratios are medians over the turns. Where several cores work, time is
// the least time on the wall of all turns, since others may hold a core.
package main

import (
	"flag"
	"fmt"
	"os"
	"runtime/pprof"
	"strings"
)

// table is one run: where things are, and how thorough to be.
type table struct {
	dir       string // meshes and built programs
	harness   string // the program that asks the library
	modules   string // node_modules with three-mesh-bvh, "" to leave it out
	gridswing string // the built command, "" to leave it out
	rounds    int
}

// sections in the order of print.
var sections = []struct {
	name string
	run  func(*table) error
}{
	{"pairs", (*table).pairs},
	{"build", (*table).build},
	{"memory", (*table).memory},
	{"sweep", (*table).sweep},
	{"growth", (*table).growth},
	{"reading", (*table).reading},
	{"demo", (*table).demo},
	{"large", (*table).large},
}

func main() {
	var t table
	flag.StringVar(&t.dir, "dir", "", "folder for meshes, made if need be (required)")
	flag.StringVar(&t.harness, "harness", "", "the built harness (required)")
	flag.StringVar(&t.modules, "modules", "", "a node_modules folder with three-mesh-bvh")
	flag.StringVar(&t.gridswing, "gridswing", "", "the built gridswing")
	flag.IntVar(&t.rounds, "rounds", 5, "turns that ours and the library's measurements take")
	only := flag.String("only", "", "sections to print, separated by commas: pairs,build,memory,sweep,growth,reading,demo,large")
	profile := flag.String("cpuprofile", "", "file for a CPU profile of our side")
	peak := flag.Bool("peak", false, "run the arguments as a command and print its time and peak memory")
	hold := flag.Bool("hold", false, "read two STL files, build their trees, and end")
	drop := flag.Bool("drop", false, "with -hold, let go of each mesh once its tree is built")
	flag.Parse()
	var err error
	switch {
	case *peak:
		err = runPeak(flag.Args())
	case *hold:
		err = runHold(flag.Args(), *drop)
	case t.dir == "" || t.harness == "" || flag.NArg() > 0 || t.rounds < 1:
		flag.Usage()
		os.Exit(2)
	default:
		err = t.run(*only, *profile)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "table:", err)
		os.Exit(1)
	}
}

// run prints the sections named, all if none is.
func (t *table) run(only, profile string) error {
	if err := os.MkdirAll(t.dir, 0o777); err != nil {
		return err
	}
	if profile != "" {
		f, err := os.Create(profile)
		if err != nil {
			return err
		}
		defer f.Close()
		if err := pprof.StartCPUProfile(f); err != nil {
			return err
		}
		defer pprof.StopCPUProfile()
	}
	if err := printMachine(t.rounds); err != nil {
		return err
	}
	for _, s := range sections {
		if only != "" && !strings.Contains(","+only+",", ","+s.name+",") {
			continue
		}
		fmt.Fprintln(os.Stderr, "table:", s.name)
		if err := s.run(t); err != nil {
			return fmt.Errorf("%s: %w", s.name, err)
		}
	}
	return nil
}
