package render

import (
	"gridswing/geom"
	"gridswing/render/ink"
	"gridswing/render/measure"
	"gridswing/render/raster"

	"github.com/golang/geo/r3"
)

// DefaultWidth and DefaultHeight are the size of a picture, in pixels, where
// none is stated.
const (
	DefaultWidth  = 1600
	DefaultHeight = 1200
)

// Emphasis says how much a body matters in a picture.
type Emphasis uint8

// Emphases, weakest first: three for what nothing is said of, one for what is
// moved, four for the verdicts on pairs. Each has a pattern and a line weight of its own, so that it
// can be told without colour.
const (
	Plain      Emphasis = iota
	Ghost               // context: a thin veil through which the others are seen; the view is not widened for it
	Swept               // a veil too, for the space that something takes as it moves; the view is widened for it
	Moved               // led along a way
	Tight               // closer than demanded
	Unproven            // it could not be told
	WithinPlay          // apart as drawn, but the location uncertainty could close the gap
	Contact             // meets another body, or is inside it
)

// Item is a body in a picture.
type Item struct {
	Name     string        // printed beside a body with a verdict, in a close-up beside all
	Unit     string        // what it is part of: printed once for all plain items of the unit, except in a close-up
	Shape    *raster.Shape // from Prepare; shared by all pictures
	Pose     geom.Pose     // body frame to bed frame
	Emphasis Emphasis
	Number   int  // what it is numbered with where Picture.Numbers is set, its Unit the same as all others of it; 0: not
	Group    int  // bodies of one group share a colour; any number
	Whole    bool // a close-up does not cut it, such as a tool that stands in the cut
	Yields   bool // in a cut another body is shown where it is too, such as a tool in what it has cut
}

// Mark is a point that the picture points at, such as a witness of contact.
type Mark struct {
	Point r3.Vector // mm, bed frame
	Label string
	// Gap is the vector between two nearest points, Point in the middle: where it is long
	// enough to be seen and nothing hides it, it is dimensioned, and Label is the value. Zero: none.
	Gap r3.Vector
}

// Way is a line along which something is moved, drawn over all else with an arrow at its
// end. The view is widened for it, but not in a close-up.
type Way []r3.Vector // mm, bed frame

// CloseUp narrows a picture to the neighbourhood of a point. All bodies are cut
// by a plane through Center, square to X, Y or Z or to Facing, and the side towards the
// viewer is taken away; the caption says where. If a face of a body with a
// verdict lies in that plane at the point, the cut is moved into the body by a
// fiftieth of Radius, at most 1 mm.
type CloseUp struct {
	Center r3.Vector // mm, bed frame
	Radius float64   // mm shown round Center; at least 0.5
	// Across is the direction of the gap or of the contact's normal; the cut is
	// chosen to contain it as nearly as the view allows. Shorter than 0.001: not
	// known; it is then told from the facets nearest to Center of the bodies with
	// a verdict.
	Across r3.Vector
	// Facing is towards the viewer, any length: the cut is square to it, whatever the
	// axes of the bed, Across and View. Zero: chosen. Upright is up on the page as
	// nearly as it can be; zero: Up.
	Facing, Upright r3.Vector

	section section // where it is cut; chosen when it is drawn
	shift   float64 // mm from Center along the section's normal
}

// Plane is square to a direction, At mm along it from the origin of the bed. All items are cut
// by it but for veils and those that are Whole, and the side towards the viewer is taken away.
type Plane struct {
	Name   string    // what the caption calls the direction, such as X
	Normal r3.Vector // any length
	At     float64   // mm
}

// Picture is what is to be seen. The zero values of Width, Height and Workers
// mean 1600, 1200 and as many as there are cores; that of View means isometric,
// and in a close-up the view straight at the cut.
type Picture struct {
	Title         string
	Caption       []string // one line each, such as axis positions with units
	Items         []Item
	View          View
	Up            r3.Vector       // against gravity, bed frame, any length; zero: Z
	Close         *CloseUp        // nil: the whole of the items
	Plane         *Plane          // what the whole is cut by; nil, and in a close-up: nothing
	Numbers       bool            // items are named by their numbers, in circles
	Within        []r3.Vector     // points that the view holds besides, not drawn; a close-up does not
	Theme         ink.Theme       // zero: ink.Light
	Lengths       measure.Lengths // of the scale bar, and of what the caption says of a cut
	Marks         []Mark
	Ways          []Way
	Width, Height int  // pixels
	Bare          bool // no title and no caption (Cut tells what a close-up's says of the cut): the room is the scene's
	// Lettering is how many pixels are a unit of lettering, lines and margins, of which letters
	// are 19 or 21 high: 1 at 1600 x 1200. 0: as the size asks for.
	Lettering float64
	Workers   int // changes the time taken, never a pixel
}

// Prepare makes a mesh ready to be drawn in any number of pictures: it finds
// the edges that a draughtsman would draw. The mesh is kept, not copied. Solid
// states that it is closed and looks outward everywhere (geom.Audit tells); if in
// doubt, say false.
func Prepare(m *geom.Mesh, solid bool) *raster.Shape { return raster.NewShape(m, solid) }
