package swing

import (
	"context"
)

// sharpness is how sharply contacts and smallest clearances are told, in mm.
const sharpness = 0.01

// sweep finds the verdict over the pair's range.
func (c *checker) sweep(ctx context.Context, p *pair) (err error) {
	p.Answer, err = c.trees.Ask(ctx, &p.Question, c.options.Tests)
	return err
}

// sharpen finds the smallest clearance of a pair that is not known to be in
// contact, with all cores.
func (c *checker) sharpen(ctx context.Context, p *pair) (err error) {
	p.Answer, err = c.trees.Sharpen(ctx, &p.Question, p.Answer, c.options.Tests, c.options.Jobs)
	return err
}
