package main

import (
	"fmt"
	"math"
	"strings"

	"gridswing/geom/motion"
	"gridswing/machine"

	"github.com/golang/geo/r3"
)

// offset writes a work offset as words, of all axes.
func (w *shop) offset(o *motion.Params) string {
	var b strings.Builder
	for k := range w.setup.Axes {
		v := o[k]
		if w.setup.Axes[k].Kind == motion.Rotary {
			v *= 180 / math.Pi
		}
		fmt.Fprintf(&b, " %s%s", w.setup.Axes[k].Letter, number(v))
	}
	return b.String()
}

// offsetOneHoleOff is the work offset of the part, nominal and at rotary zero, as if the vise stood
// one hole farther out along its screw: one pitch of the riser's holes less along Y.
func offsetOneHoleOff(s *machine.Setup) (*motion.Params, error) {
	w, err := newShop(s)
	if err != nil {
		return nil, err
	}
	var zero motion.Params
	at, err := w.kin.Linear(zero, r3.Vector{}, 0)
	if err != nil {
		return nil, err
	}
	for k := range s.Axes {
		if s.Axes[k].Letter == "Y" {
			const pitch = 50
			at[k] -= pitch
		}
	}
	return &at, nil
}
