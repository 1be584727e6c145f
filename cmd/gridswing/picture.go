package main

import (
	"context"
	"fmt"
	"image"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/render"
	"gridswing/render/ink"

	"github.com/golang/geo/r3"
	"github.com/spf13/cobra"
)

// pictureOptions are the flags of picture.
type pictureOptions struct {
	view, at, out, size, ground, cut string
	veils                            []string
	setupOnly, grey, swept, numbers  bool
	animate                          bool
}

func newPicture() *cobra.Command {
	var o pictureOptions
	cmd := &cobra.Command{
		Use:   "picture SETUP",
		Short: "Draw a setup, its axes where you want them",
		Long: `Draws a setup as it stands, checked or not, into a PNG file. Axes that --at
does not name stand at home. Guards and doors are drawn as a veil.

With --animate it looks at the swing first, as "gridswing check" does, and
draws an animated PNG that goes from home through the positions where bodies
meet or come nearest to each other, and back. It stands two seconds at each.`,
		Example: `  gridswing picture setups/op10.toml --at A=45,C=90 --out op10.png
  gridswing picture setups/op10.toml --view front --setup-only
  gridswing picture setups/op10.toml --setup-only --envelope --ground dark
  gridswing picture setups/op10.toml --cut X=120 --ghost trunnion --numbers
  gridswing picture setups/op10.toml --animate --out op10-critical.png`,
		Args: arguments(1, 1, "setup"),
		RunE: func(cmd *cobra.Command, args []string) error { return o.run(cmd, args[0]) },
	}
	cmd.ValidArgsFunction = completeFiles("toml")
	f := cmd.Flags()
	f.SortFlags = false
	f.StringVar(&o.view, "view", "isometric", "look from `VIEW`: isometric (default), front, right or top")
	f.StringVar(&o.at, "at", "", "put axes at `POSITIONS`, such as A=45,C=90 (degrees, mm)")
	f.StringVar(&o.out, "out", "", "write to `FILE` (default the setup's name with .png, in the current folder)")
	f.StringVar(&o.size, "size", fmt.Sprintf("%dx%d", render.DefaultWidth, render.DefaultHeight), fmt.Sprintf("draw so many pixels, `WxH` (default %dx%d)", render.DefaultWidth, render.DefaultHeight))
	f.BoolVar(&o.setupOnly, "setup-only", false, "leave out the machine but for its table")
	f.StringVar(&o.cut, "cut", "", "cut all that is shown by `PLANE`, such as X=120 (mm, bed frame), and take away what stands before it")
	f.StringSliceVar(&o.veils, "ghost", nil, "show `NAME`, a placed component or one body, as a veil (may be given again)")
	f.BoolVar(&o.swept, "envelope", false, "show the space that all that stands on rotary axes takes as they go over their commanded ranges")
	f.BoolVar(&o.numbers, "numbers", false, "number the placed components")
	f.StringVar(&o.ground, "ground", "light", "draw on `GROUND`: light (default) or dark")
	f.BoolVar(&o.grey, "grey", false, "draw in grey, as a black-and-white printer would")
	f.BoolVar(&o.animate, "animate", false, "look at the swing, and draw the way through its critical positions as an animated PNG of 960x720")
	var views []string
	for _, v := range render.Views() {
		views = append(views, string(v))
	}
	completeWords(cmd, "view", views...)
	completeWords(cmd, "ground", "light", "dark")
	return cmd
}

func (o *pictureOptions) run(cmd *cobra.Command, name string) error {
	ctx := cmd.Context()
	if o.out == "" {
		o.out = pictures.Stem(name) + ".png"
	} else if filepath.Ext(o.out) != ".png" {
		return wrong("", "--out: found %q, expected a name that ends in .png", o.out)
	}
	theme, err := parseGround(o.ground)
	if err != nil {
		return err
	}
	if o.animate {
		return o.animation(cmd, name, theme)
	}
	p, numbers, err := o.picture(cmd, name, theme)
	if err != nil {
		return err
	}
	img, err := p.Draw(ctx)
	if err != nil {
		return o.ofCut(err)
	}
	if o.grey {
		img = ink.Repainted(img, ink.Grey)
	}
	return o.write(ctx, cmd, img, numbers)
}

// picture makes the picture that is asked for, and says what its numbers stand for.
func (o *pictureOptions) picture(cmd *cobra.Command, name string, theme ink.Theme) (*render.Picture, []pictures.Numbered, error) {
	width, height, err := parseSize(o.size)
	if err != nil {
		return nil, nil, err
	}
	view, err := render.ParseView(o.view)
	if err != nil {
		return nil, nil, wrong(helpHint(cmd), "--view: %v", err)
	}
	plane, err := parseCut(o.cut)
	if err != nil {
		return nil, nil, err
	}
	setup, err := machine.Load(name)
	if err != nil {
		return nil, nil, err
	}
	at, err := parseAt(setup, o.at)
	if err != nil {
		return nil, nil, err
	}
	scene, err := pictures.Prepare(cmd.Context(), setup, 0)
	if err != nil {
		return nil, nil, err
	}
	show := scene.Whole
	if o.setupOnly {
		show = scene.Setup
	}
	p := show(at, view)
	p.Width, p.Height, p.Plane, p.Theme = width, height, plane, theme
	p.Caption = append(p.Caption, fmt.Sprintf("View: %s. Drawn as it stands, not checked.", view))
	names := scene.Names(p)
	if (o.swept || len(o.veils) > 0) && leaveOutVeils(p, o.veils) { // the nearer of two veils hides the other
		p.Caption = append(p.Caption, "Guards are left out, so that they hide no other veil.")
	}
	for _, veil := range o.veils {
		if !scene.Veil(p, veil) {
			return nil, nil, wrong("", "--ghost: found %q, expected one of: %s", veil, strings.Join(names, ", "))
		}
	}
	var numbers []pictures.Numbered
	if o.numbers {
		numbers = scene.Number(p)
		p.Caption = append(p.Caption, pictures.NumberWords(numbers, 110)...)
	}
	if o.swept {
		items, words, err := scene.Swept(at)
		if err != nil {
			return nil, nil, err
		}
		p.Items, p.Caption = append(p.Items, items...), append(p.Caption, words...)
	}
	return p, numbers, nil
}

// leaveOutVeils takes what is shown as a veil out of a picture, but what is asked for by name, and reports
// whether there was any.
func leaveOutVeils(p *render.Picture, asked []string) bool {
	n := len(p.Items)
	p.Items = slices.DeleteFunc(p.Items, func(it render.Item) bool {
		return it.Emphasis == render.Ghost && !slices.Contains(asked, it.Name)
	})
	return len(p.Items) < n
}

// write stores the picture and says what its numbers stand for.
func (o *pictureOptions) write(ctx context.Context, cmd *cobra.Command, img *image.RGBA, numbers []pictures.Numbered) error {
	if err := pictures.Write(ctx, o.out, img); err != nil {
		return err
	}
	words := fmt.Sprintf("Wrote %s\n", o.out)
	for _, n := range numbers {
		words += fmt.Sprintf("%4d  %s\n", n.Number, n.Name)
	}
	_, err := fmt.Fprint(cmd.OutOrStdout(), words)
	return err
}

// animation looks at the swing of a setup and draws the way through its critical positions.
func (o *pictureOptions) animation(cmd *cobra.Command, name string, theme ink.Theme) error {
	for _, flag := range []string{"view", "at", "size", "setup-only", "cut", "ghost", "envelope", "numbers", "grey"} {
		if cmd.Flags().Changed(flag) {
			return wrong(helpHint(cmd), "--animate, --%s: found both, expected one of them: an animation is of what stands on the table, seen from where all of it shows", flag)
		}
	}
	ctx := cmd.Context()
	line := progressOn(cmd.ErrOrStderr(), false)
	l := newLooker(0, line, check.SwingCheck)
	setup, err := l.load(name)
	if err != nil {
		return err
	}
	found, err := l.look(ctx, setup, &programOptions{})
	line.Clear()
	if err != nil {
		return err
	}
	scene, err := pictures.Prepare(ctx, setup, 0)
	if err != nil {
		return err
	}
	a := scene.Critical(found.report)
	if a == nil {
		return wrong("\"gridswing check\" tells what was looked at", "%s: found no position away from home at which anything comes near, expected one to go to", name)
	}
	a.Theme = theme
	if err := a.Write(ctx, o.out); err != nil {
		return err
	}
	_, err = fmt.Fprintf(cmd.OutOrStdout(), "Wrote %s\n", o.out)
	return err
}

func parseGround(name string) (ink.Theme, error) {
	switch name {
	case "light":
		return ink.Light, nil
	case "dark":
		return ink.Dark, nil
	}
	return ink.Theme{}, wrong("", "--ground: found %q, expected light or dark", name)
}

// plane is an axis of the bed and a place on it.
var plane = regexp.MustCompile(`^([XYZ])=([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+))$`)

// parseCut reads a plane such as "X=120"; nil if there is none.
func parseCut(text string) (*render.Plane, error) {
	if text == "" {
		return nil, nil
	}
	m := plane.FindStringSubmatch(text)
	if m == nil {
		return nil, wrong("", "--cut: found %q, expected X, Y or Z and mm in the bed frame, such as X=120", text)
	}
	at, err := strconv.ParseFloat(m[2], 64)
	if err != nil || math.Abs(at) > 1e6 {
		return nil, wrong("", "--cut: found %q, expected a place within a kilometre", text)
	}
	axis := map[string]r3.Vector{"X": {X: 1}, "Y": {Y: 1}, "Z": {Z: 1}}[m[1]]
	return &render.Plane{Name: m[1], Normal: axis, At: at}, nil
}

// ofCut words what cannot be drawn as a fault of the call, where a cut was asked for.
func (o *pictureOptions) ofCut(err error) error {
	if o.cut == "" {
		return err
	}
	return wrong("", "--cut: %v", err)
}

var sizeForm = regexp.MustCompile(`^([1-9][0-9]{0,4})x([1-9][0-9]{0,4})$`)

// parseSize reads a size such as 1600x1200.
func parseSize(s string) (width, height int, err error) {
	const least, most = 200, 20000
	if m := sizeForm.FindStringSubmatch(s); m != nil {
		width, _ = strconv.Atoi(m[1]) // at most five digits
		height, _ = strconv.Atoi(m[2])
	}
	if min(width, height) < least || max(width, height) > most {
		return 0, 0, wrong("", "--size: found %q, expected width and height, %d to %d pixels each, such as 1600x1200", s, least, most)
	}
	return width, height, nil
}
