package pictures

import (
	"fmt"
	"math"
	"slices"

	"gridswing/geom"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/render"
	"gridswing/render/chart"
	"gridswing/render/raster"
)

// Stocks are the stocks of the setup's parts as a program leaves them: meshes by part, in the frame
// of the stock's body, nil where none is known.
type Stocks struct {
	Remaining []*geom.Mesh // at the end, or where the program could not be read on
	After     []StockAfter // in the order in which they were asked for
	// At are those of findings, by the line of the program.
	At map[int][]*geom.Mesh
}

// StockAfter is what is left after a line of the program.
type StockAfter struct {
	Line   int
	Meshes []*geom.Mesh
}

// Cut tells what the program leaves of the stocks, for pictures that show it.
func (sc *Scene) Cut(s *Stocks) { sc.stocks = s }

// StockOf returns the place of the body in whose frame the stock of a part is: the first of its
// place; -1 if there is none.
func StockOf(s *machine.Setup, part int) int {
	return slices.IndexFunc(s.Bodies, func(b machine.Body) bool { return b.Unit == s.Parts[part].Unit })
}

// asCut prepares stocks to be drawn in the place of their bodies, by the bodies' places. The first body of a
// place stands for all of it: the others are nil.
func (sc *Scene) asCut(meshes []*geom.Mesh) map[int]*raster.Shape {
	list := map[int]*raster.Shape{}
	for part, m := range meshes {
		if part >= len(sc.setup.Parts) || m == nil {
			continue
		}
		first := StockOf(sc.setup, part)
		for i := range sc.setup.Bodies {
			if sc.setup.Bodies[i].Unit == sc.setup.Parts[part].Unit && i != first && first >= 0 {
				list[i] = nil
			}
		}
		if first >= 0 {
			list[first] = render.Prepare(m, true)
		}
	}
	return list
}

// inProgram returns the pictures that only a program has: clearance over time, and the stock.
func (sc *Scene) inProgram(r *check.Report) (list []sheet) {
	if r.Program == nil {
		return nil
	}
	if c := sc.overTime(r); c != nil {
		list = append(list, sheet{"program-clearance", c.Draw})
	}
	if sc.stocks == nil {
		return list
	}
	add := func(name, words string, meshes []*geom.Mesh) {
		if shapes := sc.asCut(meshes); len(shapes) > 0 {
			p := sc.stock(r, words, shapes)
			p.Workers = 1
			list = append(list, sheet{name, p.Draw})
		}
	}
	words := "at the end of the program"
	if f := r.Program.Fault; f != nil {
		words = fmt.Sprintf("where the program could not be read on, line %d", f.Line)
	}
	add("program-stock", words, sc.stocks.Remaining)
	for _, a := range sc.stocks.After {
		add(fmt.Sprintf("program-after-%d", a.Line), fmt.Sprintf("after line %d", a.Line), a.Meshes)
	}
	return list
}

// stock shows stocks as they are, and what holds them, every axis at home.
func (sc *Scene) stock(r *check.Report, words string, shapes map[int]*raster.Shape) *render.Picture {
	units := map[string]bool{}
	for i := range shapes {
		unit := sc.setup.Bodies[i].Unit
		units[unit] = true
		for _, s := range sc.setup.Standing {
			if s.Unit == unit {
				units[s.On] = true
			}
		}
	}
	p := sc.plain(Home(sc.setup), render.Isometric, func(b *machine.Body) bool { return units[b.Unit] && b.Unit != "machine" })
	var items []render.Item
	for _, it := range p.Items {
		if shape, cut := shapes[sc.body(it.Name)]; cut {
			it.Shape = shape
		}
		if it.Shape != nil {
			items = append(items, it)
		}
	}
	p.Items = items
	p.Title = fmt.Sprintf("%s: stock %s", r.Setup, words)
	p.Caption = []string{fmt.Sprintf("%s. Never less than what is really left; the model's cells are %s.", r.Program.File, sc.cellsOf(r.Program)),
		"Every axis at home."}
	return p
}

func (sc *Scene) cellsOf(g *check.Program) string {
	if len(g.Stock) == 0 {
		return "?"
	}
	return sc.length(g.Stock[0].Cell)
}

// mostMoments is how many findings are marked on a chart over time.
const mostMoments = 8

// overTime returns the chart of clearance over time; nil if there is no time to show.
func (sc *Scene) overTime(r *check.Report) *chart.Run {
	g := r.Program
	if len(g.Strip) == 0 || g.Strip[0].From >= g.Strip[len(g.Strip)-1].To {
		return nil
	}
	c := &chart.Run{Title: fmt.Sprintf("Program of %s: %s", r.Setup, r.Verdict), Demand: g.Demand, Cap: g.Cap, Lengths: lengthsOf(sc.lengths), Bound: !g.Known, Caption: []string{
		fmt.Sprintf("%s, %s. The least clearance of all that must keep apart, location uncertainty taken off; what cuts is not counted against the stock while it is fed.", g.File, r.Machine),
		fmt.Sprintf("Demanded %s %s where the setup asks nothing else. Clearances are proven, at least so much, and coarser than those of the report.", sc.lengths.Stated(g.Demand), sc.lengths.Name()),
	}}
	if g.Fault != nil {
		c.Ends = fmt.Sprintf("not read from line %d on", g.Fault.Line)
	}
	for i := range g.Strip {
		q := &g.Strip[i]
		plain := cell(&check.Cell{Verdict: q.Verdict, Proven: q.Proven, Smallest: q.Smallest})
		c.Cells = append(c.Cells, chart.RunCell{From: q.From, To: q.To, Line: q.Line, Tool: q.Tool, State: plain.State, Lower: plain.Lower, Upper: plain.Upper})
	}
	without := 0
	for i := range r.Findings {
		f := &r.Findings[i]
		switch {
		case f.Seconds == nil || !onMove(f):
		case len(c.Marks) == mostMoments || crowded(c, inStrip(g, *f.Seconds)):
			without++
		default:
			c.Marks = append(c.Marks, chart.RunMark{At: inStrip(g, *f.Seconds), Label: fmt.Sprintf("%d  line %d", i+1, f.Line)})
		}
	}
	if len(c.Marks) > 0 {
		words := "Marks are numbered as the findings in the report."
		if without > 0 {
			words += fmt.Sprintf(" Findings without a mark: %d.", without)
		}
		c.Caption = append(c.Caption, words)
	}
	return c
}

// crowded reports whether a mark stands at a time already, as near as can be told on the chart.
func crowded(c *chart.Run, at float64) bool {
	near := 0.012 * (c.Cells[len(c.Cells)-1].To - c.Cells[0].From)
	return slices.ContainsFunc(c.Marks, func(m chart.RunMark) bool { return math.Abs(m.At-at) < near })
}

// inStrip holds a time to the strip.
func inStrip(g *check.Program, seconds float64) float64 {
	return math.Max(g.Strip[0].From, math.Min(seconds, g.Strip[len(g.Strip)-1].To))
}

// onMove reports whether a finding is of a move of the program.
func onMove(f *check.Finding) bool {
	return f.Line > 0 && f.Question != check.Keyed
}

// Lines returns the lines of the program at which the stock is wanted for the pictures of findings:
// of those that are drawn and not in a subprogram's file.
func Lines(r *check.Report) (lines []int) {
	drawn := 0
	for i := range r.Findings {
		f := &r.Findings[i]
		if f.Points == nil || atFeature(f) || drawn == closeUps {
			continue
		}
		drawn++
		if onMove(f) && f.ProgramFile == "" && !slices.Contains(lines, f.Line) {
			lines = append(lines, f.Line)
		}
	}
	return lines
}

// stockAt returns the stocks where a finding of the program is; nil if they are not known.
func (sc *Scene) stockAt(f *check.Finding) map[int]*raster.Shape {
	if sc.stocks == nil || !onMove(f) || f.ProgramFile != "" {
		return nil
	}
	if sc.cut == nil {
		sc.cut = map[int]map[int]*raster.Shape{}
	}
	if _, known := sc.cut[f.Line]; !known {
		sc.cut[f.Line] = sc.asCut(sc.stocks.At[f.Line])
	}
	return sc.cut[f.Line]
}

// finished returns the part that a body is cut from, if a finding is of a cutter below its finished surface: that
// is what is to be seen then.
func (sc *Scene) finished(f *check.Finding, b *machine.Body) *machine.Part {
	if f.Question != check.Gouging || b.Name != f.Bodies[1] {
		return nil
	}
	for i := range sc.setup.Parts {
		if p := &sc.setup.Parts[i]; p.Finished != nil && p.Unit == b.Unit {
			if sc.shapes[p.Finished] == nil {
				sc.shapes[p.Finished] = sc.shapeOf(p.Finished)
			}
			return p
		}
	}
	return nil
}
