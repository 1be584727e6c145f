package pages

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"path/filepath"
	"strings"
	"time"

	"gridswing/cmd/gridswing/internal/files"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine/check"
	"gridswing/machine/check/changeover"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// Of a page, A4 upright (ISO 216), in mm.
const (
	width, height = 210.0, 297.0
	margin        = 16.0
	foot          = 20.0 // left free at the bottom
	inner         = width - 2*margin
	least         = 62.0  // height of a picture at least
	most          = 118.0 // and at most
)

// Of type, in points, and how high a line of it is, in mm.
const (
	body, bodyLine   = 11.0, 5.4
	small, smallLine = 8.5, 4.0
)

// Changeover writes the pages of a plan to a file, whole or not at all: what it is about
// first, then a page for each step with its picture, those in their order.
func Changeover(ctx context.Context, path string, plan *changeover.Plan, steps []*image.RGBA) error {
	encoded := make([][]byte, len(steps))
	for i, img := range steps {
		if err := ctx.Err(); err != nil {
			return err
		}
		var b bytes.Buffer
		if err := png.Encode(&b, widened(img, i)); err != nil {
			return err
		}
		encoded[i] = b.Bytes()
	}
	draft := set(plan, encoded, 0)
	s := set(plan, encoded, draft.pdf.PageCount())
	if err := ctx.Err(); err != nil {
		return err
	}
	var out bytes.Buffer
	if err := s.pdf.Output(&out); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return files.Write(path, out.Bytes())
}

// widened returns a picture with so many columns of its own background more at the right.
// The library stores pictures in the order of their widths and, of one width, in any
// order: so each gets a width of its own, and the same plan the same bytes.
func widened(img *image.RGBA, by int) *image.RGBA {
	size := img.Bounds()
	wide := image.NewRGBA(image.Rect(0, 0, size.Dx()+by, size.Dy()))
	draw.Draw(wide, wide.Bounds(), image.NewUniform(img.At(size.Max.X-1, size.Min.Y)), image.Point{}, draw.Src)
	draw.Draw(wide, image.Rect(0, 0, size.Dx(), size.Dy()), img, size.Min, draw.Src)
	return wide
}

// sheets are pages being set.
type sheets struct {
	pdf   *fpdf.Fpdf
	plan  *changeover.Plan
	total int
}

// set sets all pages; total is how many there are, 0 if that is still to be counted.
func set(plan *changeover.Plan, steps [][]byte, total int) *sheets {
	s := &sheets{pdf: fpdf.New("P", "mm", "A4", ""), plan: plan, total: total}
	s.pdf.SetCreationDate(time.Unix(0, 0).UTC()) // same plan, same bytes
	s.pdf.SetModificationDate(time.Unix(0, 0).UTC())
	s.pdf.SetCatalogSort(true)
	s.pdf.SetTitle("Changeover "+text.FromTo(plan), true)
	s.pdf.AddUTF8FontFromBytes("go", "", goregular.TTF)
	s.pdf.AddUTF8FontFromBytes("go", "B", gobold.TTF)
	s.pdf.SetMargins(margin, margin, margin)
	s.pdf.SetAutoPageBreak(true, foot)
	s.pdf.SetFooterFunc(s.footer)
	s.cover()
	for i := range plan.Steps {
		s.step(&plan.Steps[i], steps[i])
	}
	return s
}

func (s *sheets) font(style string, size float64) { s.pdf.SetFont("go", style, size) }

// write writes wrapped words in lines of a height.
func (s *sheets) write(line float64, words string) {
	s.pdf.SetX(margin)
	s.pdf.MultiCell(inner, line, words, "", "L", false)
}

// footer names the setups and the page.
func (s *sheets) footer() {
	s.pdf.SetDrawColor(120, 120, 120)
	s.pdf.SetLineWidth(0.2)
	s.pdf.Line(margin, height-15, width-margin, height-15)
	s.font("", small)
	s.pdf.SetXY(margin, height-14)
	page := fmt.Sprintf("Page %d of %d", s.pdf.PageNo(), s.total)
	words := "Changeover " + text.FromTo(s.plan) + ", " + s.plan.Machine
	s.pdf.CellFormat(inner-30, smallLine, s.shorten(words, inner-32), "", 0, "L", false, 0, "")
	s.pdf.CellFormat(30, smallLine, page, "", 0, "R", false, 0, "")
}

// shorten leaves off the end of words that are too wide.
func (s *sheets) shorten(words string, room float64) string {
	if s.pdf.GetStringWidth(words) <= room {
		return words
	}
	runes := []rune(words)
	for len(runes) > 0 && s.pdf.GetStringWidth(string(runes)+"...") > room {
		runes = runes[:len(runes)-1]
	}
	return strings.TrimSpace(string(runes)) + "..."
}

// box draws a box to tick, its upper left corner where told.
func (s *sheets) box(x, y float64) {
	s.pdf.SetDrawColor(0, 0, 0)
	s.pdf.SetLineWidth(0.4)
	s.pdf.Rect(x, y, 4, 4, "D")
}

// cover is the first page: what is moved, and the steps in a line each.
func (s *sheets) cover() {
	s.pdf.AddPage()
	s.font("B", 18)
	s.write(8, "Changeover")
	s.font("", body)
	s.write(bodyLine, text.FromTo(s.plan)+", "+s.plan.Machine)
	s.pdf.Ln(2)
	s.verdict(s.plan.Verdict, text.WaysMeaning(s.plan))
	for _, row := range text.ChangeSummary(s.plan) {
		s.row(row[0], row[1])
	}
	s.pdf.Ln(4)
	s.steps()
	s.pdf.Ln(3)
	s.font("", small)
	for _, words := range s.plan.Assumed {
		s.write(smallLine, "Assumed: "+words+".")
	}
	for _, words := range s.plan.Stated {
		s.write(smallLine, "Stated, not checked: "+words+".")
	}
	s.pdf.Ln(2)
	for _, words := range s.plan.Caution {
		s.write(smallLine, words)
	}
	s.pdf.Ln(6)
	s.font("", body)
	s.write(bodyLine, "Done by ______________________   on ______________   begun ________   ended ________")
}

// row writes a name and what belongs to it.
func (s *sheets) row(name, value string) {
	const column = 30
	s.font("B", body)
	s.pdf.SetX(margin)
	s.pdf.CellFormat(column, bodyLine, name, "", 0, "L", false, 0, "")
	s.font("", body)
	s.pdf.SetX(margin + column)
	s.pdf.MultiCell(inner-column, bodyLine, value, "", "L", false)
}

// verdict writes a verdict with what it means, framed where it is not clear.
func (s *sheets) verdict(v check.Verdict, words string) {
	frame := ""
	s.pdf.SetDrawColor(0, 0, 0)
	if s.pdf.SetLineWidth(0.2); v != check.Clear {
		frame = "1"
		s.pdf.SetLineWidth(0.9)
	}
	s.font("B", body)
	s.pdf.SetX(margin)
	title := strings.ToUpper(v.String())
	if v != check.Clear {
		title += ": not to be done like this"
	}
	s.pdf.MultiCell(inner, bodyLine+0.6, title, frame, "L", false)
	s.pdf.Ln(0.8)
	s.font("", small)
	s.write(smallLine, words)
	s.pdf.Ln(2)
}

// steps lists all steps, a line each, with boxes to tick.
func (s *sheets) steps() {
	columns := []float64{14, 94, 32, 30}
	aligned := []string{"L", "L", "R", "R"}
	line := func(style string, cells ...string) {
		s.font(style, body)
		s.pdf.SetX(margin + 8)
		for i, c := range cells {
			s.pdf.CellFormat(columns[i], 7, s.shorten(c, columns[i]-2), "B", 0, aligned[i], false, 0, "")
		}
		s.pdf.Ln(7)
	}
	s.pdf.SetLineWidth(0.2)
	line("B", "Step", "", "mass", "its way")
	for i := range s.plan.Steps {
		st := &s.plan.Steps[i]
		mass, way := "", ""
		if st.Way != nil {
			mass, way = "not known", st.Way.Verdict.String()
			if st.Mass != nil {
				mass = text.Kilograms(*st.Mass)
			}
			if st.Heavy {
				mass += " !"
			}
		}
		if s.pdf.GetY() > height-foot-8 {
			s.pdf.AddPage()
		}
		s.box(margin, s.pdf.GetY()+1.5)
		s.pdf.SetLineWidth(0.2)
		line("", fmt.Sprint(st.Number), strings.TrimSpace(st.Kind+" "+st.Unit), mass, way)
	}
}

// step sets the page of one step.
func (s *sheets) step(st *changeover.Step, picture []byte) {
	s.pdf.AddPage()
	s.font("B", 16)
	s.write(7.5, text.StepTitle(s.plan, st))
	s.font("", small)
	words := "Setup " + st.Setup
	if st.Component != "" {
		words += ", component " + filepath.Base(st.Component)
	}
	s.write(smallLine, words)
	s.pdf.Ln(1.5)
	top := s.pdf.GetY()
	h := min(most, max(least, height-foot-top-3-s.below(st)))
	name := fmt.Sprint("step ", st.Number)
	s.pdf.RegisterImageOptionsReader(name, fpdf.ImageOptions{ImageType: "PNG"}, bytes.NewReader(picture))
	info := s.pdf.GetImageInfo(name)
	w := h * info.Width() / info.Height()
	s.pdf.ImageOptions(name, (width-w)/2, top, w, h, false, fpdf.ImageOptions{ImageType: "PNG"}, 0, "")
	s.pdf.SetDrawColor(120, 120, 120)
	s.pdf.SetLineWidth(0.2)
	s.pdf.Rect((width-w)/2, top, w, h, "D")
	s.pdf.SetY(top + h + 3)
	s.told(st)
}

// told writes what belongs below the picture: mass and time, cautions, what is done with
// boxes to tick, and the verdict on the way.
func (s *sheets) told(st *changeover.Step) {
	for _, row := range text.StepFacts(s.plan, st) {
		s.row(row[0], row[1])
	}
	s.pdf.Ln(1.2)
	for _, words := range st.Caution {
		s.caution(words)
	}
	s.pdf.Ln(1.5)
	s.font("", body)
	for _, words := range st.Do {
		lines := len(s.pdf.SplitText(words, inner-9))
		if s.pdf.GetY()+float64(lines)*bodyLine > height-foot {
			s.pdf.AddPage()
		}
		y := s.pdf.GetY()
		s.box(margin+1, y+0.6)
		s.pdf.SetXY(margin+8, y)
		s.pdf.MultiCell(inner-8, bodyLine, words, "", "L", false)
		s.pdf.Ln(0.8)
	}
	if st.Way == nil {
		return
	}
	s.pdf.Ln(1.5)
	s.verdict(st.Way.Verdict, text.WayWords(st.Way))
	s.font("", small)
	for i := range st.Way.Meetings {
		if i == text.MostMeetings {
			break
		}
		m := &st.Way.Meetings[i]
		s.write(smallLine, m.Verdict.String()+": "+text.MeetingWords(m))
	}
}

// caution writes what to see to, in a heavy frame.
func (s *sheets) caution(words string) {
	s.pdf.SetDrawColor(0, 0, 0)
	s.pdf.SetLineWidth(0.9)
	s.font("B", body)
	s.pdf.SetX(margin)
	s.pdf.MultiCell(inner, bodyLine+0.6, "CAUTION  "+words, "1", "L", false)
	s.pdf.Ln(1.2)
}

// below is how high what is told below the picture is, mm: it is set once on a page of
// its own, which counts for nothing.
func (s *sheets) below(st *changeover.Step) float64 {
	trial := &sheets{pdf: fpdf.New("P", "mm", "A4", ""), plan: s.plan}
	trial.pdf.AddUTF8FontFromBytes("go", "", goregular.TTF)
	trial.pdf.AddUTF8FontFromBytes("go", "B", gobold.TTF)
	trial.pdf.SetMargins(margin, margin, margin)
	trial.pdf.SetAutoPageBreak(true, foot)
	trial.pdf.AddPage()
	trial.told(st)
	if trial.pdf.PageCount() > 1 {
		return height
	}
	return trial.pdf.GetY() - margin
}
