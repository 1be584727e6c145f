package posted

import (
	"context"

	"gridswing/machine/check"
)

// stock is the stock of all parts as it is while the program goes on.
type stock struct{}

// newStock returns the stock as it is loaded; nil where none is to be looked at.
func newStock(ctx context.Context, c *checker) (*stock, error) { return nil, ctx.Err() }

// through asks of a chunk what meets the stock as it is then, and cuts it. Chunks come in the order of the program.
func (s *stock) through(ctx context.Context, ch *chunk) ([]hit, error) { return nil, ctx.Err() }

// write says what is left of it.
func (s *stock) write(p *check.Program, r *Result) {}
