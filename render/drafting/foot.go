package drafting

import (
	"fmt"
	"math"

	"gridswing/render/ink"
	"gridswing/render/measure"
)

// arrowTo is an arrow of a compass: a direction as it lies on the paper, Y up.
type arrowTo struct {
	name  string
	along Point
	heavy bool
}

// compass shows directions round a point, and names them. What leads out of the paper is left out.
func (d *board) compass(at ink.Point, arrows []arrowTo) {
	const long = 52
	names := notes{board: d, inside: ink.Area{X0: at.X - compassWide/2, Y0: at.Y - 100, X1: at.X + compassWide/2, Y1: at.Y + 100}}
	for _, a := range arrows {
		l := math.Hypot(a.along.X, a.along.Y)
		if l < 0.3 {
			continue
		}
		reach := float64(long)
		if a.heavy {
			reach = 0.4 * long
		}
		end := ink.Point{X: at.X + reach*a.along.X, Y: at.Y - reach*a.along.Y}
		d.line(faint, at, end)
		if a.heavy {
			d.line(broad, at, ink.Point{X: at.X + 0.7*(end.X-at.X), Y: at.Y + 0.7*(end.Y-at.Y)})
		}
		d.head(at, end)
		names.lines = append(names.lines, [2]ink.Point{at, end})
		w := note{words: a.name, at: end, size: small, bold: !a.heavy}
		width, height := d.width(small, w.bold, w.words), 0.76*small
		for _, away := range []float64{8, 20, 32, 44} {
			middle := ink.Point{X: end.X + a.along.X/l*(away+width/2), Y: end.Y - a.along.Y/l*(away+height/2)}
			if names.settles(&w, middle, width, height, true) {
				break
			}
		}
	}
	names.draw()
}

// ruler draws a bar that stays true however the drawing is printed, and says at which width it is
// to scale. It is no longer than most pixels.
func (d *board) ruler(x, top, most float64, sheet Sheet, in measure.Lengths) {
	pixels := perMM / sheet.Scale
	long := in.Round(most / pixels)
	y := top + 80
	for i := 0; i < 4; i += 2 {
		x0, x1 := x+float64(i)*long*pixels/4, x+float64(i+1)*long*pixels/4
		d.Fill(x0*d.unit, (y-5)*d.unit, x1*d.unit, (y+5)*d.unit, ink.Text)
	}
	d.Frame(x*d.unit, (y-5)*d.unit, (x+long*pixels)*d.unit, (y+5)*d.unit, thin*d.unit, ink.Text)
	d.write(x, y-16, ink.Left, small, false, "0")
	d.write(x+long*pixels, y-16, ink.Center, small, false, in.Write(long)+" "+in.Name())
	d.write(x, y+44, ink.Left, letter, true, "1 : "+shortest(sheet.Scale))
	d.write(x, y+74, ink.Left, small, false, fmt.Sprintf("if printed %s %s wide", in.Write(sheet.Width), in.Name()))
}
