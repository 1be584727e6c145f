package pdf

import (
	"fmt"
	"net/url"
	"strconv"
	"strings"

	"gridswing/render/page"
)

// link makes an area lead somewhere: to a page of this document, or to a file, by a URI
// relative to the place of this one (ISO 32000-1, 12.6.4.7).
func (p *writer) link(l *page.Link) error {
	a := l.Area
	if number, ok := strings.CutPrefix(l.Target, "#"); ok {
		n, err := strconv.Atoi(number)
		if err != nil || n < 1 || n > p.pages {
			return fmt.Errorf("link: found the target %q, expected a page from #1 to #%d", l.Target, p.pages)
		}
		id := p.pdf.AddLink()
		p.pdf.SetLink(id, 0, n)
		p.pdf.Link(a.X0, a.Y0, a.X1-a.X0, a.Y1-a.Y0, id)
		return nil
	}
	p.pdf.LinkString(a.X0, a.Y0, a.X1-a.X0, a.Y1-a.Y0, (&url.URL{Path: l.Target}).String())
	return nil
}
