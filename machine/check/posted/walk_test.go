package posted

import (
	"io"

	"gridswing/geom/motion"
	"gridswing/machine/program"
)

// walk is a program made of steps, or by a function that makes step i; nil is behind the last.
type walk struct {
	step func(i int) *program.Step
	at   int
	read int64
}

func (w *walk) Next() (*program.Step, error) {
	s := w.step(w.at)
	if s == nil {
		return nil, io.EOF
	}
	w.at++
	w.read++
	return s, nil
}

func (w *walk) Used() *program.Used { return &program.Used{} }

func (w *walk) Read() (blocks, bytes int64) { return w.read, w.read }

// steps is a program of the steps given.
func steps(list []program.Step) *walk {
	return &walk{step: func(i int) *program.Step {
		if i >= len(list) {
			return nil
		}
		return &list[i]
	}}
}

// straight is a step with one straight leg, on a line of its own.
func straight(kind program.Kind, tool, line int, from, to motion.Params) program.Step {
	return program.Step{
		Kind: kind, Tool: tool, Place: program.Place{File: "test.nc", Line: line, Column: 1},
		Legs: []program.Leg{{From: from, To: to}}, Length: 1, Seconds: 1,
	}
}
