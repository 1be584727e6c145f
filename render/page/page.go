// Package page is a model of printed pages: text, paths and pictures at their places.
// Nothing in it knows how a page is stored; pdf and html, below, write what it holds, so
// that both say the same. layout, below, sets words and tables; a Plate takes what is drawn
// on an ink.Surface.
//
// Lengths are mm from the upper left corner of the page, x to the right, y down; sizes of
// type are points (1/72 inch).
package page

import (
	"fmt"
	"image/color"
	"strings"
)

// Format is a size of paper, upright.
type Format struct {
	Name          string
	Width, Height float64 // mm
}

// The formats: ISO 216 and ANSI/ASME Y14.1 A.
var (
	A4     = Format{"A4", 210, 297}
	Letter = Format{"Letter", 215.9, 279.4}
)

// Formats returns all formats.
func Formats() []Format { return []Format{A4, Letter} }

// ParseFormat returns the format of that name, in capitals or not.
func ParseFormat(name string) (Format, error) {
	var names []string
	for _, f := range Formats() {
		if strings.EqualFold(name, f.Name) {
			return f, nil
		}
		names = append(names, f.Name)
	}
	return Format{}, fmt.Errorf("found the paper %q, expected one of %s", name, strings.Join(names, ", "))
}

// Creator is what each file of pages names as its maker.
const Creator = "gridswing"

// Document is pages in their order. Same document, same bytes: no writer adds a date.
type Document struct {
	Title, Subject string
	Format         Format
	Pages          []*Page
}

// Page is one page.
type Page struct {
	// Name is where the page stands in the table of contents that a reader of the file sees;
	// "": it goes on from the page before.
	Name  string
	Items []Item // what comes later covers what came before
}

// Item is *Text, *Path, *Image or *Link.
type Item interface {
	// shifted returns the item scaled about the origin and then moved.
	shifted(scale, dx, dy float64) Item
}

// Point is a place on a page.
type Point struct{ X, Y float64 }

// Area is a rectangle on a page.
type Area struct{ X0, Y0, X1, Y1 float64 }

// Face is one of the faces that every page embeds.
type Face uint8

// Faces: the Go fonts, which are part of golang.org/x/image.
const (
	Regular Face = iota
	Bold
	Mono
)

// Align says which part of a text stands at its X.
type Align uint8

// Alignments.
const (
	Left Align = iota
	Center
	Right
)

// Text is one line of words.
type Text struct {
	At     Point // on the base line
	Align  Align
	Face   Face
	Size   float64 // points
	Color  color.RGBA
	Words  string
	Upward bool // turned a quarter turn anticlockwise: it runs from the bottom to the top
}

// Path is lines, filled or drawn.
type Path struct {
	Lines  [][]Point
	Closed bool        // each line leads back to where it began
	Fill   *color.RGBA // non-zero winding; nil: not filled
	Stroke *color.RGBA // nil: not drawn
	Width  float64     // of the stroke, mm; ends and joints are round
	Dash   []float64   // mm drawn and left out, in turn; empty: drawn through
	Clip   *Area       // nothing is drawn outside of it; nil: all is
}

// Image is a picture, stretched over an area.
type Image struct {
	Area  Area
	PNG   []byte // 8 bits, no transparency
	Words string // for those who cannot see it
}

// Link leads from an area to another file or, with "#3", to a page of the document (1 is the first).
type Link struct {
	Area   Area
	Target string // slash-separated, from the folder of the file that the page is in
}

// Drawing is items on a ground of their own, to be placed on pages.
type Drawing struct {
	Width, Height float64 // mm
	Items         []Item
}

// Placed returns the drawing's items scaled to a width, the upper left corner at a point.
// Everything is scaled, type and widths of lines too.
func (d *Drawing) Placed(at Point, width float64) []Item {
	items := make([]Item, len(d.Items))
	for i, it := range d.Items {
		items[i] = it.shifted(width/d.Width, at.X, at.Y)
	}
	return items
}
