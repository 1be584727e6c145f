package pdf

import (
	"bytes"
	"encoding/gob"
	"fmt"
	"image/png"

	"gridswing/render/page"

	"codeberg.org/go-pdf/fpdf"
)

var asPNG = fpdf.ImageOptions{ImageType: "PNG"}

// image puts a picture on the page. One that is there already is not stored again.
func (p *writer) image(m *page.Image) error {
	name, there := p.images[string(m.PNG)]
	if !there {
		if _, err := png.DecodeConfig(bytes.NewReader(m.PNG)); err != nil {
			return fmt.Errorf("picture %q: %w", m.Words, err)
		}
		name = fmt.Sprint("picture ", len(p.order)+1)
		p.pdf.RegisterImageOptionsReader(name, asPNG, bytes.NewReader(m.PNG))
		if err := p.pdf.Error(); err != nil {
			return fmt.Errorf("picture %q: %w", m.Words, err)
		}
		p.images[string(m.PNG)] = name
		p.order = append(p.order, name)
	}
	a := m.Area
	p.opaque(255)
	p.pdf.ImageOptions(name, a.X0, a.Y0, a.X1-a.X0, a.Y1-a.Y0, false, asPNG, 0, "")
	return nil
}

// tellApart lets the library store the pictures in the order in which they came. It sorts
// them by their widths and leaves those of one width in any order, another one each time. So
// each gets a part of a pixel more, which is cut off where the width is written. (fpdf
// v0.12.0, putimages and putimage; the fields are those of ImageInfoType.GobEncode.)
func (p *writer) tellApart() {
	for i, name := range p.order {
		if i > 0 && p.pdf.Ok() {
			if err := widen(p.pdf.GetImageInfo(name), float64(i)/float64(len(p.order))); err != nil {
				p.pdf.SetError(fmt.Errorf("%s: %w", name, err))
			}
		}
	}
}

// widen adds a part of a pixel to a picture's width.
func widen(info *fpdf.ImageInfoType, part float64) error {
	stored, err := info.GobEncode()
	if err != nil {
		return err
	}
	var (
		data, mask, palette   []byte
		number, bits          int
		width, height         float64
		space, filter, params string
		transparent           []int
		scale, dpi            float64
	)
	fields := []any{&data, &mask, &number, &width, &height, &space, &palette, &bits, &filter, &params, &transparent, &scale, &dpi}
	from := gob.NewDecoder(bytes.NewReader(stored))
	for _, f := range fields {
		if err := from.Decode(f); err != nil {
			return err
		}
	}
	width += part
	var out bytes.Buffer
	to := gob.NewEncoder(&out)
	for _, f := range fields {
		if err := to.Encode(f); err != nil {
			return err
		}
	}
	return info.GobDecode(out.Bytes())
}
