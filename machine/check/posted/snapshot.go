package posted

import (
	"slices"

	"gridswing/geom"
)

// shots are the stocks that are wanted as they are after some lines of the program's own file: when
// the program has gone on from a line for the first time, or has come by one that makes no step.
type shots struct {
	lines []int
	after [][]*geom.Mesh
	taken []bool
	on    int    // the line of the step at hand
	done  int    // of the one before it
	file  string // the program's own
	ended bool
	by    []int // lines that were come by before the step at hand
}

func newShots(lines []int) shots {
	return shots{lines: lines, after: make([][]*geom.Mesh, len(lines)), taken: make([]bool, len(lines))}
}

// due is told of each step before it is done, and of what was come by before it; it reports whether the one before was the
// last on its line, or there is any such.
func (s *shots) due(next *step, passed []int) bool {
	if len(s.lines) == 0 {
		return false
	}
	if s.file == "" {
		s.file = next.File
	}
	line := next.Line
	if next.File != s.file {
		line = 0
	}
	s.done, s.on, s.by = s.on, line, passed
	return line != s.done || len(passed) > 0
}

// take keeps the stock as it is after the line that the program has been on.
func (s *shots) take(k *stock) {
	for i, line := range s.lines {
		if (line == s.done && (s.on != s.done || s.ended) || slices.Contains(s.by, line)) && !s.taken[i] {
			s.taken[i] = true
			if first := slices.Index(s.lines, line); first < i {
				s.after[i] = s.after[first]
				continue
			}
			s.after[i] = k.meshes()
		}
	}
}

// all returns what was taken, the program being at its end.
func (s *shots) all(k *stock) [][]*geom.Mesh {
	s.done, s.by, s.ended = s.on, nil, true
	s.take(k)
	return s.after
}
