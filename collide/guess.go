package collide

import (
	"math"

	"gridswing/geom/motion"
)

// The nearer the nearest position seen, the less has to be proven: so a search
// begins with a guess, and its end is made exact by another look at where it was.

// guess looks at a few positions and then downhill from the nearest, so that
// most of the range is proven against a good bound at once.
func (s *search) guess(over motion.Box) {
	p := s.main
	if s.limits.quick || !s.short() {
		p.probe(over.Center())
		p.descend(&over, 0.5)
		return
	}
	const perParam = 3
	at := over.Lo
	p.grid(&over, 0, perParam, &at)
	p.descend(&over, 0.5/perParam)
}

func (p *prover) grid(over *motion.Box, k, perParam int, at *motion.Params) {
	if k == motion.MaxParams {
		p.probe(*at)
		return
	}
	if over.Lo[k] == over.Hi[k] {
		p.grid(over, k+1, perParam, at)
		return
	}
	for i := range perParam {
		at[k] = over.Lo[k] + (over.Hi[k]-over.Lo[k])*(float64(i)+0.5)/float64(perParam)
		p.grid(over, k+1, perParam, at)
	}
}

// descend is a compass search from the best position: one step along each
// parameter either way, halved when none is better (Kolda, Lewis, Torczon,
// "Optimization by direct search", SIAM Review 45(3), 2003). step is a share of
// the range.
func (p *prover) descend(over *motion.Box, step float64) {
	for rounds := 0; step > 1e-4 && rounds < 40 && p.best.Upper > 0 && !math.IsInf(p.best.Upper, 1); rounds++ {
		before := p.best.Upper
		p.slideTogether(over)
		from := p.best.At
		for k := range from {
			width := over.Hi[k] - over.Lo[k]
			for _, sign := range [2]float64{-1, 1} {
				at := from
				at[k] = max(over.Lo[k], min(over.Hi[k], at[k]+sign*step*width))
				if at[k] != from[k] {
					p.probe(at)
				}
			}
		}
		if p.best.Upper >= before-p.limits.tolerance(before)/4 {
			step /= 2
		}
	}
}

// twoSlides reports whether two or more parameters move linear joints.
func (p *prover) twoSlides() bool {
	n := 0
	for _, slides := range p.slides {
		if slides {
			n++
		}
	}
	return n > 1
}

// slideTogether slides from the best position.
func (p *prover) slideTogether(over *motion.Box) {
	if at := p.slide(over, p.best.At, &p.best.Near); at != p.best.At {
		p.probe(at)
	}
}

// slideWithin slides from the middle of a box: where one body is above the
// other, that is about as near as they get in it.
func (p *prover) slideWithin(bx *motion.Box) {
	at := bx.Center()
	pose := p.chain.Pose(at)
	near := p.distance(p.a, p.b, &pose, math.Inf(1))
	p.probe(p.slide(bx, at, &near))
}

// slide moves the linear axes from a position so that the nearest points there
// come to stand square over each other, as far as the range allows.
func (p *prover) slide(over *motion.Box, at motion.Params, near *Nearest) motion.Params {
	apart := near.B.Sub(near.A)
	here := p.chain.Pose(at)
	to := at
	for k := range at {
		if over.Lo[k] == over.Hi[k] || !p.slides[k] {
			continue
		}
		there := at
		there[k]++
		pose := p.chain.Pose(there)
		way := pose.T.Sub(here.T) // of one unit of the parameter, whatever its gain
		if long := way.Norm2(); long > 0 {
			to[k] = max(over.Lo[k], min(over.Hi[k], to[k]-apart.Dot(way)/long))
		}
	}
	return to
}

// probe asks for the exact distance at one position, to have a good first
// guess of the smallest clearance.
func (p *prover) probe(at motion.Params) {
	pose := p.chain.Pose(at)
	limit := p.best.Upper + p.margin
	if p.hasSlack && !math.IsInf(limit, 1) {
		limit += p.largestSlack()
	}
	near := p.distance(p.a, p.b, &pose, limit)
	if math.IsInf(near.Distance, 1) {
		return
	}
	if worst := p.worst(&at, &near); worst < p.best.Upper {
		p.best.Upper, p.best.Nominal, p.best.At = worst, near.Distance, at
		p.best.Contact = near.Distance == 0
		p.best.Near = near
	}
}

// worst returns what margin and location uncertainty leave of a distance found
// at a position. What rounding cannot tell from contact becomes contact.
func (p *prover) worst(at *motion.Params, near *Nearest) float64 {
	if near.Distance <= p.rounding {
		near.Distance = 0
		return 0
	}
	worst := near.Distance - p.margin
	if p.hasSlack {
		u := near.B.Sub(near.A).Normalize()
		box := motion.At(*at)
		worst -= p.chain.Over(&box, &p.play).Toward(u, near.B, 0)
	}
	return worst
}

// settle finds out how far apart the bodies really are at the nearest position
// seen: there may be nearer facets than those that were met there.
func (p *prover) settle() {
	b := &p.best
	if math.IsInf(b.Upper, 1) || b.Contact {
		return
	}
	pose := p.chain.Pose(b.At)
	near := p.distance(p.a, p.b, &pose, b.Nominal)
	if math.IsInf(near.Distance, 1) {
		return
	}
	worst := p.worst(&b.At, &near)
	b.Nominal, b.Near = near.Distance, near
	if b.Contact = near.Distance == 0; b.Contact || worst < b.Upper {
		b.Upper = worst
	}
}

// largestSlack bounds what the location uncertainty can take anywhere on b.
func (p *prover) largestSlack() float64 {
	var root box
	p.b.nodes[0].load(&root)
	e := p.chain.Over(&motion.Box{}, &p.play)
	return e.Plain(e.Pose.Point(root.center), root.radius)
}
