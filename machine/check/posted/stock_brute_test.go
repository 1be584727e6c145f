package posted

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/program"
	"gridswing/machine/tooling"

	"github.com/golang/geo/r3"
)

// cloud is the stock by brute force: points that are left, and what was seen to go through them, by line.
type cloud struct {
	points []r3.Vector
	met    map[string]bool
}

const samples = 60 // of a leg

// TestNothingThatMeetsTheStockIsMissed runs random programs with all five axes through a block, and beside
// them, by samples, the tool's zones through a cloud of points that the cutter takes away. Whatever is seen to go
// through a point that is left must be found, with its line; what is fed must not have taken away more than
// the cloud has lost, but for what a sample of points is off by.
func TestNothingThatMeetsTheStockIsMissed(t *testing.T) {
	setup := shopOf(t)
	contacts, clears := 0, 0
	n := several(25)
	for seed := range uint64(n) {
		r := rand.New(rand.NewPCG(seed, 11))
		p := randomProgram(r, setup)
		report, _ := p.run(t, Options{Cell: 1, NoRemaining: true})
		c := newCloud(r, setup)
		before := len(c.points)
		c.run(p)
		found := map[string]bool{}
		for _, f := range stockFindings(report) {
			from, to := f.Line, f.Line
			if i := strings.Index(f.Reason, "moves, line "); i >= 0 {
				_, _ = fmt.Sscanf(f.Reason[i:], "moves, line %d to line %d", &from, &to)
			}
			for line := from; line <= to; line++ {
				found[fmt.Sprint(f.Bodies[0], " ", line)] = true
			}
		}
		for met := range c.met {
			contacts++
			if !found[met] {
				t.Errorf("seed %d: %s goes through the stock and is not found: %q", seed, met, toldAll(stockFindings(report)))
			}
		}
		clears += len(p.steps) - len(found)
		removed := 0.0
		for _, x := range report.Program.Tools {
			removed += *x.Removed
		}
		lost := 192000 * float64(before-len(c.points)) / float64(before)
		if removed > lost*1.1+300 {
			t.Errorf("seed %d: %g mm3 are taken away, of points %g", seed, removed, lost)
		}
	}
	if contacts < n/2 || clears < 3*n {
		t.Errorf("%d contacts, %d legs without", contacts, clears)
	}
}

// randomProgram is a dozen moves near the block, some in rapid.
func randomProgram(r *rand.Rand, s *machine.Setup) *script {
	p := newScript(s).change([]int{1, 3, 4}[r.IntN(3)])
	a, c := 0.0, 0.0
	if r.IntN(2) == 0 {
		a, c = 0.6*(r.Float64()-0.5), 6*r.Float64()
	}
	p.at[p.axis["A"]], p.at[p.axis["C"]] = a, c
	p.rapid(0, 0, 60)
	for range 10 {
		to := p.to(100*(r.Float64()-0.5), 70*(r.Float64()-0.5), 8-30*r.Float64())
		if r.IntN(3) == 0 {
			to[p.axis["A"]] += 0.2 * r.NormFloat64()
			to[p.axis["C"]] += 0.5 * r.NormFloat64()
		}
		kind := program.Feed
		if r.IntN(5) == 0 {
			kind = program.Rapid
		}
		p.step(kind, to)
		p.steps[len(p.steps)-1].Legs[0].Box = false
	}
	return p
}

func newCloud(r *rand.Rand, s *machine.Setup) *cloud {
	c := &cloud{met: map[string]bool{}}
	for range 6000 {
		c.points = append(c.points, r3.Vector{X: 80 * (r.Float64() - 0.5), Y: 60 * (r.Float64() - 0.5), Z: 40 * r.Float64()})
	}
	return c
}

func (c *cloud) run(p *script) {
	var block motion.Chain
	for i := range p.s.Bodies {
		if p.s.Bodies[i].Role == "stock" {
			block = p.s.Bodies[i].Chain
		}
	}
	seen := motion.Between(p.s.Spindle.Chain, block)
	for _, st := range p.steps {
		tool := toolNumbered(p.s, st.Tool)
		for _, l := range st.Legs {
			for n := range samples {
				at := l.From
				for k := range at {
					at[k] += (l.To[k] - l.From[k]) * float64(n) / (samples - 1)
				}
				pose := seen.Pose(at)
				c.pass(tool, &pose, &st)
			}
		}
	}
}

// pass looks what goes through points at one position, and takes away those in the cutter. A neck, and a cutting part
// in rapid, is looked at where it is 1.2 mm inside: as deep as the model may not tell.
func (c *cloud) pass(tool *tooling.Tool, pose *geom.Pose, st *program.Step) {
	left := c.points[:0]
	for _, p := range c.points {
		q := pose.Point(p)
		rho2, z := q.X*q.X+q.Y*q.Y, q.Z
		in := func(z0, z1, radius float64) bool { return z0 < z && z < z1 && rho2 < radius*radius }
		cut := tool.Cutter
		tip := -tool.LPR()
		meets := func(zone tooling.Zone) {
			c.met[fmt.Sprintf("T%d %s %d", tool.Number, zone, st.Place.Line)] = true
		}
		if in(tip+cut.LU, -tool.Holder.Length, cut.DMM/2) {
			meets(tooling.Shank)
		}
		if in(-tool.Holder.Length, 0, 15) {
			meets(tooling.HolderZone)
		}
		if in(tip+cut.APMX, tip+cut.LU, cut.DN/2-1.2) {
			meets(tooling.Neck)
		}
		low := tip
		if cut.Kind == tooling.BallEndMill {
			low += cut.DC / 2
		}
		ball := cut.Kind == tooling.BallEndMill && rho2+(z-low)*(z-low) < cut.DC*cut.DC/4
		if st.Kind == program.Rapid && in(low+1.2, tip+cut.APMX, cut.DC/2-1.2) {
			meets(tooling.Cutting)
		}
		if st.Kind == program.Feed && (ball || in(low, tip+cut.APMX, cut.DC/2)) {
			continue
		}
		left = append(left, p)
	}
	c.points = left
}

func toolNumbered(s *machine.Setup, n int) *tooling.Tool {
	for _, t := range s.Tools {
		if t.Number == n {
			return t
		}
	}
	return nil
}
