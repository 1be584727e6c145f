package pictures

import (
	"context"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"gridswing/cmd/gridswing/internal/files"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/geom/motion"
	"gridswing/machine/check"
	"gridswing/render"
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
//	STEM-worst-position.png  the setup where the worst finding happens, one
//	                         while axes move if there is any
//	STEM-finding-1.png ...   close-ups of the first findings
//
// Pictures of these names that an earlier check left there, and that this
// one has no reason to draw, are removed: they would tell of another setup.
func (sc *Scene) WriteSet(ctx context.Context, r *check.Report, dir string) ([]string, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, err
	}
	stem := filepath.Join(dir, Stem(sc.setup.File))
	sheets := sc.set(r)
	names := make([]string, len(sheets))
	for i := range sheets {
		names[i] = stem + "-" + sheets[i].name + ".png"
	}
	if err := removeStale(stem, names); err != nil {
		return nil, err
	}
	err := inParallel(ctx, sc.jobs, len(sheets), func(i int) error {
		i = len(sheets) - 1 - i // close-ups, at the end, take longest: they go first
		img, err := sheets[i].draw(ctx)
		if err != nil {
			return err
		}
		return Write(ctx, names[i], img)
	})
	return names, err
}

// Write stores a picture, whole or not at all.
func Write(ctx context.Context, path string, img *image.RGBA) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	return files.Whole(path, func(path string) error { return render.WritePNG(path, img) })
}

// removeStale removes the pictures that a set could have and these names lack.
func removeStale(stem string, names []string) error {
	keep := map[string]bool{}
	for _, n := range names {
		keep[n] = true
	}
	could := []string{"swing-chart", "worst-position"}
	for i := range closeUps {
		could = append(could, findingName(i))
	}
	for _, c := range could {
		name := stem + "-" + c + ".png"
		if keep[name] {
			continue
		}
		if err := os.Remove(name); err != nil && !os.IsNotExist(err) {
			return err
		}
	}
	return nil
}

func findingName(i int) string { return fmt.Sprintf("finding-%d", i+1) }

// set lists the pictures of a report.
func (sc *Scene) set(r *check.Report) []sheet {
	add := func(list []sheet, name string, p *render.Picture) []sheet {
		p.Workers = 1 // the pictures are drawn side by side
		return append(list, sheet{name, p.Draw})
	}
	list := add(nil, "setup", sc.atRest(r, sc.Setup))
	list = add(list, "machine", sc.atRest(r, sc.Whole))
	if r.Chart != nil {
		list = append(list, sheet{"swing-chart", sc.chart(r).Draw})
	}
	if i := moved(r.Findings); i >= 0 {
		list = add(list, "worst-position", sc.worst(r, i))
	}
	for i := range r.Findings[:min(closeUps, len(r.Findings))] {
		if p := sc.closeUp(r, i); p != nil {
			list = add(list, findingName(i), p)
		}
	}
	return list
}

// emphasisOf is how bodies of a finding with a verdict are drawn.
var emphasisOf = map[check.Verdict]render.Emphasis{
	check.Contact:    render.Contact,
	check.OverTravel: render.Contact,
	check.WithinPlay: render.WithinPlay,
	check.Unproven:   render.Unproven,
	check.Tight:      render.Tight,
}

// emphases says how to draw the bodies of findings, by the worst of each.
func emphases(findings []check.Finding) map[int]render.Emphasis {
	list := map[int]render.Emphasis{}
	for i := range findings {
		e := emphasisOf[findings[i].Verdict]
		for _, body := range findings[i].Index {
			list[body] = max(list[body], e)
		}
	}
	return list
}

// atRest shows the setup, or the whole, with every axis at home. Only what meets
// there is emphasised.
func (sc *Scene) atRest(r *check.Report, show func(motion.Params, render.View) *render.Picture) *render.Picture {
	p := show(Home(sc.setup), render.Isometric)
	meet := emphases(slices.DeleteFunc(slices.Clone(r.Findings), func(f check.Finding) bool { return f.Question != check.Rest }))
	for i := range p.Items {
		if e := meet[sc.body(p.Items[i].Name)]; e != render.Plain {
			p.Items[i].Emphasis = e
		}
	}
	p.Title = fmt.Sprintf("%s: %s", r.Setup, r.Verdict)
	p.Caption = append(p.Caption, "Every axis at home.")
	return p
}

// moved returns the index of the first finding that happens while axes move: one
// at rest is to be seen in the pictures of the setup at rest. Without any it is
// the first of all, -1 for none.
func moved(findings []check.Finding) int {
	i := slices.IndexFunc(findings, func(f check.Finding) bool { return f.Question != check.Rest })
	if i < 0 && len(findings) > 0 {
		return 0
	}
	return i
}

// worst shows what stands on the table, and what it meets, where it does. Units
// that have no part in it are a veil, so that they hide nothing.
func (sc *Scene) worst(r *check.Report, i int) *render.Picture {
	f := &r.Findings[i]
	p := &render.Picture{
		Title:   heading(i+1, f),
		Caption: []string{r.Setup + ", " + sc.positions(f.Params)},
		Up:      sc.setup.Up,
		Items:   sc.around(f),
		Marks:   marks(f),
	}
	var units []string
	for _, body := range f.Index {
		units = append(units, sc.setup.Bodies[body].Unit)
	}
	for k := range p.Items {
		it := &p.Items[k]
		if unit := sc.setup.Bodies[sc.body(it.Name)].Unit; unit != "machine" && !slices.Contains(units, unit) {
			it.Emphasis = render.Ghost
		}
	}
	return p
}

// around places the bodies of a finding, emphasised, and what stands on the table.
func (sc *Scene) around(f *check.Finding) []render.Item {
	return sc.items(f.Params, emphases([]check.Finding{*f}), onTable)
}

// closeUp shows the neighbourhood of a finding's nearest points; nil where
// none are known.
func (sc *Scene) closeUp(r *check.Report, i int) *render.Picture {
	f := &r.Findings[i]
	a, b, ok := f.Witness()
	if !ok {
		return nil
	}
	gap := b.Sub(a)
	across := gap
	for _, m := range sc.setup.Matings {
		if i, j := f.Index[0], f.Index[1]; m.A == i && m.B == j || m.A == j && m.B == i {
			across = m.Lift // how far one has sunk into the other shows along it
		}
	}
	return &render.Picture{
		Title:   heading(i+1, f),
		Caption: []string{r.Setup + ", " + sc.positions(f.Params)},
		Up:      sc.setup.Up,
		Items:   sc.around(f),
		Marks:   marks(f),
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
func marks(f *check.Finding) []render.Mark {
	a, b, ok := f.Witness()
	if !ok {
		return nil
	}
	label := "here"
	if f.Verdict != check.Contact && f.Smallest != nil {
		label = text.Down(*f.Smallest) + " mm"
		if f.Verdict == check.WithinPlay {
			label += " left"
		}
	}
	return []render.Mark{{Point: a.Add(b).Mul(0.5), Label: label}}
}

// heading names a finding as the report does.
func heading(number int, f *check.Finding) string {
	return fmt.Sprintf("%d  %s: %s and %s", number, f.Verdict, f.Bodies[0], f.Bodies[1])
}
