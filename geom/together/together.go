// Package together waits for goroutines. What breaks down in one of them breaks down where they
// are waited for: there a program that looks at one thing after another can go on with the next.
package together

import (
	"fmt"
	"runtime/debug"
	"sync"
	"sync/atomic"
)

// Group is goroutines that are waited for together. The zero value is ready to use.
type Group struct {
	wait   sync.WaitGroup
	broken atomic.Pointer[Panic]
}

// Go runs work on a goroutine.
func (g *Group) Go(work func()) {
	g.wait.Go(func() {
		defer func() {
			if p := recover(); p != nil {
				g.broken.CompareAndSwap(nil, panicOf(p))
			}
		}()
		work()
	})
}

// Broken reports whether one of the goroutines has panicked: the others need not go on.
func (g *Group) Broken() bool { return g.broken.Load() != nil }

// Wait returns when all goroutines have. If one of them panicked it panics with a *Panic.
func (g *Group) Wait() {
	g.wait.Wait()
	if p := g.broken.Load(); p != nil {
		panic(p)
	}
}

// Panic is the first panic of a group, with where it happened.
type Panic struct {
	Value any
	Stack []byte
}

// panicOf keeps a panic that has come from a group within the goroutine.
func panicOf(p any) *Panic {
	if within, ok := p.(*Panic); ok {
		return within
	}
	return &Panic{p, debug.Stack()}
}

// String has the value and the stack, for a program that ends by it.
func (p *Panic) String() string { return fmt.Sprintf("%v\n\n%s", p.Value, p.Stack) }

// Recovered returns what a deferred function has recovered, and where it happened. It is called
// in that function.
func Recovered(p any) (value any, stack []byte) {
	at := panicOf(p)
	return at.Value, at.Stack
}
