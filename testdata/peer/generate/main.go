// Command generate writes the meshes and the cases of testdata/peer again:
//
//	testdata/peer/harness/build.sh /tmp/peer
//	go run ./testdata/peer/generate -harness /tmp/peer/harness
package main

import (
	"bufio"
	"flag"
	"fmt"
	"log"
	"math/rand/v2"
	"os"
	"path/filepath"

	"gridswing/geom/stl"
	"gridswing/testdata/peer"
)

func main() {
	log.SetFlags(0)
	log.SetPrefix("generate: ")
	dir := flag.String("dir", "testdata/peer", "directory to write to")
	harness := flag.String("harness", "", "the built harness")
	count := flag.Int("n", 300, "number of cases")
	flag.Parse()
	if err := run(*dir, *harness, *count); err != nil {
		log.Fatal(err)
	}
}

func run(dir, harness string, count int) error {
	solids := peer.Solids()
	if err := os.MkdirAll(filepath.Join(dir, "meshes"), 0o755); err != nil {
		return err
	}
	for _, s := range solids {
		if err := stl.WriteFile(filepath.Join(dir, "meshes", s.Name+".stl"), s.Mesh); err != nil {
			return err
		}
	}
	cases, err := peer.Draw(rand.New(rand.NewPCG(2026, 11)), solids, count, harness, filepath.Join(dir, "meshes"))
	if err != nil {
		return err
	}
	return writeFile(filepath.Join(dir, "cases.csv"), func(w *bufio.Writer) error { return peer.WriteCases(w, cases) })
}

// writeFile writes to a temporary name beside path and renames it when complete.
func writeFile(path string, write func(*bufio.Writer) error) error {
	f, err := os.CreateTemp(filepath.Dir(path), filepath.Base(path)+".*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // fails once it is renamed
	w := bufio.NewWriter(f)
	err = write(w)
	if err == nil {
		err = w.Flush()
	}
	if err == nil {
		err = f.Chmod(0o644)
	}
	if closing := f.Close(); err == nil {
		err = closing
	}
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return os.Rename(f.Name(), path)
}
