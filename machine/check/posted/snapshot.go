package posted

import (
	"slices"

	"gridswing/geom"
)

// shots are the stocks that are wanted as they are after some lines of the program's own file: when
// the program has gone on from a line for the first time.
type shots struct {
	lines []int
	after [][]*geom.Mesh
	taken []bool
	on    int    // the line of the step at hand
	done  int    // of the one before it
	file  string // the program's own
}

func newShots(lines []int) shots {
	return shots{lines: lines, after: make([][]*geom.Mesh, len(lines)), taken: make([]bool, len(lines))}
}

// due is told of each step before it is done, and reports whether the one before was the last on its line.
func (s *shots) due(next *step) bool {
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
	s.done, s.on = s.on, line
	return line != s.done
}

// take keeps the stock as it is after the line that the program has been on.
func (s *shots) take(k *stock) {
	for i, line := range s.lines {
		if line == s.done && !s.taken[i] {
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
	s.done = s.on
	s.take(k)
	return s.after
}
