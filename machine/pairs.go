package machine

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// mostSeats bounds a list of seats: nobody could look at more of them.
const mostSeats = 100_000

// allNames lists the labels of all holes, a centre bore last.
func (g *grid) allNames() []string {
	list := g.names()
	if _, ok := g.hole(centreHole); ok {
		list = append(list, centreHole)
	}
	return list
}

// apart lists the pairs of different holes whose distance is within so much of another, mm,
// as indices into allNames, in their order; an error if there are more than most.
func (g *grid) apart(distance, within float64, most int) (list [][2]int, err error) {
	within += 2e-6 // rounding is for whoever asks
	add := func(a, b int) bool {
		if a >= 0 && b >= 0 && a != b {
			list = append(list, [2]int{a, b})
		}
		return len(list) <= most
	}
	near := func(d float64) bool { return math.Abs(d-distance) <= within }
	if len(g.rings) > 0 {
		g.apartOnRings(near, add)
	} else {
		g.apartInRows(near, add)
	}
	if len(list) > most {
		return nil, fmt.Errorf("more than %d pairs of holes of grid %q in which it could stand", most, g.name)
	}
	slices.SortFunc(list, func(a, b [2]int) int { return cmp.Or(a[0]-b[0], a[1]-b[1]) })
	return list, nil
}

// indices returns where each hole is in names, by row and column of the whole pattern; -1
// for one that is omitted.
func (g *grid) indices(columns, rows int) []int {
	list := make([]int, columns*rows)
	next := 0
	for row := range rows {
		for column := range columns {
			i := row*columns + column
			if g.omit[fmt.Sprintf("%s%d", columnLetters(column), row+1)] {
				list[i] = -1
				continue
			}
			list[i] = next
			next++
		}
	}
	return list
}

// apartInRows adds the pairs of a rectangular pattern: all that are as far apart in columns
// and rows.
func (g *grid) apartInRows(near func(float64) bool, add func(a, b int) bool) {
	index := g.indices(g.columns, g.rows)
	for rows := 1 - g.rows; rows < g.rows; rows++ {
		for columns := 1 - g.columns; columns < g.columns; columns++ {
			if !near(math.Hypot(float64(columns)*g.pitch[0], float64(rows)*g.pitch[1])) {
				continue
			}
			for row := max(0, -rows); row < min(g.rows, g.rows-rows); row++ {
				for column := max(0, -columns); column < min(g.columns, g.columns-columns); column++ {
					if !add(index[row*g.columns+column], index[(row+rows)*g.columns+column+columns]) {
						return
					}
				}
			}
		}
	}
}

// apartOnRings adds the pairs of a polar pattern: all that are on two rings and as many
// numbers apart.
func (g *grid) apartOnRings(near func(float64) bool, add func(a, b int) bool) {
	rings := len(g.rings)
	index := g.indices(rings, g.perRing)
	for i, r := range g.rings {
		for k, q := range g.rings {
			for n := range g.perRing {
				sin, cos := math.Sincos(2 * math.Pi * float64(n) / float64(g.perRing))
				if !near(math.Hypot(q*cos-r, q*sin)) {
					continue
				}
				for row := range g.perRing {
					if !add(index[row*rings+i], index[(row+n)%g.perRing*rings+k]) {
						return
					}
				}
			}
		}
	}
	if _, ok := g.hole(centreHole); !ok {
		return
	}
	centre := len(g.names())
	for i, r := range g.rings {
		if !near(r) {
			continue
		}
		for row := range g.perRing {
			if !add(index[row*rings+i], centre) || !add(centre, index[row*rings+i]) {
				return
			}
		}
	}
}
