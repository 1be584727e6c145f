package program

// marks are lines of the program's own file of which it is wanted to be told when it has come by, whether
// they make a step or not: see Step.Passed.
type marks struct {
	wanted map[int]bool // nil: none
	met    []int        // those that were read, but not all of whose steps are made
	passed []int        // those that the next step is told
}

func marksOf(lines []int) (m marks) {
	for _, line := range lines {
		if m.wanted == nil {
			m.wanted = map[int]bool{}
		}
		m.wanted[line] = true
	}
	return m
}

// read is told of a line that is read.
func (m *marks) read(line int) {
	if m.wanted[line] {
		delete(m.wanted, line)
		m.met = append(m.met, line)
	}
}

// done is told that all steps of what was read are made.
func (m *marks) done() { m.passed, m.met = append(m.passed, m.met...), nil }

// tell gives what was passed to a step that is handed out.
func (m *marks) tell(st *Step) { st.Passed, m.passed = m.passed, nil }
