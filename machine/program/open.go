package program

import (
	"errors"
	"fmt"
	"io"
	"unicode/utf8"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/kinematics"
)

// Options say how a program is read.
type Options struct {
	// Open opens the file of a subprogram in the folder of the program; nil where there are none.
	Open func(file string) (io.ReadCloser, error)
	// Marks are lines of the program's own file of which is told when it has come by them: see Step.Passed.
	Marks []int
}

// Open begins to read a program of word-address blocks for a setup, with what is keyed in at
// the control. The name is for messages.
//
// It begins with every axis at home, no tool known to be in the spindle, the spindle stopped, and
// with the codes that the machine file says a program starts with (Control.Starts). What is not
// among them is not known until the program states it. Coordinates are not shifted (G92) and no
// control of the machine's own (tip control, carried zero, turned plane) is in force.
//
// An error is what keeps any program from being read: nothing stated of the control, or codes in
// Control.Starts and Control.Codes that are none. What is wrong with the program is the stream's.
func Open(name string, r io.Reader, s *machine.Setup, v Values, o Options) (Steps, error) {
	if s.Control == nil {
		return nil, errors.New("found no table [program], expected it to say how the control reads programs")
	}
	in := &interpreter{setup: s, rules: s.Control, solvers: map[int]*kinematics.Machine{}}
	if err := in.codes.read(s.Control); err != nil {
		return nil, err
	}
	in.begin(v)
	if err := in.start(s.Control.Starts); err != nil {
		return nil, err
	}
	in.source = newBlocks(name, r, o.Open, s.Control)
	in.source.marks = marksOf(o.Marks)
	return in, nil
}

// interpreter is what the control does with blocks: its state, and the steps that come of them.
type interpreter struct {
	setup  *machine.Setup
	rules  *machine.Control
	source *blocks
	codes  codes
	axes   axes
	state
	fixed   fixed // cycles
	comp    compensation
	cur     current // the block that is being done
	used    Used
	solvers map[int]*kinematics.Machine // by part

	// The steps of a block, handed out one by one; what they hold is used again for the next one.
	queue []Step
	next  int
	legs  []Leg
	led0  []kinematics.Leg // of one call of Machine.Led
	// more, where it is not nil, makes further steps of a block once those in the queue are handed
	// out: a cycle of many holes needs no more memory than one of few. It returns false
	// once there are none.
	more func() (bool, error)
	err  error // once there is one it stays
}

// mostIdle is how many blocks may follow each other without a step: subprograms that call each other often enough
// would go on for years.
const mostIdle = 250_000

// Next returns the next step: see Steps.
func (in *interpreter) Next() (*Step, error) {
	for n := 0; ; n++ {
		if in.next < len(in.queue) {
			in.next++
			st := &in.queue[in.next-1]
			in.source.marks.tell(st)
			return st, nil
		}
		if in.err == nil && n > mostIdle {
			in.err = &Fault{Place: in.cur.end(), Found: fmt.Sprintf("%d blocks that do nothing", mostIdle), Expected: "a move"}
		}
		if in.err != nil {
			in.source.close() // files of subprograms
			return nil, in.err
		}
		in.queue, in.legs, in.next = in.queue[:0], in.legs[:0], 0
		if in.err = in.proceed(); in.err != nil && in.cur.block != nil {
			inLine(in.err, in.cur.block.Place, in.cur.block.Text)
		}
	}
}

// proceed fills the queue by what there is more of a block, or by the next one.
func (in *interpreter) proceed() error {
	if in.more != nil {
		on, err := in.more()
		if err != nil || on {
			return err
		}
		in.more = nil
	}
	if in.ended {
		return io.EOF
	}
	b, err := in.source.next()
	if err == io.EOF {
		return &Fault{Place: in.cur.end(), Found: "the end of the program", Expected: "M2 or M30"}
	}
	if err == nil {
		if !in.pending() {
			in.source.marks.done()
		}
		if b.File == in.source.name {
			in.source.marks.read(b.Line)
		}
		if err = in.do(b); err != nil {
			in.undo()
		}
	}
	return in.waiting(err)
}

// undo takes back the steps of the block that is being done: one with a Fault is not read, and what there is of it need not
// be what the machine does.
func (in *interpreter) undo() {
	for n := len(in.queue); n > 0 && in.queue[n-1].Place == in.cur.block.Place; n-- {
		in.queue = in.queue[:n-1]
	}
}

// Used returns what the program has moved with so far.
func (in *interpreter) Used() *Used { return &in.used }

// Read returns how much was read so far.
func (in *interpreter) Read() (blocks, bytes int64) { return in.source.count, in.source.bytes }

// add puts a step of the block into the queue. It is good until the next one is added.
func (in *interpreter) add(kind Kind) *Step {
	in.queue = append(in.queue, Step{
		Kind: kind, Place: in.cur.block.Place, Block: cut(in.cur.block.Text), Tool: in.tool,
		Turning: in.spins(), Offset: in.offset, H: in.h,
	})
	return &in.queue[len(in.queue)-1]
}

// mostText is how much of a block a step shows, bytes.
const mostText = 200

// cut shortens a text by whole letters.
func cut(text string) string {
	n := min(len(text), mostText)
	for n > 0 && n < len(text) && !utf8.RuneStart(text[n]) {
		n--
	}
	return text[:n]
}

// axes are the setup's axes by the letters of a program.
type axes struct {
	byLetter [26]int8 // the parameter of a letter; -1 where the setup has no such axis
	letters  []byte   // of each parameter; 0 for an axis that no program moves
	mask     uint32   // of the letters
	x, y, z  int      // parameters of X, Y and Z, -1 where there is none
	turns    [motion.MaxParams]bool
	endless  [motion.MaxParams]bool
}

func axesOf(s *machine.Setup) (a axes) {
	for i := range a.byLetter {
		a.byLetter[i] = -1
	}
	a.letters = make([]byte, len(s.Axes))
	for k := range s.Axes {
		axis := &s.Axes[k]
		a.turns[k], a.endless[k] = axis.Kind == motion.Rotary, axis.Unlimited
		if l := axis.Letter; len(l) == 1 && l[0] >= 'A' && l[0] <= 'Z' && !axis.Free {
			a.byLetter[l[0]-'A'], a.letters[k] = int8(k), l[0]
			a.mask |= bit(l[0])
		}
	}
	a.x, a.y, a.z = int(a.byLetter['X'-'A']), int(a.byLetter['Y'-'A']), int(a.byLetter['Z'-'A'])
	return a
}
