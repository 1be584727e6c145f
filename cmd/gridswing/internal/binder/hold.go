package binder

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/gofrs/flock"
)

// hold is what a run holds of a binder: a folder for files that are not whole yet, and locks. The
// system takes locks back when a program ends, however it ends.
type hold struct {
	root string // the folder .binder
	dir  string // of this run
	own  *flock.Flock
	died map[string]bool // setups that runs were at work on when they died
}

// retry is how often a lock is asked for that somebody else has.
const retry = 100 * time.Millisecond

// Names of locks that are not those of setups.
const (
	runsLock  = "\x00runs"  // held while run folders are made or cleared away
	frontLock = "\x00front" // held while the front page is written
)

// begin opens a binder for a run, and clears away what dead runs left behind.
func begin(ctx context.Context, out string) (*hold, error) {
	h := &hold{root: filepath.Join(out, folder)}
	runs := filepath.Join(h.root, "runs")
	for _, dir := range []string{filepath.Join(h.root, "locks"), runs} {
		if err := os.MkdirAll(dir, 0o777); err != nil {
			return nil, err
		}
	}
	unlock, err := h.wait(ctx, runsLock)
	if err != nil {
		return nil, err
	}
	defer unlock()
	if again := h.lock(runsLock); locked(again) {
		again.Close()
		return nil, noLocks(out, errors.New("two can hold one at once"))
	}
	if h.died, err = clear(runs); err != nil {
		return nil, err
	}
	if h.dir, err = os.MkdirTemp(runs, "run-"); err != nil {
		return nil, err
	}
	h.own = newLock(h.dir)
	if ok, err := h.own.TryLock(); err != nil || !ok {
		return nil, noLocks(out, errors.Join(err, os.Remove(h.dir)))
	}
	return h, nil
}

const lockEnding = ".lock"

// newLock returns a lock that others may hold, too, if the binder's folder is theirs as well.
func newLock(name string) *flock.Flock {
	return flock.New(name+lockEnding, flock.SetPermissions(0o666))
}

func locked(l *flock.Flock) bool {
	ok, err := l.TryLock()
	return err == nil && ok
}

// noLocks says that a folder is of no use for a binder.
func noLocks(out string, err error) error {
	return fmt.Errorf("%s: found a folder where files cannot be locked (%w), expected one where they can: a folder of this computer, or a share that has locks", out, err)
}

// clear removes the folders of runs that are dead: nobody holds their locks. It returns which setups
// they were at work on. The lock on all runs is held.
func clear(runs string) (died map[string]bool, err error) {
	list, err := os.ReadDir(runs)
	if err != nil {
		return nil, err
	}
	died = map[string]bool{}
	for _, e := range list {
		dir := filepath.Join(runs, strings.TrimSuffix(e.Name(), lockEnding))
		l := newLock(dir)
		if !locked(l) {
			l.Close()
			continue
		}
		notes, _ := os.ReadDir(dir)
		for _, f := range notes {
			if name, err := os.ReadFile(filepath.Join(dir, f.Name())); err == nil && strings.HasPrefix(f.Name(), note) {
				died[string(name)] = true
			}
		}
		// A dead run's: what cannot be removed now is next time.
		os.RemoveAll(dir)
		l.Close()
		os.Remove(dir + lockEnding)
	}
	return died, nil
}

// note is how the names of files begin that say what a run is at work on.
const note = "at-"

// at notes that work on a setup begins, and returns what ends it. The order of later runs depends on
// it, nothing else: where it cannot be noted, it is not.
func (h *hold) at(name string) (end func()) {
	file := filepath.Join(h.dir, note+hashed(name))
	_ = os.WriteFile(file, []byte(name), 0o666)
	return func() { os.Remove(file) }
}

// end gives everything back.
func (h *hold) end() {
	os.RemoveAll(h.dir)
	h.own.Close()
	os.Remove(h.own.Path())
}

// lock returns the lock of a name, not held.
func (h *hold) lock(name string) *flock.Flock {
	return newLock(filepath.Join(h.root, "locks", hashed(name)))
}

// hashed is a name of a file for a setup, the same whether that is written in capitals or not.
func hashed(name string) string {
	sum := sha256.Sum256([]byte(strings.ToLower(name)))
	return hex.EncodeToString(sum[:12])
}

// try holds the lock of a name if nobody else does, or does not any more before so much time has passed.
func (h *hold) try(ctx context.Context, name string, wait time.Duration) (unlock func(), ok bool, err error) {
	l := h.lock(name)
	ok, err = l.TryLock()
	if !ok && err == nil && wait > 0 {
		waiting, cancel := context.WithTimeout(ctx, wait)
		defer cancel()
		ok, err = l.TryLockContext(waiting, retry)
		if errors.Is(err, context.DeadlineExceeded) && ctx.Err() == nil {
			err = nil
		}
	}
	if err != nil {
		err = h.failed(err)
	}
	if !ok || err != nil {
		l.Close()
		return nil, false, err
	}
	return func() { l.Close() }, true, nil
}

// wait holds the lock of a name as soon as nobody else does.
func (h *hold) wait(ctx context.Context, name string) (unlock func(), err error) {
	l := h.lock(name)
	if _, err := l.TryLockContext(ctx, retry); err != nil {
		l.Close()
		return nil, h.failed(err)
	}
	return func() { l.Close() }, nil
}

// failed tells a folder that has no locks from one that cannot be written to.
func (h *hold) failed(err error) error {
	var file *fs.PathError
	if errors.As(err, &file) || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	return noLocks(filepath.Dir(h.root), err)
}
