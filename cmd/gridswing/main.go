// Command gridswing says whether a modular trunnion setup works before
// anything is cut. "gridswing help" lists what it can do.
//
// It answers with its exit code, too: 0 if all is clear, 1 if something is not,
// 2 if a file or the call is wrong, 130 if it was interrupted.
package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"sync"
	"syscall"
	"time"

	"gridswing/cmd/gridswing/internal/files"
	"gridswing/cmd/gridswing/internal/terminal"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	say := sync.OnceFunc(func() { fmt.Fprintln(os.Stderr, "gridswing: interrupted") })
	go leave(ctx, say)
	code := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	if code == exitInterrupted {
		say()
	}
	os.Exit(code)
}

// patience is how long an interrupted command may take to end by itself, and
// longPatience how long one may that has something to tell first.
const (
	patience     = 200 * time.Millisecond
	longPatience = 3 * time.Second
)

// leave ends the program soon after an interrupt, whatever is still at work, but
// for a file that is being written: that is finished or taken back first.
func leave(ctx context.Context, say func()) {
	<-ctx.Done()
	told := make(chan struct{})
	go func() {
		lastWords.Lock()
		close(told)
	}()
	select {
	case <-told:
	case <-time.After(longPatience):
	}
	time.Sleep(patience)
	files.Freeze()
	if terminal.Is(os.Stderr) {
		fmt.Fprintln(os.Stderr) // below what progress may have left
	}
	say()
	os.Exit(exitInterrupted)
}
