package render

import (
	"image/color"

	"gridswing/render/ink"
	"gridswing/render/raster"
)

// groupColors are the colours of bodies: the published set softened, so that
// lines and patterns stand out on them. Vermillion and orange are left out:
// they mean contact and tight. Group 0 is neutral.
var groupColors = []color.RGBA{
	{206, 209, 212, 255},
	soft(ink.SkyBlue, 0.50),
	soft(ink.BluishGreen, 0.58),
	soft(ink.ReddishPurple, 0.52),
	soft(ink.Yellow, 0.52),
	soft(ink.Blue, 0.60),
}

func soft(c color.RGBA, white float64) color.RGBA {
	return ink.Mix(c, color.RGBA{238, 238, 238, 255}, white)
}

func groupColor(group int) color.RGBA {
	n := len(groupColors)
	return groupColors[(group%n+n)%n]
}

// look says how an emphasis is drawn and what the legend calls it.
type look struct {
	words   string
	tint    color.RGBA
	part    float64 // how much of the tint
	pattern ink.Pattern
	stroke  color.RGBA
	outline float64 // pixels at full size
}

var looks = [...]look{
	Plain: {},
	Ghost: {words: "shown as a veil for orientation"},
	Swept: {words: "swept by what tilts and turns", tint: ink.Blue, part: 0.75},
	Moved: {words: "moved in this step", tint: ink.Paper, part: 0.35, outline: 5},
	Tight: {words: "tight: closer than demanded", tint: ink.TightGround, part: 0.8, pattern: ink.Fine,
		stroke: ink.TightStroke, outline: 2.6},
	Unproven: {words: "unproven", tint: ink.UnprovenGround, part: 0.85, pattern: ink.Dots,
		stroke: ink.UnprovenStroke, outline: 2.6},
	WithinPlay: {words: "within play", tint: ink.WithinPlayGround, part: 0.85, pattern: ink.CrossHatch,
		stroke: ink.ContactStroke, outline: 4},
	Contact: {words: "contact", tint: ink.ContactGround, part: 0.85, pattern: ink.Hatch,
		stroke: ink.ContactStroke, outline: 4},
}

// worstFirst are the emphases that stand for a verdict, in the order of labels
// and legend.
var worstFirst = []Emphasis{Contact, WithinPlay, Unproven, Tight}

// veil reports whether a body is one through which others are seen.
func (e Emphasis) veil() bool { return e == Ghost || e == Swept }

func (e Emphasis) look() look { return looks[min(e, Contact)] }

func (l look) color(base color.RGBA) color.RGBA { return ink.Mix(base, l.tint, l.part) }

// dark reports whether the ground is.
func (p *Picture) dark() bool { return ink.Lightness(p.Theme.Paper) < 50 }

// overlap is the colour of where bodies overlap in a cut, unlike the ground on either.
func (p *Picture) overlap() color.RGBA {
	if p.dark() {
		return color.RGBA{255, 255, 255, 255}
	}
	return ink.Black
}

// color is what a body of a group is drawn in. What is swept is so faint that on a dark ground
// it is light.
func (p *Picture) color(e Emphasis, group int) color.RGBA {
	if e == Swept && p.dark() {
		return ink.Mix(ink.SkyBlue, p.Theme.Text, 0.4)
	}
	l := e.look()
	return l.color(groupColor(group))
}

// bodies returns the items as the rasteriser wants them. Bodies in contact are
// hatched one way and the other in turn, so that the two of a pair can be told
// apart where they meet.
func (p *Picture) bodies(unit float64) []raster.Body {
	var bodies []raster.Body
	contacts := 0
	for i := range p.Items {
		it := &p.Items[i]
		l := it.Emphasis.look()
		if it.Emphasis == Contact {
			if contacts%2 == 1 {
				l.pattern = ink.HatchDown
			}
			contacts++
		}
		merge := 0
		if it.Emphasis == Swept {
			merge = 1 // of several loads, too, one space
		}
		bodies = append(bodies, raster.Body{
			Shape: it.Shape, Pose: it.Pose, Color: p.color(it.Emphasis, it.Group),
			Pattern: l.pattern, Stroke: l.stroke,
			Outline: min(l.outline*unit, raster.MaxOutline),
			Ghost:   it.Emphasis.veil(),
			Merge:   merge,
			Whole:   it.Whole,
			Yields:  it.Yields,
		})
	}
	return bodies
}
