package chart

import (
	"fmt"
	"math"

	"gridswing/render/ink"
)

// plate returns an invented plate of lettered columns and numbered rows, and on it a unit
// on two pins that are span pitches apart, in the given orientations.
func plate(columns, rows, span int, turns ...float64) *SeatMap {
	const pitch = 50
	m := &SeatMap{Title: "Where the trunnion can stand on the plate", Caption: []string{"Each mark is the middle between the two pins. Demanded clearance 2 mm."}}
	for c := range columns {
		m.Columns = append(m.Columns, Label{string(rune('A' + c)), pitch * float64(c)})
	}
	for r := range rows {
		m.Rows = append(m.Rows, Label{fmt.Sprint(r + 1), pitch * float64(r)})
		for c := range columns {
			m.Holes = append(m.Holes, Hole{fmt.Sprintf("%c%d", 'A'+c, r+1), pitch * float64(c), pitch * float64(r)})
		}
	}
	for _, t := range turns {
		sin, cos := math.Sincos(t * math.Pi / 180)
		dc, dr := int(math.Round(cos))*span, int(math.Round(sin))*span
		for c := range columns {
			for r := range rows {
				if c+dc < 0 || c+dc >= columns || r+dr < 0 || r+dr >= rows {
					continue
				}
				a, b := m.Holes[r*columns+c], m.Holes[(r+dr)*columns+c+dc]
				x, y := (a.X+b.X)/2, (a.Y+b.Y)/2
				s := Seat{X: x, Y: y, Turned: t}
				s.Name = fmt.Sprintf("%s, %s turned %g°", a.Name, b.Name, t)
				s.Choice = judged(s.Name, 3-math.Hypot(x-350, y-180)/90-t/200)
				m.Seats = append(m.Seats, s)
			}
		}
	}
	return m
}

// judged is an invented candidate with about so much of what is demanded.
func judged(name string, share float64) Choice {
	c := Choice{Name: name, Share: share, State: Clear}
	switch {
	case share < -0.7:
		c.State = OverTravel
	case share < -0.5:
		c.State = Unproven
	case share < 0:
		c.State = Contact
	case share < 0.2:
		c.State = WithinPlay
	case share < 1:
		c.State = Tight
	case share > 1.7 && share < 1.9:
		c.GivenUp = true
	}
	return c
}

// wheel returns an invented faceplate of rings of holes, a unit on two neighbours of a ring.
func wheel(rings, perRing int) *SeatMap {
	m := &SeatMap{Title: "Where the vise can stand on the faceplate"}
	at := func(ring, k int) ink.Point {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(perRing))
		radius := 40 + 35*float64(ring)
		return ink.Point{X: radius * cos, Y: radius * sin}
	}
	for r := range rings {
		for k := range perRing {
			p, q := at(r, k), at(r, (k+1)%perRing)
			m.Holes = append(m.Holes, Hole{fmt.Sprintf("%c%d", 'A'+r, k+1), p.X, p.Y})
			turned := 360 * float64(k) / float64(perRing)
			name := fmt.Sprintf("%c%d, %c%d", 'A'+r, k+1, 'A'+r, (k+1)%perRing+1)
			m.Seats = append(m.Seats, Seat{Choice: judged(name, 2.6-math.Abs(turned-150)/80), X: (p.X + q.X) / 2, Y: (p.Y + q.Y) / 2, Turned: turned})
		}
	}
	return m
}

// rank gives ranks to some, and makes one the present one.
func rank(list []*Choice, present int, best ...int) {
	list[present].Present = true
	for i, b := range best {
		list[b].Rank = i + 1
	}
}
