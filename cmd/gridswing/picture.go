package main

import (
	"fmt"
	"path/filepath"
	"regexp"
	"strconv"

	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/machine"
	"gridswing/render"

	"github.com/spf13/cobra"
)

// pictureOptions are the flags of picture.
type pictureOptions struct {
	view, at, out, size string
	setupOnly           bool
}

func newPicture() *cobra.Command {
	var o pictureOptions
	cmd := &cobra.Command{
		Use:   "picture SETUP",
		Short: "Draw a setup, its axes where you want them",
		Long: `Draws a setup as it stands, checked or not, into a PNG file. Axes that --at
does not name stand at home. Guards and doors are drawn as a veil.`,
		Example: `  gridswing picture setups/op10.toml --at A=45,C=90 --out op10.png
  gridswing picture setups/op10.toml --view front --setup-only`,
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
	var views []string
	for _, v := range render.Views() {
		views = append(views, string(v))
	}
	completeWords(cmd, "view", views...)
	return cmd
}

func (o *pictureOptions) run(cmd *cobra.Command, name string) error {
	ctx := cmd.Context()
	width, height, err := parseSize(o.size)
	if err != nil {
		return err
	}
	view, err := render.ParseView(o.view)
	if err != nil {
		return wrong(helpHint(cmd), "--view: %v", err)
	}
	if o.out == "" {
		o.out = pictures.Stem(name) + ".png"
	} else if filepath.Ext(o.out) != ".png" {
		return wrong("", "--out: found %q, expected a name that ends in .png", o.out)
	}
	setup, err := machine.Load(name)
	if err != nil {
		return err
	}
	at, err := parseAt(setup, o.at)
	if err != nil {
		return err
	}
	scene, err := pictures.Prepare(ctx, setup, 0)
	if err != nil {
		return err
	}
	show := scene.Whole
	if o.setupOnly {
		show = scene.Setup
	}
	p := show(at, view)
	p.Width, p.Height = width, height
	p.Caption = append(p.Caption, fmt.Sprintf("View: %s. Drawn as it stands, not checked.", view))
	img, err := p.Draw(ctx)
	if err != nil {
		return err
	}
	if err := pictures.Write(ctx, o.out, img); err != nil {
		return err
	}
	_, err = fmt.Fprintf(cmd.OutOrStdout(), "Wrote %s\n", o.out)
	return err
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
