package posted

import (
	"cmp"
	"context"
	"slices"

	"gridswing/geom/together"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// ahead is how many chunks each stage may be ahead of the next one.
const ahead = 2

// looked is a chunk that was looked at, but for the stock.
type looked struct {
	*chunk
	hits  []hit
	cells []cell
}

// run is the pipeline: chunks are read ahead, pairs are proven chunk by chunk, each by one goroutine so that what
// was proven of it before is known in the same order for any number of jobs; the stock is
// cut behind that, and what is found is put down in the order of the program.
func (c *checker) run(ctx context.Context, r *check.Report, p Program) (*Result, error) {
	stock, err := newStock(ctx, c)
	if err != nil {
		return nil, err
	}
	inner, stop := context.WithCancel(ctx)
	rd := &reader{c: c, steps: p.Steps, unled: true}
	for k := range c.setup.Axes {
		rd.at[k] = c.setup.Axes[k].Home
	}
	chunks, proven := make(chan *chunk, ahead), make(chan looked, ahead)
	var working together.Group
	defer working.Wait() // nobody reads on once this has returned
	defer stop()
	working.Go(func() { rd.read(inner, chunks) })
	var failed error // read after proven is closed
	strip := &strip{c: c, cap: c.cap, grain: 1}
	working.Go(func() {
		defer close(proven)
		for ch := range chunks {
			hits, cells, err := c.pairs(inner, ch, strip)
			if err != nil {
				failed = err
				stop()
				return
			}
			select {
			case proven <- looked{ch, hits, cells}:
			case <-inner.Done():
				return
			}
		}
	})
	t := newTally(c)
	for l := range proven {
		hits := append(l.hits, c.travels(l.chunk)...)
		if stock != nil {
			more, err := stock.through(ctx, l.chunk)
			if err != nil {
				return nil, err
			}
			hits = append(hits, more...)
		}
		t.chunk(l.chunk, l.cells, c.once(l.chunk, hits))
		c.options.Tell("program", int(min(l.bytes, p.Size)), int(p.Size))
	}
	if err := cmp.Or(ctx.Err(), failed); err != nil {
		return nil, err
	}
	return c.write(r, &p, rd, t, stock), nil
}

// once leaves out of the hits on a change with which a chunk ends those that the next chunk has, too: of bodies that are the same
// with either tool.
func (c *checker) once(ch *chunk, hits []hit) []hit {
	return slices.DeleteFunc(hits, func(h hit) bool {
		tool := h.a >= len(c.setup.Bodies) || h.a >= 0 && c.setup.Bodies[h.a].Role == "tool"
		return ch.steps[h.step].leaves && h.b >= 0 && !tool
	})
}

// pairs proves all pairs over a chunk, and says how near they are over time.
func (c *checker) pairs(ctx context.Context, ch *chunk, strip *strip) ([]hit, []cell, error) {
	list := ch.side.pairs
	provers := make([]prover, len(list))
	order := make([]int, len(list))
	for i := range list {
		provers[i] = prover{c: c, ch: ch, p: list[i]}
		order[i] = i
	}
	// What took longest in the chunk before is begun first, so that no core is left with it at the end.
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(list[b].spent, list[a].spent) })
	err := proof.InParallel(ctx, c.options.Jobs, len(list), func(i int) error { return provers[order[i]].run(ctx) })
	if err != nil {
		return nil, nil, err
	}
	var hits []hit
	ch.near = make([][]span, len(list))
	for i := range provers {
		list[i].spent = provers[i].asked
		ch.near[i] = provers[i].near
		list[i].judge(provers[i].hits)
		hits = append(hits, provers[i].hits...)
	}
	if err := c.narrow(ctx, ch); err != nil {
		return nil, nil, err
	}
	cells, err := strip.cells(ctx, ch, provers)
	return hits, cells, err
}
