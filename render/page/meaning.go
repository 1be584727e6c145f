package page

import (
	"fmt"
	"net/url"
	"strconv"
	"strings"
)

// Leads returns where the link leads in a document of so many pages: to one of them, from 1,
// or, with 0, to a file by a URI relative to the place of the document (RFC 3986).
func (l *Link) Leads(pages int) (number int, uri string, err error) {
	n, within := strings.CutPrefix(l.Target, "#")
	if !within {
		return 0, (&url.URL{Path: l.Target}).String(), nil
	}
	number, err = strconv.Atoi(n)
	if err != nil || number < 1 || number > pages {
		return 0, "", fmt.Errorf("link: found the target %q, expected a page from #1 to #%d", l.Target, pages)
	}
	return number, "", nil
}

// Dashes returns the pattern as it can be drawn: nil, drawn through, where it is none or too
// fine for any printer, less than 0.05 mm.
func (p *Path) Dashes() []float64 {
	sum := 0.0
	for _, d := range p.Dash {
		if d < 0 {
			return nil
		}
		sum += d
	}
	if sum < 0.05 {
		return nil
	}
	return p.Dash
}
