package apng

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"image"
	"image/png"
	"io"
	"math"
	"time"
)

// Frame is a picture and how long it stands.
type Frame struct {
	Image *image.RGBA // opaque, its origin at (0, 0)
	Stays time.Duration
}

// Encode writes the frames, shown over and over. All must have the size of the first. A frame
// that shows nothing new lengthens the one before it.
func Encode(w io.Writer, frames []Frame) error {
	if len(frames) == 0 {
		return errors.New("an animation without frames")
	}
	size := frames[0].Image.Rect
	for i := range frames {
		f := &frames[i]
		if f.Image.Rect != size || size.Min != (image.Point{}) || size.Empty() {
			return fmt.Errorf("frame %d is %v: all must be as large as the first, %v", i+1, f.Image.Rect, size)
		}
		if f.Stays < 0 || f.Stays > time.Minute {
			return fmt.Errorf("frame %d stays %v: it must be 0 to a minute", i+1, f.Stays)
		}
	}
	e := encoder{colors: paletteOf(frames)}
	for i := range frames {
		if err := e.add(&frames[i]); err != nil {
			return err
		}
	}
	_, err := w.Write(e.file(size.Dx(), size.Dy()))
	return err
}

// encoder collects frames.
type encoder struct {
	colors *palette
	shown  *image.Paletted // what stands now
	frames []encoded
}

// encoded is a frame as it is stored.
type encoded struct {
	area  image.Rectangle
	stays time.Duration
	data  []byte // compressed rows
}

// add appends a frame: all of the first, what differs of a later one.
func (e *encoder) add(f *Frame) error {
	now := e.colors.reduced(f.Image)
	next, area := now, now.Rect
	if e.shown != nil {
		next, area = e.changes(now)
		if area.Empty() {
			e.frames[len(e.frames)-1].stays += f.Stays
			return nil
		}
	}
	e.shown = now
	data, err := compressed(next.SubImage(area).(*image.Paletted))
	e.frames = append(e.frames, encoded{area, f.Stays, data})
	return err
}

// changes returns what of a picture is new, all else transparent, and the area it is in.
func (e *encoder) changes(now *image.Paletted) (*image.Paletted, image.Rectangle) {
	next := image.NewPaletted(now.Rect, now.Palette)
	area := image.Rectangle{}
	w := now.Rect.Dx()
	for y := range now.Rect.Dy() {
		first, last := -1, -1
		for x := range w {
			i := y*now.Stride + x
			if now.Pix[i] == e.shown.Pix[i] {
				next.Pix[i] = transparent
				continue
			}
			next.Pix[i] = now.Pix[i]
			if last = x; first < 0 {
				first = x
			}
		}
		if first >= 0 {
			area = area.Union(image.Rect(first, y, last+1, y+1))
		}
	}
	return next, area
}

// compressed returns the compressed rows of a picture, which the standard library's encoder
// makes: the data of its IDAT chunks, one after the other.
func compressed(img *image.Paletted) ([]byte, error) {
	var b bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, img); err != nil {
		return nil, err
	}
	var data []byte
	for rest := b.Bytes()[len(signature):]; len(rest) >= 12; {
		n := binary.BigEndian.Uint32(rest)
		if string(rest[4:8]) == "IDAT" {
			data = append(data, rest[8:8+n]...)
		}
		rest = rest[12+n:]
	}
	return data, nil
}

const signature = "\x89PNG\r\n\x1a\n"

// file returns all chunks in their order.
func (e *encoder) file(width, height int) []byte {
	b := []byte(signature)
	header := binary.BigEndian.AppendUint32(nil, uint32(width))
	header = binary.BigEndian.AppendUint32(header, uint32(height))
	b = chunk(b, "IHDR", append(header, 8, 3, 0, 0, 0)) // 8 bits, palette, the only methods, not interlaced
	control := binary.BigEndian.AppendUint32(nil, uint32(len(e.frames)))
	b = chunk(b, "acTL", binary.BigEndian.AppendUint32(control, 0)) // for ever
	b = chunk(b, "PLTE", e.colors.bytes())
	b = chunk(b, "tRNS", e.colors.alphas())
	sequence := uint32(0)
	for i := range e.frames {
		f := &e.frames[i]
		b = chunk(b, "fcTL", f.control(sequence))
		sequence++
		if i == 0 {
			b = chunk(b, "IDAT", f.data)
			continue
		}
		b = chunk(b, "fdAT", append(binary.BigEndian.AppendUint32(nil, sequence), f.data...))
		sequence++
	}
	return chunk(b, "IEND", nil)
}

// Of a frame's control chunk: it stays as it is when the next one comes, and is blended over what is there.
const (
	disposeNone = 0
	blendOver   = 1
)

// control returns the content of a frame's fcTL chunk.
func (f *encoded) control(sequence uint32) []byte {
	var b []byte
	for _, v := range []int{int(sequence), f.area.Dx(), f.area.Dy(), f.area.Min.X, f.area.Min.Y} {
		b = binary.BigEndian.AppendUint32(b, uint32(v))
	}
	hundredths := math.Round(f.stays.Seconds() * 100)
	b = binary.BigEndian.AppendUint16(b, uint16(min(hundredths, math.MaxUint16)))
	b = binary.BigEndian.AppendUint16(b, 100)
	return append(b, disposeNone, blendOver)
}

// chunk appends a chunk: length, name, content, and the sum over the last two.
func chunk(b []byte, name string, content []byte) []byte {
	b = binary.BigEndian.AppendUint32(b, uint32(len(content)))
	from := len(b)
	b = append(append(b, name...), content...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[from:]))
}
