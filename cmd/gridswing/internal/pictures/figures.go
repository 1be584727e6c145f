package pictures

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"gridswing/cmd/gridswing/internal/text"
	"gridswing/geom/envelope"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/render"
	"gridswing/render/drafting"
	"gridswing/render/ink"
)

// Figure is a drawing for a page, made when it is asked for.
type Figure struct {
	Kind    string   // one of the kinds below
	Title   string   // a few words
	Words   []string // what else is to be said of it, a line each without a full stop; the drawing itself holds neither
	Numbers []Numbered
	Aspect  float64 // width by height
	// Width is how many mm wide it is to be printed for the scale that it tells to hold; 0: it tells
	// none, and may be of any size.
	Width float64
	// Draw draws it on a surface, all of which it fills. Figures of one scene may be drawn one
	// after the other only.
	Draw func(ctx context.Context, s ink.Surface) error
	// Finding is the number in the report of the finding that it shows, from 1; 0: none.
	Finding int
}

// Kinds of figures, in the order in which Figures lists them.
const (
	NumberedFigure  = "numbered"  // all that is placed, numbered
	PlanFigure      = "plan"      // a grid of holes with what is set in it
	ElevationFigure = "elevation" // the stack from the side, with heights
	SwingFigure     = "swing"     // clearance over tilt and rotary
	SweptFigure     = "swept"     // the space that the load sweeps
	MomentFigure    = "moment"    // the moment about a tilt axis
	ProgramFigure   = "program"   // clearance over the time of a program
	CloseUpFigure   = "close-up"  // where something meets or is tight
	ToolFigure      = "tool"      // a tool where it is worst
)

// Numbered says what a number in a figure stands for.
type Numbered struct {
	Number int
	Name   string // of the component
}

// mostFigures is how many close-ups there are for pages.
const mostFigures = 8

// In says how pictures and figures, and what is said of them, write lengths; without it they do in mm.
// Sentences of the report among their words, such as a finding's reason, are in mm always.
func (sc *Scene) In(l text.Lengths) { sc.lengths = l }

// Figures lists the drawings that go with a report, for pages.
func (sc *Scene) Figures(r *check.Report) []Figure {
	swept, words, err := sc.hulls(Home(sc.setup))
	if err != nil { // it is shown only where it can be told
		swept, words = nil, nil
	}
	list := []Figure{sc.numbered(r)}
	for _, p := range sc.setup.Plans() {
		if len(p.Places)+len(p.Slots) > 0 { // a file may leave out every hole
			list = append(list, sc.planFigure(p))
		}
	}
	list = append(list, sc.elevations(swept)...)
	if r.Chart != nil {
		c := sc.chart(r)
		c.Bare = true
		list = append(list, Figure{Kind: SwingFigure, Title: c.Title, Words: lines(c.Caption), Aspect: 4.0 / 3, Draw: func(ctx context.Context, s ink.Surface) error {
			c.Lettering = lettering(s)
			return c.DrawOn(ctx, s)
		}})
	}
	if len(swept) > 0 {
		list = append(list, sc.sweptFigure(swept, words))
	}
	list = append(list, momentFigures(r)...)
	if r.Program != nil {
		list = append(list, sc.programFigure(r)...)
	}
	return append(append(list, sc.closeUpFigures(r)...), sc.toolFigures(r)...)
}

// lines are lines of a caption, as words that others may follow: without the full stop at the end of each.
func lines(caption []string) (words []string) {
	for _, line := range caption {
		words = append(words, strings.TrimSuffix(line, "."))
	}
	return words
}

// lettering is how large letters are on a surface: as large as in a picture of 1400 pixels on all of a page's
// width, and on less of it no smaller: those of 19 pixels are 6.7 pt on paper, and nothing may be below 6.5.
func lettering(s ink.Surface) float64 {
	width, _ := s.Size()
	return math.Max(1, width/1400)
}

// picture is a figure of a picture, whose title and caption become words.
func picture(kind string, p *render.Picture, aspect float64) Figure {
	p.Bare, p.Workers = true, 1
	f := Figure{Kind: kind, Title: p.Title, Words: lines(p.Caption), Aspect: aspect}
	if cut, err := p.Cut(); err == nil && cut != "" { // drawing it tells what is wrong
		f.Words = append(f.Words, lines([]string{cut})...)
	}
	f.Draw = func(ctx context.Context, s ink.Surface) error {
		q := *p
		q.Lettering = lettering(s)
		return q.DrawOn(ctx, s)
	}
	return f
}

// numbered shows all that is placed, each component with its number in the order of the setup file.
func (sc *Scene) numbered(r *check.Report) Figure {
	p := sc.atRest(r, sc.Setup)
	list := sc.number(p)
	f := picture(NumberedFigure, p, 3.0/2)
	f.Title, f.Numbers = "What stands on the machine", list
	return f
}

// number has a picture show the numbers of components in place of their names.
func (sc *Scene) number(p *render.Picture) (list []Numbered) {
	p.Numbers = true
	for i := range sc.setup.Seats {
		unit := sc.setup.Seats[i].Unit
		list = append(list, Numbered{i + 1, unit})
		for k := range p.Items {
			if b := sc.body(p.Items[k].Name); b >= 0 && sc.setup.Bodies[b].Unit == unit {
				p.Items[k].Number = i + 1
			}
		}
	}
	return list
}

func (sc *Scene) planFigure(p *machine.HolePlan) Figure {
	d, words := sc.planOf(p, sc.lengths)
	sheet := d.Sheet()
	return Figure{
		Kind: PlanFigure, Title: p.Name, Words: append(words, "Seen by one who looks at the face, every axis at zero"),
		Aspect: sheet.Width / sheet.Height, Width: sheet.Width, Draw: d.DrawOn,
	}
}

// longLevel is how many letters of a height's name there is room for; more of them are in the words.
const longLevel = 32

// elevations shows the stack from the front and from the right.
func (sc *Scene) elevations(swept []*envelope.Hull) (list []Figure) {
	if len(sc.setup.Seats) == 0 {
		return nil
	}
	from := "lowest seat"
	if _, seated := (&stacker{setup: sc.setup, e: &drafting.Elevation{Up: sc.setup.Up}}).lowestSeat(); !seated {
		from = "lowest point"
	}
	for _, v := range []render.View{render.Front, render.Right} {
		e := sc.elevationOf(v, sc.lengths, sc.highest(swept))
		sheet := e.Sheet()
		words := []string{"Every axis at zero. Heights from the " + from + " upward"}
		for _, l := range e.Levels {
			if len([]rune(l.Words)) > longLevel {
				words = append(words, fmt.Sprintf("At %s: %s", sc.length(l.Height-e.Datum), l.Words))
			}
		}
		list = append(list, Figure{
			Kind: ElevationFigure, Title: "Seen from the " + string(v), Words: words,
			Aspect: sheet.Width / sheet.Height, Width: sheet.Width, Draw: e.DrawOn,
		})
	}
	return list
}

// highest is how high what is swept comes, mm along up; nil if nothing is.
func (sc *Scene) highest(swept []*envelope.Hull) *float64 {
	if len(swept) == 0 {
		return nil
	}
	top := math.Inf(-1)
	for _, h := range swept {
		for _, f := range h.Mesh.Facets {
			for _, v := range f {
				top = max(top, sc.setup.Up.Dot(h.Pose.Point(v.Vector())))
			}
		}
	}
	return &top
}

// sweptFigure shows the space that loads sweep, and what stands around it.
func (sc *Scene) sweptFigure(swept []*envelope.Hull, words []string) Figure {
	p := sc.Setup(Home(sc.setup), render.Isometric)
	sc.number(p)
	f := picture(SweptFigure, p, 6.0/5)
	f.Title, f.Words = "What the load sweeps", append(lines(words), "All else at home. Numbers as on the first page")
	draw, ready := f.Draw, sync.OnceFunc(func() { p.Items = append(p.Items, veils(swept)...) })
	f.Draw = func(ctx context.Context, s ink.Surface) error {
		ready()
		return draw(ctx, s)
	}
	return f
}

func (sc *Scene) programFigure(r *check.Report) []Figure {
	c := sc.overTime(r)
	if c == nil {
		return nil
	}
	c.Bare = true
	width, height, err := c.Size(context.Background())
	if err != nil {
		width, height = 16, 9 // drawing it tells what is wrong
	}
	return []Figure{{Kind: ProgramFigure, Title: c.Title, Words: lines(c.Caption), Aspect: float64(width) / float64(height), Draw: func(ctx context.Context, s ink.Surface) error {
		c.Lettering = lettering(s)
		return c.DrawOn(ctx, s)
	}}}
}

// closeUpFigures shows where findings happen, the worst first.
func (sc *Scene) closeUpFigures(r *check.Report) (list []Figure) {
	for i := range r.Findings {
		p := sc.closeUp(r, i)
		if p == nil {
			continue
		}
		f := picture(CloseUpFigure, p, 4.0/3)
		f.Finding = i + 1
		if list = append(list, f); len(list) == mostFigures {
			break
		}
	}
	return list
}

// toolFigures shows tools where operations that are not clear are worst.
func (sc *Scene) toolFigures(r *check.Report) (list []Figure) {
	for _, f := range sc.operations(r, "") {
		fig := picture(ToolFigure, sc.atTool(r, f), 4.0/3)
		fig.Finding = 1 + slices.IndexFunc(r.Findings, func(g check.Finding) bool {
			return g.Question == f.Question && g.Operation == f.Operation && g.Feature == f.Feature && g.Params == f.Params && g.Bodies == f.Bodies
		})
		list = append(list, fig)
	}
	return list
}
