package pages

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/png"

	"gridswing/cmd/gridswing/internal/files"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine/check"
	"gridswing/machine/check/changeover"
	"gridswing/render/page"
	"gridswing/render/page/layout"
	"gridswing/render/page/pdf"
)

// Changeover writes the pages of a plan to a file as PDF, whole or not at all: what it is
// about first, then a page for each step with its picture, those in their order.
func Changeover(ctx context.Context, path string, plan *changeover.Plan, steps []*image.RGBA) error {
	c := &changing{plan: plan}
	c.flow = newFlow(layout.Options{Format: page.A4, Foot: c.foot})
	c.cover()
	for i := range plan.Steps {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := c.step(&plan.Steps[i], steps[i]); err != nil {
			return err
		}
	}
	var out bytes.Buffer
	if err := pdf.Write(&out, c.flow.Finish("Changeover "+text.FromTo(plan), plan.Machine)); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return files.Write(path, out.Bytes())
}

// changing is the pages of a changeover being set.
type changing struct {
	plan *changeover.Plan
	flow flow
}

// foot names the setups and the page.
func (c *changing) foot(s *layout.Strip, number, total int) {
	s.Left("Changeover " + text.FromTo(c.plan) + ", " + c.plan.Machine)
	s.Right(fmt.Sprintf("Page %d of %d", number, total))
}

// wayVerdict sets a verdict with what it means, framed where it is not clear.
func wayVerdict(f flow, v check.Verdict, words string) {
	if v == check.Clear {
		f.Strong(verdictWord(v))
	} else {
		f.Framed(true, verdictWord(v)+": not to be done like this")
	}
	f.Small(words)
	f.Space(2)
}

// facts sets names and what belongs to them, one below the other.
func facts(f flow, rows [][2]string) {
	var list []layout.Fact
	for _, row := range rows {
		list = append(list, layout.Fact{Name: row[0], Value: row[1]})
	}
	f.Facts(1, list)
}

// pictured is a picture of pixels in a thin frame, as a drawing; words say what it shows.
func pictured(img *image.RGBA, words string) (*page.Drawing, error) {
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return nil, err
	}
	d := &page.Drawing{Width: float64(img.Rect.Dx()), Height: float64(img.Rect.Dy())}
	all := page.Area{X1: d.Width, Y1: d.Height}
	d.Items = []page.Item{
		&page.Image{Area: all, PNG: b.Bytes(), Words: words},
		&page.Path{
			Lines:  [][]page.Point{{{X: 0, Y: 0}, {X: all.X1, Y: 0}, {X: all.X1, Y: all.Y1}, {X: 0, Y: all.Y1}}},
			Closed: true, Stroke: &frameGrey, Width: 0.0015 * d.Width,
		},
	}
	return d, nil
}
