// Package binder makes a binder of setups: the pages of each, a front page, and a summary for
// programs. Run begins it. What stands on pages, and what a setup is, it does not know: that is in
// functions that are given to it.
//
// A run can end at any moment, and two can work on one binder at once. What is to be relied on is
// in the folder .binder of the binder:
//
//	records/NAME.json   what the pages of a setup were made of; written after the pages
//	front.json          what the front page told last; written after it
//	locks/...           one for each setup, held while its pages are made
//	runs/...            a folder for each run, with files that are not whole yet, and what it is at work on
//
// A file gets its name when it is whole. Pages whose record does not fit them, or is not there,
// are made again.
package binder

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"runtime"
	"slices"
	"time"
)

// Options say what a binder is made of, and how.
type Options struct {
	Args []string // folders, and setup files
	Out  string   // the binder's folder; it is made if it is not there

	// Make makes the pages of a setup. It is called on several goroutines at once.
	Make func(ctx context.Context, j Job) (*Made, error)
	// Endings are what the names of a setup's pages end in, such as ".pdf".
	Endings []string
	// Ours reports whether a file was made by this program, whatever version: others are not
	// replaced by pages. nil: all are.
	Ours func(data []byte) bool
	// Front makes the front page. The endings of its pages are such as ".pdf", too.
	Front func(s *Summary) ([]Page, error)

	Program  string // what tells the program that makes the pages from others: a hash of it
	Settings string // in words, what pages depend on besides files and program

	Jobs          int  // how many cores are used; 0: all
	Shard, Shards int  // which part is made, from 0, of how many; Shards 0: all of it
	Join          bool // nothing is made, the front page tells what there is
	All           bool // all is made, what is unchanged, too

	// Patience is how long is waited for another run that is at work on a setup; 0: an hour.
	Patience time.Duration

	Caution []string // for the summary

	// Found is told how many setups there are, and how many of them are unchanged; then Done
	// each of the others when it is done; neither with Join. They are called one at a time; nil:
	// nobody is told.
	Found func(setups, unchanged int)
	Done  func(s *Setup)
}

// Job is one setup to make the pages of.
type Job struct {
	Name string // slash-separated, what its pages are called without the ending
	File string // the setup file
	Jobs int    // how many cores it may use
}

// Made is what was made of a setup.
type Made struct {
	Facts
	Inputs *Inputs // all files that it depends on
	Pages  []Page
}

// Page is a file of pages.
type Page struct {
	Ending string // of its name
	Data   []byte
}

// Run makes a binder, or a part of it. Where single setups fail there is no error: the summary
// has them. Without Shards it also writes the front page, summary.json and junit.xml: where one of
// these cannot be written there is a summary, too, beside the error.
func Run(ctx context.Context, o Options) (*Summary, error) {
	if o.Jobs <= 0 {
		o.Jobs = runtime.GOMAXPROCS(0)
	}
	o.Patience = cmp.Or(o.Patience, time.Hour)
	list, err := find(&o)
	if err != nil {
		return nil, err
	}
	h, err := begin(ctx, o.Out)
	if err != nil {
		return nil, err
	}
	defer h.end()
	last, err := readFront(h.root)
	if err != nil {
		return nil, err
	}
	b := &batch{Options: &o, hold: h, taken: taken(&o, list)}
	if o.Shards > 0 {
		list = part(list, o.Shard, o.Shards)
	}
	setups, err := b.run(ctx, list)
	if err != nil {
		return nil, err
	}
	s := &Summary{Format: summaryFormat, Program: o.Program, Settings: o.Settings, Setups: setups, Totals: map[string]int{}, Front: []string{}, Caution: o.Caution}
	for i := range s.Setups {
		x := &s.Setups[i]
		x.Clear = x.Clear && x.State == MadeState
		s.Totals[x.Word()]++
	}
	if o.Shards > 0 {
		return s, nil
	}
	s.compare(last, b.left)
	return s, b.finish(ctx, s)
}

// part is every so-manieth setup.
func part(list []item, shard, shards int) (own []item) {
	for i := shard; i < len(list); i += shards {
		own = append(own, list[i])
	}
	return own
}

// finish writes what is told of the whole binder. Where two runs do so at once, one does after the
// other. What cannot be written, since somebody has it open, does not stop the rest.
func (b *batch) finish(ctx context.Context, s *Summary) error {
	unlock, err := b.hold.wait(ctx, frontLock)
	if err != nil {
		return err
	}
	defer unlock()
	var faults []error
	write := func(name string, data []byte, err error) bool {
		if err == nil {
			err = b.write(ctx, name, data)
		}
		faults = append(faults, err)
		return err == nil
	}
	front, err := b.Front(s)
	if err != nil {
		faults = append(faults, fmt.Errorf("the front page of %s: %w", b.Out, err))
	}
	for _, p := range front {
		if write(frontName+p.Ending, p.Data, nil) {
			s.Front = append(s.Front, frontName+p.Ending)
		}
	}
	slices.Sort(s.Front)
	data, err := s.junit()
	write(junitName, data, err)
	data, err = encode(s)
	write(summaryName, data, err)
	if err := errors.Join(faults...); err != nil {
		return err // the next front page tells what this one was to tell
	}
	data, err = encode(s.front())
	write(folder+"/"+saidName, data, err)
	return errors.Join(faults...)
}

// Names of files of a binder.
const (
	folder      = ".binder"
	frontName   = "binder"
	summaryName = "summary.json"
	junitName   = "junit.xml"
	saidName    = "front.json"
)

// path is where a file of the binder is, by its slash-separated name.
func (b *batch) path(name string) string { return filepath.Join(b.Out, filepath.FromSlash(name)) }
