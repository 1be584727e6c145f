package render

import (
	"image"
	"image/png"
	"io"
)

// EncodePNG writes an image as PNG, quickly rather than in as few bytes as can be.
func EncodePNG(w io.Writer, img image.Image) error {
	return (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(w, img)
}
