package chart

import (
	"cmp"
	"fmt"
	"image/color"
	"math"
	"slices"
	"strconv"

	"gridswing/render/ink"
)

// runSheet is a chart over time being drawn. Each column of pixels of its plot is a cell of the
// sheet that it draws on.
type runSheet struct {
	*sheet
	*Run
	heading heading
	bands   []band
	right   float64 // x of the last cell's end
}

// band is a stretch of time with one tool in the spindle.
type band struct {
	from, to float64 // s
	tool     int
}

const (
	runLeft   = 150 // from the left edge to the plot, at full size
	runKey    = 372 // from the plot to the right edge
	runTall   = 520 // of the plot
	leastRun  = 200 // of the plot, on a surface that has no room for it
	runBelow  = 128 // from the plot to the lower edge
	bandTall  = 34  // of the tools
	bandGap   = 16  // from them to the plot
	bandNames = 40  // of names of tools that have no room in their bands
	unread    = 56  // of what stands for the rest of a program that was not read to its end
	leastBad  = 4   // pixels that a stretch which is not clear has at least
	mostNames = 22  // of tools above their bands
)

// newRunSheet lays out the chart; height 0 is for it to choose.
func newRunSheet(r *Run, height int) *runSheet {
	width := cmp.Or(r.Width, 1600)
	u := unitOf(r.Lettering, float64(width), math.Inf(1))
	d := &runSheet{Run: r, bands: bandsOf(r.Cells), heading: headingOf(r.Bare, r.Title, r.Caption, float64(width), u)}
	top := math.Round(d.heading.height() + (22+bandNames+bandTall+bandGap)*u)
	tall := runTall * u
	if height > 0 {
		tall = max(float64(height)-top-runBelow*u, leastRun*u)
	}
	d.sheet = newChoiceSheet(d.heading, r.Cap, width, int(math.Ceil(top+tall+runBelow*u)))
	d.sheet.Demand, d.sheet.Lengths = r.Demand, r.Lengths
	d.plot = ink.Area{X0: math.Round(runLeft*u - d.edge), Y0: top, X1: math.Round(float64(width) - runKey*u + d.edge), Y1: math.Round(top + tall)}
	d.right = d.plot.X1
	if r.Ends != "" {
		d.right = math.Round(d.plot.X1 - unread*u)
	}
	d.divide()
	return d
}

// x returns where a time is.
func (d *runSheet) x(at float64) float64 {
	lo, hi := d.ends()
	return d.plot.X0 + (d.right-d.plot.X0)*(at-lo)/(hi-lo)
}

// divide says what is known in each column of pixels: the worst, and the least, of all cells
// that touch it. What is not clear is widened to be seen.
func (d *runSheet) divide() {
	n := d.plot.Pixels().Dx()
	d.sheet.Columns, d.sheet.Rows, d.sheet.Cells = n, 1, make([]Cell, n)
	for i := range d.sheet.Cells { // what no cell reaches is the rest that was not read
		d.sheet.Cells[i] = Cell{State: Unproven, Lower: math.Inf(1), Upper: math.Inf(1)}
	}
	fresh := make([]bool, n)
	end := int(d.right - d.plot.X0)
	for i := range d.Run.Cells {
		c := &d.Run.Cells[i]
		from, to := int(d.x(c.From)-d.plot.X0), int(math.Ceil(d.x(c.To)-d.plot.X0))
		if c.State != Clear && to-from < leastBad {
			from = max(0, min((from+to-leastBad)/2, end-leastBad))
			to = from + leastBad
		}
		for k := from; k < min(max(to, from+1), end); k++ {
			p := &d.sheet.Cells[k]
			if !fresh[k] {
				fresh[k] = true
				*p = Cell{State: Clear, Lower: math.Inf(1), Upper: math.Inf(1)}
			}
			if slices.Index(byWeight, c.State) < slices.Index(byWeight, p.State) {
				p.State = c.State
			}
			p.Lower, p.Upper = min(p.Lower, c.Lower), min(p.Upper, c.Upper)
		}
	}
}

// levels draws a quantity of the cells as level lines, without those between neighbours: of hundreds
// of cells that go up and down these would hide the rest.
func (d *runSheet) levels(of func(c *Cell) float64, width float64, col color.RGBA) {
	cells := d.sheet.Cells
	drawn := func(c *Cell) bool {
		return c.State.look().shaded && !math.IsInf(of(c), -1) && of(c) <= d.Run.Cap
	}
	for from := 0; from < len(cells); {
		to := from + 1
		for to < len(cells) && drawn(&cells[to]) == drawn(&cells[from]) && of(&cells[to]) == of(&cells[from]) {
			to++
		}
		if c := &cells[from]; drawn(c) {
			y := d.height(of(c))
			d.page.Fill(d.plot.X0+float64(from), y-width*d.unit/2, d.plot.X0+float64(to), y+width*d.unit/2, col)
		}
		from = to
	}
}

// bandsOf joins neighbouring cells with the same tool.
func bandsOf(cells []RunCell) (list []band) {
	for _, c := range cells {
		if n := len(list); n > 0 && list[n-1].tool == c.Tool {
			list[n-1].to = c.To
			continue
		}
		list = append(list, band{c.From, c.To, c.Tool})
	}
	return list
}

// changes draws where the tool changes.
func (d *runSheet) changes() {
	for _, b := range d.bands[1:] {
		x := d.x(b.from)
		d.page.Line(1.4*d.unit, color.RGBA{24, 28, 33, 120}, ink.Point{X: x, Y: d.plot.Y0}, ink.Point{X: x, Y: d.plot.Y1})
	}
}

// tools draws above the plot which tool is in the spindle. A name that has no room in its band
// stands above it; of very many, only those of the longest.
func (d *runSheet) tools() {
	u := d.unit
	top, foot := d.plot.Y0-(bandTall+bandGap)*u, d.plot.Y0-bandGap*u
	var above []band
	for i, b := range d.bands {
		x0, x1 := d.x(b.from), d.x(b.to)
		if i%2 == 1 {
			d.page.Fill(x0, top, x1, foot, color.RGBA{222, 226, 230, 255})
		}
		if d.strong().Width(b.name())+8*u > x1-x0 {
			above = append(above, b)
			continue
		}
		d.page.Text((x0+x1)/2, top+(bandTall*u+d.strong().Ascent())/2, ink.Center, d.strong(), b.name())
	}
	d.namesAbove(above, top)
	d.page.Frame(d.plot.X0, top, d.right, foot, 1.6*u, ink.Text)
	for _, b := range d.bands[1:] {
		d.page.Line(1.4*u, ink.Text, ink.Point{X: d.x(b.from), Y: top}, ink.Point{X: d.x(b.from), Y: foot})
	}
	d.page.Text(d.plot.X0-16*u, top+(bandTall*u+d.strong().Ascent())/2, ink.Right, d.strong(), "Tool")
}

// namesAbove writes names of tools above their bands, with a line to each.
func (d *runSheet) namesAbove(list []band, top float64) {
	u := d.unit
	if len(list) > mostNames {
		slices.SortStableFunc(list, func(a, b band) int {
			if a.to-a.from > b.to-b.from {
				return -1
			}
			return 1
		})
		list = list[:mostNames]
		slices.SortStableFunc(list, func(a, b band) int { return int(math.Copysign(1, a.from-b.from)) })
	}
	var wanted []float64
	for _, b := range list {
		wanted = append(wanted, (d.x(b.from)+d.x(b.to))/2)
	}
	at := spread(wanted, 50*u, d.plot.X0, d.plot.X1)
	for i := range list {
		d.page.Line(1.4*u, ink.Text, ink.Point{X: at[i], Y: top - 16*u}, ink.Point{X: wanted[i], Y: top - 2*u}, ink.Point{X: wanted[i], Y: top + 6*u})
		d.page.Text(at[i], top-20*u, ink.Center, d.small(), list[i].name())
	}
}

func (b *band) name() string {
	if b.tool == 0 {
		return "none"
	}
	return "T" + strconv.Itoa(b.tool)
}

// rest says that the program goes on where it was not read.
func (d *runSheet) rest() {
	if d.Ends == "" {
		return
	}
	u := d.unit
	letters := d.strong()
	words := ink.Shorten(letters, d.Ends, d.plot.Height()-40*u)
	middle, half := (d.plot.Y0+d.plot.Y1)/2, letters.Width(words)/2+10*u
	x := (d.right + d.plot.X1) / 2
	d.page.Fill(x-17*u, middle-half, x+17*u, middle+half, ink.Paper)
	d.page.TextUp(x+letters.Ascent()/2, middle, letters, words)
	d.page.Line(5*u, ink.Text, ink.Point{X: d.right, Y: d.plot.Y0 - (bandTall+bandGap)*u}, ink.Point{X: d.right, Y: d.plot.Y1})
}

// timeSteps are the distances of ticks that a clock has, in seconds.
var timeSteps = []float64{0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 4 * 3600, 12 * 3600, 24 * 3600}

// clock prints a time: seconds with tenths where ticks need them, minutes, hours.
func clock(seconds float64, tenths bool) string {
	t := int(math.Round(seconds * 10))
	s := fmt.Sprintf("%02d", t/10%60)
	if tenths {
		s += "." + strconv.Itoa(t%10)
	}
	if h := t / 36000; h > 0 {
		return fmt.Sprintf("%d:%02d:%s", h, t/600%60, s)
	}
	return fmt.Sprintf("%d:%s", t/600, s)
}

// times draws the scale of time, and below it the lines of the program.
func (d *runSheet) times() {
	u := d.unit
	lo, hi := d.ends()
	step := 24 * 3600.0
	for _, s := range timeSteps {
		if s*(d.right-d.plot.X0)/(hi-lo) >= 96*u {
			step = s
			break
		}
	}
	for (hi-lo)/step > 100 { // weeks
		step *= 2
	}
	for _, at := range multiples(lo, hi, step) {
		x := d.x(at)
		d.page.Line(2*u, ink.Text, ink.Point{X: x, Y: d.plot.Y1}, ink.Point{X: x, Y: d.plot.Y1 + 9*u})
		d.page.Text(x, d.plot.Y1+33*u, ink.Center, d.text(), clock(at, step < 1))
		d.page.Text(x, d.plot.Y1+62*u, ink.Center, d.small(), strconv.Itoa(d.lineAt(at)))
	}
	name, unit := "Time", "min:s"
	if hi >= 3600 {
		unit = "h:min:s"
	}
	if d.Bound {
		name = "Time, at least"
	}
	d.page.Text((d.plot.X0+d.plot.X1)/2, d.plot.Y1+104*u, ink.Center, d.strong(), name+", "+unit+"; below it the line of the program")
	left := d.plot.X0 - 44*u
	d.page.Text(left, d.plot.Y1+62*u, ink.Right, d.small(), "Line")
}

// lineAt returns the first line of the cell that holds a time.
func (d *runSheet) lineAt(at float64) int {
	i := slices.IndexFunc(d.Run.Cells, func(c RunCell) bool { return at < c.To })
	if i < 0 {
		i = len(d.Run.Cells) - 1
	}
	return d.Run.Cells[i].Line
}

// place sets the marks: at the clearance that is proven, or in the middle where none is.
func (d *runSheet) place() {
	d.sheet.Marks = nil
	for _, m := range d.Run.Marks {
		d.sheet.Marks = append(d.sheet.Marks, Mark{Tilt: m.At, Label: m.Label})
	}
	d.marks(func(m *Mark) ink.Point {
		x := d.x(m.Tilt)
		c := &d.sheet.Cells[max(0, min(int(x-d.plot.X0), len(d.sheet.Cells)-1))]
		height := min(c.Lower, d.sheet.Cap)
		if !c.State.look().shaded {
			height = d.sheet.Cap / 2
		}
		return ink.Point{X: x, Y: d.height(height)}
	}, d.crowded)
}

// crowded is the part of an area that lies over what is not clear, or below what is proven.
func (d *runSheet) crowded(a ink.Area) float64 {
	const across = 9
	hits := 0.0
	for h := range across {
		k := int(a.X0 + a.Width()*float64(h)/(across-1) - d.plot.X0)
		c := &d.sheet.Cells[max(0, min(k, len(d.sheet.Cells)-1))]
		if c.State != Clear {
			hits++
		} else if d.height(c.Lower) < a.Y1 {
			hits += 0.3
		}
	}
	return hits / across
}
