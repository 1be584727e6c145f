//go:build linux

package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strconv"
	"strings"

	"gridswing/geom"
	"gridswing/testdata/peer"
)

// library is a running harness; README.md beside it describes what is said to it.
type library struct {
	command *exec.Cmd
	in      io.WriteCloser
	out     *bufio.Scanner
}

func (t *table) library() (*library, error) {
	l := &library{command: exec.Command(t.harness)}
	l.command.Stderr = os.Stderr
	var err error
	if l.in, err = l.command.StdinPipe(); err != nil {
		return nil, err
	}
	out, err := l.command.StdoutPipe()
	if err != nil {
		return nil, err
	}
	l.out = bufio.NewScanner(out)
	return l, l.command.Start()
}

// load reads a mesh into the library and returns the seconds that its
// hierarchy took.
func (l *library) load(name, path string) (float64, error) {
	if _, err := fmt.Fprintf(l.in, "mesh %s %s\n", name, path); err != nil {
		return 0, err
	}
	field, err := l.answer("mesh", 6)
	if err != nil {
		return 0, err
	}
	return strconv.ParseFloat(field[4], 64)
}

// loaded returns a harness that holds both bodies of the scene.
func (t *table) loaded(s *scene) (*library, error) {
	l, err := t.library()
	if err != nil {
		return nil, err
	}
	if _, err = l.load("a", s.fileA); err == nil {
		_, err = l.load("b", s.fileB)
	}
	if err != nil {
		l.close()
		return nil, err
	}
	return l, nil
}

// tolerance lets the library be that much off in what follows.
func (l *library) tolerance(relative, absolute float64) error {
	_, err := fmt.Fprintln(l.in, "tolerance", relative, absolute)
	return err
}

// ask puts a question of every pose and returns the answers and the mean time
// of one in microseconds.
func (l *library) ask(question string, poses []geom.Pose) (answers []float64, micros float64, err error) {
	w := bufio.NewWriter(l.in)
	fmt.Fprintln(w, question, len(poses))
	for _, p := range poses {
		fmt.Fprintln(w, peer.FormatPose(p, " "))
	}
	if err := w.Flush(); err != nil {
		return nil, 0, err
	}
	for range poses {
		field, err := l.answer(question, 3)
		if err != nil {
			return nil, 0, err
		}
		v, err := strconv.ParseFloat(field[2], 64)
		if err != nil {
			return nil, 0, err
		}
		answers = append(answers, v)
	}
	field, err := l.answer("mean", 4)
	if err != nil {
		return nil, 0, err
	}
	micros, err = strconv.ParseFloat(field[3], 64)
	return answers, micros, err
}

// answer reads a line that begins with kind and has so many fields.
func (l *library) answer(kind string, fields int) ([]string, error) {
	if !l.out.Scan() {
		return nil, fmt.Errorf("the harness ended before it answered %q: %w", kind, io.ErrUnexpectedEOF)
	}
	field := strings.Split(l.out.Text(), ",")
	if field[0] != kind || len(field) != fields {
		return nil, fmt.Errorf("the harness printed %q, expected %q and %d fields", l.out.Text(), kind, fields)
	}
	return field, nil
}

// close lets the harness end.
func (l *library) close() {
	l.in.Close()
	for l.out.Scan() {
	}
	l.command.Wait()
}
