package loads

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gridswing/geom"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// Options say how hard to look.
type Options = proof.Options

// Check weighs what stands on the table and on units with rotary axes, and adds what it
// finds to the report; in brief, how much of the ratings is left, too. The only error is the
// context's.
func Check(ctx context.Context, s *machine.Setup, r *check.Report, o Options) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	o = o.Ready(0)
	units, aside := unitsOf(s)
	if len(units) == 0 && s.TableLoad == 0 && s.Counterweight == nil {
		r.Assumed = append(r.Assumed, "no loads are looked at: nothing turns what is set up, and no table_load is stated; "+onTableWords(s, o.Trees))
		r.Conclude()
		return nil
	}
	c := &checker{setup: s, options: o, units: units, weights: weigh(s, o.Trees), out: &check.Loads{Rated: []check.Rated{}, Units: []check.UnitLoad{}, Notes: aside}}
	c.table()
	for _, u := range units {
		c.rate(u)
		c.out.Units = append(c.out.Units, c.told(u))
	}
	c.out.Counterweight = c.counterweight(units)
	c.notes(units)
	r.Loads = c.out
	r.Stated = append(r.Stated, c.unrated...)
	r.Findings = append(r.Findings, c.findings()...)
	if o.Brief {
		c.margins(r)
	}
	r.Conclude()
	return ctx.Err()
}

// onTableWords says what the table carries.
func onTableWords(s *machine.Setup, trees *proof.Trees) string {
	kg, unknown := weigh(s, trees).mass(onTable(s))
	if len(unknown) > 0 {
		return "what the table carries is not known: " + notKnown(unknown)
	}
	return "the table carries " + digits(kg, 4) + " kg"
}

// checker holds one check while it runs.
type checker struct {
	setup   *machine.Setup
	options Options
	units   []*unit
	weights *weights
	out     *check.Loads
	unrated []string // what the files say that makers do not rate
}

func (c *checker) add(q check.Rated) { c.out.Rated = append(c.out.Rated, q) }

func (c *checker) note(format string, args ...any) {
	c.out.Notes = append(c.out.Notes, fmt.Sprintf(format, args...))
}

// told says what a unit carries.
func (c *checker) told(u *unit) check.UnitLoad {
	out := check.UnitLoad{Unit: u.name}
	carried, unknown := c.weights.sum(u.carried())
	if len(unknown) == 0 {
		out.Carried = weight(carried)
	}
	own, more := c.weights.sum(slices.Concat(u.ownTilt, u.ownTurn))
	if len(more) == 0 {
		out.Own = weight(own)
	}
	out.Unknown = append(unknown, more...)
	if !c.options.Brief {
		out.Envelope = c.envelope(u)
	}
	return out
}

func weight(r geom.Rigid) *check.Weight {
	return &check.Weight{Mass: r.Mass, Centre: [3]float64{r.Centroid.X, r.Centroid.Y, r.Centroid.Z}, Inertia: r.Inertia}
}

// mostPoints bounds the points of an envelope: one for each degree of a whole turn.
const mostPoints = 361

// envelope returns the moment about the tilt axis over tilt, each point exact; nil where
// nothing tilts or it is not known.
func (c *checker) envelope(u *unit) *check.Envelope {
	if u.tilt == nil || u.why != "" || u.tilt.over.lo >= u.tilt.over.hi {
		return nil
	}
	r := u.ratings
	if r == nil {
		r = &machine.Ratings{}
	}
	st, unknown := u.stands(c.weights, r.IncludesOwn)
	if len(unknown) > 0 {
		return nil
	}
	f, x, y := st.tiltMoment(), u.tilt.over, over(u.rotary)
	still := largest(f, x, y)
	a := &c.setup.Axes[u.tilt.index]
	out := &check.Envelope{
		Tilt: check.RangeOf(a, x.lo, x.hi), Own: r.IncludesOwn, Rating: stated(r.TiltMoment),
		Worst: c.positions(u.tilt, u.rotary, still.peak), Most: still.sign * still.load,
	}
	if u.rotary != nil {
		rotary := check.RangeOf(&c.setup.Axes[u.rotary.index], y.lo, y.hi)
		out.Rotary = &rotary
	}
	inertia := st.tiltInertia().times(r.TiltAcceleration * perMetre2)
	if r.TiltAcceleration > 0 {
		moving := largest(&surface{f.p, f.q, inertia}, x, y)
		out.Moving = &check.EnvelopeExtreme{At: c.positions(u.tilt, u.rotary, moving.peak), Moment: moving.sign * moving.load}
	}
	n := max(2, min(mostPoints, 1+int(math.Ceil((x.hi-x.lo)*180/math.Pi-1e-9))))
	for i := range n {
		at := x.lo + (x.hi-x.lo)*float64(i)/float64(n-1)
		sin, cos := math.Sincos(at)
		moment := f.p.times(cos).plus(sin, f.q)
		p := check.EnvelopePoint{Tilt: check.PositionOf(a, at).Value}
		p.Least, p.Greatest = y.span(moment)
		p.Lowest, _ = y.span(moment.plus(-1, inertia))
		_, p.Highest = y.span(moment.plus(1, inertia))
		out.Points = append(out.Points, p)
	}
	return out
}

// findings are what is over its rating, line by line, and what cannot be judged, unit by
// unit.
func (c *checker) findings() (list []check.Finding) {
	unproven := map[string]int{} // in list, by unit
	for i := range c.out.Rated {
		q := &c.out.Rated[i]
		if q.Verdict == nil || *q.Verdict == check.Clear {
			continue
		}
		f := check.Finding{Verdict: *q.Verdict, Question: check.Carrying, Bodies: [2]string{q.Unit, ""}, Index: [2]int{-1, -1}, At: []check.Position{}, Over: []check.Range{}}
		if q.Inertia && *q.Verdict == *c.out.Rated[i-1].Verdict {
			continue // the line before it, standing still, says so already
		}
		if *q.Verdict == check.Overload {
			f.At, f.Reason = q.At, fmt.Sprintf("%s: %s %s, %s more than the %s it is rated for",
				q.Words(), distinct(*q.Load, *q.Rating), q.Measure, digits(-*q.Margin, 3), digits(*q.Rating, mostDigits))
			list = append(list, f)
			continue
		}
		f.Reason = q.Reason + ": " + q.Words()
		k, known := unproven[q.Unit]
		if !known {
			unproven[q.Unit] = len(list)
			list = append(list, f)
			continue
		}
		if reason, same := strings.CutPrefix(f.Reason, q.Reason); same && strings.Contains(list[k].Reason, q.Reason) {
			list[k].Reason += "," + strings.TrimPrefix(reason, ":")
		} else {
			list[k].Reason += "; " + f.Reason
		}
	}
	return list
}

// distinct prints a load that is more than its rating with four digits, or as many more as it
// takes to tell the two apart.
func distinct(load, rating float64) string {
	n := 4
	for n < mostDigits && !more(digits(load, n), rating) {
		n++
	}
	return digits(load, n)
}

// mostDigits is as many as are printed of any number.
const mostDigits = 12

// more reports whether what is printed is above a rating.
func more(printed string, rating float64) bool {
	v, err := strconv.ParseFloat(printed, 64)
	return err == nil && v > rating
}

// digits prints so many digits, without an exponent and without needless zeros.
func digits(v float64, n int) string {
	if v == 0 {
		return "0"
	}
	unit := math.Pow10(n - 1 - int(math.Floor(math.Log10(math.Abs(v)))))
	return strconv.FormatFloat(math.Round(v*unit)/unit, 'f', -1, 64)
}

// notes says what the numbers hold for.
func (c *checker) notes(units []*unit) {
	c.note("weights as modelled, gravity %.5f m/s2; no cutting forces, no coolant, no chips. "+
		"How far off things stand does not count there: 0.1 mm changes the moment of 100 kg by 0.1 N m", gravity)
	var shared, free []string
	inertia := false
	for i := range c.setup.Bodies {
		if b := &c.setup.Bodies[i]; b.UnitMass > 0 && b.Mass > 0 && b.Mass < b.UnitMass && !slices.Contains(shared, b.Unit) {
			shared = append(shared, b.Unit)
		}
	}
	for _, u := range units {
		if u.ratings == nil {
			free = append(free, u.name)
			if u.why != "" {
				c.note("moments of %s cannot be told: %s", u.name, u.why)
			}
			continue
		}
		inertia = inertia || u.ratings.TiltAcceleration > 0 || u.ratings.RotaryAcceleration > 0
	}
	if inertia {
		c.note("accelerating: one axis at a time, with the stated acceleration; what speed does is not in it")
	}
	if len(shared) > 0 {
		c.note("the mass stated for the whole is shared out among the solids by volume: %s", strings.Join(shared, ", "))
	}
	if len(free) > 0 {
		c.note("no [ratings] stated, so that loads are told and not judged, without what the unit itself moves: %s", strings.Join(free, ", "))
	}
	if c.setup.TableLoad == 0 {
		c.note("no table_load stated: what the table carries is not judged")
	}
}
