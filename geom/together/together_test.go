package together

import (
	"fmt"
	"strings"
	"sync/atomic"
	"testing"
)

// A panic comes out of Wait, after all have ended, with where it happened; out of groups within
// groups, too.
func TestPanic(t *testing.T) {
	var ended atomic.Int64
	defer func() {
		p := recover()
		value, stack := Recovered(p)
		if fmt.Sprint(value) != "three" || !strings.Contains(string(stack), "breaksDown") || !strings.Contains(fmt.Sprint(p), "three") {
			t.Errorf("%v at %s", value, stack)
		}
		if ended.Load() != 8 {
			t.Errorf("%d of 8 had ended", ended.Load())
		}
	}()
	var g Group
	for range 8 {
		g.Go(func() { ended.Add(1) })
	}
	g.Go(func() {
		var within Group
		within.Go(breaksDown)
		within.Wait()
	})
	g.Wait()
	t.Error("it went on")
}

func breaksDown() { panic("three") }

func TestNoPanic(t *testing.T) {
	var g Group
	done := false
	g.Go(func() { done = true })
	if g.Wait(); !done || g.Broken() {
		t.Errorf("done %v, broken %v", done, g.Broken())
	}
}
