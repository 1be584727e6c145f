package machine

// contour reads a path of tip positions with an axis at each of them.
func (r *reading) contour(t *contourTable) {
	f := Feature{Kind: Contour, TipControl: t.TipControl, InLayers: t.Layers}
	r.cuts(Contour)
	points, axes, listed := r.src.states(t.Path+".points"), r.src.states(t.Path+".axes"), r.src.states(t.Path+".list")
	switch {
	case listed && (points || axes):
		r.src.fault(t.Path+".list", "a list beside points or axes", "one of the two")
	case listed:
		r.listedContour(t, &f)
	case !points || !axes:
		r.src.fault(t.Path, "neither points and axes nor list", `points = [[x, y, z], ...] and axes = [[0, 0, 1], ...], or list = "file.csv"`)
	case len(t.Points) != len(t.Axes):
		r.src.fault(t.Path+".axes", count(len(t.Axes), "axis", "axes"), "%d, one for each point", len(t.Points))
	default:
		path := t.Path + ".axes"
		for i, p := range t.Points {
			f.Tips = append(f.Tips, r.unit.point(p))
			f.Axes = append(f.Axes, r.direction(r.src.line(path), path, t.Axes[i]))
		}
	}
	if r.src.any() {
		return
	}
	if len(f.Tips) < 2 {
		r.wrong(t.Path, count(len(f.Tips), "point", "points"), "two or more")
	}
	r.add(t.Path, t.Name, nil, false, f, f.Tips...)
}

// listedContour takes points and axes from a list, all of whose lines have both.
func (r *reading) listedContour(t *contourTable, f *Feature) {
	l := r.lists[t.Path]
	if l == nil {
		return // told already
	}
	for i := range l.rows {
		w := &l.rows[i]
		f.Tips = append(f.Tips, r.unit.point(w.at))
		f.Axes = append(f.Axes, r.direction(w.where, "axis", *w.axis))
	}
}
