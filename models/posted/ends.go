package main

import (
	"fmt"
	"math"
	"slices"

	"gridswing/geom/motion"
	"gridswing/machine"

	"github.com/golang/geo/r3"
)

// The ends of the walls: two slopes that meet in a hollow edge, 9 wide from 17 on. The ball goes
// down and up them in rows.
const (
	rowsFrom, rowsTo = 17.0, 26.0
	rowCount         = 11
	pointEvery       = 2.0  // mm
	leanMost         = 0.15 // of the tool to the side, as the tangent of the angle
	ballUp           = 45.0 // how far above a row the tool goes from one end to the next
	beyondTop        = 4.0  // how far above the upper edge rows begin
	// Beside the jaws, which are 20 high and 30 from the middle, the ball stays in the block's own
	// width less clearRow; farther out it stays above them by as much.
	jawFace, jawTop, clearRow = 30.0, 20.0, 2.5
)

// profile is what the ball's centre goes along in the plane of one row, from the top down:
// beside both slopes it is as far from them as its radius.
type profile struct {
	points  []r3.Vector // in the plane X = 0
	normals []r3.Vector // of the slopes at these points
}

// profileOf finds the path of the centre from a feature's tips and axes, of which the first
// two are on the upper slope and the last two on the lower one, or the other way round.
func profileOf(f *machine.Feature, radius float64) profile {
	tips, axes := f.Tips, f.Axes
	n := len(tips)
	upper, lower := [2]r3.Vector{tips[0], tips[1]}, [2]r3.Vector{tips[n-2], tips[n-1]}
	nu, nl := axes[0], axes[n-1]
	if tips[0].Z < tips[n-1].Z {
		upper, lower, nu, nl = [2]r3.Vector{tips[n-1], tips[n-2]}, [2]r3.Vector{tips[1], tips[0]}, axes[n-1], axes[0]
	}
	flat := func(p, normal r3.Vector) r3.Vector {
		p.X = 0
		return p.Add(normal.Mul(radius))
	}
	a, b := flat(upper[0], nu), flat(upper[1], nu)
	c, d := flat(lower[0], nl), flat(lower[1], nl)
	a = a.Add(a.Sub(b).Normalize().Mul(beyondTop))
	// Where the two lines meet, in the plane of Y and Z.
	u, v := b.Sub(a), d.Sub(c)
	s := (c.Sub(a)).Cross(v).X / u.Cross(v).X
	edge := a.Add(u.Mul(s))
	var p profile
	add := func(from, to, normal r3.Vector, last bool) {
		steps := int(math.Ceil(to.Sub(from).Norm() / pointEvery))
		for i := range steps {
			p.points = append(p.points, from.Add(to.Sub(from).Mul(float64(i)/float64(steps))))
			p.normals = append(p.normals, normal)
		}
		if last {
			p.points, p.normals = append(p.points, to), append(p.normals, normal)
		}
	}
	add(a, edge, nu, false)
	add(edge, d, nl, true)
	return p
}

// posture is where the tip is and how the tool leans.
type posture struct{ tip, axis r3.Vector }

// row returns the row at x, from the top down or upward: the tool leans away from the middle above and
// towards it below.
func (p *profile) row(x float64, upward bool, radius float64) []posture {
	n := len(p.points)
	var list []posture
	for k := range n {
		centre := p.points[k]
		if math.Abs(x)+radius > jawFace-clearRow && centre.Z-radius < jawTop+clearRow {
			break
		}
		centre.X = x
		lean := r3.Vector{X: math.Copysign(leanMost, x) * math.Cos(math.Pi*float64(k)/float64(n-1))}
		axis := p.smooth(k).Add(lean).Normalize()
		list = append(list, posture{centre.Sub(axis.Mul(radius)), axis})
	}
	if upward {
		slices.Reverse(list)
	}
	return list
}

// smooth is the normal at a point as the tool follows it: evenly from one slope to the other
// over some points, while the centre goes on beside both.
func (p *profile) smooth(k int) r3.Vector {
	const either = 3
	var sum r3.Vector
	for i := k - either; i <= k+either; i++ {
		sum = sum.Add(p.normals[min(max(i, 0), len(p.normals)-1)])
	}
	return sum.Normalize()
}

// wallEnd finishes one end of a wall with the tip led in the part. First says that the tool is
// up and the table not turned yet.
func (j *job) wallEnd(f *machine.Feature, first bool) error {
	radius := j.tool.Cutter.DC / 2
	p := profileOf(f, radius)
	side := math.Copysign(1, f.Tips[0].X)
	rows := make([][]posture, rowCount)
	for i := range rows {
		rows[i] = p.row(side*(rowsFrom+(rowsTo-rowsFrom)*float64(i)/(rowCount-1)), i%2 == 1, radius)
	}
	begin := rows[0][0]
	at, err := j.leaning(begin, nil)
	if err != nil {
		return err
	}
	if first {
		j.rapid(j.rotary(at)...)
		j.line("G271 H%d", j.tool.Number)
		high, err := j.high(at, begin.tip, j.tool.LPR())
		if err != nil {
			return err
		}
		j.rapid(append(j.led(high), j.rotary(at)...)...)
	}
	j.rapid(append(j.led(begin.tip.Add(begin.axis.Mul(ballUp))), j.rotary(at)...)...)
	j.rapid(j.led(begin.tip.Add(begin.axis.Mul(j.op.Approach)))...)
	feed := data[j.tool.Number].feed
	for _, row := range rows {
		for _, q := range row {
			if at, err = j.leaning(q, &at); err != nil {
				return err
			}
			j.cut(feed, append(j.led(q.tip), j.rotary(at)...)...)
		}
	}
	end := rows[rowCount-1][len(rows[rowCount-1])-1]
	j.cut(feed, j.led(end.tip.Add(end.axis.Mul(ballUp-10)))...)
	j.rapid(j.led(end.tip.Add(end.axis.Mul(ballUp)))...)
	return nil
}

// led are the words of a tip under tip control, whose coordinates have the directions of X, Y and Z with
// the rotary axes at zero.
func (j *job) led(tip r3.Vector) []word {
	at := view{part: j.setup.Parts[0].Chain.Pose(motion.Params{})}
	return xyz(at.to(tip))
}

// leaning returns the rotary position of a posture: the one nearest to the last one; without a
// last one, that with the greater A, and C from 0 to 360 degrees.
func (j *job) leaning(q posture, last *motion.Params) (motion.Params, error) {
	if last == nil {
		v, err := j.present(q.axis)
		return v.at, err
	}
	best, least := motion.Params{}, math.Inf(1)
	for _, s := range j.kin.Present(q.axis, *last) {
		for _, p := range j.kin.Turns(s, *last) {
			if d := math.Hypot(p[j.a]-last[j.a], p[j.c]-last[j.c]); d < least && s.Miss == 0 {
				best, least = p, d
			}
		}
	}
	if math.IsInf(least, 1) {
		return best, fmt.Errorf("no rotary position for %v", q.axis)
	}
	return best, nil
}
