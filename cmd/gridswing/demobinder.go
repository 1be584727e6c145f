package main

import (
	"context"
	"errors"
	"fmt"
	"path"
	"path/filepath"

	"gridswing/cmd/gridswing/internal/binder"
	"gridswing/machine"
	"gridswing/models"
	"gridswing/render/page"
)

// bindDemo makes a binder of what was found of the demo's setups, by their files, without looking
// at them once more.
func bindDemo(ctx context.Context, dir string, l *looker, found map[string]*looked) error {
	o := &binderOptions{paper: []string{page.A4.Name}, formats: []page.Format{page.A4}}
	o.Args, o.Out = []string{filepath.Join(dir, path.Dir(models.GoodSetup))}, filepath.Join(dir, demoBinder)
	o.Settings = fmt.Sprintf("%s; as the demo looks at programs, in cells of %d mm", o.settings(), demoCell)
	b := newBinderer(o)
	b.looker = l
	b.check = func(ctx context.Context, l *looker, s *machine.Setup, inputs *binder.Inputs) (*looked, error) {
		f := found[s.File]
		if f == nil { // one that somebody put there
			return withProgram(ctx, l, s, inputs)
		}
		if f.program.file == "" {
			return f, nil
		}
		sum, err := binder.SumOf(f.program.file)
		if err != nil {
			return nil, err
		}
		return f, inputs.Add(f.program.file, sum)
	}
	s, err := b.run(ctx)
	if err != nil {
		return err
	}
	return errors.Join(s.Faults()...)
}
