package program

import (
	"gridswing/geom/motion"
)

// drill adds steps of a hole, and returns false once all holes are done: each call those of one peck at most, so
// that no hole needs more memory than another.
func (in *interpreter) drill(h *hole) (bool, error) {
	if h.left == 0 {
		return false, nil
	}
	var err error
	switch h.stage {
	case approaching:
		h.stage, h.depth = cutting, 0
		if h.code == 870 {
			h.stage = leaving
		}
		err = in.approach(h)
	case cutting:
		err = in.peck(h)
	case leaving:
		if h.stage = approaching; h.code == 870 {
			err = in.backBore(h)
		} else {
			err = in.drawOut(h)
		}
		h.left--
		for k := range h.at {
			h.at[k] += h.step[k]
		}
	}
	return true, err
}

// to returns the coordinates of the hole at a level.
func (h *hole) to(level float64) motion.Params {
	p := h.at
	p[h.third] = level
	return p
}

// aside returns the same with the tool shifted.
func (h *hole) aside(level float64) motion.Params {
	p := h.to(level)
	p[h.first] += h.shift[0]
	p[h.second] += h.shift[1]
	return p
}

// approach goes across to the hole and down to where the tool is fed. From below that level it goes up
// first by NISTIR 6556, sec. 3.5.16.1, across first on other controls: anywhere between.
func (in *interpreter) approach(h *hole) error {
	from := in.at[h.third]
	if from >= h.clear {
		if err := in.rapid(h.to(from)); err != nil {
			return err
		}
		return in.rapid(h.to(h.clear))
	}
	across := h.at[h.first] != in.at[h.first] || h.at[h.second] != in.at[h.second]
	if across && in.control != plainControl && in.control != carriedZero {
		return in.faultAt(motionG, "R no higher than where the tool stands: controls differ in whether they go up or across first")
	}
	before := len(in.queue)
	if err := in.rapid(h.to(h.clear)); err != nil {
		return err
	}
	if across && len(in.queue) > before {
		in.queue[before].Legs[0].Box = true
	}
	return nil
}

// peck feeds to the next depth, and back from it unless it is the bottom.
func (in *interpreter) peck(h *hole) error {
	to, last := h.nextPeck()
	if h.way.threads != 0 {
		if err := in.turningBy(h.way.threads, Feed, h.to(to), true); err != nil {
			return err
		}
	} else if err := in.feedTo(h.to(to)); err != nil {
		return err
	}
	h.depth++
	if last {
		h.stage = leaving
		if h.way.dwells {
			return in.pause(Dwell, h.seconds)
		}
		return nil
	}
	if h.way.breaks {
		return in.rapid(h.to(min(to+*in.rules.ChipBreak, h.clear)))
	}
	if err := in.rapid(h.to(h.clear)); err != nil {
		return err
	}
	return in.rapid(h.to(min(to+*in.rules.PeckClear, h.clear)))
}

// drawOut leaves the hole. What is fed out is fed to where it was fed from, and goes on in rapid: some
// controls feed all the way, which is the same way.
func (in *interpreter) drawOut(h *hole) error {
	switch {
	case h.way.threads != 0:
		if err := in.turningBy(-h.way.threads, Feed, h.to(h.clear), true); err != nil {
			return err
		}
	case h.way.feedsOut:
		if err := in.feedTo(h.to(h.clear)); err != nil {
			return err
		}
	case h.way.shifts:
		for _, p := range []motion.Params{h.aside(h.bottom), h.aside(h.out)} {
			if err := in.turningBy(0, Rapid, p, false); err != nil {
				return err
			}
		}
	case h.way.stops:
		return in.turningBy(0, Rapid, h.to(h.out), false)
	}
	return in.rapid(h.to(h.out))
}

// backBore goes down aside with the spindle stopped, bores upwards, and leaves the same way
// (G87: NISTIR 6556, sec. 3.5.16.8).
func (in *interpreter) backBore(h *hole) error {
	still := func(places ...motion.Params) error {
		for _, p := range places {
			if err := in.turningBy(0, Rapid, p, false); err != nil {
				return err
			}
		}
		return nil
	}
	if err := in.rapid(h.aside(h.clear)); err != nil {
		return err
	}
	if err := still(h.aside(h.bottom), h.to(h.bottom)); err != nil {
		return err
	}
	for _, level := range []float64{h.back, h.bottom} {
		if err := in.feedTo(h.to(level)); err != nil {
			return err
		}
	}
	return still(h.aside(h.bottom), h.aside(h.out), h.to(h.out))
}

// turningBy is a straight move with the spindle turning otherwise than the program has said.
func (in *interpreter) turningBy(turning int, kind Kind, to motion.Params, thread bool) error {
	before := in.turning
	in.turning = turning
	err := in.straight(kind, to, thread)
	in.turning = before
	return err
}
