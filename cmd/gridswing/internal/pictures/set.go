package pictures

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"gridswing/cmd/gridswing/internal/files"
	"gridswing/geom/motion"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/render"

	"github.com/golang/geo/r3"
)

// closeUps is for how many findings a close-up is drawn.
const closeUps = 3

// sheet is one picture of a set: its file name and how to draw it.
type sheet struct {
	name string
	draw func(ctx context.Context) (*image.RGBA, error)
}

// Stem returns how the names of a setup's pictures begin: with the name of its file.
func Stem(setupFile string) string {
	base := filepath.Base(setupFile)
	return strings.TrimSuffix(base, filepath.Ext(base))
}

// WriteSet writes the pictures that go with a report into a folder, which is
// made if it is not there, and returns their names:
//
//	STEM-setup.png           what stands on the table, every axis at home
//	STEM-machine.png         the same in the machine
//	STEM-swing-chart.png     clearance over tilt and rotary
//	STEM-loads.png           the moment about a tilt axis over tilt; STEM-loads-2.png
//	                         and so on of further ones
//	STEM-program-clearance.png
//	                         clearance over the time that a program takes
//	STEM-program-stock.png   what it leaves of the stock; STEM-program-after-12.png
//	                         what is left after a line that was asked for
//	STEM-worst-position.png  the setup where the worst finding happens, one
//	                         while axes move if there is any
//	STEM-finding-1.png ...   close-ups of the first findings, by their number in
//	                         the report
//	STEM-operation-NAME.png  the tool where an operation that is not clear is
//	                         worst, of the first such; and of the operation that
//	                         is named, clear or not ("" names none)
//	STEM-critical.png        if Scene.Animate is set: the way from home through
//	                         the positions of the worst findings, animated
//
// Pictures of these names that an earlier check left there, and that this
// one has no reason to draw, are removed: they would tell of another setup.
func (sc *Scene) WriteSet(ctx context.Context, r *check.Report, operation, dir string) ([]string, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, err
	}
	stem := filepath.Join(dir, Stem(sc.setup.File))
	sheets := sc.set(r, operation)
	names := make([]string, len(sheets))
	for i := range sheets {
		names[i] = stem + "-" + sheets[i].name + ".png"
	}
	animation := sc.animated(r)
	if animation != nil {
		names = append(names, stem+criticalName)
	}
	if err := removeStale(stem, names); err != nil {
		return nil, err
	}
	err := proof.InParallel(ctx, sc.jobs, len(sheets), func(i int) error {
		i = len(sheets) - 1 - i // close-ups, at the end, take longest: they go first
		img, err := sheets[i].draw(ctx)
		if err != nil {
			return err
		}
		return Write(ctx, names[i], img)
	})
	if err == nil && animation != nil {
		err = animation.Write(ctx, stem+criticalName)
	}
	return names, err
}

const criticalName = "-critical.png"

// animated returns the animation that goes with a report, nil if none is wanted or there is
// nothing to go to.
func (sc *Scene) animated(r *check.Report) *Animation {
	if !sc.Animate {
		return nil
	}
	return sc.Critical(r)
}

// Write stores a picture, whole or not at all.
func Write(ctx context.Context, path string, img *image.RGBA) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	return stored(path, func(w io.Writer) error { return render.EncodePNG(w, img) })
}

// stored stores what is encoded, whole or not at all.
func stored(path string, encode func(w io.Writer) error) error {
	var b bytes.Buffer
	if err := encode(&b); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return files.Write(path, b.Bytes())
}

// removeStale removes the pictures that a set could have and these names lack.
func removeStale(stem string, names []string) error {
	keep := map[string]bool{}
	for _, n := range names {
		keep[n] = true
	}
	stale := []string{stem + "-swing-chart.png", stem + "-worst-position.png", stem + "-loads.png", stem + criticalName}
	for _, kind := range []string{"finding-[0-9]*", "operation-*", "loads-[0-9]*", "program-*"} {
		found, err := filepath.Glob(literal(stem) + "-" + kind + ".png")
		if err != nil {
			return err
		}
		stale = append(stale, found...)
	}
	for _, name := range stale {
		if keep[name] {
			continue
		}
		if err := os.Remove(name); err != nil && !os.IsNotExist(err) {
			return err
		}
	}
	return nil
}

// literal makes a path mean itself where a pattern is expected.
func literal(path string) string {
	if filepath.Separator == '\\' {
		return strings.ReplaceAll(path, "[", "[[]")
	}
	return strings.NewReplacer(`\`, `\\`, "*", `\*`, "?", `\?`, "[", `\[`).Replace(path)
}

func findingName(i int) string { return fmt.Sprintf("finding-%d", i+1) }

// set lists the pictures of a report, with one of the named operation.
func (sc *Scene) set(r *check.Report, operation string) []sheet {
	add := func(list []sheet, name string, p *render.Picture) []sheet {
		p.Workers = 1 // the pictures are drawn side by side
		return append(list, sheet{name, p.Draw})
	}
	list := add(nil, "setup", sc.atRest(r, sc.Setup))
	list = add(list, "machine", sc.atRest(r, sc.Whole))
	if r.Chart != nil {
		list = append(list, sheet{"swing-chart", sc.chart(r).Draw})
	}
	list = append(list, momentSheets(r)...)
	list = append(list, sc.inProgram(r)...)
	if i := moved(r.Findings); i >= 0 {
		list = add(list, "worst-position", sc.worst(r, i))
	}
	drawn := 0
	for i := range r.Findings {
		if p := sc.closeUp(r, i); p != nil && drawn < closeUps {
			list = add(list, findingName(i), p)
			drawn++
		}
	}
	names := map[string]bool{}
	for _, f := range sc.operations(r, operation) {
		list = add(list, operationName(f.Operation, names), sc.atTool(r, f))
	}
	return list
}

// emphasisOf is how bodies of a finding with a verdict are drawn.
var emphasisOf = map[check.Verdict]render.Emphasis{
	check.Contact:    render.Contact,
	check.OverTravel: render.Contact,
	check.Overload:   render.Contact,
	check.WithinPlay: render.WithinPlay,
	check.Unproven:   render.Unproven,
	check.Tight:      render.Tight,
}

// emphases says how to draw the setup's bodies of findings, by the worst of each.
func (sc *Scene) emphases(findings []check.Finding) map[int]render.Emphasis {
	list := map[int]render.Emphasis{}
	for i := range findings {
		e := emphasisOf[findings[i].Verdict]
		for _, body := range sc.indices(&findings[i]) {
			list[body] = max(list[body], e)
		}
	}
	return list
}

// indices returns the bodies of a finding that are in the setup.
func (sc *Scene) indices(f *check.Finding) (list []int) {
	for side, i := range f.Index {
		if f.Bodies[side] != "" && i >= 0 && i < len(sc.setup.Bodies) {
			list = append(list, i)
		}
	}
	return list
}

// atRest shows the setup, or the whole, with every axis at home. Only what meets
// there, or does not go together, is emphasised.
func (sc *Scene) atRest(r *check.Report, show func(motion.Params, render.View) *render.Picture) *render.Picture {
	p := show(Home(sc.setup), render.Isometric)
	meet := sc.emphases(slices.DeleteFunc(slices.Clone(r.Findings), func(f check.Finding) bool {
		return f.Question != check.Rest && f.Question != check.Stacked
	}))
	for i := range p.Items {
		if e := meet[sc.body(p.Items[i].Name)]; e != render.Plain {
			p.Items[i].Emphasis = e
		}
	}
	p.Title = fmt.Sprintf("%s: %s", r.Setup, r.Verdict)
	p.Caption = append(p.Caption, "Every axis at home.")
	return p
}

// moved returns the index of the first finding that happens while axes go over their
// ranges: one at rest is to be seen in the pictures of the setup at rest, one of a tool
// in a picture of its own. Without any it is the first at rest, -1 for none.
func moved(findings []check.Finding) int {
	i := slices.IndexFunc(findings, func(f check.Finding) bool { return swings(&f) && f.Question != check.Rest })
	if i < 0 {
		return slices.IndexFunc(findings, func(f check.Finding) bool { return swings(&f) })
	}
	return i
}

// swings reports whether a finding is one of the swing, not of a tool of the library.
func swings(f *check.Finding) bool {
	switch f.Question {
	case check.Rest, check.Swing, check.Overhang, check.Index:
		return true
	}
	return false
}

// atFeature reports whether a finding is of a tool at a feature, and not on its way there.
func atFeature(f *check.Finding) bool {
	switch f.Question {
	case check.Reaching, check.Travels, check.Presents:
		return true
	}
	return false
}

// worst shows what stands on the table, and what it meets, where it does.
func (sc *Scene) worst(r *check.Report, i int) *render.Picture {
	f := &r.Findings[i]
	p := &render.Picture{
		Lengths: lengthsOf(sc.lengths),
		Title:   heading(i+1, f),
		Caption: []string{r.Setup + ", " + sc.positions(f.Params)},
		Up:      sc.setup.Up,
		Items:   sc.around(f),
		Marks:   sc.marks(f),
	}
	sc.veilBut(p, f)
	return p
}

// veilBut makes a veil of all that is placed but the bodies of a finding, of their own units too, so that
// nothing hides them. What is the machine's stays as it is.
func (sc *Scene) veilBut(p *render.Picture, f *check.Finding) {
	pair := sc.indices(f)
	for i := range p.Items {
		it := &p.Items[i]
		if b := sc.body(it.Name); sc.setup.Bodies[b].Unit != "machine" && !slices.Contains(pair, b) {
			it.Emphasis = render.Ghost
		}
	}
}

// around places the bodies of a finding, emphasised, and what stands on the table.
func (sc *Scene) around(f *check.Finding) []render.Item {
	return sc.items(f.Params, sc.emphases([]check.Finding{*f}), onTable)
}

// closeUp shows the neighbourhood of a finding's nearest points; nil where
// none are known, and of a finding at a feature, which the picture of its operation shows.
func (sc *Scene) closeUp(r *check.Report, i int) *render.Picture {
	f := &r.Findings[i]
	a, b, ok := f.Witness()
	if !ok || atFeature(f) {
		return nil
	}
	if !swings(f) {
		if !sc.withTool(f) {
			return nil
		}
		p := sc.atTool(r, f)
		p.Title = heading(i+1, f)
		return p
	}
	gap := b.Sub(a)
	across := gap
	for _, m := range sc.setup.Matings {
		if i, j := f.Index[0], f.Index[1]; m.A == i && m.B == j || m.A == j && m.B == i {
			across = m.Lift // how far one has sunk into the other shows along it
		}
	}
	return &render.Picture{
		Lengths: lengthsOf(sc.lengths),
		Title:   heading(i+1, f),
		Caption: []string{r.Setup + ", " + sc.positions(f.Params)},
		Up:      sc.setup.Up,
		Items:   sc.around(f),
		Marks:   sc.marks(f),
		Close: &render.CloseUp{
			Center: a.Add(b).Mul(0.5), Across: across,
			Radius: max(1.5*gap.Norm(), sc.detail(f.Index, f.Params)),
		},
	}
}

// detail returns a radius that shows enough of the smaller of two bodies to
// recognise it.
func (sc *Scene) detail(bodies [2]int, p motion.Params) float64 {
	size := func(i int) float64 {
		s := sc.bounds(bodies[i], p).Size()
		return s.Norm()
	}
	return min(max(0.3*min(size(0), size(1)), 25), 150)
}

// marks points at where two bodies meet or are nearest.
func (sc *Scene) marks(f *check.Finding) []render.Mark {
	a, b, ok := f.Witness()
	if !ok {
		return nil
	}
	label, gap := "here", r3.Vector{}
	if f.Verdict != check.Contact && f.Smallest != nil {
		label = sc.lengths.Down(*f.Smallest) + " " + sc.lengths.Name()
		if f.Verdict == check.WithinPlay {
			label += " left"
		}
		gap = b.Sub(a)
	}
	return []render.Mark{{Point: a.Add(b).Mul(0.5), Label: label, Gap: gap}}
}

// heading names a finding as the report does.
func heading(number int, f *check.Finding) string {
	return fmt.Sprintf("%d  %s", number, subject(f))
}

// subject says what a finding is about, and its verdict.
func subject(f *check.Finding) string {
	words := f.Verdict.String()
	if f.Feature != "" {
		words = f.Operation + ", " + f.Feature + ", " + words
	}
	if f.Question == check.Gouging {
		return words + ": " + f.Bodies[0] + " and the finished surface of " + f.Bodies[1]
	}
	if f.Bodies[1] != "" {
		return words + ": " + f.Bodies[0] + " and " + f.Bodies[1]
	}
	return words
}
