package changeover

import (
	"fmt"
	"slices"

	"gridswing/machine"
	"gridswing/machine/check"
)

// finish adds up what the steps say.
func (p *planner) finish() {
	plan := p.plan
	plan.Verdict = check.Clear
	sum, known := 0.0, true
	for i := range plan.Steps {
		st := &plan.Steps[i]
		if st.Way == nil {
			continue
		}
		if st.Way.Verdict.Worse(plan.Verdict) {
			plan.Verdict = st.Way.Verdict
		}
		if isCounterweight(st.scene.setup, st.Unit) {
			continue // no file can state its time
		}
		if st.Minutes == nil {
			known = false
			plan.NoMinutes = append(plan.NoMinutes, fmt.Sprintf("%s %s", st.Kind, st.Unit))
			continue
		}
		sum += *st.Minutes
	}
	if known {
		plan.Minutes = &sum
	}
	plan.ByHand = p.byHand()
	p.notModelled()
	p.assume()
}

// byHand is what may be lifted by hand: To's, or else From's.
func (p *planner) byHand() *float64 {
	for _, s := range []*machine.Setup{p.to, p.from} {
		if s != nil && s.Lifting.ByHand > 0 {
			return &s.Lifting.ByHand
		}
	}
	return nil
}

// notModelled notes what could be hit and is neither modelled nor declared absent.
func (p *planner) notModelled() {
	for _, s := range []*machine.Setup{p.from, p.to} {
		if s == nil {
			continue
		}
		for _, one := range s.Presence {
			if one.State == machine.NotModelled && !slices.Contains(p.plan.NotModelled, one.What) {
				p.plan.NotModelled = append(p.plan.NotModelled, one.What)
			}
		}
	}
	if len(p.plan.NotModelled) > 0 && check.Unproven.Worse(p.plan.Verdict) {
		p.plan.Verdict = check.Unproven
	}
}

// assume says what the plan takes for granted.
func (p *planner) assume() {
	plan := p.plan
	add := func(format string, args ...any) { plan.Assumed = append(plan.Assumed, fmt.Sprintf(format, args...)) }
	if slices.ContainsFunc(plan.Steps, func(s Step) bool { return s.Way != nil }) {
		add("how each thing is brought to where its way begins, and slings, hooks and hands, are not looked at")
	}
	if slices.ContainsFunc(plan.Steps, func(s Step) bool { return s.Way != nil && isCounterweight(s.scene.setup, s.Unit) }) {
		add("no time is counted for the counterweight")
	}
	if slices.ContainsFunc(p.ways, func(w way) bool { return w.assumed }) {
		add("pins and keys whose length no file states (pin_length) stand out less than %g times their diameter", standsOut)
	}
	if p.to.Tool != nil {
		add("the largest tool is in the spindle, which stands where the steps say")
	}
	if slices.ContainsFunc(plan.Steps, func(s Step) bool {
		return slices.ContainsFunc(s.Screws, func(w Screws) bool { return w.Torque != nil })
	}) {
		f, stated := friction(p.to)
		words := "as the setup states it"
		if !stated {
			words = "which no file states"
		}
		add("torques are the greatest for class and size, with friction of %g in thread and under the head, %s", f, words)
	}
	if n := len(plan.Steps); n > 1 && slices.ContainsFunc(plan.Steps[1:], func(s Step) bool { return s.Kind == Ready }) {
		add("the ways of the axes from one loading position to the other are not looked at: \"gridswing check\" does that for whole setups")
	}
}

// friction is that of a setup's screws, or the usual one.
func friction(s *machine.Setup) (f float64, stated bool) {
	if s.Friction > 0 {
		return s.Friction, true
	}
	return check.AssumedFriction, false
}
