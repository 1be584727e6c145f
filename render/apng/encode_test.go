package apng

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// piece is a chunk as it is read back.
type piece struct {
	name    string
	content []byte
}

// chunksOf parts a file and checks every sum (PNG third edition, 5.3 and 5.5).
func chunksOf(t *rapid.T, file []byte) (list []piece) {
	if !bytes.HasPrefix(file, []byte{137, 80, 78, 71, 13, 10, 26, 10}) {
		t.Fatal("no PNG signature")
	}
	for rest := file[8:]; len(rest) > 0; {
		n := int(binary.BigEndian.Uint32(rest))
		if sum := binary.BigEndian.Uint32(rest[8+n:]); sum != crc32.ChecksumIEEE(rest[4:8+n]) {
			t.Fatalf("chunk %s has a wrong sum", rest[4:8])
		}
		list = append(list, piece{string(rest[4:8]), rest[8 : 8+n]})
		rest = rest[12+n:]
	}
	return list
}

// shownFrame is a frame put together by a reader, and its delay in hundredths.
type shownFrame struct {
	img   *image.NRGBA
	stays int
}

// played reads an animation as the specification's chapters 11.3.6 (acTL, fcTL, fdAT) and 13.9 say, and
// nothing of the encoder's: each frame is made a PNG of its own for image/png to decode.
func played(t *rapid.T, file []byte) (frames []shownFrame) {
	list := chunksOf(t, file)
	if list[0].name != "IHDR" || list[len(list)-1].name != "IEND" {
		t.Fatalf("begins with %s, ends with %s", list[0].name, list[len(list)-1].name)
	}
	w, h := int(binary.BigEndian.Uint32(list[0].content)), int(binary.BigEndian.Uint32(list[0].content[4:]))
	canvas := image.NewNRGBA(image.Rect(0, 0, w, h))
	count, sequence := -1, uint32(0)
	next := func(b []byte) {
		if got := binary.BigEndian.Uint32(b); got != sequence {
			t.Fatalf("sequence number %d, want %d", got, sequence)
		}
		sequence++
	}
	var shared []piece
	var control []byte
	for _, c := range list[1:] {
		switch c.name {
		case "acTL":
			count = int(binary.BigEndian.Uint32(c.content))
			if binary.BigEndian.Uint32(c.content[4:]) != 0 {
				t.Fatal("does not play for ever")
			}
		case "PLTE", "tRNS":
			shared = append(shared, c)
		case "fcTL":
			if len(c.content) != 26 || count < 0 {
				t.Fatalf("frame control of %d bytes, want 26, after acTL", len(c.content))
			}
			next(c.content)
			control = c.content
		case "IDAT", "fdAT":
			data := c.content
			if c.name == "fdAT" {
				next(data)
				data = data[4:]
			}
			if (c.name == "IDAT") != (len(frames) == 0) || control == nil {
				t.Fatalf("%s for frame %d", c.name, len(frames)+1)
			}
			frames = append(frames, blended(t, canvas, list[0].content, shared, control, data))
			control = nil
		}
	}
	if len(frames) != count {
		t.Fatalf("%d frames, acTL says %d", len(frames), count)
	}
	return frames
}

// blended shows one frame over what stands.
func blended(t *rapid.T, canvas *image.NRGBA, header []byte, shared []piece, control, data []byte) shownFrame {
	at := func(k int) int { return int(binary.BigEndian.Uint32(control[k:])) }
	area := image.Rect(at(12), at(16), at(12)+at(4), at(16)+at(8))
	if area.Empty() || !area.In(canvas.Rect) {
		t.Fatalf("frame at %v of %v", area, canvas.Rect)
	}
	if control[24] != 0 || control[25] != 1 {
		t.Fatalf("disposal %d, blending %d", control[24], control[25])
	}
	own := append(append([]byte(nil), control[4:12]...), header[8:]...)
	b := chunk([]byte("\x89PNG\r\n\x1a\n"), "IHDR", own)
	for _, s := range shared {
		b = chunk(b, s.name, s.content)
	}
	b = chunk(chunk(b, "IDAT", data), "IEND", nil)
	img, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	draw.Draw(canvas, area, img, img.Bounds().Min, draw.Over)
	still := image.NewNRGBA(canvas.Rect)
	copy(still.Pix, canvas.Pix)
	per := int(binary.BigEndian.Uint16(control[22:]))
	return shownFrame{still, int(binary.BigEndian.Uint16(control[20:])) * 100 / per}
}

// What is read back is what was written, frames that show nothing new being part of the one
// before; and image/png, which knows of no animation, sees the first.
func TestReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 40).Draw(t, "w"), rapid.IntRange(1, 30).Draw(t, "h")
		colors := []color.RGBA{{255, 255, 255, 255}, {0, 0, 0, 255}, {200, 30, 7, 255}, {1, 2, 3, 255}}
		img := image.NewRGBA(image.Rect(0, 0, w, h))
		draw.Draw(img, img.Rect, image.NewUniform(colors[0]), image.Point{}, draw.Src)
		var frames []Frame
		var want []Frame // without doubles
		for range rapid.IntRange(1, 6).Draw(t, "frames") {
			for range rapid.IntRange(0, 3).Draw(t, "blocks") {
				x, y := rapid.IntRange(0, w-1).Draw(t, "x"), rapid.IntRange(0, h-1).Draw(t, "y")
				c := rapid.SampledFrom(colors).Draw(t, "colour")
				draw.Draw(img, image.Rect(x, y, x+rapid.IntRange(1, 9).Draw(t, "dx"), y+rapid.IntRange(1, 9).Draw(t, "dy")), image.NewUniform(c), image.Point{}, draw.Src)
			}
			f := Frame{image.NewRGBA(img.Rect), time.Duration(rapid.IntRange(0, 300).Draw(t, "hundredths")) * 10 * time.Millisecond}
			copy(f.Image.Pix, img.Pix)
			frames = append(frames, f)
			if n := len(want); n > 0 && bytes.Equal(want[n-1].Image.Pix, f.Image.Pix) {
				want[n-1].Stays += f.Stays
			} else {
				want = append(want, f)
			}
		}
		var b, again bytes.Buffer
		if err := Encode(&b, frames); err != nil {
			t.Fatal(err)
		}
		if Encode(&again, frames); !bytes.Equal(b.Bytes(), again.Bytes()) {
			t.Fatal("not the same bytes twice")
		}
		got := played(t, b.Bytes())
		if len(got) != len(want) {
			t.Fatalf("%d frames, want %d", len(got), len(want))
		}
		for i := range want {
			if !bytes.Equal(got[i].img.Pix, want[i].Image.Pix) || got[i].stays != int(want[i].Stays/(10*time.Millisecond)) {
				t.Fatalf("frame %d is not what it was, or stays %d", i+1, got[i].stays)
			}
		}
		first, err := png.Decode(bytes.NewReader(b.Bytes()))
		if err != nil {
			t.Fatal(err)
		}
		for y := range h {
			for x := range w {
				if color.RGBAModel.Convert(first.At(x, y)) != color.Color(frames[0].Image.RGBAAt(x, y)) {
					t.Fatalf("the still picture differs at %d, %d", x, y)
				}
			}
		}
	})
}

// Of more than 255 colours each is kept to within a few steps.
func TestManyColours(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 256, 64))
	for y := range 64 {
		for x := range 256 {
			img.SetRGBA(x, y, color.RGBA{uint8(x), uint8(x/2 + 2*y), 90, 255})
		}
	}
	p := paletteOf([]Frame{{Image: img}})
	got := p.reduced(img)
	worst, sum := 0, 0
	for i := range got.Pix {
		c := p.colors[got.Pix[i]].(color.NRGBA)
		d := max(int(c.R)-int(img.Pix[4*i]), int(img.Pix[4*i])-int(c.R), int(c.G)-int(img.Pix[4*i+1]), int(img.Pix[4*i+1])-int(c.G))
		worst, sum = max(worst, d), sum+d
	}
	if mean := float64(sum) / float64(len(got.Pix)); worst > 16 || mean > 6 || len(p.colors) != 256 {
		t.Errorf("off by %d at most, %.1f in the mean, %d colours", worst, mean, len(p.colors))
	}
}

func TestEncodeRefuses(t *testing.T) {
	a, b := image.NewRGBA(image.Rect(0, 0, 2, 2)), image.NewRGBA(image.Rect(0, 0, 3, 2))
	for name, frames := range map[string][]Frame{
		"none": nil, "two sizes": {{Image: a}, {Image: b}}, "empty": {{Image: image.NewRGBA(image.Rectangle{})}}, "for hours": {{a, time.Hour}},
	} {
		var w bytes.Buffer
		if err := Encode(&w, frames); err == nil || w.Len() > 0 {
			t.Errorf("%s: %v, %d bytes written", name, err, w.Len())
		}
	}
}
