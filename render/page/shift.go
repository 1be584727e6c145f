package page

func (p Point) shifted(scale, dx, dy float64) Point { return Point{p.X*scale + dx, p.Y*scale + dy} }

func (a Area) shifted(scale, dx, dy float64) Area {
	return Area{a.X0*scale + dx, a.Y0*scale + dy, a.X1*scale + dx, a.Y1*scale + dy}
}

func (t *Text) shifted(scale, dx, dy float64) Item {
	s := *t
	s.At = t.At.shifted(scale, dx, dy)
	s.Size *= scale
	return &s
}

func (p *Path) shifted(scale, dx, dy float64) Item {
	s := *p
	s.Width *= scale
	s.Lines = make([][]Point, len(p.Lines))
	for i, line := range p.Lines {
		s.Lines[i] = make([]Point, len(line))
		for k, q := range line {
			s.Lines[i][k] = q.shifted(scale, dx, dy)
		}
	}
	s.Dash = make([]float64, len(p.Dash))
	for i, d := range p.Dash {
		s.Dash[i] = d * scale
	}
	if p.Clip != nil {
		c := p.Clip.shifted(scale, dx, dy)
		s.Clip = &c
	}
	return &s
}

func (m *Image) shifted(scale, dx, dy float64) Item {
	s := *m
	s.Area = m.Area.shifted(scale, dx, dy)
	return &s
}

func (l *Link) shifted(scale, dx, dy float64) Item {
	s := *l
	s.Area = l.Area.shifted(scale, dx, dy)
	return &s
}
