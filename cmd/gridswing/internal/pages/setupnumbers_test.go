package pages

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gridswing/cmd/gridswing/internal/text"
	"gridswing/geom"
	"gridswing/render/page"
)

// rowsOf returns what stands on one base line with a text that is found, from left to right, on any page.
func rowsOf(doc *page.Document, first string) (rows [][]string) {
	for _, p := range doc.Pages {
		all := textsOf(p)
		for _, a := range all {
			if a.Words != first {
				continue
			}
			var row []*page.Text
			for _, b := range all {
				if b.At.Y-a.At.Y < 0.01 && a.At.Y-b.At.Y < 0.01 {
					row = append(row, b)
				}
			}
			slices.SortFunc(row, func(a, b *page.Text) int {
				if box(a).X0 < box(b).X0 {
					return -1
				}
				return 1
			})
			var words []string
			for _, b := range row {
				words = append(words, plain(b.Words))
			}
			rows = append(rows, words)
		}
	}
	return rows
}

// inRow reports whether a row that begins with words has all of the cells.
func inRow(doc *page.Document, first string, cells ...string) bool {
	return slices.ContainsFunc(rowsOf(doc, first), func(row []string) bool {
		return !slices.ContainsFunc(cells, func(c string) bool { return !slices.Contains(row, c) })
	})
}

// Numbers in tables are those of the report: offsets and centres with the control's decimals in the
// control's unit, lengths of tools, stick-outs, travel, gaps, loads, torques.
func TestNumbersAreTheReports(t *testing.T) {
	for _, u := range []Units{Millimetre, Inch} {
		s := large()
		doc, r := setOn(t, s, page.A4, u), s.Report
		per, pounds := 1.0, func(nm float64) string { return fmt.Sprintf("%.0f", nm) }
		decimals := 2
		if u == Inch {
			per, decimals = 25.4, 4
			pounds = func(nm float64) string { return fmt.Sprintf("%.0f (%d)", nm, int(nm/1.3558179483)) }
		}
		for i := range r.Offsets.Offsets {
			o := &r.Offsets.Offsets[i]
			if !inRow(doc, o.Number, fmt.Sprintf("%.3f", o.Linear[0].Value), fmt.Sprintf("%.3f", o.Linear[1].Value), fmt.Sprintf("%.3f", o.Linear[2].Value)) {
				t.Errorf("%v: %+v is not in %q", u, o, rowsOf(doc, o.Number))
			}
		}
		for i := range r.Reach.Operations {
			o := &r.Reach.Operations[i]
			if !inRow(doc, fmt.Sprintf("T%d", o.Tool), fmt.Sprintf("%.3f", o.LPR)) {
				t.Errorf("%v: the length %g of T%d is not in %q", u, o.LPR, o.Tool, rowsOf(doc, fmt.Sprintf("T%d", o.Tool)))
			}
			if z := o.Features[0].Travel[2]; !inRow(doc, fmt.Sprintf("T%d", o.Tool), "Z "+down(z.Margin/per, decimals)) {
				t.Errorf("%v: what T%d keeps of Z, %g mm, is not in %q", u, o.Tool, z.Margin, rowsOf(doc, fmt.Sprintf("T%d", o.Tool)))
			}
		}
		for i := range r.Fastening.Screws {
			c := &r.Fastening.Screws[i]
			if !inRow(doc, pounds(*c.Torque), "8.8", "M12") {
				t.Errorf("%v: the torque of screw %d, %q, is not there", u, i+1, pounds(*c.Torque))
			}
		}
	}
}

// down is a number rounded down to so many decimals.
func down(v float64, decimals int) string {
	words := fmt.Sprintf("%.*f", decimals+6, v)
	return words[:len(words)-6]
}

// On inch pages of the demo no length is in mm but what is keyed into its control, and what says that
// lengths are converted. The values are those of the pages in mm.
func TestInchPages(t *testing.T) {
	for _, name := range []string{"setups/bracket-op10.toml", "setups/bracket-op10-one-hole-off.toml"} {
		s := demo(t, name)
		doc := setOn(t, s, page.A4, Inch)
		length := regexp.MustCompile(`\bmm\b`)
		keying := false
		for _, p := range doc.Pages {
			for _, words := range textsOf(p) {
				switch w := plain(words.Words); {
				case words.Face == page.Bold && strings.HasPrefix(w, "What to key in"):
					keying = true
				case words.Face == page.Bold && strings.HasPrefix(w, "How far off the part can be"):
					keying = false
				case !length.MatchString(w) || keying || slices.Contains(s.Notes, w):
				case w == "mm" && words.Face == page.Bold: // of the head "LPR, mm"
				case strings.Contains(w, "25.4 mm") || strings.Contains(w, "converted from mm") || strings.Contains(w, "computed in mm"):
				default:
					t.Errorf("%s: %q", name, w)
				}
			}
		}
		all := said(doc)
		for i := range s.Report.Placed {
			size := s.Report.Placed[i].Size
			says(t, doc, all, strings.TrimRight(fmt.Sprintf("%.4f", size[0]/25.4), "0"))
		}
		says(t, doc, all, "inch, converted from mm", "X -15.748 to 15.748", "Wipe the faceplate, and leave 5 mm.")
		for i := range s.Report.Reach.Operations {
			o := &s.Report.Reach.Operations[i]
			if gap := text.LeastGap(o); gap != nil && !inRow(doc, o.Name, down(*gap/25.4, 4)) {
				t.Errorf("%s: the gap of %s, %g mm, is not in %q", name, o.Name, *gap, rowsOf(doc, o.Name))
			}
		}
	}
}

// The one length that holds is not printed as a range whose ends are rounded past each other.
func TestOneLengthHolds(t *testing.T) {
	for unit, want := range map[geom.Unit]string{geom.Millimetre: "85.00 only", geom.Inch: "3.3465 only"} {
		s := &sheet{Setup: &Setup{}, u: text.NewLengths(unit, nil)}
		if got := s.holds(85, 85); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
