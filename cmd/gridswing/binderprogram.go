package main

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"gridswing/cmd/gridswing/internal/binder"
	"gridswing/machine"
	"gridswing/machine/check"
)

// programReading looks at the program that a setup names for its pages, and notes which files it
// is read from.
type programReading struct {
	inputs *binder.Inputs
	sums   map[string][sha256.Size]byte // of the files before they were read
	order  []string
	faults []error
}

// withProgram looks at a setup, and at the program that it names for its pages.
func withProgram(ctx context.Context, l *looker, s *machine.Setup, inputs *binder.Inputs) (*looked, error) {
	p := &programReading{inputs: inputs}
	return p.look(ctx, l, s)
}

// look looks at a setup and its program, if there is one.
func (p *programReading) look(ctx context.Context, l *looker, s *machine.Setup) (*looked, error) {
	o := &programOptions{}
	if s.Binder == nil || s.Binder.Program == "" {
		return l.look(ctx, s, o)
	}
	name := s.Binder.Program
	if _, err := os.Stat(name); errors.Is(err, fs.ErrNotExist) {
		return p.without(ctx, l, s, name)
	}
	p.sums = map[string][sha256.Size]byte{}
	p.opened(name)
	o.file, o.opened = name, p.opened
	found, err := l.look(ctx, s, o)
	if err = errors.Join(append(p.faults, err)...); err != nil {
		return nil, err
	}
	return found, p.same()
}

// without looks at a setup whose program is not there as yet: that it keeps clear is not proven.
func (p *programReading) without(ctx context.Context, l *looker, s *machine.Setup, name string) (*looked, error) {
	found, err := l.look(ctx, s, &programOptions{})
	if err != nil {
		return nil, err
	}
	called, err := p.inputs.Called(name)
	if err != nil {
		return nil, err
	}
	found.report.Findings = append(found.report.Findings, check.Finding{
		Verdict: check.Unproven, Question: check.Posted, Index: [2]int{-1, -1},
		Reason: fmt.Sprintf("the program that the setup names is not there: %s", called),
	})
	found.report.Conclude()
	return found, p.inputs.Missing(name)
}

// opened notes a file that is about to be read.
func (p *programReading) opened(name string) {
	if _, known := p.sums[name]; known {
		return
	}
	sum, err := binder.SumOf(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		p.faults = append(p.faults, p.inputs.Missing(name))
		return
	case err != nil:
		p.faults = append(p.faults, err)
		return
	}
	p.sums[name] = sum
	p.order = append(p.order, name)
	p.faults = append(p.faults, p.inputs.Add(name, sum))
}

// same makes sure that what was read is what was noted.
func (p *programReading) same() error {
	for _, name := range p.order {
		sum, err := binder.SumOf(name)
		if err != nil {
			return err
		}
		if sum != p.sums[name] {
			return fmt.Errorf("%s: found another content after it was read, expected a program that nobody changes meanwhile", name)
		}
	}
	return nil
}
