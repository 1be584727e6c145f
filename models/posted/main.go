// Command posted writes the programs of the demo: what the operations of its good setup come to
// as blocks for its machine. Strategies are common practice, no source; the numbers come from
// the setup's features.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"gridswing/machine"
	"gridswing/models"
)

func main() {
	dir := flag.String("dir", "models/demo/programs", "folder to write the programs to")
	flag.Parse()
	if err := write(*dir); err != nil {
		fmt.Fprintln(os.Stderr, "posted:", err)
		os.Exit(1)
	}
}

func write(dir string) error {
	s, err := machine.LoadFS(models.Demo, models.GoodSetup)
	if err != nil {
		return err
	}
	files, err := programs(s)
	if err != nil {
		return err
	}
	for _, f := range files {
		path := filepath.Join(dir, f.name)
		if err := os.WriteFile(path+".new", f.text, 0o644); err != nil {
			return err
		}
		if err := os.Rename(path+".new", path); err != nil {
			return err
		}
		fmt.Printf("%-40s %7d bytes\n", f.name, len(f.text))
	}
	return nil
}

// file is one file of the folder.
type file struct {
	name string
	text []byte
}

// programs writes all of them: the good one, the same with a work offset that is one
// hole off, the subprogram of both, and a short one of cutter locations.
func programs(s *machine.Setup) ([]file, error) {
	good, err := bracket(s, nil)
	if err != nil {
		return nil, err
	}
	off, err := offsetOneHoleOff(s)
	if err != nil {
		return nil, err
	}
	bad, err := bracket(s, off)
	if err != nil {
		return nil, err
	}
	return []file{
		{"bracket-op10.nc", good},
		{"bracket-op10-offset-off.nc", bad},
		{"sub-7.nc", sunkHole()},
		{"bracket-faced.cl", locationsOf(s)},
	}, nil
}
