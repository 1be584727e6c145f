package pdf

import (
	"bytes"
	"crypto/sha256"
	"encoding/gob"
	"fmt"
	"image/png"

	"gridswing/render/page"

	"codeberg.org/go-pdf/fpdf"
)

var asPNG = fpdf.ImageOptions{ImageType: "PNG"}

// image puts a picture on the page. One that is there already is not stored again.
func (p *writer) image(m *page.Image) error {
	content := sha256.Sum256(m.PNG)
	name, there := p.images[content]
	if !there {
		if _, err := png.DecodeConfig(bytes.NewReader(m.PNG)); err != nil {
			return fmt.Errorf("picture %q: %w", m.Words, err)
		}
		name = fmt.Sprint("picture ", len(p.images)+1)
		p.pdf.RegisterImageOptionsReader(name, asPNG, bytes.NewReader(m.PNG))
		if err := p.pdf.Error(); err != nil {
			return fmt.Errorf("picture %q: %w", m.Words, err)
		}
		if err := widen(p.pdf.GetImageInfo(name), len(p.images)); err != nil {
			return fmt.Errorf("picture %q: %w", m.Words, err)
		}
		p.images[content] = name
	}
	a := m.Area
	p.opaque(255)
	p.pdf.ImageOptions(name, a.X0, a.Y0, a.X1-a.X0, a.Y1-a.Y0, false, asPNG, 0, "")
	return nil
}

// widen adds to a picture's width a part of a pixel, which is cut off where the width is
// written, by the number of the picture. The library stores pictures in the order of their
// widths and leaves those of one width in any order, another one each time; so they are in
// the order of their numbers. It must be done before the picture is put on a page, since its
// name there is made of this, too. (fpdf v0.12.0, putimages and putimage; the fields are those
// of ImageInfoType.GobEncode.)
func widen(info *fpdf.ImageInfoType, number int) error {
	stored, err := info.GobEncode()
	if err != nil {
		return err
	}
	var (
		data, mask, palette   []byte
		object, bits          int
		width, height         float64
		space, filter, params string
		transparent           []int
		scale, dpi            float64
	)
	fields := []any{&data, &mask, &object, &width, &height, &space, &palette, &bits, &filter, &params, &transparent, &scale, &dpi}
	from := gob.NewDecoder(bytes.NewReader(stored))
	for _, f := range fields {
		if err := from.Decode(f); err != nil {
			return err
		}
	}
	width += float64(number) / (1 << 24)
	var out bytes.Buffer
	to := gob.NewEncoder(&out)
	for _, f := range fields {
		if err := to.Encode(f); err != nil {
			return err
		}
	}
	return info.GobDecode(out.Bytes())
}
