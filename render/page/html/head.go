package html

import (
	"encoding/base64"
	"fmt"
	"html"
	"slices"
	"strings"
	"unicode/utf8"

	"gridswing/render/page"
	"gridswing/render/page/face"
)

// escaped is words as they may stand in HTML and XML, in attributes too: what XML cannot
// hold is replaced.
func escaped(words string) string {
	return html.EscapeString(strings.Map(func(r rune) rune {
		if r < ' ' || r >= 0x7f && r <= 0x9f || r == 0xfffe || r == 0xffff || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 {
			return utf8.RuneError // bidirectional controls would turn what stands round them
		}
		return r
	}, strings.ToValidUTF8(words, string(utf8.RuneError))))
}

// families are the names of the faces in the style sheet, and what to take where a browser
// refuses embedded fonts.
var families = [...]string{page.Regular: "Page Regular", page.Bold: "Page Bold", page.Mono: "Page Mono"}

// head writes all that comes before the contents.
func (w *writer) head() {
	d := w.document
	w.put("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n",
		"<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n",
		"<title>", escaped(d.Title), "</title>\n<meta name=\"generator\" content=\"", page.Creator, "\"/>\n<meta name=\"description\" content=\"", escaped(d.Subject), "\"/>\n<style>\n")
	for f, used := range characters(d) {
		if len(used) > 0 {
			w.put(`@font-face{font-family:"`, families[f], `";src:url(data:font/ttf;base64,`,
				base64.StdEncoding.EncodeToString(face.Subset(page.Face(f), used)), ")}\n")
		}
	}
	w.put(fmt.Sprintf("@page{size:%gmm %gmm;margin:0}\n:root{--wide:%gmm;--high:%gmm}\n", d.Format.Width, d.Format.Height, d.Format.Width, d.Format.Height),
		sheet, "</style>\n</head>\n<body>\n")
}

// characters returns which characters the document has in each face, in their order.
func characters(d *page.Document) [len(families)][]rune {
	var used [len(families)]map[rune]bool
	for f := range used {
		used[f] = map[rune]bool{}
	}
	for _, p := range d.Pages {
		for _, it := range p.Items {
			if t, ok := it.(*page.Text); ok {
				for _, r := range face.Shown(t.Words) {
					used[faceOf(t)][r] = true
				}
			}
		}
	}
	var all [len(families)][]rune
	for f := range used {
		for r := range used[f] {
			all[f] = append(all[f], r)
		}
		slices.Sort(all[f])
	}
	return all
}

// faceOf is the text's face, Regular if there is none such.
func faceOf(t *page.Text) page.Face {
	if int(t.Face) >= len(families) {
		return page.Regular
	}
	return t.Face
}

// sheet is the style sheet. Pages are white whatever the desktop is; on a wide screen the
// contents stand beside them and stay, on a narrow one above. Printed, a page is a sheet.
const sheet = `*{box-sizing:border-box}
html{color-scheme:light dark;-webkit-text-size-adjust:100%}
body{margin:0;background:#e4e5e7;color:#15181c;font:15px/1.4 system-ui,sans-serif}
nav{padding:10px 14px}
nav p{margin:4px 6px 8px;font-weight:600;overflow-wrap:anywhere}
nav ol{list-style:none;margin:0;padding:0}
nav a{display:flex;justify-content:space-between;gap:1em;padding:5px 6px;color:inherit;text-decoration:none;overflow-wrap:anywhere}
nav a:hover,nav a:focus{text-decoration:underline}
nav span{flex:none;opacity:.7}
main{padding:0 8px 16px}
section{max-width:var(--wide);margin:0 auto 12px;background:#fff;box-shadow:0 1px 4px rgba(0,0,0,.35);scroll-margin-top:8px}
svg{display:block;width:100%;height:auto}
text{white-space:pre;font-kerning:none;font-variant-ligatures:none;text-rendering:geometricPrecision;font-family:"Page Regular",sans-serif}
.b{font-family:"Page Bold",sans-serif}
.m{font-family:"Page Mono",monospace}
.c{text-anchor:middle}
.r{text-anchor:end}
path{stroke-linecap:round;stroke-linejoin:round}
svg a rect{fill:#fff;fill-opacity:0}
svg a:focus rect,svg a:hover rect{fill:#0072b2;fill-opacity:.15}
@media (min-width:1000px){
body{display:grid;grid-template-columns:minmax(170px,1fr) minmax(0,var(--wide)) minmax(0,1fr)}
nav{position:sticky;top:0;max-height:100vh;overflow:auto;align-self:start}
main{grid-column:2;padding:12px 0}
}
@media (prefers-color-scheme:dark){body{background:#202327;color:#e6e8ea}}
@media print{
body{display:block;background:#fff}
nav{display:none}
main{padding:0}
section{width:var(--wide);max-width:none;height:var(--high);margin:0;box-shadow:none;break-inside:avoid;overflow:hidden;print-color-adjust:exact;-webkit-print-color-adjust:exact}
section+section{break-before:page}
svg{width:var(--wide);height:var(--high)}
}
`
