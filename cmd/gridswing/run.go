package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"gridswing/cmd/gridswing/internal/files"

	"github.com/spf13/cobra"
)

// Exit codes.
const (
	exitClear       = 0
	exitNotClear    = 1
	exitWrong       = 2
	exitInterrupted = 130 // as a shell reports a program that SIGINT ended
)

// errNotClear ends a command that did its work and found something: all has
// been said already.
var errNotClear = errors.New("not clear")

// run executes one command line and returns the exit code.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	root := newRoot()
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.ExecuteContext(ctx)
	switch {
	case ctx.Err() != nil:
		return exitInterrupted
	case err == nil:
		return exitClear
	case errors.Is(err, errNotClear):
		return exitNotClear
	}
	complain(stderr, err)
	return exitWrong
}

// complain writes errors, one line each.
func complain(w io.Writer, err error) {
	var call *callError
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		for _, e := range joined.Unwrap() {
			complain(w, e)
		}
		return
	}
	fmt.Fprintf(w, "gridswing: %s\n", files.Words(err))
	if errors.As(err, &call) && call.hint != "" {
		fmt.Fprintf(w, "gridswing: hint: %s\n", call.hint)
	}
}

// callError is a command line that cannot be followed.
type callError struct {
	problem, hint string
}

func (e *callError) Error() string { return e.problem }

// wrong returns the error of a call that asks for something that is not there.
func wrong(hint, format string, args ...any) error {
	return &callError{problem: fmt.Sprintf(format, args...), hint: hint}
}

// helpHint points to the help of a command.
func helpHint(cmd *cobra.Command) string {
	return fmt.Sprintf("%q explains the call", cmd.CommandPath()+" --help")
}

// arguments wants from least to most arguments (most < 0: any number).
func arguments(least, most int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		switch {
		case len(args) < least:
			return wrong(helpHint(cmd), "found no %s, expected %s", what, cmd.Use)
		case most >= 0 && len(args) > most:
			return wrong(helpHint(cmd), "found %q, expected nothing after the %s", args[most], what)
		}
		return nil
	}
}
