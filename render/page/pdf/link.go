package pdf

import "gridswing/render/page"

// link makes an area lead somewhere: to a page of this document, or to a file, by a URI
// relative to the place of this one (ISO 32000-1, 12.6.4.7).
func (p *writer) link(l *page.Link) error {
	number, uri, err := l.Leads(p.pages)
	if err != nil {
		return err
	}
	a := l.Area
	if number == 0 {
		p.pdf.LinkString(a.X0, a.Y0, a.X1-a.X0, a.Y1-a.Y0, uri)
		return nil
	}
	id := p.pdf.AddLink()
	p.pdf.SetLink(id, 0, number)
	p.pdf.Link(a.X0, a.Y0, a.X1-a.X0, a.Y1-a.Y0, id)
	return nil
}
