package posted

import (
	"context"
	"errors"
	"io"

	"gridswing/geom/motion"
	"gridswing/machine/program"
)

// reader cuts a program into chunks.
type reader struct {
	c      *checker
	steps  program.Steps
	at     motion.Params // where the axes stand
	begun  float64       // seconds since the first step
	number int
	unled  bool // it stands where the length of the tool does not lead it
	ch     *chunk
	err    error // why reading ended: io.EOF, a *program.Fault
}

// read sends the chunks of the program until it ends or nobody wants more.
func (r *reader) read(ctx context.Context, out chan<- *chunk) {
	defer close(out)
	for ch := r.next(); ch != nil; ch = r.next() {
		select {
		case out <- ch:
		case <-ctx.Done():
			return
		}
	}
}

// next returns the next chunk, nil after the last.
func (r *reader) next() *chunk {
	for r.err == nil {
		s, err := r.steps.Next()
		if err != nil {
			r.err = err
			break
		}
		done := r.take(s)
		if done != nil {
			return done
		}
	}
	return r.finish()
}

// take adds a step; it returns the chunk before it if that is full, or was with another tool.
func (r *reader) take(s *program.Step) (done *chunk) {
	if r.ch != nil && (s.Kind == program.Change || s.Tool != r.ch.called || r.full(s)) {
		if s.Kind == program.Change {
			r.leave(s)
		}
		done = r.finish()
	}
	if r.ch == nil {
		r.ch = &chunk{
			number: r.number, tool: r.c.toolOf(s.Tool), called: s.Tool,
			steps: make([]step, 0, mostSteps), legs: make([]leg, 0, mostLegs),
		}
		r.ch.side = r.c.sideOf(r.ch.tool)
		r.number++
	}
	r.add(s)
	return done
}

func (r *reader) full(s *program.Step) bool {
	return len(r.ch.steps) >= mostSteps || len(r.ch.legs)+len(s.Legs)+len(s.OtherWay) > mostLegs && len(r.ch.legs) > 0
}

// add copies a step.
func (r *reader) add(s *program.Step) {
	ch := r.ch
	text, first := int32(len(ch.text)), int32(len(ch.legs))
	ch.text = append(ch.text, s.Block...)
	index := int32(len(ch.steps))
	if len(s.Passed) > 0 {
		if ch.passed == nil {
			ch.passed = map[int32][]int{}
		}
		ch.passed[index] = s.Passed
	}
	before := r.unled
	for i := range s.Legs {
		l := leg{Leg: s.Legs[i], kind: s.Kind, step: index}
		r.lead(&l, !s.Led)
		ch.legs = append(ch.legs, l)
	}
	after := r.unled
	r.unled = before
	for i := range s.OtherWay {
		l := leg{Leg: s.OtherWay[i], kind: s.Kind, step: index, other: true}
		r.lead(&l, !s.Led)
		ch.legs = append(ch.legs, l)
	}
	r.unled = after
	if n := len(s.Legs); n > 0 {
		r.at = s.Legs[n-1].To
	}
	ch.steps = append(ch.steps, step{
		Place: s.Place, kind: s.Kind, thread: s.Thread, turning: int8(s.Turning),
		legs: [2]int32{first, int32(len(ch.legs))}, text: [2]int32{text, int32(len(ch.text))},
		began: r.begun, seconds: s.Seconds, length: s.Length,
	})
	r.begun += known(s.Seconds)
	if s.Kind == program.Change {
		r.stand(ch)
	}
}

// lead says of a leg at which ends the length of the tool leads it, and whether it is level, and takes down
// where it leaves the axes. An axis along the tool that does not move stays where it was led to, or not. A leg from the one to
// the other that leads along the tool alone, and out of where the length leads it farther up than a longer tool can be
// longer, is not level: its front stays on the leg.
func (r *reader) lead(l *leg, unled bool) {
	k, began := r.c.axial, r.unled
	if k >= 0 && l.From[k] != l.To[k] {
		r.unled = unled
	}
	l.led = [2]bool{!began, !r.unled}
	if l.led[0] == l.led[1] {
		l.level = began
		return
	}
	w := r.ch.side.window
	rise := (l.To[k] - l.From[k]) * r.c.up // of the end that the length does not lead over the other one
	if l.led[1] {
		rise = -rise
	}
	l.level = w == nil || rise < w.longest
	for i := range l.From {
		l.level = l.level || i != k && l.From[i] != l.To[i]
	}
}

// leave adds a tool change to the chunk of the tool that was in the spindle before, which is where it is done,
// too. How long it takes counts for the next one.
func (r *reader) leave(s *program.Step) {
	ch := r.ch
	text, first := int32(len(ch.text)), int32(len(ch.legs))
	ch.text = append(ch.text, s.Block...)
	ch.steps = append(ch.steps, step{
		Place: s.Place, kind: program.Change, leaves: true, turning: int8(s.Turning), legs: [2]int32{first, first},
		text: [2]int32{text, int32(len(ch.text))}, began: r.begun,
	})
	r.stand(ch)
}

// stand adds to the last step of a chunk where the axes stand while tools are changed.
func (r *reader) stand(ch *chunk) {
	if len(ch.steps) == 0 {
		return
	}
	last := len(ch.steps) - 1
	ch.legs = append(ch.legs, leg{Leg: program.Leg{From: r.at, To: r.at}, kind: program.Change, step: int32(last), level: r.unled, led: [2]bool{!r.unled, !r.unled}})
	ch.steps[last].legs[1] = int32(len(ch.legs))
}

// finish ends the chunk at hand.
func (r *reader) finish() *chunk {
	ch := r.ch
	r.ch = nil
	if ch != nil {
		_, ch.bytes = r.steps.Read()
		ch.grow()
	}
	return ch
}

// fault is why the program could not be read on; nil if it was read to its end.
func (r *reader) fault() *program.Fault {
	var f *program.Fault
	if errors.As(r.err, &f) {
		return f
	}
	if r.err != nil && !errors.Is(r.err, io.EOF) {
		return &program.Fault{Found: r.err.Error(), Expected: "a program that can be read"}
	}
	return nil
}

// toolOf is which tool of the setup a number means.
func (c *checker) toolOf(number int) int {
	if number == 0 {
		return noTool
	}
	for i, t := range c.setup.Tools {
		if t.Number == number {
			return i
		}
	}
	return otherTool
}
